//! Flat geometry of tube in a floor.
//!
//! The crate knows regions of floor, tube as lines and arcs, how to lay one
//! loop of tube over a region, how to share a region between loops, how far it
//! is through doorways from one place to another, and how to check a layout. It
//! knows nothing of heat or water.
//!
//! All figures are bare SI numbers with the unit last in the name: `length_m`,
//! `area_m2`, `turn_rad`. The y axis lies to the left of the x axis. Nothing in
//! here panics on any input, and the same input always gives the same output.
//!
//! * [`Region`]: a checked piece of floor with holes; offsets and differences.
//! * [`Path`]: tube as it lies; lengths, places along it, bends.
//! * [`bays`]: tube in joist bays under a subfloor, with plates and holes.
//! * [`beside`]: what lies to either side of tube, and the tube nearest to each square of floor.
//! * [`boards`]: tube in grooved boards over an old floor.
//! * [`fill`]: one loop over a region, counterflow or in rows.
//! * [`relax`]: bends that the tube allows.
//! * [`split`]: equal shares of a region for several loops.
//! * [`edges`]: which walls face which.
//! * [`near`]: which regions come near each other.
//! * [`half`]: rings cut by half-planes, and integrals over them.
//! * [`areas`]: several regions taken as one area.
//! * [`storey`]: the tube of a whole storey.
//! * [`verify`]: crossings, gaps, bends and coverage of finished tube.

pub mod beside;
mod chain;
mod clip;
mod meet;
mod path;
mod point;
mod region;

pub mod areas;
pub mod bays;
pub mod boards;
pub mod edges;
pub mod fill;
pub mod half;
pub mod near;
pub mod relax;
mod sectors;
mod shift;
pub mod split;
pub mod storey;
pub mod verify;

pub use path::{Bend, Path, Segment};
pub use point::Point;
pub use region::{Flaw, Region};
