//! Half-planes: cutting rings by them, and what is left.

use crate::chain;
use crate::point::Point;

/// The places where an affine function of the plane is at least nought.
///
/// The function is `value + slope · (p − at)`; a ceiling's height over the floor, say, or the
/// difference of two of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Affine {
    /// Where the value holds.
    pub at: Point,
    /// The value there.
    pub value: f64,
    /// How it grows along x and along y.
    pub slope: Point,
}

impl Affine {
    /// The same value everywhere.
    pub fn level(value: f64) -> Affine {
        Affine { at: Point::default(), value, slope: Point::default() }
    }

    /// The value at a place.
    pub fn of(&self, p: Point) -> f64 {
        self.value + self.slope.dot(p - self.at)
    }

    /// This function less another.
    pub fn less(&self, other: &Affine) -> Affine {
        Affine {
            at: self.at,
            value: self.value - other.of(self.at),
            slope: self.slope - other.slope,
        }
    }
}

/// The part of a ring where the function is at least nought.
///
/// Where a ring with bays falls into several parts they stay joined by edges along the cut that
/// run there and back: areas and centroids are exact, but the result need not be simple.
pub fn part_above(ring: &[Point], function: &Affine) -> Vec<Point> {
    let mut part = Vec::with_capacity(ring.len() + 2);
    for (a, b) in chain::ring_edges(ring) {
        let (at_a, at_b) = (function.of(a), function.of(b));
        if at_a >= 0.0 {
            chain::push_new(&mut part, a);
        }
        if (at_a > 0.0 && at_b < 0.0) || (at_a < 0.0 && at_b > 0.0) {
            chain::push_new(&mut part, a.lerp(b, at_a / (at_a - at_b)));
        }
    }
    while part.len() > 1 && part.first() == part.last() {
        part.pop();
    }
    part
}

/// Area within a ring, square metres; below zero where it runs clockwise.
pub fn area_m2(ring: &[Point]) -> f64 {
    chain::double_area(ring) / 2.0
}

/// Integral of a function over a ring: a volume, where the function is a height.
pub fn integral(ring: &[Point], function: &Affine) -> f64 {
    let Some(&origin) = ring.first() else { return 0.0 };
    chain::ring_edges(ring)
        .map(|(a, b)| {
            // Over each triangle from the first corner: its area times the mean of its corners.
            let double = (a - origin).cross(b - origin);
            double / 6.0 * (function.of(origin) + function.of(a) + function.of(b))
        })
        .sum()
}
