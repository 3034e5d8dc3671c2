//! Tube in loops: one object that feeds drawing, pump, glycol, cuts, test and balance.
//!
//! Each storey is laid as a whole: rooms, doors and manifolds go to `plane` as a plan without
//! heat, and come back as loops in lines and arcs. Lengths are measured on those. Boards are rooms
//! whose rows lie on a grid; tube under a subfloor is laid joist span by joist span, in another
//! plane than the floor's.

mod access;
mod advice;
mod bays;
mod bays_advice;
mod crowding;
mod framing;
mod held;
mod in_bays;
mod in_boards;
mod joints;
mod lay;
mod mends;
mod plan;
mod shared;
mod under_floor;
mod unheld;

use access::Access;
pub use joints::{JointCrossing, LoopPart};
pub(crate) use joints::{crossings, judge as judge_joints};
pub(crate) use lay::{Laying, lay};
pub(crate) use plan::outside_walls;
pub use under_floor::{
    BoardBill, HoleVerdict, JoistFloor, JoistHole, Plates, RoomBoards, WithoutTube,
};

use crate::emitters::Floor;
use crate::figure::Figure;
use job::{Decided, Job, Rule, TubePattern};
use plane::{Bend, Path, Region};
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
    /// How the tube is laid; that of the first loop where several differ.
    pub pattern: Decided<TubePattern>,
    /// The neighbour whose loop runs through it, by key, instead of one of its own.
    pub shares_loop: Option<Decided<String>>,
}

/// The way of a loop between its manifold and its own floor.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Leader {
    /// Length from the supply port to its own floor, metres.
    pub supply_m: f64,
    /// Length from its own floor to the return port, metres.
    pub return_m: f64,
    /// Doorways passed, by opening or passage key, from the manifold on.
    pub doorways: Vec<String>,
    /// The riser or way under the floor by which it comes, by passage key.
    pub through: Option<String>,
    /// Rooms of others that it passes.
    pub passed: Vec<Passed>,
}

/// Floor of another room that leaders take up.
#[derive(Clone, Debug, PartialEq)]
pub struct Passed {
    /// The room, by key.
    pub room: String,
    /// Tube in it, supply and return together, metres.
    pub length_m: f64,
    /// Floor that they take up, square metres.
    pub area_m2: f64,
}

impl Passed {
    /// Distance from tube to tube in that strip, metres.
    pub fn pitch_m(&self) -> f64 {
        if self.length_m > 0.0 { self.area_m2 / self.length_m } else { 0.0 }
    }
}

/// One loop of tube, from supply port to return port.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeLoop {
    /// Its key: room and number, `kitchen/1`.
    pub key: String,
    /// The room it heats, by key; the first where it heats several.
    pub room: String,
    /// Every room that it heats, and how much of it lies there; its own first.
    pub rooms: Vec<LoopRoom>,
    /// The manifold it hangs on, by key.
    pub manifold: String,
    /// The circuit that feeds that manifold, by key; none where the job names none.
    pub circuit: Option<String>,
    /// Tube, by catalogue key.
    pub tube: String,
    /// All tube on the floor, from supply port to return port.
    pub path: Path,
    /// The part of it before and behind its own field.
    pub leader: Leader,
    /// Floor that it heats, its leaders' strip in its own room included.
    pub region: Region,
    /// How it is laid.
    pub pattern: TubePattern,
    /// Why it is laid so.
    pub why: String,
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

/// What of a loop lies in one of the rooms that it heats.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopRoom {
    /// The room, by key.
    pub room: String,
    /// Floor that it heats there.
    pub area: Figure<Area>,
    /// Tube there, its leaders and the way through the wall to a shared room included.
    pub length: Figure<Length>,
}

impl TubeLoop {
    /// The floor that it heats in a room; none where it heats none.
    pub fn floor_in(&self, room: &str) -> Option<&LoopRoom> {
        self.rooms.iter().find(|part| part.room == room)
    }

    /// Where its own field begins and ends, in metres from the supply port.
    pub fn field_m(&self) -> [f64; 2] {
        [self.leader.supply_m, self.path.length_m() - self.leader.return_m]
    }
}

/// How long a loop of this floor's tube may be, by the rule set.
pub(crate) fn limit<'a>(job: &'a Job, floor: &Floor) -> Option<&'a Rule<Length>> {
    job.rules.loop_length(&floor.build_up.tube.key)
}
