//! Water through each loop: flow, temperatures, head.
//!
//! Friction runs over the whole tube from port to port; manifold, valves and mains are not in it.

mod water;

pub(crate) use water::{fluid, loop_flow, manifolds};

use crate::figure::Figure;
use quantity::{
    Flow, Head, MassFlow, Power, PressureDifference, Ratio, Temperature, TemperatureDifference,
    Velocity,
};

/// The water of one loop as designed.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopFlow {
    /// The loop's key.
    pub key: String,
    /// Heat to its room from the field.
    pub heat_up: Figure<Power>,
    /// Heat below its field.
    pub heat_down: Figure<Power>,
    /// Heat that its leaders give to rooms they cross, both ways.
    pub leader_heat: Figure<Power>,
    /// Supply temperature at the port.
    pub supply: Figure<Temperature>,
    /// Return temperature at the port.
    pub back: Figure<Temperature>,
    /// How far the water cools.
    pub drop: Figure<TemperatureDifference>,
    /// Mass flow.
    pub mass_flow: Figure<MassFlow>,
    /// Volume flow at mean temperature.
    pub flow: Figure<Flow>,
    /// Speed in the tube.
    pub velocity: Figure<Velocity>,
    /// Reynolds number.
    pub reynolds: Figure<Ratio>,
    /// Friction over the whole length, manifold and valves not included.
    pub friction: Figure<PressureDifference>,
    /// The same as head of the fluid.
    pub head: Figure<Head>,
}

/// One manifold with its loops.
#[derive(Clone, Debug, PartialEq)]
pub struct ManifoldFlow {
    /// The manifold's key.
    pub key: String,
    /// Its loops, by key, in the order of the rooms.
    pub loops: Vec<String>,
    /// Flow of all its loops.
    pub flow: Figure<Flow>,
    /// Head of the loop that needs most.
    pub head: Figure<Head>,
    /// That loop, by key.
    pub worst: String,
    /// Heat of all its loops, up, down and on the way.
    pub heat: Figure<Power>,
    /// Mixed return temperature.
    pub back: Figure<Temperature>,
}

/// The water of the whole job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flows {
    /// Loops in the order of [`crate::Design::loops`].
    pub loops: Vec<LoopFlow>,
    /// Manifolds in the order of the text.
    pub manifolds: Vec<ManifoldFlow>,
}
