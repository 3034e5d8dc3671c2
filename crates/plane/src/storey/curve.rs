//! Centrelines of double strands as lines and arcs, and the tubes beside them.

use crate::path::{Path, Segment};
use crate::point::Point;

/// Corners flatter than this stay as they are, radians.
const FLAT_RAD: f64 = 1e-6;

/// A path along straight edges whose corners have each its own radius.
///
/// `radii_m` has a value for every point; those of the two ends are not used. Where an edge
/// is too short for the arcs at both ends, each first gets what `least_m` needs, and the
/// rest is shared in proportion.
pub(super) fn rounded(points: &[Point], radii_m: &[f64], least_m: f64) -> Path {
    let n = points.len();
    let turns = turns(points);
    let half_turn = |i: usize| (turns[i].abs() / 2.0).tan();
    let wanted: Vec<f64> =
        (0..n).map(|i| radii_m.get(i).copied().unwrap_or(0.0) * half_turn(i)).collect();
    let needed: Vec<f64> = (0..n).map(|i| wanted[i].min(least_m * half_turn(i))).collect();
    let mut tangents = wanted.clone();
    for i in 1..n {
        let edge = points[i].distance(points[i - 1]) * (1.0 - 1e-12);
        let (need, want) = (needed[i - 1] + needed[i], wanted[i - 1] + wanted[i]);
        if want <= edge {
            continue;
        }
        for k in [i - 1, i] {
            let share = if need < edge {
                needed[k] + (wanted[k] - needed[k]) * (edge - need) / (want - need)
            } else {
                needed[k] * edge / need
            };
            tangents[k] = tangents[k].min(share);
        }
    }
    let mut segments = Vec::with_capacity(2 * n);
    let mut here = points.first().copied().unwrap_or_default();
    for i in 1..n {
        let back = (points[i - 1] - points[i]).unit();
        let begin = points[i] + back * tangents[i];
        if here.distance(begin) > 1e-9 {
            segments.push(Segment::Line { from: here, to: begin });
        }
        here = begin;
        if tangents[i] > 1e-9 && turns[i].abs() > FLAT_RAD && i + 1 < n {
            let radius_m = tangents[i] / (turns[i].abs() / 2.0).tan();
            let end = points[i] + (points[i + 1] - points[i]).unit() * tangents[i];
            let centre = begin - back.left() * (radius_m * turns[i].signum());
            let turn_rad = turns[i];
            segments.push(Segment::Arc { from: begin, to: end, centre, radius_m, turn_rad });
            here = end;
        }
    }
    Path { segments }
}

/// Turn at every point of a chain, positive to the left; nought at its ends.
pub(super) fn turns(points: &[Point]) -> Vec<f64> {
    let mut turns = vec![0.0; points.len()];
    for i in 1..points.len().saturating_sub(1) {
        turns[i] = (points[i] - points[i - 1]).angle_to(points[i + 1] - points[i]);
    }
    turns
}

/// The same way a distance farther left; arcs keep their centres.
pub(super) fn beside(path: &Path, left_m: f64) -> Path {
    let segments = path.segments.iter().map(|segment| match *segment {
        Segment::Line { from, to } => {
            let shift = (to - from).unit().left() * left_m;
            Segment::Line { from: from + shift, to: to + shift }
        }
        Segment::Arc { from, to, centre, radius_m, turn_rad } => {
            let radius = (radius_m - left_m * turn_rad.signum()).max(0.0);
            let moved = |p: Point| centre + (p - centre) * (radius / radius_m);
            Segment::Arc { from: moved(from), to: moved(to), centre, radius_m: radius, turn_rad }
        }
    });
    Path { segments: segments.collect() }
}

/// One path after another.
pub(super) fn joined(paths: impl IntoIterator<Item = Path>) -> Path {
    Path { segments: paths.into_iter().flat_map(|p| p.segments).collect() }
}
