//! Places and stretches on the outer ring of a piece of floor.

use crate::chain;
use crate::point::Point;
use crate::region::Region;

/// An outer ring with places told by their distance along it, counter-clockwise.
pub(super) struct Ring {
    closed: Vec<Point>,
    pub(super) length_m: f64,
}

impl Ring {
    pub(super) fn of(region: &Region) -> Ring {
        let closed = chain::opened(region.outer());
        let length_m = chain::length(&closed);
        Ring { closed, length_m }
    }

    /// How far along the ring its place nearest to `p` lies.
    pub(super) fn position_m(&self, p: Point) -> f64 {
        chain::project(&self.closed, p).2
    }

    pub(super) fn distance_m(&self, p: Point) -> f64 {
        chain::distance_to(&self.closed, p)
    }

    pub(super) fn point_at(&self, position_m: f64) -> Point {
        chain::at(&self.closed, position_m.rem_euclid(self.length_m.max(1e-9)))
    }

    /// How far it is from one place counter-clockwise to another.
    pub(super) fn ahead_m(&self, from_m: f64, to_m: f64) -> f64 {
        (to_m - from_m).rem_euclid(self.length_m.max(1e-9))
    }

    /// The stretch from one place counter-clockwise to another.
    pub(super) fn stretch(&self, from_m: f64, to_m: f64) -> Vec<Point> {
        if from_m <= to_m {
            return chain::slice(&self.closed, from_m, to_m);
        }
        let mut points = chain::slice(&self.closed, from_m, self.length_m);
        for p in chain::slice(&self.closed, 0.0, to_m) {
            chain::push_new(&mut points, p);
        }
        points
    }

    /// Both ends in the order in which the ring passes them, by the shorter way between.
    pub(super) fn in_order(&self, ends: [Point; 2]) -> [Point; 2] {
        let [a, b] = ends.map(|p| self.position_m(p));
        if self.ahead_m(a, b) <= self.length_m / 2.0 { ends } else { [ends[1], ends[0]] }
    }
}

/// First place where a ray meets the outer ring of a region, within a few metres.
pub(super) fn hit(region: &Region, from: Point, direction: Point) -> Option<Point> {
    const REACH_M: f64 = 3.0;
    let far = from + direction * REACH_M;
    chain::ring_edges(region.outer())
        .filter_map(|(a, b)| crate::point::crossing(from, far, a, b))
        .map(|(t, _)| t)
        .min_by(f64::total_cmp)
        .map(|t| from.lerp(far, t))
}

/// The angle in a corner of a floor between a direction along its edge and the other edge there.
pub(super) fn corner_rad(floor: &Region, at: Point, along: Point) -> Option<f64> {
    let edges = chain::ring_edges(floor.outer());
    let from_corner = edges.flat_map(|(a, b)| [(a, b - a), (b, a - b)]);
    from_corner
        .filter(|(p, away)| p.distance(at) < 1e-3 && away.norm() > 1e-3)
        .map(|(_, away)| along.angle_to(away).abs())
        .filter(|angle| *angle > 1e-2)
        .min_by(f64::total_cmp)
}

/// Stretches of the boundary that two pieces of floor share, counter-clockwise along the first.
pub(super) fn shared(one: &Region, other: &Region, least_m: f64) -> Vec<[Point; 2]> {
    let mut found: Vec<[Point; 2]> = Vec::new();
    for (a, b) in chain::ring_edges(one.outer()) {
        let along = (b - a).unit();
        for (c, d) in chain::ring_edges(other.outer()) {
            let off = along.cross(c - a).abs().max(along.cross(d - a).abs());
            if off > 1e-4 {
                continue;
            }
            let (t, u) = (along.dot(d - a).max(0.0), along.dot(c - a).min(a.distance(b)));
            if u - t > 1e-3 {
                found.push([a + along * t, a + along * u]);
            }
        }
    }
    // Pieces that run on straight from each other are one.
    let mut merged: Vec<[Point; 2]> = Vec::new();
    for piece in found {
        match merged.last_mut() {
            Some(last) if last[1].distance(piece[0]) < 1e-3 => last[1] = piece[1],
            _ => merged.push(piece),
        }
    }
    merged.retain(|[a, b]| a.distance(*b) >= least_m);
    merged
}
