//! The first two stages alone: what touches what, and the heat it loses.

use crate::envelope::{self, Envelope};
use crate::loads::{self, Loads, Tubed};
use crate::state::State;
use job::{Finding, Job};

/// Envelope and loads, before any floor is laid: all free floor of heated rooms counts as heated.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatLoss {
    /// What touches what.
    pub envelope: Envelope,
    /// Heat losses on the day asked for.
    pub loads: Loads,
    /// What was found on the way.
    pub findings: Vec<Finding>,
}

/// The heat loss of a job, without choosing or laying a floor.
pub fn heat_loss(job: &Job, state: &State) -> HeatLoss {
    let mut findings = Vec::new();
    let envelope = envelope::envelope(job, &mut findings);
    let weather = loads::weather(job, state, &mut findings);
    let loads = loads::loads(job, &envelope, weather.as_ref(), &Tubed::new(), &mut findings);
    HeatLoss { envelope, loads, findings }
}
