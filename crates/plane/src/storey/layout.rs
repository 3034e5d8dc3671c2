//! What comes out of laying a storey.

use super::held::Unheld;
use super::plan::Pattern;
use super::slots::PORT_GAP_M;
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

/// The tube of a storey.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    /// The loops, room after room.
    pub loops: Vec<Loop>,
    /// What could not be laid, with reasons and numbers.
    pub refusals: Vec<Refusal>,
    /// Heated floor that no tube can reach: slots too narrow for a turn.
    pub dead: Vec<DeadFloor>,
    /// Heated floor that leaders cut off from the loops of its room.
    pub cut_off: Vec<CutOff>,
    /// Loops that come nearer to each other than leaders may.
    pub near: Vec<Near>,
    /// What was held and could not be kept, with reasons.
    pub unheld: Vec<Unheld>,
}

/// Heated floor that leaders cut off from the loops of its room, so that none of them fills it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOff {
    /// The room, by number.
    pub room: usize,
    /// A place on it.
    pub at: Point,
    /// Its size, square metres.
    pub area_m2: f64,
}

/// The place where two loops come too near each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// The loops, by their place in the layout.
    pub loops: [usize; 2],
    /// Where, on the first of them.
    pub at: Point,
    /// Distance between centrelines, metres.
    pub gap_m: f64,
}

/// One loop from supply port to return port.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    /// The room that it heats, by number.
    pub room: usize,
    /// Its number in the room, from 1, along the way leaders come in.
    pub number: usize,
    /// The manifold, by number.
    pub manifold: usize,
    /// Its place among the loops of the manifold, from 0 at `ports[0]`.
    pub port: usize,
    /// The whole tube on the floor, supply port to return port.
    pub path: Path,
    /// Length from the supply port to where its own field begins, metres.
    pub supply_leader_m: f64,
    /// Length from where its own field ends to the return port, metres.
    pub return_leader_m: f64,
    /// Tube by room, own room included, metres; passages count to the room behind them.
    ///
    /// Rooms that it heats along with its own stand last.
    pub lengths_m: Vec<(usize, f64)>,
    /// Doors that its leaders pass, from the manifold on, by number.
    pub doors: Vec<usize>,
    /// Rooms of others that its leaders pass, in their order.
    pub passed: Vec<Passed>,
    /// The floor that it heats: its field and the strip of its leaders in its own room.
    pub region: Region,
    /// Share of that floor near a tube, 0 to 1: within three quarters of the spacing
    /// asked for, or the wall clearance if that is more.
    pub covered_fraction: f64,
    /// Spacing as laid, within 9 % of the one asked for, metres.
    pub spacing_laid_m: f64,
    /// The pattern as laid, never `Auto`.
    pub pattern: Pattern,
    /// Why that pattern, in words for the paper.
    pub why: String,
}

/// Floor of another room that leaders take up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// The room, by number.
    pub room: usize,
    /// Tube in it, supply and return together, metres.
    pub length_m: f64,
    /// Floor that the two strands take up, square metres.
    pub area_m2: f64,
}

/// Something that could not be laid.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// The room concerned, by number.
    pub room: usize,
    /// Where.
    pub at: Point,
    /// What stands in the way.
    pub reason: Reason,
}

/// What stands in the way of a loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Leaders do not fit side by side through a door or a narrow place.
    PassageTooNarrow {
        /// The door, by number; none for a narrow place inside a room.
        door: Option<usize>,
        /// Loops that would have to pass.
        loops: usize,
        /// Width that they need, metres.
        needed_m: f64,
        /// Width that there is, metres.
        width_m: f64,
    },
    /// The manifold's stretch of wall is too short for its loops.
    ManifoldTooShort {
        /// The manifold, by number.
        manifold: usize,
        /// Loops that start there.
        loops: usize,
        /// Length that they need, metres.
        needed_m: f64,
        /// Length that there is, metres.
        width_m: f64,
    },
    /// More loops than the manifold takes.
    TooManyLoops {
        /// The manifold, by number.
        manifold: usize,
        /// Loops that would start there.
        loops: usize,
    },
    /// No door leads there from any manifold.
    NoWay,
    /// The floor holds not one turn of this tube.
    SmallerThanOneTurn {
        /// Width between walls that a turn needs, metres.
        needed_m: f64,
    },
    /// The bend radius is too large for the spacing in any uniform pattern.
    BendsTooWide {
        /// Closest spacing that this tube allows here, metres.
        closest_m: f64,
    },
    /// Even with the most loops one stays over the longest length.
    OverLimit {
        /// Length of the longest loop, metres.
        length_m: f64,
    },
    /// The only way found has a bend that the tube does not allow.
    BendTooTight {
        /// Radius of that bend, metres; 0 for a kink.
        radius_m: f64,
    },
    /// No two strands fit in side by side where the loop would come onto its floor.
    EntryTooNarrow,
    /// Leaders take all the floor; nothing is left for a loop of its own.
    HeatedByLeaders,
    /// A figure of the plan is not usable.
    UnusableFigure,
    /// Every way tried broke a rule.
    NoLayout,
}

impl Reason {
    /// How many loops would pass where these do not, if width is what they lack.
    pub fn loops_that_pass(&self) -> Option<usize> {
        let most = |width_m: f64, pitch_m: f64| (width_m / pitch_m + 1e-6).max(0.0) as usize;
        match *self {
            Reason::PassageTooNarrow { loops, needed_m, width_m, .. } if loops > 0 => {
                Some(most(width_m, needed_m / loops as f64))
            }
            Reason::ManifoldTooShort { loops, needed_m, width_m, .. } if loops > 0 => {
                // Needed is the gap of each loop and the one to its neighbour, but for the last.
                let gap_m = (needed_m + PORT_GAP_M) / loops as f64 - PORT_GAP_M;
                Some(most(width_m + PORT_GAP_M, gap_m + PORT_GAP_M))
            }
            _ => None,
        }
    }
}

/// Heated floor without tube.
#[derive(Clone, Debug, PartialEq)]
pub struct DeadFloor {
    /// The room, by number.
    pub room: usize,
    /// The place.
    pub region: Region,
}
