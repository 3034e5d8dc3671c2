//! Conventions: where two honest calculations of the same house differ.

use super::house::SpaceKind;
use super::plant::JoistKind;
use super::rules::Rule;
use quantity::{AreaResistance, HeatFlux, Length, LinearTransmittance, Ratio};

/// Which faces of walls and floors areas are taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimensions {
    /// Inside faces.
    Inside,
    /// Outer faces of the house, floor to floor; middle of the walls between rooms.
    Outside,
}

/// Air films of surfaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Films {
    /// ISO 6946.
    Iso,
    /// ASHRAE, winter.
    Ashrae,
}

/// Whether heat from warmer neighbours lowers a room's load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WarmerNeighbours {
    /// It does.
    Credited,
    /// It is shown and left out of the load.
    Shown,
}

/// How loss to the ground is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroundMethod {
    /// ISO 13370 for the whole floor, to the mean of the year.
    Iso13370,
    /// A factor per length of exposed edge, to outdoors; below-grade averages for basements.
    EdgeFactor,
}

/// Where a slab is insulated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeKind {
    /// Nowhere.
    None,
    /// Down its edge.
    Vertical,
    /// Flat along its edge.
    Horizontal,
    /// Below all of it and at its edge.
    Full,
}

/// Loss of a slab per length of exposed edge.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeFactor {
    /// Whether the slab is heated.
    pub heated: bool,
    /// Where it is insulated.
    pub kind: EdgeKind,
    /// How deep or wide the insulation goes; nought where it lies below all or nowhere.
    pub reach: Length,
    /// Its resistance.
    pub resistance: AreaResistance,
    /// The factor.
    pub factor: Rule<LinearTransmittance>,
}

/// How the temperature of unheated spaces is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnheatedMethod {
    /// By a tabled factor of the space's kind.
    Factor,
    /// By the balance of what it gains and loses; by the factor where too little is known.
    Balance,
}

/// Temperature factor of an unheated space.
#[derive(Clone, Debug, PartialEq)]
pub struct SpaceFactor {
    /// What it is.
    pub kind: SpaceKind,
    /// Whether it has windows or openings; either if none.
    pub open: Option<bool>,
    /// Whether its outer side is insulated; either if none.
    pub insulated: Option<bool>,
    /// The factor.
    pub factor: Rule<Ratio>,
}

/// How warm the next house is taken to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NextHouse {
    /// As warm as the room.
    SameTemperature,
    /// Halfway from the room to the mean of the year.
    Halfway,
    /// As the mean of the year outdoors.
    AnnualMean,
}

/// How a blower-door test gives the air change of a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlowerDoorMethod {
    /// Air change at 50 Pa over a divisor.
    Divisor,
    /// Twice the air change at 50 Pa times shielding (EN 12831).
    Shielding,
}

/// Usual heat loss per floor area of houses of an age.
#[derive(Clone, Debug, PartialEq)]
pub struct UsualLoss {
    /// Last year of the age.
    pub until: u32,
    /// Least.
    pub least: Rule<HeatFlux>,
    /// Most.
    pub most: Rule<HeatFlux>,
}

/// What a rule set says about holes in joists of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct JoistHoles {
    /// How the joists are made.
    pub kind: JoistKind,
    /// The limits; none where only the maker's chart tells.
    pub limits: Rule<Option<HoleLimits>>,
}

/// Limits of holes in joists, all to the edge of the hole unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleLimits {
    /// Least depth of the joist, in diameters of the hole.
    pub depths: Ratio,
    /// Largest diameter, whatever the depth.
    pub most: Option<Length>,
    /// Least distance to the top or bottom edge.
    pub edge: Option<Length>,
    /// Whether the centre must lie at mid depth.
    pub mid_depth: bool,
    /// Least distance to another hole.
    pub apart: Option<Length>,
    /// Least distance to another hole from centre to centre, in diameters of the larger one.
    pub apart_diameters: Option<Ratio>,
    /// Nearest place to a bearing, as a share of the span.
    pub span_from: Option<Ratio>,
    /// Farthest place from a bearing, as a share of the span.
    pub span_to: Option<Ratio>,
    /// Deepest joist that the rule speaks of.
    pub depth_most: Option<Length>,
}
