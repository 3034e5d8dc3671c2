//! Lines and places on a floor that tube keeps to or away from.

use crate::decision::{Fact, Place, Stated};
use crate::words::Words;
use quantity::Length;

/// What parts a slab or screed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointKind {
    /// Through the whole layer: both sides move apart.
    Movement,
    /// Cut into the top of the layer, so that it cracks there.
    SawCut,
}

impl JointKind {
    /// The word for it.
    pub fn word(self) -> &'static str {
        Words::word(self)
    }
}

/// A joint in a slab or screed.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is.
    pub kind: Fact<JointKind>,
    /// Places along it in metres, two or more.
    pub line: Option<Stated<Vec<plane::Point>>>,
    /// The only room that it lies in, by key; every room of its storey that it crosses if none.
    pub room: Option<Stated<String>>,
    /// Its storey, by key; that of its room, or the only one, if none.
    pub storey: Option<Stated<String>>,
    /// How wide a movement joint is.
    pub width: Fact<Length>,
    /// How deep a saw cut reaches from the top of the layer.
    pub depth: Option<Fact<Length>>,
}
