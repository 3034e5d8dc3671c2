//! Build-ups of the catalogue: floors, walls and ceilings that hold tube, ready to be named.

use super::construction::Layer;

/// What a build-up is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuildUpKind {
    /// A floor: layers from the room down.
    Floor,
    /// A wall panel: layers from the room outward.
    Wall,
    /// A ceiling panel: layers from the room up.
    Ceiling,
}

/// A generic build-up that holds tube.
#[derive(Clone, Debug, PartialEq)]
pub struct BuildUp {
    /// Its key: `gypsum-topping-on-joists`.
    pub key: String,
    /// What it is called on paper.
    pub name: String,
    /// What it is.
    pub kind: BuildUpKind,
    /// Layers from the room, without the finish.
    pub layers: Vec<Layer>,
    /// The same as the catalogue writes them.
    pub written: Vec<String>,
    /// How many of them, from the room, are laid on what bears them.
    pub added: u32,
    /// Where it suits.
    pub suits: String,
    /// Finishes that it bears, by catalogue key.
    pub bears: Vec<String>,
    /// What it cannot do.
    pub cannot: String,
    /// Where the figures come from.
    pub source: String,
}
