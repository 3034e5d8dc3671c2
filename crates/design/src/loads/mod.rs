//! Heat loss of each room on the design day, and of zones, storeys and the house.
//!
//! Each face by its area, U-value and what is behind it; the ground by the one method of the rule
//! set; unheated spaces by their balance or factor; outdoor air at the density of the place. Floor
//! with tube loses no heat of the room's, above it or below: that is its water's loss.

mod air;
mod case;
mod doubtful;
mod faces;
mod fans;
mod groups;
mod links;
mod parts;
mod rooms;
mod sanity;
mod uneven;
mod unheated;
mod weather;

pub(crate) use rooms::{Tubed, loads};
pub(crate) use weather::{Weather, weather};

use crate::envelope::{Behind, FaceKind};
use crate::figure::Figure;
use quantity::{
    AirFlow, Area, HeatFlux, HeatLossCoefficient, Power, Ratio, Temperature, TemperatureDifference,
    Transmittance,
};

/// Heat that one face of a room loses.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceLoss {
    /// The face's key inside its room.
    pub face: String,
    /// What kind of surface it is.
    pub kind: FaceKind,
    /// What is behind it.
    pub behind: Behind,
    /// The part of it that counts: a floor without its heated patch.
    pub area: Figure<Area>,
    /// U-value with the allowance for thermal bridges; none where a loss goes by another rule.
    pub transmittance: Option<Figure<Transmittance>>,
    /// Room less what is behind, as the loss is reckoned.
    pub difference: Figure<TemperatureDifference>,
    /// Heat per degree.
    pub coefficient: Figure<HeatLossCoefficient>,
    /// Heat on the design day; below zero where it is warmer behind.
    pub loss: Figure<Power>,
    /// Whether it is part of the room's load; heat from warmer neighbours may be shown only.
    pub counts: bool,
}

/// Heat by where it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Split<Q> {
    /// Through faces to outdoors.
    pub outdoors: Figure<Q>,
    /// Into spaces and rooms that nobody heats.
    pub unheated: Figure<Q>,
    /// Into the ground, heated patches of floor left out.
    pub ground: Figure<Q>,
    /// To rooms and houses that are heated, less heat from them.
    pub neighbours: Figure<Q>,
    /// For outdoor air.
    pub air: Figure<Q>,
    /// All of it.
    pub total: Figure<Q>,
}

/// Heat loss of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomLoss {
    /// The room's key.
    pub room: String,
    /// Face by face, the heated patch of the floor left out.
    pub faces: Vec<FaceLoss>,
    /// Heat on the design day, by where it goes; the total is what emitters must give, reheat
    /// left out.
    pub heat: Split<Power>,
    /// Heat per degree, each to its own cold side.
    pub per_degree: Split<HeatLossCoefficient>,
    /// Outdoor air that comes in.
    pub air_flow: Figure<AirFlow>,
    /// The total over the floor area.
    pub per_area: Option<Figure<HeatFlux>>,
    /// Heat from rooms above through their floors, shown and not taken off; none if none comes.
    pub from_above: Option<Figure<Power>>,
    /// Extra heat to warm up after a setback, a line of its own; none unless the job asks for it.
    pub reheat: Option<Figure<Power>>,
    /// Floor area that can take tube.
    pub available: Option<Figure<Area>>,
}

/// Heat loss of several rooms together: a zone, a storey, the house.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupLoss {
    /// Its key; `house` for the house.
    pub key: String,
    /// What it is called on paper.
    pub name: String,
    /// Its rooms, by key.
    pub rooms: Vec<String>,
    /// Heat on the design day: heat between its own rooms cancels, and its outdoor air is that of
    /// all at one time, by the rule set.
    pub heat: Split<Power>,
    /// Heat per degree.
    pub per_degree: Split<HeatLossCoefficient>,
    /// Outdoor air that comes in at one time.
    pub air_flow: Figure<AirFlow>,
    /// Floor area of its rooms.
    pub area: Figure<Area>,
    /// The total over that area.
    pub per_area: Option<Figure<HeatFlux>>,
    /// Reheat of its rooms.
    pub reheat: Option<Figure<Power>>,
}

/// Parts of the house that heat goes through, for the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is, in words: `walls`, `windows`, `air`.
    pub name: &'static str,
    /// Heat on the design day.
    pub loss: Figure<Power>,
}

impl Part {
    /// Its share of the heat loss of the house; none where the house loses nothing.
    pub fn share(&self, house: &GroupLoss) -> Option<Figure<Ratio>> {
        let whole = &house.heat.total;
        let name = format!("share of {}", self.name);
        (whole.si() > 0.0).then(|| Figure::quotient(name, &self.loss.work, &whole.work))
    }
}

/// A space or room that nobody heats, as it settles.
#[derive(Clone, Debug, PartialEq)]
pub struct Unheated {
    /// Key of the space or room.
    pub key: String,
    /// Its temperature on the design day.
    pub temperature: Figure<Temperature>,
    /// How it stands between a room at the usual temperature (0) and outdoors (1).
    pub factor: Figure<Ratio>,
}

/// The heat loss against what is usual, and against what was burnt.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sanity {
    /// Usual heat loss per area for houses of this age, least and most, with its source; none if
    /// the job does not say when it was built.
    pub usual: Option<[Figure<HeatFlux>; 2]>,
    /// Heat per degree that the fuel bill tells; none without a bill.
    pub billed: Option<Figure<HeatLossCoefficient>>,
}

/// Heat losses of the house.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loads {
    /// Rooms whose loss could be worked out, in the order of the text.
    pub rooms: Vec<RoomLoss>,
    /// Zones, in the order of the text.
    pub zones: Vec<GroupLoss>,
    /// Storeys, in the order of the text.
    pub storeys: Vec<GroupLoss>,
    /// The house; none if no room's loss could be worked out.
    pub house: Option<GroupLoss>,
    /// What the heat of the house goes through, largest first.
    pub parts: Vec<Part>,
    /// Spaces and rooms that nobody heats.
    pub unheated: Vec<Unheated>,
    /// The heat loss against what is usual, and against what was burnt.
    pub sanity: Sanity,
    /// Sum over rooms: what all emitters together must give.
    pub total: Option<Figure<Power>>,
}

impl Loads {
    /// The loss of the room with that key.
    pub fn room(&self, key: &str) -> Option<&RoomLoss> {
        self.rooms.iter().find(|loss| loss.room == key)
    }

    /// How warm that unheated space or room is on the design day.
    pub fn temperature_of(&self, key: &str) -> Option<&Figure<Temperature>> {
        Some(&self.unheated.iter().find(|cold| cold.key == key)?.temperature)
    }
}
