//! Climate, house, storeys, and the spaces that nobody heats.

use crate::decision::{Fact, Place, Stated};
use quantity::{
    AirChange, AirFlow, AirVolume, Area, Conductivity, DegreeTime, Energy, HeatLossCoefficient,
    Length, Ratio, Temperature, TemperatureDifference, Velocity,
};

/// The climate at the site.
#[derive(Clone, Debug, PartialEq)]
pub struct Outdoors {
    /// Outdoor temperature of the design day. Without it there are no loads.
    pub design: Option<Fact<Temperature>>,
    /// Mean outdoor temperature of the year, which governs the ground.
    pub annual_mean: Option<Fact<Temperature>>,
    /// How far the ground's surface swings below its mean in winter.
    pub ground_swing: Option<Fact<TemperatureDifference>>,
    /// Height above the sea, which thins the air.
    pub altitude: Fact<Length>,
    /// Conductivity of the ground.
    pub ground: Fact<Conductivity>,
    /// Wind of the design hour, for leaks.
    pub wind: Fact<Velocity>,
    /// Mean outdoor temperature of each month, January first; kept for later stages.
    pub monthly: Option<Stated<Vec<Temperature>>>,
    /// Mean relative humidity of each month, January first; kept for later stages.
    pub humidity: Option<Stated<Vec<Ratio>>>,
}

/// The house as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct House {
    /// Year it was built, for the usual range of its loss.
    pub built: Option<Fact<u32>>,
    /// How often outdoor air replaces the air of a room, unless the room says otherwise.
    pub air_changes: Fact<AirChange>,
    /// Air change at 50 Pa from a blower-door test.
    pub blower_door: Option<Fact<AirChange>>,
    /// Effective area of all leaks.
    pub leakage_area: Option<Fact<Area>>,
    /// Share of the leaks that a flue makes.
    pub flue_share: Fact<Ratio>,
    /// The greatest thickness of a wall between two rooms.
    pub thickest_wall: Fact<Length>,
    /// Construction of outside walls, unless the room says otherwise.
    pub wall: Option<Stated<String>>,
    /// Construction of walls that stand in the ground; that of outside walls if none.
    pub wall_in_ground: Option<Stated<String>>,
    /// Construction of walls towards the next house; that of outside walls if none.
    pub party_wall: Option<Stated<String>>,
    /// Construction of walls between rooms.
    pub partition: Option<Stated<String>>,
    /// Construction of ceilings under the attic or roof.
    pub ceiling: Option<Stated<String>>,
    /// Construction of sloped ceilings; that of ceilings if none.
    pub roof: Option<Stated<String>>,
    /// Construction of floors between storeys: layers from the upper room down.
    pub floor_between: Option<Stated<String>>,
    /// Construction of floors: layers from the room down.
    pub floor: Option<Stated<String>>,
    /// Construction of windows.
    pub window: Option<Stated<String>>,
    /// Construction of skylights; that of windows if none.
    pub skylight: Option<Stated<String>>,
    /// Construction of outside doors.
    pub door: Option<Stated<String>>,
}

/// One storey. Storeys stand in the text from the lowest up.
#[derive(Clone, Debug, PartialEq)]
pub struct Storey {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// Ceiling height of its rooms.
    pub height: Option<Fact<Length>>,
    /// From its floor to that of the storey above; without it, the height and a floor's thickness.
    pub floor_to_floor: Option<Fact<Length>>,
    /// Its floor over that of the lowest storey; without it, stacked by floor to floor.
    pub level: Option<Fact<Length>>,
    /// Height of the ground over its floor along its outside walls; below zero where it lies deeper.
    pub ground: Option<Fact<Length>>,
    /// Framing of its floor, by key.
    pub framing: Option<Stated<String>>,
}

/// What kind of space nobody heats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpaceKind {
    /// Under the roof.
    Attic,
    /// Under the lowest floor.
    Crawlspace,
    /// For cars.
    Garage,
    /// In the ground.
    Basement,
    /// Beside a room: store, porch, unheated stair.
    Store,
}

/// A space without an outline that nobody heats: its temperature follows from what surrounds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Space {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is called on paper; the key if the text is silent.
    pub name: Fact<String>,
    /// What it is.
    pub kind: Fact<SpaceKind>,
    /// Whether it has windows, or openings to outdoors, which the tabled factors ask.
    pub open: Fact<bool>,
    /// Whether its outer side is insulated, which the tabled factors ask.
    pub insulated: Fact<bool>,
    /// Its temperature on the design day, where it is known.
    pub temperature: Option<Fact<Temperature>>,
    /// Its temperature factor, where it is known: 1 is as cold as outdoors, 0 as warm as the room.
    pub factor: Option<Fact<Ratio>>,
    /// Its heat loss to outdoors per degree, where it is known; surfaces of its own add to it.
    pub loss: Option<Fact<HeatLossCoefficient>>,
    /// Volume of its air.
    pub volume: Option<Fact<AirVolume>>,
    /// How often outdoor air replaces its air.
    pub air_changes: Option<Fact<AirChange>>,
}

/// Air that is moved on purpose, for the house as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Ventilation {
    /// Outdoor air that is blown in all the time.
    pub supply: Option<Fact<AirFlow>>,
    /// Air that is drawn off all the time.
    pub exhaust: Option<Fact<AirFlow>>,
    /// Share of the heat of the air drawn off that warms the air blown in.
    pub recovery: Fact<Ratio>,
}

/// One exhaust fan.
#[derive(Clone, Debug, PartialEq)]
pub struct Fan {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The room that it draws from, by key.
    pub room: Option<Fact<String>>,
    /// Air that it draws.
    pub flow: Option<Fact<AirFlow>>,
    /// Whether it runs all the time; only then it counts in the heat loss.
    pub continuous: Fact<bool>,
}

/// What the house used in a year, to hold the heat loss against.
#[derive(Clone, Debug, PartialEq)]
pub struct FuelBill {
    /// Fuel energy for heating in that year.
    pub energy: Option<Fact<Energy>>,
    /// Heating degree-days of that year.
    pub degree_days: Option<Fact<DegreeTime>>,
    /// Share of the fuel's energy that reached the house.
    pub efficiency: Fact<Ratio>,
    /// Share of the energy that made hot water or cooked.
    pub other_use: Fact<Ratio>,
}
