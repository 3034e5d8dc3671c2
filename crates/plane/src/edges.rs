//! Which walls of two rooms face each other.

use crate::chain;
use crate::point::Point;

/// Edges count as parallel up to this angle.
const PARALLEL_RAD: f64 = 3.0 * std::f64::consts::PI / 180.0;

/// Shorter stretches are corners meeting, metres.
const LEAST_STRETCH_M: f64 = 1e-3;

/// A stretch along which an edge of one ring faces an edge of another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facing {
    /// Number of the edge in the first and in the second ring.
    pub edges: [usize; 2],
    /// Stretch on the first edge: distances from its start in metres, ascending.
    pub on_first_m: [f64; 2],
    /// Stretch on the second edge: distances from its start in metres, ascending.
    pub on_second_m: [f64; 2],
    /// Mean distance between the edges along the stretch in metres.
    ///
    /// Negative where the rings overlap.
    pub gap_m: f64,
}

impl Facing {
    /// Length of the stretch on the first edge in metres.
    pub fn length_m(&self) -> f64 {
        self.on_first_m[1] - self.on_first_m[0]
    }
}

/// Stretches along which two outer rings face each other.
///
/// Rings run counter-clockwise, as [`crate::Region::outer`] gives them, and do
/// not repeat their first corner. Edges face each other if they are parallel
/// within 3°, their outward sides look at each other, and the mean gap between
/// is at most `largest_gap_m`. Rings may overlap by up to a centimetre, as in
/// plans drawn by hand. Stretches below a millimetre are left out. The result
/// is ordered by the edges of the first ring, then of the second.
pub fn facing(first: &[Point], second: &[Point], largest_gap_m: f64) -> Vec<Facing> {
    let mut found = Vec::new();
    for (i, one) in chain::ring_edges(first).enumerate() {
        for (j, other) in chain::ring_edges(second).enumerate() {
            found.extend(between(one, other, largest_gap_m).map(|mut f| {
                f.edges = [i, j];
                f
            }));
        }
    }
    found
}

fn between((a, b): (Point, Point), (c, d): (Point, Point), largest: f64) -> Option<Facing> {
    let (along, back) = ((b - a).unit(), (d - c).unit());
    // Opposite directions of travel put the outward normals face to face.
    let tilt = along.angle_to(-back).abs();
    if tilt.is_nan() || tilt > PARALLEL_RAD || a == b || c == d {
        return None;
    }
    let (t, u) = (along.dot(d - a), along.dot(c - a));
    let on_first_m = [t.max(0.0), u.min(a.distance(b))];
    if on_first_m[1] - on_first_m[0] < LEAST_STRETCH_M {
        return None;
    }
    // The same stretch on the second edge, which runs the other way.
    let share = |along_first: f64| (u - along_first) / (u - t);
    let length = c.distance(d);
    let on_second_m = [share(on_first_m[1]) * length, share(on_first_m[0]) * length];
    let outward = -along.left();
    let gap_at = |s: f64| outward.dot(c.lerp(d, share(s)) - a);
    let gap_m = (gap_at(on_first_m[0]) + gap_at(on_first_m[1])) / 2.0;
    (gap_m <= largest && gap_m >= -0.01).then_some(Facing {
        edges: [0, 0],
        on_first_m,
        on_second_m,
        gap_m,
    })
}
