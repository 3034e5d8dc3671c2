//! Tube in loops: one object that feeds drawing, pump, glycol, cuts, test and balance.
//!
//! Counterflow over each free piece of floor, several loops side by side where the length limit
//! asks; lengths are measured on the final lines and arcs.

mod lay;
mod leaders;

pub(crate) use lay::Layer;
pub(crate) use leaders::Ways;

use crate::figure::Figure;
use job::Decided;
use plane::{Bend, Path, Point};
use quantity::{Area, Length, Ratio, Volume};

/// What was decided about the loops of one floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The room's key.
    pub room: String,
    /// Tube, by catalogue key.
    pub tube: Decided<String>,
    /// The manifold it hangs on, by key.
    pub manifold: Decided<String>,
    /// How many loops.
    pub count: Decided<u32>,
}

/// The way from the manifold to the loop's own floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Leader {
    /// Corners of the way, from manifold to entry.
    pub points: Vec<Point>,
    /// Length one way in metres.
    pub length_m: f64,
    /// Doorways passed, by opening key.
    pub doorways: Vec<String>,
    /// Length one way in each room passed, by room key.
    pub lengths: Vec<(String, f64)>,
    /// Whether it is drawn as laid; until then it is the shortest way only.
    pub routed: bool,
}

/// One loop of tube, from supply port to return port.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeLoop {
    /// Its key: room and number, `kitchen/1`.
    pub key: String,
    /// The room it heats, by key.
    pub room: String,
    /// The manifold it hangs on, by key.
    pub manifold: String,
    /// Tube, by catalogue key.
    pub tube: String,
    /// The laid field, from supply end to return end.
    pub field: Path,
    /// The way to the manifold; none where no way was found.
    pub leader: Option<Leader>,
    /// Floor it heats.
    pub area: Figure<Area>,
    /// Tube in the field.
    pub field_length: Figure<Length>,
    /// Tube in both leaders.
    pub leader_length: Figure<Length>,
    /// Tube in both risers and tails.
    pub tail_length: Figure<Length>,
    /// All tube from port to port.
    pub length: Figure<Length>,
    /// Water in it.
    pub volume: Figure<Volume>,
    /// Share of its floor that is close enough to a tube.
    pub covered: Figure<Ratio>,
    /// Bends tighter than the tube allows.
    pub tight_bends: Vec<Bend>,
    /// Spacing as laid, to fit the room, in metres.
    pub spacing_laid_m: f64,
}
