//! Job in, Design out.
//!
//! A module for each stage, in the order of the trade: [`envelope`], [`loads`], [`emitters`],
//! [`loops`], [`flow`]; `balance` settles what depends on each other. No input or output, no
//! clock, no statics, no chance: the same job gives the same design, with or without a [`Memo`].

mod balance;
pub mod build_ups;
pub mod coils;
mod doubt;
pub mod emitters;
pub mod envelope;
mod figure;
mod finish_later;
pub mod fixtures;
mod flooring;
pub mod flow;
mod heat_loss;
mod hold;
mod judge;
pub mod loads;
pub mod loops;
mod memo;
mod paths;
mod placing;
mod price;
mod prove;
pub mod responses;
mod run;
mod state;
mod totals;
mod tubing;
pub mod warmth;
mod words;

pub use balance::Balance;
pub use doubt::{Doubt, DoubtItem, doubt};
pub use figure::{Figure, Given, How, Standing, Work};
pub use finish_later::{FinishLater, NoFinish, Underfoot, finish_later};
pub use flooring::{FloorChoice, FloorTried};
pub use heat_loss::{HeatLoss, heat_loss};
pub use hold::{HoldCost, hold_cost};
pub use memo::Memo;
pub use placing::{Placement, Tried};
pub use run::{design, design_at};
pub use state::State;
pub use totals::{StoreyTotals, Totals};
pub use tubing::{TubeChoice, TubeTried};

use job::Finding;

/// Everything that follows from a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// What touches what.
    pub envelope: envelope::Envelope,
    /// Heat losses.
    pub loads: loads::Loads,
    /// Heated floors and water temperature.
    pub emitters: emitters::Emitters,
    /// Heated floors as they are built, in the order of the text.
    pub build_ups: Vec<build_ups::FloorBuildUp>,
    /// How fast each heated floor follows its water, in the order of the text.
    pub responses: Vec<responses::FloorResponse>,
    /// How the tube was chosen, where the text names some to choose among.
    pub tube_choice: Option<TubeChoice>,
    /// Floors whose construction was chosen, in the order of the text.
    pub floor_choices: Vec<FloorChoice>,
    /// Where manifolds hang.
    pub placements: Vec<Placement>,
    /// What was decided about the loops of each heated floor that was laid.
    pub layouts: Vec<loops::Layout>,
    /// Loops, in the order of rooms and numbers.
    pub loops: Vec<loops::TubeLoop>,
    /// Joist spans with tube in their bays: holes and plates.
    pub joist_floors: Vec<loops::JoistFloor>,
    /// Fixtures with the tube that comes nearest to them.
    pub fixtures: Vec<fixtures::NearFixture>,
    /// Where tube crosses joints, joint by joint.
    pub joint_crossings: Vec<loops::JointCrossing>,
    /// Boards, room by room.
    pub boards: Vec<loops::RoomBoards>,
    /// Water through them.
    pub flows: flow::Flows,
    /// Coil cuts, and loops as laid.
    pub coils: coils::Coils,
    /// Sums over rooms and loops.
    pub totals: Totals,
    /// What the design found, worst first.
    pub findings: Vec<Finding>,
    /// Revisions that were taken to meet a need, in order, in words.
    pub revisions: Vec<String>,
    /// Whether the continuous quantities settled, and in how many rounds.
    pub balance: Balance,
}
