//! The tube of one loop, drawn in the frame of its leader bay and its bearing.
//!
//! Local x counts from the middle of the leader bay towards the loop's rows, local y from the
//! bearing beside which its lanes lie.

use super::fit::{Fit, dip};
use super::plan::Way;
use super::rows::{self, Span, length};
use super::walk::Walk;
use crate::point::Point;

/// Shortest stretch worth rising to, metres.
const WORTH_M: f64 = 0.3;

/// Straight leader before its port that is not plated, metres.
const PORT_STRAIGHT_M: f64 = 0.05;

/// One row of a loop: a bay and the stretches of it that are reached.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// The bay, by place in the list of bays.
    pub(super) bay: usize,
    /// Middle of the bay from the middle of the leader bay.
    pub(super) x_m: f64,
    /// Stretches to be plated, from the bearing.
    pub(super) pieces: Vec<Span>,
    /// Where the farther and the nearer strand lie under the room, from the bearing.
    pub(super) strands: [Vec<Span>; 2],
}

/// A drawn loop with its plated strands.
pub(super) struct Drawn {
    pub(super) walk: Walk,
    /// Strands in plates, from and to, in the local frame.
    pub(super) plated: Vec<[Point; 2]>,
}

struct Pen<'a> {
    fit: &'a Fit,
    way: &'a Way,
    walk: Walk,
    plated: Vec<[Point; 2]>,
}

/// Draws a loop: leaders, lanes, and its rows from the farthest back; none where it has no place.
pub(super) fn draw(fit: &Fit, way: &Way, rows: &[Row]) -> Option<Drawn> {
    let last = rows.last()?;
    let mut pen = Pen { fit, way, walk: begun(fit, way)?, plated: Vec::new() };
    let supply_y = way.lanes_m[0];
    pen.corner(way.slots_m[0], supply_y)?;
    pen.walk.until(Point::new(last.x_m + fit.half_m - fit.radius_m, supply_y));
    for (number, row) in rows.iter().rev().enumerate() {
        let far = row.pieces.last()?[1];
        if number > 0 {
            pen.walk.until(Point::new(row.x_m + fit.exit_m + fit.radius_m, 0.0));
        }
        pen.row(row, far, number == 0)?;
    }
    pen.walk.until(Point::new(way.slots_m[1] + fit.radius_m, way.lanes_m[1]));
    pen.walk.quarter(false);
    pen.home()?;
    Some(Drawn { walk: pen.walk, plated: pen.plated })
}

/// The supply from its port to the leader bay, heading for the bearing.
fn begun(fit: &Fit, way: &Way) -> Option<Walk> {
    let Some(trunk) = way.trunk else {
        let port = Point::new(way.slots_m[0], way.ports_m[0]);
        return Some(Walk::new(port, Point::new(0.0, -1.0), fit.lower_z, fit.radius_m));
    };
    let start = Point::new(trunk.from_x_m, trunk.y_m);
    let heading = Point::new(-trunk.from_x_m.signum(), 0.0);
    let mut walk = Walk::new(start, heading, fit.under_z[1], fit.radius_m);
    let corner = Point::new(way.slots_m[0], trunk.y_m) - heading * fit.radius_m;
    if walk.distance_to(corner) < 0.0 {
        return None;
    }
    walk.until(corner);
    walk.quarter(heading.x < 0.0);
    walk.dip(fit.lower_z);
    Some(walk)
}

impl Pen<'_> {
    /// From the leader bay into the supply lane.
    fn corner(&mut self, x_m: f64, lane_y_m: f64) -> Option<()> {
        let corner = Point::new(x_m, lane_y_m + self.fit.radius_m);
        if self.walk.distance_to(corner) < 0.0 {
            return None;
        }
        self.walk.until(corner);
        self.walk.quarter(true);
        Some(())
    }

    /// From the end of the return lane back to the port.
    fn home(&mut self) -> Option<()> {
        let fit = self.fit;
        let home = self.way.home.clone();
        let Some(trunk) = self.way.trunk else {
            let port = Point::new(0.0, self.way.ports_m[1]);
            if self.walk.distance_to(port) > PORT_STRAIGHT_M {
                self.strand(&home, &home, port.y - PORT_STRAIGHT_M, false)?;
            }
            let ahead = self.walk.distance_to(port);
            self.walk.until(port);
            return (ahead > 0.0).then_some(());
        };
        let plan = dip(fit.under_z[0] - fit.upper_z, fit.radius_m).0;
        let end_y = trunk.y_m - fit.radius_m - plan;
        if self.walk.distance_to(Point::new(0.0, end_y)) > PORT_STRAIGHT_M {
            self.strand(&home, &home, end_y - PORT_STRAIGHT_M, false)?;
        }
        let ahead = self.walk.distance_to(Point::new(0.0, end_y));
        self.walk.ahead(ahead);
        self.walk.dip(fit.under_z[0]);
        self.walk.quarter(trunk.from_x_m < 0.0);
        self.walk.until(Point::new(trunk.from_x_m, 0.0));
        (ahead >= 0.0).then_some(())
    }

    /// Up one strand of a bay to its far end and down the other, to the return lane.
    fn row(&mut self, row: &Row, far: f64, first: bool) -> Option<()> {
        let (fit, x) = (self.fit, row.x_m);
        self.walk.quarter(first);
        if !first {
            self.walk.shift(false, fit.half_m - fit.exit_m);
        }
        let [out, back] = &row.strands;
        self.strand(&row.pieces, out, far - turn_height(fit), true)?;
        self.walk.half_turn(true, 2.0 * fit.half_m);
        let shift = fit.half_m - fit.exit_m;
        let lane = self.way.lanes_m[1] + fit.radius_m;
        self.strand(&row.pieces, back, lane + dip(shift, fit.radius_m).0, false)?;
        self.walk.shift(true, shift);
        self.walk.until(Point::new(x, lane));
        self.walk.quarter(false);
        Some(())
    }

    /// Along a strand to `end_y`: up into plates, down where no plate fits, up again.
    ///
    /// A strand that ends in a half turn ends at the plates' depth, any other at the holes'. What
    /// lies not `under` the room is no less high, as lanes of the other bearing may lie below it,
    /// but gets no plates.
    fn strand(&mut self, pieces: &[Span], under: &[Span], end_y: f64, turns: bool) -> Option<()> {
        let fit = self.fit;
        let from_y = self.walk.at.y;
        let down = end_y < from_y;
        if (end_y - from_y).abs() < 1e-6 {
            return None;
        }
        let (low, high) = (from_y.min(end_y), from_y.max(end_y));
        let mut spans: Vec<Span> = pieces
            .iter()
            .map(|p| [p[0].max(low), p[1].min(high)])
            .filter(|p| length(p) > 0.0)
            .collect();
        if down {
            spans.reverse();
        }
        let count = spans.len();
        for (number, span) in spans.into_iter().enumerate() {
            let (begin, end) = if down { (span[1], span[0]) } else { (span[0], span[1]) };
            let x = self.walk.at.x;
            let last = number + 1 == count;
            let rise = dip(self.walk.depth_m - fit.plate_z, fit.radius_m).0;
            let stays = last && turns;
            let fall = if stays { 0.0 } else { dip(fit.upper_z - fit.plate_z, fit.radius_m).0 };
            let plated = (end - begin).abs() - rise - fall;
            let worth = if stays || rise == 0.0 { 0.0 } else { WORTH_M };
            if plated < worth {
                if worth == 0.0 {
                    return None;
                }
                continue;
            }
            self.walk.until(Point::new(x, begin));
            self.walk.dip(fit.plate_z);
            let from = self.walk.at;
            self.walk.ahead(plated);
            let up = [from.y.min(self.walk.at.y), from.y.max(self.walk.at.y)];
            let runs = rows::common(&[up], under);
            self.plated.extend(runs.iter().map(|run| run.map(|y| Point::new(x, y))));
            if !stays {
                self.walk.dip(fit.upper_z);
            }
        }
        let x = self.walk.at.x;
        self.walk.until(Point::new(x, end_y));
        if !turns && self.walk.depth_m != fit.upper_z {
            return None;
        }
        Some(())
    }
}

/// Distance from the end of the strands to the top of a half turn.
pub(super) fn turn_height(fit: &Fit) -> f64 {
    let (half, radius) = (fit.half_m, fit.radius_m);
    if half >= radius {
        half
    } else {
        (4.0 * radius * radius - (half + radius) * (half + radius)).max(0.0).sqrt() + radius
    }
}
