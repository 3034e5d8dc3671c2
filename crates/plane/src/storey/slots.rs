//! Places of leaders side by side in an opening.

use super::net::Entry;
use crate::point::Point;

/// Least distance between tubes of neighbours at the ports themselves, centre to centre, metres.
pub(super) const PORT_GAP_M: f64 = 0.035;

/// Length of ports that loops need at the least, each with a given gap between its own tubes.
pub(super) fn ports_needed_m(loops: usize, gap_m: f64) -> f64 {
    loops.saturating_sub(1) as f64 * (gap_m + PORT_GAP_M.min(gap_m)) + gap_m
}

/// Whole width of an opening.
pub(super) fn width_m(entry: &Entry) -> f64 {
    entry.parts.iter().map(|(_, [a, b])| a.distance(*b)).sum()
}

/// How far leaders at their full distance stick out at either end of the ports.
pub(super) fn beyond_ports_m(entry: &Entry, loops: usize, half: f64) -> f64 {
    let abreast = half * (2 * loops.max(1) - 1) as f64;
    ((abreast - width_m(entry)) / 2.0).max(0.0)
}

/// Places of leaders in an opening, counter-clockwise-most first.
///
/// Leaders of one part stand side by side within it, all together as near the middle as the
/// parts allow. `beyond_m` may stick out at the ends of the whole opening.
pub(super) fn slots(
    entry: &Entry,
    counts: &[usize],
    half: f64,
    beyond_m: f64,
) -> Option<Vec<Point>> {
    let (first, last) = (entry.parts.first()?.1, entry.parts.last()?.1);
    let origin = first[1];
    let along = (last[0] - origin).unit();
    let width = origin.distance(last[0]);
    let all: usize = counts.iter().sum();
    let mut blocks: Vec<Block> = Vec::with_capacity(counts.len());
    let middle = entry.wish.map_or(width / 2.0, |wish| (wish - origin).dot(along));
    let mut at = middle - half * all as f64;
    for (number, ((_, part), count)) in entry.parts.iter().zip(counts).enumerate() {
        let length = 2.0 * half * *count as f64;
        let is_last = number + 1 == entry.parts.len();
        let low = (part[1] - origin).dot(along) - if number == 0 { beyond_m } else { 0.0 };
        let high = (part[0] - origin).dot(along) + if is_last { beyond_m } else { 0.0 };
        if *count == 0 {
            continue;
        }
        let free_from = blocks.last().map_or(f64::NEG_INFINITY, |b| b.start + b.length);
        let low = low.max(free_from);
        if low + length > high + 1e-6 {
            return None;
        }
        let start = at.clamp(low, (high - length).max(low));
        at = start + length;
        blocks.push(Block { start, length, count: *count, low, high });
    }
    // Blocks that a cut has pushed on draw those before them along.
    for i in (1..blocks.len()).rev() {
        let next = blocks[i].start;
        let block = &mut blocks[i - 1];
        block.start =
            (next - block.length).clamp(block.low, (block.high - block.length).max(block.low));
    }
    let places = blocks.iter().flat_map(|block| {
        let place = |i: usize| origin + along * (block.start + half * (2 * i + 1) as f64);
        (0..block.count).map(place)
    });
    Some(places.collect())
}

/// Leaders side by side in one part of an opening, by their distance from its first end.
struct Block {
    start: f64,
    length: f64,
    count: usize,
    low: f64,
    high: f64,
}
