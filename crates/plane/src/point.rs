//! Points and the few vector operations the rest of the crate needs.

use std::ops::{Add, Mul, Neg, Sub};

/// A place, or a displacement, in the plane.
///
/// Coordinates are metres; the y axis is to the left of the x axis, so angles
/// count counter-clockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Point {
    /// Abscissa in metres.
    pub x: f64,
    /// Ordinate in metres.
    pub y: f64,
}

impl Point {
    /// A point from its two coordinates in metres.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// Scalar product with `other`, square metres.
    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Signed area spanned with `other`, positive when it lies to the left.
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Distance from the origin in metres.
    pub fn norm(self) -> f64 {
        // Not `hypot`: its care for overflow is no use here and five times the time.
        self.dot(self).sqrt()
    }

    /// Distance to `other` in metres.
    pub fn distance(self, other: Point) -> f64 {
        (self - other).norm()
    }

    /// Same direction with length one, or zero for the zero vector.
    pub fn unit(self) -> Point {
        let length = self.norm();
        if length > 0.0 { self * (1.0 / length) } else { Point::default() }
    }

    /// The vector turned left by a right angle.
    pub fn left(self) -> Point {
        Point::new(-self.y, self.x)
    }

    /// The point a share `t` of the way to `other`.
    pub fn lerp(self, other: Point, t: f64) -> Point {
        self + (other - self) * t
    }

    /// Signed angle in radians from this direction to `other`, within ±π.
    pub fn angle_to(self, other: Point) -> f64 {
        self.cross(other).atan2(self.dot(other))
    }

    /// Whether both coordinates are ordinary numbers.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        Point::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        Point::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, factor: f64) -> Point {
        Point::new(self.x * factor, self.y * factor)
    }
}

impl Neg for Point {
    type Output = Point;
    fn neg(self) -> Point {
        Point::new(-self.x, -self.y)
    }
}

/// Point of the segment `a`–`b` nearest to `p`, as its share of the way from `a`.
pub(crate) fn nearest_share(a: Point, b: Point, p: Point) -> f64 {
    let along = b - a;
    let square = along.dot(along);
    if square > 0.0 { ((p - a).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 }
}

/// Distance from `p` to the segment `a`–`b`.
pub(crate) fn segment_distance(a: Point, b: Point, p: Point) -> f64 {
    a.lerp(b, nearest_share(a, b, p)).distance(p)
}

/// Shares along both segments where they cross properly, if they do.
pub(crate) fn crossing(a: Point, b: Point, c: Point, d: Point) -> Option<(f64, f64)> {
    let (u, v) = (b - a, d - c);
    let denominator = u.cross(v);
    if denominator == 0.0 {
        return None;
    }
    let t = (c - a).cross(v) / denominator;
    let w = (c - a).cross(u) / denominator;
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&w)).then_some((t, w))
}

/// Smallest distance between two segments, zero when they cross.
pub(crate) fn segments_distance(a: Point, b: Point, c: Point, d: Point) -> f64 {
    if crossing(a, b, c, d).is_some() {
        return 0.0;
    }
    segment_distance(a, b, c)
        .min(segment_distance(a, b, d))
        .min(segment_distance(c, d, a))
        .min(segment_distance(c, d, b))
}
