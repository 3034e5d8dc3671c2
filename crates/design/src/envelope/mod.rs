//! What bounds each room, and what is behind it.
//!
//! Outlines are inside faces. Two walls of two rooms are one wall where they face each other no
//! farther apart than the thickest wall of the house; all other wall faces outdoors. Areas are by
//! inside or outside dimensions, as the rule set says.

mod assemblies;
mod built;
mod ceiling;
mod construction;
mod dormers;
mod edge_factor;
mod elevation;
mod exposed;
mod face_rules;
mod faces;
mod grade;
mod ground;
mod house;
mod inside_windows;
mod layers;
mod levels;
mod neighbours;
mod openings;
mod outer;
mod patch;
mod plan;
mod sides;
mod stack;
mod trapezoid;
mod walls;

pub(crate) use construction::{film, surface_transmittance};
pub(crate) use faces::envelope;
pub(crate) use ground::ground_of_space;
pub(crate) use layers::{conductivity, layer_resistances, material_layer};

use crate::figure::Figure;
use job::Place;
use plane::{Point, Region};
use quantity::{Area, Length, Temperature, Transmittance};

/// What kind of surface a face is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaceKind {
    /// Opaque part of a wall.
    Wall,
    /// A window.
    Window,
    /// An outside door.
    Door,
    /// A window in a ceiling or slope.
    Skylight,
    /// Level ceiling.
    Ceiling,
    /// Sloped ceiling, with what it faces above.
    Roof,
    /// Floor.
    Floor,
}

impl FaceKind {
    /// The kind in one word.
    pub const fn word(self) -> &'static str {
        match self {
            FaceKind::Wall => "wall",
            FaceKind::Window => "window",
            FaceKind::Door => "door",
            FaceKind::Skylight => "skylight",
            FaceKind::Ceiling => "ceiling",
            FaceKind::Roof => "roof",
            FaceKind::Floor => "floor",
        }
    }
}

/// What a face has on its far side.
#[derive(Clone, Debug, PartialEq)]
pub enum Behind {
    /// Outdoor air.
    Outdoors,
    /// The ground.
    Ground,
    /// A space as warm as the room.
    Heated,
    /// The next house or flat.
    NextHouse,
    /// That room, by key.
    Room(String),
    /// That space, by key.
    Space(String),
}

impl Behind {
    /// What is behind, in words.
    pub fn words(&self) -> String {
        match self {
            Behind::Outdoors => "outdoors".to_owned(),
            Behind::Ground => "ground".to_owned(),
            Behind::Heated => "heated space".to_owned(),
            Behind::NextHouse => "next house".to_owned(),
            Behind::Room(key) | Behind::Space(key) => key.clone(),
        }
    }
}

/// One face of a room: an area of one construction with one thing behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Stable key inside the room: `wall north`, `window w3`, `ceiling`.
    pub key: String,
    /// What kind of surface it is.
    pub kind: FaceKind,
    /// What is behind it.
    pub behind: Behind,
    /// Net area, by the dimensions of the rule set.
    pub area: Figure<Area>,
    /// The construction of the text that makes it, by key: by rule, or of this face alone.
    pub assembly: Option<String>,
    /// For a face in the ground: depth of the room's floor below the ground along it, or for a
    /// floor the mean depth along its edge. None for a face above the ground.
    pub depth: Option<Figure<Length>>,
    /// For a wall in the ground: depth of its upper edge, nought where it reaches the surface.
    pub top: Option<Figure<Length>>,
    /// For a floor whose loss goes by its edge: heat per degree of the whole face to outdoors.
    pub edge_loss: Option<Figure<quantity::HeatLossCoefficient>>,
    /// For a roof: rise over run.
    pub pitch: Option<Figure<quantity::Ratio>>,
    /// U-value; none where the text does not say how it is made.
    pub transmittance: Option<Figure<Transmittance>>,
}

/// An opening as it sits in a wall of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedOpening {
    /// Its key.
    pub key: String,
    /// What sits in it.
    pub kind: job::OpeningKind,
    /// The rooms it belongs to: one for an outside opening, two for a doorway.
    pub rooms: Vec<String>,
    /// Its two jambs on the inside face of the first room.
    pub jambs: [Point; 2],
    /// Its two jambs on the face of the second room, for a doorway.
    pub far_jambs: Option<[Point; 2]>,
}

/// A room as the geometry shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Enclosure {
    /// The room's key.
    pub room: String,
    /// The floor between inside faces; none where no outline was taken.
    pub floor: Option<Region>,
    /// Pieces of that floor that can take tube: keep-outs taken out.
    pub free: Vec<Region>,
    /// Floor area.
    pub area: Option<Figure<Area>>,
    /// Ceiling height; the mean under slopes.
    pub height: Option<Figure<Length>>,
    /// Air in it, by inside faces.
    pub volume: Option<Figure<quantity::AirVolume>>,
    /// Its floor over that of the lowest storey, in metres.
    pub level_m: f64,
    /// Outside wall, ceiling and roof together, by which a leakage flow is shared out.
    pub outside_area: Figure<Area>,
    /// Whether no heat is brought to it.
    pub unheated: bool,
    /// Its faces, in order of kind and place.
    pub faces: Vec<Face>,
    /// Edge of its floor along outside walls, if any of it stands on the ground.
    pub exposed_edge: Option<Figure<Length>>,
    /// Indoor temperature wished; of no meaning in an unheated room.
    pub indoor: Figure<Temperature>,
    /// Where the room stands in the text.
    pub place: Place,
}

/// The floor on the ground as a whole: its size governs the loss of every part of it.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundFloor {
    /// Area on the ground.
    pub area: Figure<Area>,
    /// Edge along outside walls.
    pub exposed_edge: Figure<Length>,
    /// Area over half the exposed edge (ISO 13370); none where no edge is exposed.
    pub dimension: Option<Figure<Length>>,
    /// Mean depth below the ground along the exposed edge; nought for a slab at grade.
    pub depth: Option<Figure<Length>>,
}

/// What touches what.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Envelope {
    /// Rooms in the order of the text.
    pub enclosures: Vec<Enclosure>,
    /// Openings that found their wall, in the order of the text.
    pub openings: Vec<PlacedOpening>,
    /// The floor on the ground, if any room stands on it.
    pub ground: Option<GroundFloor>,
}
