//! Rooms and what bounds them.

use super::plant::{Allowance, Rugs};
use crate::decision::{Decision, Fact, Place, Stated};
use crate::words::Words;
use quantity::{AirChange, AirFlow, Area, Length, Temperature};

/// What a room is used for; limits of floor temperature depend on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RoomUse {
    /// People stay in it: living room, kitchen, bedroom, hall.
    #[default]
    Living,
    /// Bath or shower.
    Bath,
    /// Nobody stays in it: utility, store.
    Utility,
}

/// One room: the unit of the heat balance.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is called on paper; the key if the text is silent.
    pub name: Fact<String>,
    /// Its storey, by key.
    pub storey: Option<Fact<String>>,
    /// Its inside faces on the plan.
    pub outline: Option<Outline>,
    /// Its floor area, where no outline was taken.
    pub area: Option<Fact<Area>>,
    /// Level ceiling over the room's floor: its own, or that of its storey.
    pub height: Option<Fact<Length>>,
    /// Its floor over that of its storey; below zero where it is sunk.
    pub offset: Fact<Length>,
    /// Indoor temperature wished on the design day; of no meaning in an unheated room.
    pub indoor: Fact<Temperature>,
    /// Whether no heat is brought to it, so that its temperature follows from its neighbours.
    pub unheated: Fact<bool>,
    /// What it is used for.
    pub used_as: Fact<RoomUse>,
    /// Its own air changes; those of the house if none.
    pub air_changes: Option<Fact<AirChange>>,
    /// Outdoor air that is blown in all the time.
    pub supply_air: Option<Fact<AirFlow>>,
    /// Air that is drawn off all the time.
    pub exhaust_air: Option<Fact<AirFlow>>,
    /// Whether its floor is to be heated.
    pub heated: Fact<bool>,
    /// Its own outside walls' construction.
    pub wall: Option<Stated<String>>,
    /// Its own ceiling's construction.
    pub ceiling: Option<Stated<String>>,
    /// Its own sloped ceilings' construction.
    pub roof: Option<Stated<String>>,
    /// What is above the ceiling where no room of the plan is; outdoors if none says so.
    pub above: Fact<Faces>,
    /// What is below the floor where no room of the plan is; if assumed, the geometry decides.
    pub below: Fact<Faces>,
    /// Its own floor's construction.
    pub floor: Option<Stated<String>>,
    /// Framing of its floor, by key: its own, or that of its storey.
    pub framing: Option<Stated<String>>,
    /// Constructions or build-ups that its floor may be chosen among, by key.
    pub floor_among: Vec<Stated<String>>,
    /// What its floor may take on top.
    pub allowance: Allowance,
    /// Rugs on its floor.
    pub rugs: Option<Rugs>,
    /// The zone that it belongs to, by key.
    pub zone: Option<Stated<String>>,
    /// Finish on the floor, by its catalogue key.
    pub finish: Fact<String>,
    /// Tube spacing.
    pub spacing: Decision<Length>,
    /// How many loops.
    pub loops: Decision<u32>,
    /// How the tube is laid.
    pub pattern: Decision<TubePattern>,
    /// Distance of neighbouring tubes along outside walls, for a perimeter band.
    pub edge_spacing: Option<Fact<Length>>,
    /// Depth of the perimeter band from the wall.
    pub edge_depth: Fact<Length>,
    /// The manifold that feeds it, by key.
    pub manifold: Decision<String>,
    /// The neighbour whose loop also runs through it, by key.
    pub shares_loop: Decision<String>,
    /// The opening or passage by which its loops come in, by key.
    pub entry: Decision<String>,
    /// The place in it about which leaders stand, in metres.
    pub entry_at: Decision<plane::Point>,
}

/// How tube is laid in a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TubePattern {
    /// Supply and return side by side, ring within ring.
    Counterflow,
    /// Row after row, from the outside walls inwards.
    Serpentine,
    /// Rows of supply and return side by side.
    DoubledSerpentine,
    /// Closer along outside walls.
    PerimeterBand,
}

impl TubePattern {
    /// The word for it.
    pub fn word(self) -> &'static str {
        Words::word(self)
    }

    /// What a word means.
    pub fn named(word: &str) -> Option<TubePattern> {
        Words::named(word)
    }
}

/// The inside faces of a room.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Corners in metres, in the order of the text, closing error already spread.
    pub corners: Vec<plane::Point>,
    /// Names of walls; wall `i` runs from corner `i` to the next.
    pub wall_names: Vec<Option<String>>,
    /// How far the taped legs missed their start.
    pub closing: Option<ClosingError>,
    /// Where it stands.
    pub place: Place,
}

/// How far taped legs missed their start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosingError {
    /// Distance between start and end of the legs.
    pub distance: Length,
    /// Length of all legs.
    pub taped: Length,
    /// Whether it was small enough to be spread over the legs (compass rule).
    pub spread: bool,
}

/// What a surface faces on its far side.
#[derive(Clone, Debug, PartialEq)]
pub enum Faces {
    /// Outdoor air.
    Outdoors,
    /// The ground.
    Ground,
    /// A heated space at the same temperature.
    Heated,
    /// The next house or flat.
    NextHouse,
    /// The room with this key.
    Room(String),
    /// The space with this key.
    Space(String),
}

/// One stated surface of a room without an outline, or of a space.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Option<Stated<String>>,
    /// The space, by key; instead of a room.
    pub space: Option<Stated<String>>,
    /// What is behind it.
    pub faces: Fact<Faces>,
    /// Its area.
    pub area: Option<Fact<Area>>,
    /// Its construction, by key.
    pub assembly: Option<Stated<String>>,
    /// For a floor on the ground: the length of its edge along outside walls.
    pub exposed_edge: Option<Fact<Length>>,
}

/// What sits in a hole of a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpeningKind {
    /// A window.
    Window,
    /// A door or doorway: to outdoors or between rooms.
    Door,
    /// A window in a ceiling or slope.
    Skylight,
}

/// Where an opening sits.
#[derive(Clone, Debug, PartialEq)]
pub enum Where {
    /// At the wall nearest to this point of the plan.
    Point {
        /// The point, in metres.
        at: plane::Point,
        /// The room whose wall is meant, by key; any room's if none.
        room: Option<String>,
    },
    /// In that room's wall of this name or compass side.
    Wall {
        /// The room, by key.
        room: String,
        /// A wall's own name, or `north`, `east`, `south`, `west`.
        wall: String,
        /// Distance of the opening's middle from the wall's left end, seen from inside; the middle of the wall if none.
        along: Option<Length>,
    },
    /// In that slope of a ceiling, by key.
    Slope(String),
    /// In that room's level ceiling, by key.
    Ceiling(String),
    /// In the front of that dormer, by key.
    Dormer(String),
}

/// A window, door or doorway.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What sits in it.
    pub kind: Fact<OpeningKind>,
    /// Where it sits.
    pub at: Option<Stated<Where>>,
    /// Its width.
    pub width: Option<Fact<Length>>,
    /// Its height.
    pub height: Option<Fact<Length>>,
    /// From the floor to its lower edge; kept for drawings.
    pub sill: Option<Fact<Length>>,
    /// Its construction, by key; that of the house for its kind if none.
    pub assembly: Option<Stated<String>>,
}

/// Part of a room's floor under another finish than the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorPart {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Stated<String>,
    /// Its edge on the plan.
    pub outline: Option<Outline>,
    /// The finish on it, by its catalogue key.
    pub finish: Stated<String>,
}

/// Floor that takes no tube: cabinets, island, flange, hearth.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOut {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room, by key.
    pub room: Stated<String>,
    /// Its edge on the plan.
    pub outline: Option<Outline>,
}
