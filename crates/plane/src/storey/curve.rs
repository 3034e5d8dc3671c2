//! Centrelines of double strands as lines and arcs, and the tubes beside them.

use crate::meet::crosses;
use crate::path::{Path, Segment};
use crate::point::Point;

/// Corners flatter than this stay as they are, radians.
const FLAT_RAD: f64 = 1e-6;

/// Radii that the corners of a chain can have, of those that are wished.
///
/// Both have a value for every point; those of the two ends are not used. Where an edge is
/// too short for the arcs at both ends, each first gets what `least_m` needs, and the rest
/// is shared in proportion.
pub(super) fn fitting(points: &[Point], radii_m: &[f64], least_m: f64) -> Vec<f64> {
    let n = points.len();
    let slopes: Vec<f64> = turns(points).iter().map(|t| (t.abs() / 2.0).tan()).collect();
    let wanted: Vec<f64> =
        (0..n).map(|i| radii_m.get(i).copied().unwrap_or(0.0) * slopes[i]).collect();
    let needed: Vec<f64> = (0..n).map(|i| wanted[i].min(least_m * slopes[i])).collect();
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
    let radius = |i: usize| if slopes[i] > FLAT_RAD / 2.0 { tangents[i] / slopes[i] } else { 0.0 };
    (0..n).map(radius).collect()
}

/// A path along straight edges whose corners have each its own radius, as `fitting` gives it.
pub(super) fn rounded(points: &[Point], radii_m: &[f64]) -> Path {
    let n = points.len();
    let turns = turns(points);
    let mut segments = Vec::with_capacity(2 * n);
    let mut here = points.first().copied().unwrap_or_default();
    for i in 1..n {
        let radius_m = radii_m.get(i).copied().unwrap_or(0.0);
        let is_bent = i + 1 < n && turns[i].abs() > FLAT_RAD;
        let tangent = if is_bent { radius_m * (turns[i].abs() / 2.0).tan() } else { 0.0 };
        let back = (points[i - 1] - points[i]).unit();
        let begin = points[i] + back * tangent;
        if here.distance(begin) > 1e-9 {
            segments.push(Segment::Line { from: here, to: begin });
        }
        here = begin;
        if tangent > 1e-9 {
            let end = points[i] + (points[i + 1] - points[i]).unit() * tangent;
            let centre = begin - back.left() * (radius_m * turns[i].signum());
            let turn_rad = turns[i];
            segments.push(Segment::Arc { from: begin, to: end, centre, radius_m, turn_rad });
            here = end;
        }
    }
    Path { segments }
}

/// Sideways steps between parallel edges, made as gentle as arcs of a radius need.
pub(super) fn eased(points: &[Point], radius_m: f64) -> Vec<Point> {
    let mut eased = points.to_vec();
    for i in 1..points.len().saturating_sub(2) {
        let [before, one, other, after] = [eased[i - 1], eased[i], eased[i + 1], eased[i + 2]];
        let along = (one - before).unit();
        let step = other - one;
        let turn = along.angle_to(step);
        let is_parallel = along.dot((after - other).unit()) > PARALLEL;
        let aside = along.cross(step);
        let short = step.norm() < 2.0 * radius_m * (turn.abs() / 2.0).tan();
        if !is_parallel || !short || aside.abs() < 1e-6 {
            continue;
        }
        // Two arcs that turn by this and back come just so far aside.
        let most = (1.0 - aside.abs() / (2.0 * radius_m)).clamp(0.0, 1.0).acos();
        let ahead = along * (aside.abs() / most.tan().max(1e-6) / 2.0);
        let across = along.left() * (aside / 2.0);
        let middle = one.lerp(other, 0.5);
        let [from, to] = [middle - ahead - across, middle + ahead + across];
        // Each edge before and after keeps room for its other corner.
        if (from - before).dot(along) > 0.0 && (after - to).dot(along) > 0.0 {
            (eased[i], eased[i + 1]) = (from, to);
        }
    }
    eased
}

/// Cosine of the angle up to which edges before and after a step are parallel.
const PARALLEL: f64 = 0.9999;

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

/// What of a path lies beyond the line through `at` square to `inward`.
///
/// A path that begins beyond it stays as it is.
pub(super) fn begun(path: Path, at: Point, inward: Point) -> Path {
    let is_behind = |p: Point| (p - at).dot(inward) < -1e-9;
    if !path.start().is_some_and(is_behind) {
        return path;
    }
    let cut = path.segments.iter().enumerate().find_map(|(number, segment)| {
        let from_m = crosses(segment, at, inward).first().copied()?;
        Some((number, segment.between(from_m, f64::INFINITY)))
    });
    let Some((number, first)) = cut else { return path };
    let mut segments = vec![first];
    segments.extend_from_slice(&path.segments[number + 1..]);
    segments.retain(|s| s.length_m() > 1e-9);
    Path { segments }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A step aside of 0.1 m on 0.02 m, in a way of 4 m.
    fn step() -> Vec<Point> {
        [[0.0, 0.0], [2.0, 0.0], [2.02, 0.1], [4.0, 0.1]].map(|p| Point::new(p[0], p[1])).into()
    }

    #[test]
    fn a_steep_step_is_eased_until_both_arcs_fit() {
        let radius_m = 0.15;
        let eased = eased(&step(), radius_m);
        let radii = fitting(&eased, &[radius_m; 4], radius_m);
        assert!(radii[1] > radius_m - 1e-6 && radii[2] > radius_m - 1e-6, "{radii:?}");
        assert!(eased[1].y.abs() < 1e-12 && (eased[2].y - 0.1).abs() < 1e-12, "still on its edges");
        let steep = fitting(&step(), &[radius_m; 4], radius_m);
        assert!(steep[1] < 0.1, "not without easing: {steep:?}");
    }

    #[test]
    fn a_path_begins_where_it_passes_a_line() {
        let path = rounded(&step(), &[0.0; 4]);
        let cut = begun(path.clone(), Point::new(1.5, 7.0), Point::new(1.0, 0.0));
        assert_eq!(cut.start(), Some(Point::new(1.5, 0.0)));
        assert!((path.length_m() - cut.length_m() - 1.5).abs() < 1e-12);
        assert_eq!(begun(path.clone(), Point::new(-1.0, 0.0), Point::new(1.0, 0.0)), path);
    }
}
