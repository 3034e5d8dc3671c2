//! The tube of a whole storey: leaders through doors, loops in rooms, nothing crossing.
//!
//! Every loop gets a region of its own, its leaders' strip and its share of the
//! floor. Regions do not overlap and tube stays in its region, so that crossing
//! is ruled out by how the tube is laid rather than looked for afterwards.

mod adjust;
mod again;
mod annex;
mod apart;
mod assemble;
mod crowd;
mod curve;
mod doors;
mod doorway;
mod draft;
mod drawn;
mod entered;
mod flaws;
mod frame;
mod free;
mod gate;
mod gauge;
mod halves;
mod held;
mod hinder;
mod hug;
mod kept;
mod lay;
mod layout;
mod leaders;
mod lengths;
mod loosen;
mod net;
mod order;
mod outlined;
mod own;
mod peel;
mod plan;
mod ports;
mod ready;
mod resort;
mod ring;
mod search;
mod sequence;
mod serve;
mod shares;
mod slots;
mod stands;
mod ways;
mod wedge;
mod weigh;

pub use held::{
    Held, HeldEntry, HeldOrder, HeldRegion, HeldWay, LoopName, NotApart, NotEntered, NotShared,
    NotTaken, Shared, Unheld,
};
pub use kept::Kept;
pub use lay::{lay, sketch};
pub use layout::{CutOff, DeadFloor, Layout, Loop, Near, Passed, Reason, Refusal};
pub use outlined::{OutlinedLoop, outlined};
pub use plan::{Door, Grooves, Manifold, Pattern, Plan, Room, Tube};
