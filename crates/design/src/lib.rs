//! Job in, Design out.
//!
//! A module for each stage, in the order of the trade: [`envelope`], [`loads`], [`emitters`],
//! [`loops`], [`flow`]; `balance` settles what depends on each other. No input or output, no
//! clock, no statics, no chance: the same job gives the same design.

pub mod emitters;
pub mod envelope;
mod figure;
pub mod flow;
pub mod loads;
pub mod loops;

pub use figure::{Figure, How, Standing, Work};

use job::Finding;
use std::sync::Arc;

/// Everything that follows from a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// What touches what.
    pub envelope: envelope::Envelope,
    /// Heat losses.
    pub loads: loads::Loads,
    /// Heated floors and water temperature.
    pub emitters: emitters::Emitters,
    /// Loops, in the order of rooms and numbers.
    pub loops: Vec<loops::TubeLoop>,
    /// Water through them.
    pub flows: flow::Flows,
    /// What the design found, worst first.
    pub findings: Vec<Finding>,
    /// Revisions that were taken to meet a need, in order, in words.
    pub revisions: Vec<String>,
    /// Whether the continuous quantities settled, and in how many rounds.
    pub balance: Balance,
}

/// How the continuous quantities settled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Rounds taken.
    pub rounds: usize,
    /// Largest change of a heat in the last round, in watts.
    pub last_change_w: f64,
    /// Whether that was small enough.
    pub settled: bool,
}

impl Design {
    /// Every figure by its path, in the order of the trade: `room.kitchen.loss`.
    pub fn figures(&self) -> Vec<(String, Arc<Work>)> {
        Vec::new()
    }
}
