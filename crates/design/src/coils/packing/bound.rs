//! What no packing can do with less than.

use super::Stock;

/// Sums of sizes that are looked through, at most.
const SUMS_MOST: u64 = 1_000_000;

/// Tube that must be bought: what pieces on hand cannot give, in whole coils.
pub(super) fn least_bought_mm(needs_mm: &[u64], stock: &Stock) -> u64 {
    let shortest_mm = needs_mm.iter().copied().min().unwrap_or(0);
    let useful = stock.pieces_mm.iter().filter(|piece| **piece >= shortest_mm);
    let on_hand_mm: u64 = useful.sum();
    let lacking_mm = needs_mm.iter().sum::<u64>().saturating_sub(on_hand_mm);
    in_whole_coils(lacking_mm, &stock.sizes_mm)
}

/// The least sum of sizes that is no less than a length.
fn in_whole_coils(length_mm: u64, sizes_mm: &[u64]) -> u64 {
    let step_mm = sizes_mm.iter().copied().fold(0, greatest_common_divisor);
    let longest_mm = sizes_mm.iter().copied().max().unwrap_or(0);
    if length_mm == 0 || step_mm == 0 {
        return 0;
    }
    let (least, sums) = (length_mm.div_ceil(step_mm), (length_mm + longest_mm) / step_mm + 1);
    if sums > SUMS_MOST {
        return length_mm;
    }
    let mut reached = vec![false; sums as usize];
    reached[0] = true;
    for sum in 0..reached.len() {
        if !reached[sum] {
            continue;
        }
        if sum as u64 >= least {
            return sum as u64 * step_mm;
        }
        for size_mm in sizes_mm {
            if let Some(next) = reached.get_mut(sum + (size_mm / step_mm) as usize) {
                *next = true;
            }
        }
    }
    length_mm
}

fn greatest_common_divisor(first: u64, second: u64) -> u64 {
    let (mut first, mut second) = (first, second);
    while second != 0 {
        (first, second) = (second, first % second);
    }
    first
}
