//! Doors that open in the manifold's own stretch of wall.
//!
//! The tube of a room behind such a door comes down in the doorway and goes straight in; the
//! other loops stand to both sides of it.

use super::net::Entry;
use crate::point::Point;

/// Loops that leave straight through the wall behind the manifold.
#[derive(Clone, Debug)]
pub(super) struct Doorway {
    /// Zone and portal of the door.
    pub(super) zone: usize,
    pub(super) portal: usize,
    /// The loops, counter-clockwise-most first, and where they stand.
    pub(super) loops: Vec<usize>,
    pub(super) places: Vec<Point>,
}

impl Doorway {
    /// Whether all its places lie in an entry and on its line.
    pub(super) fn is_in(&self, entry: &Entry) -> bool {
        let Some(line) = Line::of(entry, 0.0, 0.0) else { return false };
        let inside = |p: &Point| {
            let along = line.real_m(*p);
            let aside = line.along.cross(*p - line.origin).abs();
            (0.0..=line.width_m).contains(&along) && aside < OFF_LINE_M
        };
        !self.places.is_empty() && self.places.iter().all(inside)
    }
}

/// Farthest that a doorway lies off the line of the ports, metres.
const OFF_LINE_M: f64 = 0.05;

/// The loops of one part of an entry that go into the room, by where they turn.
#[derive(Clone, Debug, Default)]
pub(super) struct Inward {
    /// Counter-clockwise-most first.
    pub(super) loops: Vec<usize>,
    /// How many of them, from the first, turn off counter-clockwise.
    pub(super) ahead: usize,
    /// How many, from the last, turn off clockwise.
    pub(super) behind: usize,
}

/// The line on which leaders stand, which may be longer than that of the ports.
struct Line {
    origin: Point,
    along: Point,
    width_m: f64,
    /// How much longer it is.
    scale: f64,
}

impl Line {
    fn of(entry: &Entry, half_m: f64, beyond_m: f64) -> Option<Line> {
        let (first, last) = (entry.parts.first()?.1, entry.parts.last()?.1);
        let origin = first[1];
        let width_m = origin.distance(last[0]);
        let ports_m = (width_m - half_m).max(1e-3);
        let scale = (ports_m + 2.0 * beyond_m) / ports_m;
        Some(Line { origin, along: (last[0] - origin).unit(), width_m, scale })
    }

    fn real_m(&self, p: Point) -> f64 {
        (p - self.origin).dot(self.along)
    }

    /// Where on the longer line something at the ports stands.
    fn drawn_out_m(&self, real_m: f64) -> f64 {
        let middle = self.width_m / 2.0;
        middle + (real_m - middle) * self.scale
    }

    fn place(&self, along_m: f64) -> Point {
        self.origin + self.along * along_m
    }
}

/// Places of all loops at a manifold beside doorways; nothing if they do not fit.
///
/// `inward` has the loops for each part of the entry, `half_m` is half of a leader's strip and
/// `beyond_m` what the line may be longer at either end.
pub(super) fn around(
    entry: &Entry,
    inward: &[Inward],
    doorways: &[Doorway],
    half_m: f64,
    beyond_m: f64,
) -> Option<Vec<(usize, Point)>> {
    let line = Line::of(entry, half_m, beyond_m)?;
    let mut found: Vec<(usize, Point)> = doorways
        .iter()
        .flat_map(|d| d.loops.iter().copied().zip(d.places.iter().copied()))
        .collect();
    let last = entry.parts.len() - 1;
    for (number, ((zone, part), inward)) in entry.parts.iter().zip(inward).enumerate() {
        // The outermost tube of all may stand at the very end.
        let end = |is_outer: bool| if is_outer { half_m / 2.0 - beyond_m } else { half_m };
        let mut low = line.real_m(part[1]) + end(number == 0);
        let high = line.real_m(part[0]) - end(number == last);
        let mut blocks: Vec<[f64; 2]> = doorways
            .iter()
            .filter(|d| d.zone == *zone)
            .filter_map(|d| {
                let at = |p: &Point| line.drawn_out_m(line.real_m(*p));
                let places = || d.places.iter().map(at);
                let low = places().min_by(f64::total_cmp)?;
                Some([low - 2.0 * half_m, places().max_by(f64::total_cmp)? + 2.0 * half_m])
            })
            .collect();
        blocks.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut gaps = Vec::new();
        for [from, to] in blocks {
            gaps.push([low, from]);
            low = to;
        }
        gaps.push([low, high]);
        for (of, along) in inward.spread(&gaps, half_m)? {
            found.push((of, line.place(along)));
        }
    }
    Some(found)
}

impl Inward {
    /// Each loop with its place in one of several gaps; nothing if they do not fit.
    fn spread(&self, gaps: &[[f64; 2]], half_m: f64) -> Option<Vec<(usize, f64)>> {
        let pitch = 2.0 * half_m;
        let holds = |gap: &[f64; 2]| ((gap[1] - gap[0]) / pitch + 1.0 + 1e-6).max(0.0) as usize;
        let all = self.loops.len();
        let clockwise_from = all - self.behind.min(all);
        let mut found = Vec::with_capacity(all);
        let mut gone = 0;
        for (number, gap) in gaps.iter().enumerate() {
            let later: usize = gaps[number + 1..].iter().map(holds).sum();
            let rest = all - gone;
            let here = holds(gap);
            // As many as must, and as turn off on this side.
            let wanted = if number + 1 == gaps.len() { rest } else { self.ahead.max(gone) - gone };
            let count = wanted.max(rest.saturating_sub(later)).min(here);
            let (first, last) = (gone, gone + count);
            for k in first..last {
                let from_low = gap[0] + pitch * (k - first) as f64;
                let from_high = gap[1] - pitch * (last - 1 - k) as f64;
                let at = if k < self.ahead {
                    from_low
                } else if k >= clockwise_from {
                    from_high
                } else {
                    (from_low + from_high) / 2.0
                };
                found.push((*self.loops.get(k)?, at));
            }
            gone += count;
        }
        (gone == all).then_some(found)
    }
}
