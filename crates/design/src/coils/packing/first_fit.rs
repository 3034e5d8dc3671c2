//! A first packing: the longest loop first, into the coil where least is left.

use super::{Filled, Packing, Source, Stock};

/// The best of the packings that buy mainly one size, tried with each size.
pub(super) fn pack(needs_mm: &[u64], stock: &Stock) -> Packing {
    let mut longest_first: Vec<usize> = (0..needs_mm.len()).collect();
    longest_first.sort_by_key(|number| std::cmp::Reverse(needs_mm[*number]));
    let mains = 0..stock.sizes_mm.len().max(1);
    let packings = mains.map(|main| with_main(&longest_first, main, needs_mm, stock));
    packings.min_by_key(|packing| packing.cost(needs_mm, stock)).unwrap_or_default()
}

/// A coil with what is left on it.
struct Open {
    filled: Filled,
    left_mm: u64,
}

fn with_main(longest_first: &[usize], main: usize, needs_mm: &[u64], stock: &Stock) -> Packing {
    // Pieces on hand cost nothing, so they are there from the start.
    let piece = |(number, length_mm): (usize, &u64)| Open {
        filled: Filled { source: Source::Piece(number), loops: Vec::new() },
        left_mm: *length_mm,
    };
    let mut open: Vec<Open> = stock.pieces_mm.iter().enumerate().map(piece).collect();
    let mut short = Vec::new();
    for &number in longest_first {
        let need_mm = needs_mm[number];
        let fitting = open.iter_mut().filter(|coil| coil.left_mm >= need_mm);
        if let Some(coil) = fitting.min_by_key(|coil| coil.left_mm) {
            coil.filled.loops.push(number);
            coil.left_mm -= need_mm;
            continue;
        }
        let main_mm = stock.sizes_mm.get(main).copied().filter(|size| *size >= need_mm);
        let size = main_mm.map(|size| (main, size)).or_else(|| stock.smallest_size(need_mm));
        match size {
            Some((size, size_mm)) => open.push(Open {
                filled: Filled { source: Source::Size(size), loops: vec![number] },
                left_mm: size_mm - need_mm,
            }),
            None => short.push(number),
        }
    }
    let used = open.into_iter().filter(|coil| !coil.filled.loops.is_empty());
    let coils = used.map(|coil| shrunk(coil.filled, needs_mm, stock)).collect();
    Packing { coils, short }
}

/// The same coil in the smallest size that holds its loops.
fn shrunk(mut coil: Filled, needs_mm: &[u64], stock: &Stock) -> Filled {
    coil.loops.sort_unstable();
    if matches!(coil.source, Source::Size(_)) {
        let used_mm = coil.loops.iter().map(|number| needs_mm[*number]).sum();
        if let Some((size, _)) = stock.smallest_size(used_mm) {
            coil.source = Source::Size(size);
        }
    }
    coil
}
