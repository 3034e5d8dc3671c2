//! Water, tube and manifolds.

use crate::decision::{Decision, Fact, Place, Stated};
use crate::words::Words;
use quantity::{Head, HeatFlux, Length, Ratio, Temperature, TemperatureDifference};

/// What runs in the tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fluid {
    /// Water.
    Water,
    /// Water with inhibited propylene glycol.
    PropyleneGlycol,
}

/// The heating as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Heating {
    /// Tube, by its catalogue key, unless the room says otherwise.
    pub tube: Decision<String>,
    /// Tubes that it may be chosen among, by key.
    pub tube_among: Vec<Stated<String>>,
    /// What runs in the tube.
    pub fluid: Fact<Fluid>,
    /// Share of glycol by volume; zero for water.
    pub glycol: Fact<Ratio>,
    /// Supply temperature on the design day.
    pub supply: Decision<Temperature>,
    /// How far the water cools in the loop that sets the supply temperature.
    pub drop: Decision<TemperatureDifference>,
    /// Which rooms set the supply temperature.
    pub supply_for: Decision<SupplyRule>,
    /// How far the water cools in the other loops.
    pub drops: Decision<DropRule>,
    /// Head that the pump has for one loop.
    pub head: Option<Fact<Head>>,
    /// Extra heat per floor area to warm up after a setback, agreed with the owner; none if absent.
    pub reheat: Option<Fact<HeatFlux>>,
    /// Loops in the order in which they are laid, by key, as far as the text says.
    pub laying_order: Vec<Stated<String>>,
}

/// What something costs, in the job's own money.
#[derive(Clone, Debug, PartialEq)]
pub struct Rate {
    /// What is priced: a tube by catalogue key, a floor by that of its construction, or
    /// [`PORT_RATE`].
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The price: of a tube for each foot or metre, of a floor for each square foot or square metre,
    /// by the job's units; of a port for each loop.
    pub price: Fact<Ratio>,
}

/// The key of the rate for a loop's ports at a manifold.
pub const PORT_RATE: &str = "port";

/// Which rooms set the supply temperature of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SupplyRule {
    /// Every room has a say.
    AllRooms,
    /// Baths have none where another room is on the same water; they are told what they lack.
    AllButBaths,
}

/// How far the water cools in each loop of a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DropRule {
    /// As far as its room's need lets it, between the least and the most allowed.
    Own,
    /// The same in all; thermostats hold back rooms that would get too much.
    Equal,
}

impl SupplyRule {
    /// The word for it in a text.
    pub fn word(self) -> &'static str {
        Words::word(self)
    }

    /// What a word means.
    pub fn named(word: &str) -> Option<SupplyRule> {
        Words::named(word)
    }
}

impl DropRule {
    /// The word for it in a text.
    pub fn word(self) -> &'static str {
        Words::word(self)
    }

    /// What a word means.
    pub fn named(word: &str) -> Option<DropRule> {
        Words::named(word)
    }
}

/// A place where a manifold may hang.
#[derive(Clone, Debug, PartialEq)]
pub struct ManifoldPlace {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The manifold, by key.
    pub manifold: Stated<String>,
    /// The room, by key.
    pub room: Fact<String>,
    /// The place on the plan, in metres.
    pub at: Fact<plane::Point>,
}

/// One manifold.
#[derive(Clone, Debug, PartialEq)]
pub struct Manifold {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room it hangs in, by key.
    pub room: Option<Fact<String>>,
    /// Its place on the plan, in metres; none where the design shall choose.
    pub at: Option<Fact<plane::Point>>,
    /// Height of its bars over the floor; each tube end rises by this.
    pub height: Fact<Length>,
    /// Free tube beyond the riser at each end, for connection and trimming.
    pub tail: Fact<Length>,
    /// The circuit that feeds it, by key; the only one if none.
    pub circuit: Option<Stated<String>>,
    /// Its loops in the order of the ports, by key, as far as that is held.
    pub order: Vec<Stated<String>>,
}
