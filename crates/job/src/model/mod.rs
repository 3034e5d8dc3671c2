//! The job as data: what was found, wished and decided.

mod heating;
mod house;
mod library;
mod room;

pub use heating::{Fluid, Heating, Manifold};
pub use house::{House, Outdoors, Storey};
pub use library::{Catalogue, Finish, Library, Material, Rule, RuleSet, Tube};
pub use room::{
    Assembly, ClosingError, Construction, Faces, KeepOut, Layer, Opening, OpeningKind, Outline,
    Room, RoomUse, Surface, Where,
};

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
    /// Storeys, by key.
    pub storeys: Vec<Storey>,
    /// Constructions that the text describes, by key.
    pub assemblies: Vec<Assembly>,
    /// Rooms, by key.
    pub rooms: Vec<Room>,
    /// Surfaces of rooms that have no outline yet.
    pub surfaces: Vec<Surface>,
    /// Windows, doors and doorways.
    pub openings: Vec<Opening>,
    /// Floor that takes no tube.
    pub keep_outs: Vec<KeepOut>,
    /// Manifolds.
    pub manifolds: Vec<Manifold>,
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

    /// The manifold with that key.
    pub fn manifold(&self, key: &str) -> Option<&Manifold> {
        self.manifolds.iter().find(|manifold| manifold.key == key)
    }

    /// The keep-outs of a room.
    pub fn keep_outs_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a KeepOut> + 'a {
        self.keep_outs.iter().filter(move |keep_out| keep_out.room.value == room)
    }

    /// The stated surfaces of a room.
    pub fn surfaces_of<'a>(&'a self, room: &'a str) -> impl Iterator<Item = &'a Surface> + 'a {
        self.surfaces.iter().filter(move |surface| surface.room.value == room)
    }
}
