//! The job as data: what was found, wished and decided.

mod build_up;
mod coils;
mod construction;
mod conventions;
mod floor;
mod heating;
mod held;
mod house;
mod library;
mod limits;
mod plant;
mod room;
mod rules;
mod shape;

pub use build_up::{BuildUp, BuildUpKind};
pub use coils::{Coil, LaidLoop};
pub use construction::{
    AirLayer, Assembly, Carrier, Construction, Family, Fixings, Layer, Material, Sheet,
};
pub use conventions::{
    BlowerDoorMethod, Dimensions, EdgeFactor, EdgeKind, Films, GroundMethod, HoleLimits,
    JoistHoles, NextHouse, SpaceFactor, UnheatedMethod, UsualLoss, WarmerNeighbours,
};
pub use floor::{Fixture, FixtureKind, Joint, JointKind};
pub use heating::{DropRule, Fluid, Heating, Manifold, ManifoldPlace, PORT_RATE, Rate, SupplyRule};
pub use held::{HeldLoop, loop_name};
pub use house::{Fan, FuelBill, House, Outdoors, Space, SpaceKind, Storey, Ventilation};
pub use library::{Catalogue, Finish, FinishKind, Library, Tube};
pub use limits::{FloorZone, OutdoorInsulation, SurfaceLimit};
pub use plant::{
    Allowance, BayBlock, BayBlockKind, Circuit, Emitter, EmitterKind, Framing, JoistKind, Main,
    Part, PartKind, Passage, PassageKind, Rugs, Zone, ZonePart,
};
pub use room::{
    ClosingError, Faces, FloorPart, KeepOut, Opening, OpeningKind, Outline, Room, RoomUse, Surface,
    TubePattern, Where,
};
pub use rules::{Override, Rule, RuleSet};
pub use shape::{Dormer, FaceRule, Grade, Slope, Void};

use crate::decision::{Fact, Stated};
use quantity::System;

/// The whole job. Lists keep the order of the text.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What the job is called on paper.
    pub name: Fact<String>,
    /// The unit system of bare numbers, and the one shown first.
    pub units: Fact<System>,
    /// Free words for the paper.
    pub note: Option<Stated<String>>,
    /// The limits that hold, with their sources.
    pub rules: RuleSet,
    /// Generic parts and materials that the text refers to.
    pub catalogue: Catalogue,
    /// How the rule set was named in the text.
    pub rules_named: Fact<String>,
    /// The climate.
    pub outdoors: Outdoors,
    /// The house as a whole.
    pub house: House,
    /// The heating as a whole.
    pub heating: Heating,
    /// What tube, floors and ports cost, as far as the text says.
    pub rates: Vec<Rate>,
    /// Storeys, by key.
    pub storeys: Vec<Storey>,
    /// Constructions that the text describes, and build-ups of the catalogue that it names, by key.
    pub assemblies: Vec<Assembly>,
    /// Rooms, by key.
    pub rooms: Vec<Room>,
    /// Surfaces of rooms that have no outline yet.
    pub surfaces: Vec<Surface>,
    /// Windows, doors and doorways.
    pub openings: Vec<Opening>,
    /// Parts of floors under another finish than the rest.
    pub floor_parts: Vec<FloorPart>,
    /// Floor that takes no tube.
    pub keep_outs: Vec<KeepOut>,
    /// What is set or fixed into floors.
    pub fixtures: Vec<Fixture>,
    /// Joints in slabs and screeds.
    pub joints: Vec<Joint>,
    /// Manifolds.
    pub manifolds: Vec<Manifold>,
    /// Places where manifolds may hang.
    pub manifold_places: Vec<ManifoldPlace>,
    /// Coils of tube.
    pub coils: Vec<Coil>,
    /// What is held of single loops.
    pub held_loops: Vec<HeldLoop>,
    /// Loops that are laid, with the marks read on site.
    pub laid: Vec<LaidLoop>,
    /// Air that is moved on purpose, for the house as a whole.
    pub ventilation: Ventilation,
    /// Exhaust fans.
    pub fans: Vec<Fan>,
    /// What the house used in a year.
    pub fuel: Option<FuelBill>,
    /// Spaces that nobody heats, by key.
    pub spaces: Vec<Space>,
    /// Sloped ceilings.
    pub slopes: Vec<Slope>,
    /// Dormers.
    pub dormers: Vec<Dormer>,
    /// Ground against single walls.
    pub grades: Vec<Grade>,
    /// Holes in floors.
    pub voids: Vec<Void>,
    /// Faces that are known better than by rule.
    pub face_rules: Vec<FaceRule>,
    /// Framing of floors.
    pub framings: Vec<Framing>,
    /// What is in the way between joists.
    pub bay_blocks: Vec<BayBlock>,
    /// Ways for tube and pipe.
    pub passages: Vec<Passage>,
    /// Mains and risers.
    pub mains: Vec<Main>,
    /// Parts of the plant.
    pub parts: Vec<Part>,
    /// Circuits of one water temperature.
    pub circuits: Vec<Circuit>,
    /// Zones of thermostats.
    pub zones: Vec<Zone>,
    /// Parts of open rooms that another zone serves.
    pub zone_parts: Vec<ZonePart>,
    /// Emitters other than floors.
    pub emitters: Vec<Emitter>,
}

impl Job {
    /// The room with that key.
    pub fn room(&self, key: &str) -> Option<&Room> {
        self.rooms.iter().find(|room| room.key == key)
    }

    /// The construction with that key.
    pub fn assembly(&self, key: &str) -> Option<&Assembly> {
        self.assemblies.iter().find(|assembly| assembly.key == key)
    }

    /// The price of what has that key, in the job's own money and unit.
    pub fn rate(&self, key: &str) -> Option<f64> {
        self.rates
            .iter()
            .find(|rate| rate.key == key)
            .map(|rate| quantity::Quantity::si(rate.price.value))
    }

    /// The manifold with that key.
    pub fn manifold(&self, key: &str) -> Option<&Manifold> {
        self.manifolds.iter().find(|manifold| manifold.key == key)
    }

    /// Parts of a room's floor under another finish.
    pub fn floor_parts_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a FloorPart> + 'a {
        self.floor_parts.iter().filter(move |part| part.room.value == room)
    }

    /// The keep-outs of a room.
    pub fn keep_outs_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a KeepOut> + 'a {
        self.keep_outs.iter().filter(move |keep_out| keep_out.room.value == room)
    }

    /// The stated surfaces of a room.
    pub fn surfaces_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a Surface> + 'a {
        let of = move |surface: &&Surface| surface.room.as_ref().is_some_and(|it| it.value == room);
        self.surfaces.iter().filter(of)
    }

    /// The storey with that key, and its number from the lowest up.
    pub fn storey(&self, key: &str) -> Option<(usize, &Storey)> {
        self.storeys.iter().enumerate().find(|(_, storey)| storey.key == key)
    }

    /// The space with that key.
    pub fn space(&self, key: &str) -> Option<&Space> {
        self.spaces.iter().find(|space| space.key == key)
    }

    /// The slopes of a room's ceiling.
    pub fn slopes_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a Slope> + 'a {
        self.slopes.iter().filter(move |slope| slope.room.value == room)
    }
}
