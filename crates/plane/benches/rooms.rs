//! Time per room beside a plain polygon offset, printed as figures.
//!
//! Each time is the least of several runs in this very process, since the machine may be
//! shared; the offset of
//! the same region by the geometry library is the yardstick of the machine.

use std::hint::black_box;
use std::time::Instant;

use geo::{Buffer, Coord, LineString, Polygon};
use plane::fill::Effort;
use plane::{fill, verify};

#[path = "../tests/it/plans.rs"]
mod plans;

fn main() {
    println!(
        "{:<14} {:>8} {:>10} {:>8} {:>8} {:>6} {:>8}",
        "room", "ms", "offset us", "m", "cover %", "tight", "gap/s"
    );
    for plan in plans::all() {
        let spec = plan.spec();
        let ms = 1e3 * least(15, || fill::counterflow(&plan.region, plan.entry, &spec));
        let outer = plan.region.outer().iter().map(|p| Coord { x: p.x, y: p.y });
        let polygon = Polygon::new(LineString::new(outer.collect()), Vec::new());
        let us = 1e6 * least(99, || polygon.buffer(-0.15));
        match fill::counterflow(&plan.region, plan.entry, &spec) {
            Ok(f) => {
                let paths = std::slice::from_ref(&f.path);
                let reach = 2.6 * f.spacing_used_m;
                let gap = verify::closest_within(paths, 0.5, reach).map_or(0.5, |c| c.gap_m);
                println!(
                    "{:<14} {ms:>8.2} {us:>10.1} {:>8.1} {:>8.2} {:>6} {:>8.2}",
                    plan.name,
                    f.path.length_m(),
                    100.0 * f.covered_fraction,
                    f.tight_bends.len(),
                    gap / f.spacing_used_m
                )
            }
            Err(reason) => println!("{:<14} {ms:>8.2} {us:>10.1} {reason}", plan.name),
        }
    }
    let cabin = plans::cabin();
    let all = || -> Vec<_> {
        cabin.iter().map(|p| fill::counterflow(&p.region, p.entry, &p.spec())).collect()
    };
    zones();
    println!("five-room cabin {:.1} ms", 1e3 * least(15, all));
}

/// Quick and full search of all zones.
fn zones() {
    println!(
        "{:<24} {:>8} {:>8} {:>5} {:>8} {:>7} {:>6} {:>8}",
        "zone", "quick ms", "full ms", "ways", "m", "cold %", "tight", "cost"
    );
    for floor in plans::floors() {
        let zone = floor.zone();
        let quick = 1e3 * least(9, || fill::outlines(&zone, Effort::Quick));
        let full = 1e3 * least(5, || fill::outlines(&zone, Effort::Full));
        match fill::outlines(&zone, Effort::Full).as_deref() {
            Ok(list @ [best, ..]) => println!(
                "{:<24} {quick:>8.2} {full:>8.2} {:>5} {:>8.1} {:>7.2} {:>6} {:>8.4}",
                floor.name,
                list.len(),
                best.length_m,
                100.0 * best.uncovered,
                best.tight,
                best.cost
            ),
            Ok(_) => println!("{:<24} no outline", floor.name),
            Err(reason) => println!("{:<24} {quick:>8.2} {full:>8.2} {reason}", floor.name),
        }
    }
}

/// Least time of a call in seconds.
fn least<T>(runs: usize, mut call: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begin = Instant::now();
            black_box(call());
            begin.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[0]
}
