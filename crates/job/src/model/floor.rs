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

/// What is set or fixed into a floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FixtureKind {
    /// The flange of a toilet, sealed with wax that warmth would soften.
    ToiletFlange,
    /// A plate below a wall that is shot or screwed down.
    WallPlate,
    /// Pins or screws along a line: tack strip, track, curb.
    ShotPins,
    /// The sill or saddle of a door.
    DoorSill,
}

impl FixtureKind {
    /// The word for it.
    pub fn word(self) -> &'static str {
        Words::word(self)
    }
}

/// Something set or fixed into a floor, that tube keeps away from.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixture {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is.
    pub kind: Fact<FixtureKind>,
    /// The room, by key.
    pub room: Stated<String>,
    /// The middle of a flange, in metres.
    pub at: Option<Stated<plane::Point>>,
    /// Places along the middle of anything long, in metres, two or more.
    pub line: Option<Stated<Vec<plane::Point>>>,
    /// Diameter of a flange, width of anything long; as the rule set has it if none.
    pub size: Option<Fact<Length>>,
    /// Least distance from its edge to the middle of a tube; as the rule set has it if none.
    pub clearance: Option<Fact<Length>>,
}
