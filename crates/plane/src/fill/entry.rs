//! Where the two ends of a loop lie, and the short way in from there.

use crate::chain;
use crate::point::Point;
use crate::region::Region;

/// The short double strand from the wall to the first ring.
#[derive(Clone, Debug)]
pub(super) struct Stub {
    /// Middle between both ends, on the boundary.
    pub(super) foot: Point,
    /// Unit direction along the boundary, the region on its left.
    pub(super) along: Point,
}

/// Farthest that the ends move along the wall from the entry, metres.
const FARTHEST_MOVE_M: f64 = 1.0;

/// Steps in which the ends move along the wall, metres.
const MOVE_STEP_M: f64 = 0.01;

/// The place nearest to the entry where two strands fit in at the wall.
///
/// They fit where both stand on the wall and, at the depth of the first strand,
/// keep `clearance` from every other wall.
/// Places from which `reaches` says no are passed over.
pub(super) fn stub(
    region: &Region,
    entry: Point,
    spacing: f64,
    clearance: f64,
    reaches: impl Fn(Point) -> bool,
) -> Option<Stub> {
    let mut best: Option<(f64, Stub)> = None;
    for (a, b) in region.edges() {
        let length = a.distance(b);
        if length < MOVE_STEP_M {
            continue;
        }
        let along = (b - a).unit();
        let nearest = (entry - a).dot(along).clamp(0.0, length);
        let away = a.lerp(b, nearest / length).distance(entry);
        let bound = best.as_ref().map_or(away + FARTHEST_MOVE_M, |b| b.0 - 1e-9);
        // Outwards from the nearest place of this edge, both ways in turn.
        let steps = (length.min(2.0 * FARTHEST_MOVE_M) / MOVE_STEP_M).ceil() as usize;
        'edge: for k in 0..=2 * steps {
            let shift = k.div_ceil(2) as f64 * MOVE_STEP_M * if k % 2 == 0 { 1.0 } else { -1.0 };
            let at = nearest + shift;
            if !(0.0..=length).contains(&at) {
                continue;
            }
            let foot = a + along * at;
            let distance = foot.distance(entry);
            if distance > bound {
                if shift.abs() > bound {
                    break 'edge;
                }
                continue;
            }
            if fits(region, foot, along, spacing, clearance) && reaches(foot) {
                best = Some((distance, Stub { foot, along }));
                break 'edge;
            }
        }
    }
    let (distance, stub) = best?;
    let away = region.boundary_distance_m(entry);
    (distance <= away + FARTHEST_MOVE_M).then_some(stub)
}

fn fits(region: &Region, foot: Point, along: Point, spacing: f64, clearance: f64) -> bool {
    [-0.5, 0.5].into_iter().all(|side| {
        let end = foot + along * (side * spacing);
        let inside = end + along.left() * clearance;
        region.boundary_distance_m(end) < 1e-4
            && region.encloses(inside)
            && region.boundary_distance_m(inside) > 0.93 * clearance
    })
}

impl Stub {
    /// The centreline from the wall to a ring, straight in as far as it goes.
    pub(super) fn centreline(&self, ring: &[Point], spacing: f64) -> Option<Vec<Point>> {
        let inward = self.along.left();
        let far = self.foot + inward * (6.0 * spacing);
        let hits = chain::edges(ring)
            .filter_map(|(a, b)| crate::point::crossing(self.foot, far, a, b))
            .map(|(t, _)| t);
        let straight = hits.fold(f64::INFINITY, f64::min) * 6.0 * spacing;
        let (foot, distance, _) = chain::project(ring, self.foot);
        let depth = (foot - self.foot).dot(inward);
        let aside = (foot - self.foot).cross(inward).abs();
        let end = if straight <= 1.5 * distance {
            self.foot + inward * straight
        } else if aside < 0.25 * spacing && depth > 0.0 {
            // Beside a corner the ring may begin a little to one side.
            self.foot + inward * depth
        } else {
            foot
        };
        (end.distance(self.foot) > 1e-3).then(|| vec![self.foot, end])
    }

    /// The two ends of the loop on the wall: where it starts and where it ends.
    pub(super) fn ends(&self, spacing: f64) -> (Point, Point) {
        let half = self.along * (spacing / 2.0);
        (self.foot + half, self.foot - half)
    }
}
