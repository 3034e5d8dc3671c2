//! A packing made better by packing two or three of its coils anew, exactly.

use super::{Filled, Packing, Source, Stock, exact};

/// Loops that are packed anew at once, at most.
const LOOPS_MOST: usize = 9;
/// Pieces on hand that are tried beside those in use, at most.
const PIECES_MOST: usize = 4;
/// Steps that all new packings together may take.
const STEPS_MOST: u64 = 10_000_000;

/// Improves until no two or three coils get better, or the steps are spent.
pub(super) fn improve(packing: &mut Packing, needs_mm: &[u64], stock: &Stock) {
    let mut steps = STEPS_MOST;
    while better(packing, needs_mm, stock, &mut steps) {}
}

/// Takes the first better packing that is found; none if there is none.
fn better(packing: &mut Packing, needs_mm: &[u64], stock: &Stock, steps: &mut u64) -> bool {
    let now = packing.cost(needs_mm, stock);
    for chosen in groups(packing.coils.len()) {
        let Some(anew) = packed_anew(packing, &chosen, needs_mm, stock, steps) else { continue };
        if anew.cost(needs_mm, stock) < now {
            *packing = anew;
            return true;
        }
    }
    false
}

/// Each coil, each pair, each three.
fn groups(count: usize) -> impl Iterator<Item = Vec<usize>> {
    let one = (0..count).map(|a| vec![a]);
    let two = (0..count).flat_map(move |a| (a + 1..count).map(move |b| vec![a, b]));
    let three = (0..count).flat_map(move |a| {
        (a + 1..count).flat_map(move |b| (b + 1..count).map(move |c| vec![a, b, c]))
    });
    one.chain(two).chain(three)
}

/// The packing with those coils packed anew; none if they hold too many loops for that.
fn packed_anew(
    packing: &Packing,
    chosen: &[usize],
    needs_mm: &[u64],
    stock: &Stock,
    steps: &mut u64,
) -> Option<Packing> {
    let taken = chosen.iter().filter_map(|number| packing.coils.get(*number));
    let mut loops: Vec<usize> = taken.flat_map(|coil| coil.loops.iter().copied()).collect();
    let room = LOOPS_MOST.checked_sub(loops.len())?;
    let (tried, kept_short) = packing.short.split_at(room.min(packing.short.len()));
    loops.extend(tried);
    loops.sort_unstable();
    let pieces = pieces(packing, chosen, stock);
    let cost = 3u64.checked_pow(loops.len() as u32)?.checked_mul(pieces.len() as u64 + 1)?;
    *steps = steps.checked_sub(cost)?;
    let part = Stock {
        sizes_mm: stock.sizes_mm.clone(),
        pieces_mm: pieces.iter().map(|piece| stock.length_mm(Source::Piece(*piece))).collect(),
    };
    let needs: Vec<u64> = loops.iter().map(|number| needs_mm[*number]).collect();
    let anew = exact::pack(&needs, &part);
    let kept = packing.coils.iter().enumerate().filter(|(number, _)| !chosen.contains(number));
    let mut coils: Vec<Filled> = kept.map(|(_, coil)| coil.clone()).collect();
    coils.extend(anew.coils.into_iter().map(|coil| Filled {
        source: match coil.source {
            Source::Piece(number) => Source::Piece(pieces[number]),
            size => size,
        },
        loops: coil.loops.iter().map(|number| loops[*number]).collect(),
    }));
    let mut short = kept_short.to_vec();
    short.extend(anew.short.iter().map(|number| loops[*number]));
    Some(Packing { coils, short })
}

/// Pieces that a new packing may use: those of the chosen coils, and the longest that lie idle.
fn pieces(packing: &Packing, chosen: &[usize], stock: &Stock) -> Vec<usize> {
    let used =
        |piece: &usize| packing.coils.iter().position(|coil| coil.source == Source::Piece(*piece));
    let all = 0..stock.pieces_mm.len();
    let (mut mine, mut idle) = (Vec::new(), Vec::new());
    for piece in all {
        match used(&piece) {
            Some(coil) if chosen.contains(&coil) => mine.push(piece),
            Some(_) => {}
            None => idle.push(piece),
        }
    }
    idle.sort_by_key(|piece| std::cmp::Reverse(stock.pieces_mm[*piece]));
    mine.extend(idle.into_iter().take(PIECES_MOST));
    mine
}
