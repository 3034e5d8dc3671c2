//! Bends of a path: by the record of its arcs, and by places along it.

use crate::path::{Path, Segment};
use crate::point::Point;

use super::{Fault, faults};

/// Straight pieces shorter than this do not end a bend, metres.
const SAME_TURN_M: f64 = 0.01;

/// Arcs that turn less than this are part of the line they lie in, radians.
const LEAST_TURN_RAD: f64 = 0.3 * std::f64::consts::PI / 180.0;

/// Radii this little below the limit are rounding, metres.
const ROUNDING_M: f64 = 1e-6;

/// Distance of the places that a circle is put through, metres.
const CHORD_M: f64 = 0.03;

/// A circle through three places may be this much tighter than the tube's limit.
///
/// A kink of 0.3° within a chord, which is allowed, makes 1.4 %.
const SAMPLED_SHARE: f64 = 0.98;

/// A run of arcs that turn the same way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Turn {
    /// Distances along the path, metres.
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    /// Angle turned, positive to the left.
    pub(super) turn_rad: f64,
    /// Radius of the tightest arc, metres, and its middle.
    pub(super) radius_m: f64,
    pub(super) at: Point,
}

/// All turns of a path in order.
pub(super) fn turns(path: &Path) -> Vec<Turn> {
    let mut turns: Vec<Turn> = Vec::new();
    let mut gone = 0.0;
    for segment in &path.segments {
        let length = segment.length_m();
        if let Segment::Arc { radius_m, turn_rad, .. } = *segment {
            let at = segment.point_at(length / 2.0);
            let to_m = gone + length;
            let radius_m = if turn_rad.abs() > LEAST_TURN_RAD { radius_m } else { f64::INFINITY };
            match turns.last_mut() {
                Some(t) if gone - t.to_m < SAME_TURN_M && t.turn_rad * turn_rad > 0.0 => {
                    t.to_m = to_m;
                    t.turn_rad += turn_rad;
                    if radius_m < t.radius_m {
                        (t.radius_m, t.at) = (radius_m, at);
                    }
                }
                _ => turns.push(Turn { from_m: gone, to_m, turn_rad, radius_m, at }),
            }
        }
        gone += length;
    }
    turns
}

/// Places where a path bends tighter than a radius: where, and how tight.
///
/// Kinks, jumps and false arcs have radius 0. Where the arcs on record are wide
/// enough but the places along the tube are not, the circle through these counts.
pub(super) fn tight(path: &Path, limit_m: f64) -> Vec<(Point, f64)> {
    let mut found: Vec<(Point, f64)> = Vec::new();
    for fault in faults(path) {
        found.push((fault_place(path, &fault), 0.0));
    }
    for turn in turns(path) {
        if turn.radius_m < limit_m - ROUNDING_M {
            found.push((turn.at, turn.radius_m));
        }
    }
    let on_record = found.len();
    for (at, radius_m) in sampled(path, CHORD_M) {
        // Next to a place on record it is the same bend seen twice.
        let known = |f: &(Point, f64)| f.0.distance(at) < 3.0 * limit_m.max(CHORD_M);
        if radius_m >= SAMPLED_SHARE * limit_m || found[..on_record].iter().any(known) {
            continue;
        }
        match found[on_record..].last_mut() {
            Some(last) if last.0.distance(at) < 2.0 * CHORD_M => {
                if radius_m < last.1 {
                    *last = (at, radius_m);
                }
            }
            _ => found.push((at, radius_m)),
        }
    }
    found
}

fn fault_place(path: &Path, fault: &Fault) -> Point {
    match *fault {
        Fault::Kink { at, .. } | Fault::Jump { at, .. } | Fault::FalseArc { at, .. } => at,
        Fault::NotANumber { segment } => {
            let before = path.segments[..segment.min(path.segments.len())].iter().rev();
            before.map(Segment::to).find(|p| p.is_finite()).unwrap_or_default()
        }
    }
}

/// The circle through three places `chord_m` apart, all along the path: middle place, radius.
///
/// Nothing for paths that are not numbers or need more than a million places.
pub(super) fn sampled(path: &Path, chord_m: f64) -> Vec<(Point, f64)> {
    let total = path.length_m();
    if chord_m.is_nan() || chord_m < 1e-4 || !total.is_finite() || total / chord_m > 2.5e5 {
        return Vec::new();
    }
    let places = stations(path, chord_m / 4.0);
    places.windows(9).map(|w| (w[4], radius_m(w[0], w[4], w[8]))).collect()
}

fn radius_m(a: Point, b: Point, c: Point) -> f64 {
    let area = 2.0 * (b - a).cross(c - a).abs();
    if area > 1e-12 { a.distance(b) * b.distance(c) * c.distance(a) / area } else { f64::INFINITY }
}

/// Places at equal distances along a path.
fn stations(path: &Path, step_m: f64) -> Vec<Point> {
    let mut places = Vec::new();
    let (mut gone, mut next) = (0.0, 0.0);
    for segment in &path.segments {
        let end = gone + segment.length_m();
        while next <= end {
            places.push(segment.point_at(next - gone));
            next = step_m * places.len() as f64;
        }
        gone = end;
    }
    places
}
