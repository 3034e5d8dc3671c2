//! Heat loss of each room on the design day.
//!
//! Transmission by inside dimensions, air by air changes at the density of the place, ground by
//! ISO 13370. Floor with tube loses no heat of the room's: that is its water's loss.

mod compute;

pub(crate) use compute::{Tubed, Weather, loads, weather};

use crate::figure::Figure;
use quantity::{AirFlow, Area, HeatFlux, HeatLossCoefficient, Power};

/// Heat that one face of a room loses.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceLoss {
    /// The face's key inside its room.
    pub face: String,
    /// Heat per degree.
    pub coefficient: Figure<HeatLossCoefficient>,
    /// Heat on the design day; below zero where a warmer room is behind.
    pub loss: Figure<Power>,
}

/// Heat loss of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomLoss {
    /// The room's key.
    pub room: String,
    /// Face by face, the heated patch of the floor left out.
    pub faces: Vec<FaceLoss>,
    /// Heat through the faces to outdoors.
    pub outdoors: Figure<Power>,
    /// Heat into the ground from floor without tube.
    pub ground: Figure<Power>,
    /// Heat into neighbouring rooms, less heat from them.
    pub neighbours: Figure<Power>,
    /// Outdoor air that comes in.
    pub air_flow: Figure<AirFlow>,
    /// Heat for that air.
    pub air: Figure<Power>,
    /// All of it: what emitters must give.
    pub total: Figure<Power>,
    /// The total over the floor area.
    pub per_area: Option<Figure<HeatFlux>>,
    /// Floor area that can take tube.
    pub available: Option<Figure<Area>>,
}

/// Heat losses of the house.
#[derive(Clone, Debug, PartialEq)]
pub struct Loads {
    /// Rooms whose loss could be worked out, in the order of the text.
    pub rooms: Vec<RoomLoss>,
    /// Sum over rooms, the heated floor's own loss to the ground left out.
    pub total: Option<Figure<Power>>,
}
