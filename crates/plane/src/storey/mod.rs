//! The tube of a whole storey: leaders through doors, loops in rooms, nothing crossing.
//!
//! Every loop gets a region of its own, its leaders' strip and its share of the
//! floor. Regions do not overlap and tube stays in its region, so that crossing
//! is ruled out by how the tube is laid rather than looked for afterwards.

mod adjust;
mod again;
mod assemble;
mod crowd;
mod curve;
mod doors;
mod doorway;
mod draft;
mod flaws;
mod frame;
mod free;
mod gate;
mod gauge;
mod halves;
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
mod own;
mod peel;
mod plan;
mod ports;
mod resort;
mod ring;
mod search;
mod serve;
mod shares;
mod slots;
mod stands;
mod ways;
mod wedge;
mod weigh;

pub use kept::Kept;
pub use lay::{lay, sketch};
pub use layout::{DeadFloor, Layout, Loop, Passed, Reason, Refusal};
pub use plan::{Door, Grooves, Manifold, Pattern, Plan, Room, Tube};
