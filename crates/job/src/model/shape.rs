//! What the height of a room hides: slopes, dormers, ground against walls, holes in floors.

use super::room::{Faces, Outline};
use crate::decision::{Fact, Place, Stated};
use quantity::{Length, Ratio};

/// A sloped part of a room's ceiling, rising from one of its walls.
///
/// The ceiling of a room is the lowest of its level height and all its slopes. Two slopes from
/// opposite walls make a ridge.
#[derive(Clone, Debug, PartialEq)]
pub struct Slope {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Stated<String>,
    /// The wall that it rises from: a wall's own name, or `north`, `east`, `south`, `west`.
    pub wall: Option<Stated<String>>,
    /// Height over the room's floor at that wall: of the knee wall, or the eaves.
    pub low: Option<Fact<Length>>,
    /// Rise over run, upward from that wall.
    pub pitch: Option<Fact<Ratio>>,
    /// Its construction; that of the house's roof if none.
    pub assembly: Option<Stated<String>>,
}

/// A dormer: a box with a level ceiling set into a slope.
#[derive(Clone, Debug, PartialEq)]
pub struct Dormer {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The slope that it breaks, by key.
    pub slope: Stated<String>,
    /// Its inside width.
    pub width: Option<Fact<Length>>,
    /// Its ceiling over the room's floor.
    pub height: Option<Fact<Length>>,
    /// From the slope's wall to its front; nought if it stands over the wall.
    pub set_back: Fact<Length>,
    /// Construction of its front and cheeks; that of the room's outside walls if none.
    pub wall: Option<Stated<String>>,
    /// Construction of its ceiling; that of the slope if none.
    pub roof: Option<Stated<String>>,
}

/// How high the ground stands against one wall, over the room's floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Grade {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Stated<String>,
    /// The wall: its own name, or `north`, `east`, `south`, `west`.
    pub wall: Option<Stated<String>>,
    /// At the wall's left end, seen from inside.
    pub left: Option<Fact<Length>>,
    /// At its right end; as at the left if none.
    pub right: Option<Fact<Length>>,
}

/// A hole in the floor of a room, open to the room below: a stair, a gallery.
#[derive(Clone, Debug, PartialEq)]
pub struct Void {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The upper room, by key.
    pub room: Stated<String>,
    /// Its edge on the plan.
    pub outline: Option<Outline>,
}

/// What is known of one face better than the rules that hold for all.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceRule {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Stated<String>,
    /// Which part: a wall's own name or compass side, `ceiling`, `floor`, or the key of a slope or
    /// dormer.
    pub part: Option<Stated<String>>,
    /// Only where it looks at this; all of the part if none.
    pub towards: Option<Stated<Faces>>,
    /// What is behind it, instead of what the geometry says.
    pub faces: Option<Stated<Faces>>,
    /// Its construction, by key.
    pub assembly: Option<Stated<String>>,
}
