//! What is held of single loops.

use super::room::Outline;
use crate::decision::{Decision, Place};

/// What is held of one loop.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldLoop {
    /// The loop's key: `kitchen/1`.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// Floor of its room that is set apart for it.
    pub outline: Option<Outline>,
    /// The way of its leaders from the manifold on, in metres.
    pub way: Decision<Vec<plane::Point>>,
}

impl HeldLoop {
    /// Its room and its number in it, if its key names both.
    pub fn named(&self) -> Option<(&str, usize)> {
        loop_name(&self.key)
    }
}

/// Room and number of a loop's key, `kitchen/1`.
pub fn loop_name(key: &str) -> Option<(&str, usize)> {
    let (room, number) = key.rsplit_once('/')?;
    let number = number.parse().ok().filter(|number| *number > 0)?;
    Some((room, number))
}
