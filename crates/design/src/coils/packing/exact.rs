//! The best packing of a few loops, over all their subsets.
//!
//! Bought coils come in any number, so that a subset of loops is best bought as its part with the
//! loop of the lowest number in one coil, and the rest as well as it can be. Pieces on hand are
//! added one by one: each takes some part of a subset, or stays whole; of equally good packings the
//! one that leaves later pieces whole is taken.

use super::{Cost, Filled, Packing, Source, Stock};

/// The best that is known for each subset, with the part that the last coil takes.
type Best = Vec<(Cost, usize)>;

/// The packing with the least [`Cost`]; for a few loops only, as it takes 3ⁿ steps for each piece.
pub(super) fn pack(needs_mm: &[u64], stock: &Stock) -> Packing {
    let used_mm = sums(needs_mm);
    let bought = bought(&used_mm, stock);
    let mut layers: Vec<Best> = Vec::with_capacity(stock.pieces_mm.len());
    for piece in 0..stock.pieces_mm.len() {
        let below = layers.last().unwrap_or(&bought);
        let layer = with_piece(below, piece, &used_mm, stock);
        layers.push(layer);
    }
    trace(&bought, &layers, &used_mm, stock)
}

/// Tube of each subset of the loops.
fn sums(needs_mm: &[u64]) -> Vec<u64> {
    let mut sums = vec![0; 1 << needs_mm.len()];
    for set in 1..sums.len() {
        let lowest = set.trailing_zeros() as usize;
        sums[set] = sums[set & (set - 1)] + needs_mm[lowest];
    }
    sums
}

/// What a part costs as one bought coil; without tube if none is long enough.
fn cost_bought(part: usize, used_mm: &[u64], stock: &Stock) -> Option<Cost> {
    let need_mm = used_mm[part];
    match stock.smallest_size(need_mm) {
        Some((number, size_mm)) => Some(Cost::coil(Source::Size(number), size_mm, need_mm)),
        None => part.is_power_of_two().then(|| Cost::short(need_mm)),
    }
}

fn bought(used_mm: &[u64], stock: &Stock) -> Best {
    let alone: Vec<Option<Cost>> =
        (0..used_mm.len()).map(|part| cost_bought(part, used_mm, stock)).collect();
    let mut best: Best = vec![(Cost::NOTHING, 0); used_mm.len()];
    for set in 1..used_mm.len() {
        let lowest = set & set.wrapping_neg();
        let mut found: Option<(Cost, usize)> = None;
        for others in parts(set ^ lowest) {
            let part = others | lowest;
            let Some(cost) = alone[part] else { continue };
            let cost = cost + best[set ^ part].0;
            if found.is_none_or(|(least, _)| cost < least) {
                found = Some((cost, part));
            }
        }
        best[set] = found.unwrap_or((Cost::short(used_mm[set]), set));
    }
    best
}

fn with_piece(below: &Best, piece: usize, used_mm: &[u64], stock: &Stock) -> Best {
    let (source, length_mm) = (Source::Piece(piece), stock.length_mm(Source::Piece(piece)));
    let of_set = |set: usize| {
        let mut found = (Cost::whole(length_mm) + below[set].0, 0);
        for part in parts(set) {
            if part == 0 || used_mm[part] > length_mm {
                continue;
            }
            let cost = Cost::coil(source, length_mm, used_mm[part]) + below[set ^ part].0;
            if cost < found.0 {
                found = (cost, part);
            }
        }
        found
    };
    (0..used_mm.len()).map(of_set).collect()
}

/// All subsets of a set, the set itself first, the empty one last.
fn parts(set: usize) -> impl Iterator<Item = usize> {
    let next = move |part: &usize| (*part != 0).then(|| (*part - 1) & set);
    std::iter::successors(Some(set), next)
}

/// Follows the choices back from all loops.
fn trace(bought: &Best, layers: &[Best], used_mm: &[u64], stock: &Stock) -> Packing {
    let mut packing = Packing::default();
    let mut set = used_mm.len() - 1;
    for (piece, layer) in layers.iter().enumerate().rev() {
        let part = layer[set].1;
        if part != 0 {
            packing.coils.push(Filled { source: Source::Piece(piece), loops: members(part) });
            set ^= part;
        }
    }
    while set != 0 {
        let part = bought[set].1;
        match stock.smallest_size(used_mm[part]) {
            Some((number, _)) => {
                packing.coils.push(Filled { source: Source::Size(number), loops: members(part) });
            }
            None => packing.short.extend(members(part)),
        }
        set ^= part;
    }
    packing
}

fn members(set: usize) -> Vec<usize> {
    (0..usize::BITS as usize).filter(|number| set >> number & 1 == 1).collect()
}
