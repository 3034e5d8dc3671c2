//! What a job refers to: generic parts and materials.

use super::build_up::BuildUp;
use super::construction::Material;
use super::rules::RuleSet;
use quantity::{AreaResistance, ArealMass, Conductivity, Length, SpecificHeat};

/// Catalogue and rule sets that a text is read against.
#[derive(Clone, Debug, PartialEq)]
pub struct Library {
    /// Generic parts and materials.
    pub catalogue: Catalogue,
    /// Rule sets, by key.
    pub rule_sets: Vec<RuleSet>,
}

/// Generic parts and materials, each with its source.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// Tubes.
    pub tubes: Vec<Tube>,
    /// Building materials.
    pub materials: Vec<Material>,
    /// Floor finishes.
    pub finishes: Vec<Finish>,
    /// Build-ups that hold tube.
    pub build_ups: Vec<BuildUp>,
}

impl Catalogue {
    /// The tube with that key.
    pub fn tube(&self, key: &str) -> Option<&Tube> {
        self.tubes.iter().find(|tube| tube.key == key)
    }

    /// The material with that key.
    pub fn material(&self, key: &str) -> Option<&Material> {
        self.materials.iter().find(|material| material.key == key)
    }

    /// The finish with that key.
    pub fn finish(&self, key: &str) -> Option<&Finish> {
        self.finishes.iter().find(|finish| finish.key == key)
    }

    /// The build-up with that key.
    pub fn build_up(&self, key: &str) -> Option<&BuildUp> {
        self.build_ups.iter().find(|build_up| build_up.key == key)
    }
}

/// A generic tube, described by its standard.
#[derive(Clone, Debug, PartialEq)]
pub struct Tube {
    /// Its key: `pex-1/2`.
    pub key: String,
    /// What it is called on paper: `1/2 in PEX, SDR 9`.
    pub name: String,
    /// Outside diameter.
    pub outside: Length,
    /// Mean inside diameter.
    pub inside: Length,
    /// Conductivity of the wall.
    pub conductivity: Conductivity,
    /// Roughness of the bore.
    pub roughness: Length,
    /// Smallest bend radius, to the centre line.
    pub bend_radius: Length,
    /// Where the figures come from.
    pub source: String,
}

/// What a floor finish is made of, as limits of temperature ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FinishKind {
    /// Nothing, or a coat too thin to count.
    Bare,
    /// Tile or stone.
    Stone,
    /// Vinyl, linoleum, cork and their glue.
    Resilient,
    /// Wood or laminate.
    Wood,
    /// Carpet.
    Textile,
}

/// A floor finish.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    /// Its key: `tile`.
    pub key: String,
    /// What it is called on paper.
    pub name: String,
    /// Resistance of finish and underlay.
    pub resistance: AreaResistance,
    /// What it is made of.
    pub kind: FinishKind,
    /// How thick it is with its bed or underlay.
    pub thickness: Length,
    /// How heavy it is with its bed or underlay.
    pub weight: ArealMass,
    /// Its specific heat, where it is known.
    pub specific_heat: Option<SpecificHeat>,
    /// Where the figure comes from.
    pub source: String,
}
