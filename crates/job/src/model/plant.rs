//! What later stages need: framing, ways for pipe, circuits, zones, other emitters, parts.

use super::room::Outline;
use crate::decision::{Decision, Fact, Place, Stated};
use quantity::{ArealMass, Length, Power, Ratio, Temperature, Volume};

/// How the joists of a floor are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JoistKind {
    /// Sawn timber.
    Sawn,
    /// I-section of wood.
    IJoist,
    /// Open web of wood or metal.
    OpenWeb,
}

/// Framing of a floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Framing {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// How the joists are made.
    pub kind: Option<Fact<JoistKind>>,
    /// Depth of a joist.
    pub depth: Option<Fact<Length>>,
    /// From joist to joist, centre to centre.
    pub spacing: Option<Fact<Length>>,
    /// Which way they run: degrees from east, counter-clockwise.
    pub direction: Option<Fact<quantity::Angle>>,
    /// Thickness of a joist.
    pub width: Fact<Length>,
    /// A place on the centreline of one joist, in metres.
    pub at: Option<Fact<plane::Point>>,
    /// A place on the face of each bearing, in metres.
    pub bearings: Option<Fact<Vec<plane::Point>>>,
    /// Bays that nothing can pass, in words.
    pub blocked: Option<Stated<String>>,
}

/// What something in a joist bay leaves free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BayBlockKind {
    /// Nothing: no tube passes at any depth.
    NothingPasses,
    /// No plate fits, tube may pass at the depth of the holes.
    NoPlate,
}

/// Something that is in the way between joists.
#[derive(Clone, Debug, PartialEq)]
pub struct BayBlock {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The framing, by key.
    pub framing: Stated<String>,
    /// What it leaves free.
    pub kind: Fact<BayBlockKind>,
    /// Its edge on the plan.
    pub outline: Option<Outline>,
}

/// What a floor may take on top.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// How much higher it may get.
    pub height: Option<Fact<Length>>,
    /// How much heavier it may get.
    pub weight: Option<Fact<ArealMass>>,
}

/// Rugs and furniture on a floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Rugs {
    /// Share of the floor that they cover.
    pub share: Fact<Ratio>,
    /// Their resistance.
    pub resistance: Fact<quantity::AreaResistance>,
}

/// Which way a passage lets tube through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PassageKind {
    /// Through a doorway, in the floor.
    Doorway,
    /// Through a sleeve in a wall.
    Sleeve,
    /// Through bored joists.
    ThroughJoists,
    /// Under the joists.
    UnderJoists,
    /// Up to another storey.
    Riser,
}

/// A way that tube and pipe can take.
#[derive(Clone, Debug, PartialEq)]
pub struct Passage {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is.
    pub kind: Fact<PassageKind>,
    /// Where it starts, by room key.
    pub from: Option<Stated<String>>,
    /// Where it leads, by room key.
    pub to: Option<Stated<String>>,
    /// Its place on the plan.
    pub at: Option<Fact<plane::Point>>,
    /// Its width.
    pub width: Option<Fact<Length>>,
}

/// A main or riser between two parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Main {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it starts at, in words or by key.
    pub from: Option<Stated<String>>,
    /// What it leads to, in words or by key.
    pub to: Option<Stated<String>>,
    /// Its nominal size, in words: `1 in copper`.
    pub size: Option<Stated<String>>,
    /// Length one way.
    pub length: Option<Fact<Length>>,
    /// Its fittings, in words: `6 elbows, 2 tees`.
    pub fittings: Option<Stated<String>>,
}

/// What a part of the plant is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartKind {
    /// Boiler or heat pump.
    HeatSource,
    /// Hot-water tank with a coil.
    IndirectTank,
    /// Buffer tank.
    Buffer,
    /// Expansion tank.
    ExpansionTank,
    /// Pump.
    Pump,
    /// Mixing valve.
    MixingValve,
    /// Air or dirt separator.
    Separator,
}

/// One part of the plant.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is.
    pub kind: Option<Fact<PartKind>>,
    /// The room that it stands in, by key.
    pub room: Option<Stated<String>>,
    /// Its height over that room's floor.
    pub height: Option<Fact<Length>>,
    /// Heating water in it, or in its coil.
    pub water: Option<Fact<Volume>>,
    /// Tap water in it.
    pub storage: Option<Fact<Volume>>,
    /// Its rated output.
    pub output: Option<Fact<Power>>,
}

/// A circuit of one water temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is called on paper; the key if the text is silent.
    pub name: Fact<String>,
    /// Supply temperature on the design day.
    pub supply: Decision<Temperature>,
}

/// What one thermostat calls.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is called on paper; the key if the text is silent.
    pub name: Fact<String>,
    /// The circuit that serves it, by key.
    pub circuit: Option<Stated<String>>,
}

/// A part of an open room that another zone serves.
#[derive(Clone, Debug, PartialEq)]
pub struct ZonePart {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The zone, by key.
    pub zone: Stated<String>,
    /// The room that it cuts, by key.
    pub room: Option<Stated<String>>,
    /// Its edge on the plan.
    pub outline: Option<Outline>,
}

/// What an emitter other than a floor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EmitterKind {
    /// Radiator.
    Radiator,
    /// Convector or baseboard.
    Convector,
    /// Towel rail.
    TowelRail,
    /// Panel on a wall.
    WallPanel,
    /// Panel on a ceiling.
    CeilingPanel,
}

/// An emitter other than a floor, by its rating.
#[derive(Clone, Debug, PartialEq)]
pub struct Emitter {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is.
    pub kind: Fact<EmitterKind>,
    /// The room that it warms, by key.
    pub room: Option<Stated<String>>,
    /// The circuit that feeds it, by key.
    pub circuit: Option<Stated<String>>,
    /// What a wall or ceiling panel is made of: a construction of the job or a build-up of the
    /// catalogue, by key. Its output then follows from its section.
    pub panel: Option<Stated<String>>,
    /// Area of a panel.
    pub area: Option<Fact<quantity::Area>>,
    /// Spacing of a panel's tubes.
    pub spacing: Option<Fact<Length>>,
    /// Its rated output.
    pub output: Option<Fact<Power>>,
    /// Supply temperature of the rating.
    pub rated_supply: Fact<Temperature>,
    /// Return temperature of the rating.
    pub rated_return: Fact<Temperature>,
    /// Room temperature of the rating.
    pub rated_room: Fact<Temperature>,
    /// Exponent of its output with the excess temperature.
    pub exponent: Fact<Ratio>,
}
