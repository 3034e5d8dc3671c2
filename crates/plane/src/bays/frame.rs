//! The joist frame: across and along the joists, from the bearing, from a leader bay.

use crate::path::{Path, Segment};
use crate::point::Point;

/// A right-angled frame in the plane, possibly mirrored.
///
/// Local x runs across the joists, local y along them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    origin: Point,
    across: Point,
    along: Point,
}

impl Frame {
    /// The frame of joists: y along them, x to the right of it.
    pub(crate) fn of(on: Point, along: Point) -> Frame {
        let along = tidy(along.unit());
        Frame { origin: on, across: -along.left(), along }
    }

    /// The same directions, turned round where `flip` says so, from another origin.
    pub(crate) fn moved(&self, origin: Point, flip_across: bool, flip_along: bool) -> Frame {
        let sign = |flip: bool| if flip { -1.0 } else { 1.0 };
        Frame {
            origin: self.outward(origin),
            across: self.across * sign(flip_across),
            along: self.along * sign(flip_along),
        }
    }

    /// A place of the plan in this frame.
    pub(crate) fn inward(&self, p: Point) -> Point {
        let arm = p - self.origin;
        Point::new(arm.dot(self.across), arm.dot(self.along))
    }

    /// A place of this frame in the plan.
    pub(crate) fn outward(&self, p: Point) -> Point {
        self.origin + self.across * p.x + self.along * p.y
    }

    /// Tube of this frame in the plan.
    pub(crate) fn path(&self, path: &Path) -> Path {
        let mirrored = self.across.cross(self.along) < 0.0;
        let segments = path.segments.iter().map(|segment| match *segment {
            Segment::Line { from, to } => {
                Segment::Line { from: self.outward(from), to: self.outward(to) }
            }
            Segment::Arc { from, to, centre, radius_m, turn_rad } => Segment::Arc {
                from: self.outward(from),
                to: self.outward(to),
                centre: self.outward(centre),
                radius_m,
                turn_rad: if mirrored { -turn_rad } else { turn_rad },
            },
        });
        Path { segments: segments.collect() }
    }
}

/// Quarter turns exactly, so that upright joists stay upright to the last digit.
fn tidy(direction: Point) -> Point {
    let snap = |v: f64| if v.abs() < 1e-12 { 0.0 } else { v };
    let snapped = Point::new(snap(direction.x), snap(direction.y));
    if snapped.x == 0.0 || snapped.y == 0.0 {
        Point::new(snapped.x.signum() * f64::from(snapped.x != 0.0), {
            snapped.y.signum() * f64::from(snapped.y != 0.0)
        })
    } else {
        snapped
    }
}
