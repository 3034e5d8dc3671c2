//! A tube drawn piece by piece: straight on, turn, shift aside, dip.

use std::f64::consts::FRAC_PI_2;

use super::fit;
use crate::path::{Path, Segment};
use crate::point::Point;

/// A tube that is being drawn.
#[derive(Clone, Debug)]
pub(super) struct Walk {
    pub(super) at: Point,
    heading: Point,
    pub(super) depth_m: f64,
    radius_m: f64,
    pub(super) path: Path,
    pub(super) depths_m: Vec<[f64; 2]>,
    /// True length in space.
    pub(super) length_m: f64,
}

impl Walk {
    /// Begins a tube; headings are along an axis.
    pub(super) fn new(at: Point, heading: Point, depth_m: f64, radius_m: f64) -> Walk {
        Walk {
            at,
            heading,
            depth_m,
            radius_m,
            path: Path::default(),
            depths_m: Vec::new(),
            length_m: 0.0,
        }
    }

    fn push(&mut self, segment: Segment, to_depth_m: f64, length_m: f64) {
        self.at = segment.to();
        self.path.segments.push(segment);
        self.depths_m.push([self.depth_m, to_depth_m]);
        self.depth_m = to_depth_m;
        self.length_m += length_m;
    }

    /// Straight on by a distance; nothing if it is not ahead.
    pub(super) fn ahead(&mut self, distance_m: f64) {
        if distance_m > 1e-9 {
            let to = self.at + self.heading * distance_m;
            self.push(Segment::Line { from: self.at, to }, self.depth_m, distance_m);
        }
    }

    /// Straight on until level with a place.
    pub(super) fn until(&mut self, place: Point) {
        self.ahead((place - self.at).dot(self.heading));
    }

    /// How far a place lies ahead, metres.
    pub(super) fn distance_to(&self, place: Point) -> f64 {
        (place - self.at).dot(self.heading)
    }

    /// A quarter turn of the tube's radius.
    pub(super) fn quarter(&mut self, left: bool) {
        let sign = if left { 1.0 } else { -1.0 };
        self.arc(self.radius_m, sign * FRAC_PI_2);
        self.heading = axis(self.heading);
    }

    /// A half turn over the width of two strands: plain where the tube allows it, else a bulb.
    pub(super) fn half_turn(&mut self, left: bool, width_m: f64) {
        let sign = if left { 1.0 } else { -1.0 };
        let (half, radius) = (width_m / 2.0, self.radius_m);
        let end = self.at + self.heading.left() * (sign * width_m);
        if half >= radius {
            self.arc(half, sign * std::f64::consts::PI);
        } else {
            let flank = ((half + radius) / (2.0 * radius)).clamp(-1.0, 1.0).acos();
            self.arc(radius, -sign * flank);
            self.arc(radius, sign * (std::f64::consts::PI + 2.0 * flank));
            self.arc(radius, -sign * flank);
        }
        self.heading = axis(self.heading);
        self.snap(end);
    }

    /// Aside by a distance with two arcs, heading on as before.
    pub(super) fn shift(&mut self, left: bool, aside_m: f64) {
        if aside_m <= 1e-9 {
            return;
        }
        let sign = if left { 1.0 } else { -1.0 };
        let plan = fit::dip(aside_m, self.radius_m).0;
        let heading = self.heading;
        let end = self.at + heading * plan + heading.left() * (sign * aside_m);
        let angle = (1.0 - aside_m / (2.0 * self.radius_m)).clamp(-1.0, 1.0).acos();
        self.arc(self.radius_m, sign * angle);
        self.arc(self.radius_m, -sign * angle);
        self.heading = heading;
        self.snap(end);
    }

    /// Down or up to another depth, straight on in plan.
    pub(super) fn dip(&mut self, to_depth_m: f64) {
        let (plan, length) = fit::dip(to_depth_m - self.depth_m, self.radius_m);
        if plan > 1e-9 {
            let to = self.at + self.heading * plan;
            self.push(Segment::Line { from: self.at, to }, to_depth_m, length);
        }
    }

    fn arc(&mut self, radius_m: f64, turn_rad: f64) {
        let centre = self.at + self.heading.left() * (radius_m * turn_rad.signum());
        let (sin, cos) = turn_rad.sin_cos();
        let arm = self.at - centre;
        let to = centre + arm * cos + arm.left() * sin;
        self.heading = self.heading * cos + self.heading.left() * sin;
        let from = self.at;
        let arc = Segment::Arc { from, to, centre, radius_m, turn_rad };
        self.push(arc, self.depth_m, radius_m * turn_rad.abs());
    }

    /// Puts the end where it is known to be, to drop the last digits of sines.
    fn snap(&mut self, end: Point) {
        if let Some(Segment::Arc { to, .. }) = self.path.segments.last_mut() {
            *to = end;
        }
        self.at = end;
    }
}

/// The axis nearest to a direction.
fn axis(direction: Point) -> Point {
    if direction.x.abs() > direction.y.abs() {
        Point::new(direction.x.signum(), 0.0)
    } else {
        Point::new(0.0, direction.y.signum())
    }
}
