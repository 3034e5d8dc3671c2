//! The plan of all cuts: packing, order of laying, marks to expect.

use super::packing::{Filled, Source, pack};
use super::stock::{Marked, Shelf, up_to_mm};
use super::{CoilCuts, Cut, TubeCuts};
use crate::figure::{Figure, How};
use crate::loops::TubeLoop;
use job::Job;
use quantity::Length;
use std::cmp::Reverse;

/// The cuts of every tube, for loops that are not laid yet.
pub(crate) fn plan(job: &Job, loops: &[TubeLoop]) -> Vec<TubeCuts> {
    let open: Vec<&TubeLoop> = loops
        .iter()
        .filter(|tube_loop| !job.laid.iter().any(|laid| laid.key == tube_loop.key))
        .filter(|tube_loop| tube_loop.length.si().is_finite() && tube_loop.length.si() > 0.0)
        .collect();
    let mut tubes: Vec<&str> = Vec::new();
    for tube_loop in &open {
        if !tubes.contains(&tube_loop.tube.as_str()) {
            tubes.push(&tube_loop.tube);
        }
    }
    let mut number = 0;
    let mut plans = Vec::new();
    for tube in tubes {
        let own = open.iter().filter(|tube_loop| tube_loop.tube == tube);
        plans.push(of_tube(job, tube, own.map(|it| Need::of(job, it)).collect(), &mut number));
    }
    plans
}

/// A loop and what is cut for it.
struct Need<'a> {
    tube_loop: &'a TubeLoop,
    length: Figure<Length>,
}

impl<'a> Need<'a> {
    fn of(job: &Job, tube_loop: &'a TubeLoop) -> Self {
        let allowance = Figure::rule("allowance for the cut", &job.rules.cut_allowance);
        let parts = [tube_loop.length.clone(), allowance];
        Need { tube_loop, length: Figure::sum("tube to cut for the loop", &parts) }
    }

    /// Its place in the order that the job states, then the longest first.
    fn rank(&self, job: &Job) -> (usize, Reverse<u64>) {
        let order = &job.heating.laying_order;
        let stated = order.iter().position(|key| key.value == self.tube_loop.key);
        (stated.unwrap_or(order.len()), Reverse(up_to_mm(&self.length)))
    }
}

fn of_tube(job: &Job, tube: &str, needs: Vec<Need<'_>>, number: &mut usize) -> TubeCuts {
    let shelf = Shelf::of(job, tube, needs.len());
    let stock = shelf.stock();
    let longest_mm = stock.longest_mm();
    let fits = |need: &Need<'_>| up_to_mm(&need.length) <= longest_mm;
    let (mut needs, too_long): (Vec<_>, Vec<_>) = needs.into_iter().partition(fits);
    needs.sort_by_key(|need| need.rank(job));
    let needs_mm: Vec<u64> = needs.iter().map(|need| up_to_mm(&need.length)).collect();
    let packed = pack(&needs_mm, &stock);
    let mut filled = packed.packing.coils;
    // Loops are numbered by rank, so a coil stands where its first loop stands.
    filled.sort_by(|a, b| a.loops.cmp(&b.loops));
    let mut coils = Vec::with_capacity(filled.len());
    for coil in &filled {
        let Some(marked) = shelf.coil(coil.source) else { continue };
        *number += 1;
        coils.push(cut(*number, marked, coil, &needs));
    }
    let short = packed.packing.short.iter().filter_map(|number| needs.get(*number));
    let without = short.chain(&too_long).map(|need| need.tube_loop.key.clone()).collect();
    let all = |name: &str, of: fn(&CoilCuts) -> Vec<Figure<Length>>| {
        Figure::sum(name, &coils.iter().flat_map(of).collect::<Vec<_>>())
    };
    let cut = |coil: &CoilCuts| coil.cuts.iter().map(|cut| cut.length.clone()).collect();
    let bought =
        |coil: &CoilCuts| if coil.on_hand { Vec::new() } else { vec![coil.length.clone()] };
    TubeCuts {
        tube: tube.to_owned(),
        without,
        cut: all("tube cut for all loops", cut),
        bought: all("tube bought", bought),
        left: all("tube left on all coils", |coil| vec![coil.left.clone()]),
        least_bought_m: packed.least_bought_mm as f64 / 1000.0,
        exact: packed.exact,
        sizes_assumed: shelf.assumed,
        coils,
    }
}

/// One coil from its first mark on, loop behind loop.
fn cut(number: usize, coil: &Marked, filled: &Filled, needs: &[Need<'_>]) -> CoilCuts {
    let (mut mark, mut left) = (coil.start.clone(), coil.length.clone());
    let mut cuts = Vec::with_capacity(filled.loops.len());
    for need in filled.loops.iter().filter_map(|number| needs.get(*number)) {
        let tube_loop = need.tube_loop;
        let end = behind(&mark, &need.length, coil.down);
        let rest = left.less(format!("tube left behind {}", tube_loop.key), &need.length);
        cuts.push(Cut {
            key: tube_loop.key.clone(),
            manifold: tube_loop.manifold.clone(),
            drawn: tube_loop.length.clone(),
            length: need.length.clone(),
            start: std::mem::replace(&mut mark, end.clone()),
            end,
            left: rest.clone(),
        });
        left = rest;
    }
    CoilCuts {
        number,
        coil: coil.coil.clone(),
        on_hand: matches!(filled.source, Source::Piece(_)),
        length: coil.length.clone(),
        cuts,
        left,
    }
}

/// The mark so much tube behind another one.
fn behind(mark: &Figure<Length>, length: &Figure<Length>, down: bool) -> Figure<Length> {
    let name = "mark where the loop is cut";
    match down {
        // A coil whose stated length is less than its marks tell can seem to run below nought.
        true if length.si() > mark.si() => {
            let works = vec![mark.work.clone(), length.work.clone()];
            Figure::new(name, 0.0, How::Settled("the last mark there is".to_owned(), works))
        }
        true => mark.less(name, length),
        false => Figure::sum(name, &[mark.clone(), length.clone()]),
    }
}
