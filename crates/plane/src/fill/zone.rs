//! What a zone of floor asks for, and the outlines it is offered.

use super::NoFill;
use super::search;
use crate::point::Point;
use crate::region::Region;
use crate::storey::Pattern;

/// Where a loop comes onto its floor: two strands side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Midway between the strands, on the boundary of the floor.
    pub at: Point,
    /// Unit direction in which they come in.
    pub inward: Point,
    /// Distance between the two strands, centre to centre, metres.
    pub gap_m: f64,
}

/// A piece of floor that gets one loop.
#[derive(Clone, Copy, Debug)]
pub struct Zone<'a> {
    /// The floor; the outermost strand lies half a spacing inside its boundary.
    pub floor: &'a Region,
    /// Where the loop comes in.
    pub port: Port,
    /// Wanted distance between strands, metres.
    pub spacing_m: f64,
    /// Smallest radius of the tube's bends, metres.
    pub bend_radius_m: f64,
    /// How the tube is to be laid.
    pub pattern: Pattern,
    /// Stretches of wall with outdoors behind them.
    pub outside_walls: &'a [[Point; 2]],
}

impl Zone<'_> {
    /// Least distance of strands between which tube turns back with others beside it, metres.
    ///
    /// A turn bulges by the radius less half that distance to each side.
    pub(super) fn turn_m(&self) -> f64 {
        (self.bend_radius_m + BESIDE_BULB_M) / 1.5
    }
}

/// One way to lay a zone: straight edges from the supply end to the return end.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The corners, ends included; they start half a gap to the right of the port as
    /// the tube comes in, end half a gap to its left, and the chain never meets itself.
    pub corners: Vec<Point>,
    /// Distance between strands as laid, within 9 % of the one wanted, metres.
    pub spacing_m: f64,
    /// The pattern as laid, never `Auto`.
    pub pattern: Pattern,
    /// Why that pattern, in words.
    pub why: &'static str,
    /// What speaks against it, for comparison within a zone: about the share of floor
    /// left cold, with lesser weights on tight bends and a changed spacing.
    pub cost: f64,
    /// Share of the floor farther than three quarters of the wanted spacing, 0 to 1.
    pub uncovered: f64,
    /// Length of the edges, metres.
    pub length_m: f64,
    /// Length of the double strand from the port to the first turn, metres.
    pub way_m: f64,
    /// Bends that cannot have the radius between their straight neighbours.
    pub tight: usize,
}

/// How long to look for good outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// One or two outlines that show what a zone is good for.
    Quick,
    /// Up to seven different ones.
    Full,
}

/// Ways to lay one loop over a zone, the best first.
///
/// The same zone always gives the same outlines.
///
/// # Errors
/// A [`NoFill`] with the plain reason.
pub fn outlines(zone: &Zone<'_>, effort: Effort) -> Result<Vec<Outline>, NoFill> {
    check(zone)?;
    search::outlines(zone, effort)
}

/// Least distance of a bulb turn from the straight strand beside it, metres.
const BESIDE_BULB_M: f64 = 0.05;

/// Farthest a port may lie from the boundary of its floor, metres.
const PORT_REACH_M: f64 = 1e-3;

fn check(zone: &Zone<'_>) -> Result<(), NoFill> {
    super::check_figures(zone.floor, zone.spacing_m, zone.bend_radius_m)?;
    let port = zone.port;
    let direction = (port.inward.norm() - 1.0).abs() < 1e-3;
    if !(0.02..=1.0).contains(&port.gap_m) || !direction || !port.at.is_finite() {
        return Err(NoFill::EntryElsewhere);
    }
    if zone.floor.boundary_distance_m(port.at) > PORT_REACH_M {
        return Err(NoFill::EntryElsewhere);
    }
    // At a sharp corner a strand would leave the floor at once.
    let half = port.inward.left() * (port.gap_m / 2.0);
    let depth = port.inward * (port.gap_m / 2.0);
    if ![half, -half].iter().all(|side| zone.floor.encloses(port.at + *side + depth)) {
        return Err(NoFill::EntryTooNarrow);
    }
    let closest_m = zone.turn_m();
    if let Pattern::Band { spacing_m, depth_m } = zone.pattern
        && !((0.04..=1.0).contains(&spacing_m) && (0.0..=10.0).contains(&depth_m))
    {
        return Err(NoFill::UnusableSpacing);
    }
    // A half turn joins two grooves, and no wider one can be laid.
    let half_turn_m = 2.0 * zone.bend_radius_m;
    if matches!(zone.pattern, Pattern::Grooves(_)) && zone.spacing_m < half_turn_m - 1e-9 {
        return Err(NoFill::BendsTooWide { closest_m: half_turn_m });
    }
    if zone.spacing_m < closest_m - 1e-9 {
        return Err(NoFill::BendsTooWide { closest_m });
    }
    Ok(())
}
