//! Spacing and water temperature, and what the floor then gives.
//!
//! EN 1264-2, type A: tube in screed or slab. The heat a floor must give is the room's loss less
//! the heat of leaders that cross it; limits of floor temperature cap it.

mod below;
mod build_up;
mod choose;
mod finish;
mod sent_down;
mod untold;

pub(crate) use build_up::{BuildUp, floor_of};
pub(crate) use choose::{Choice, Floor, choose, supply_for, supply_needed};
pub(crate) use finish::{credit, emitters};
pub(crate) use sent_down::{from_above, lost_below};

use crate::figure::Figure;
use job::Decided;
use quantity::{
    Area, AreaResistance, HeatFlux, Length, Power, Temperature, TemperatureDifference,
    Transmittance,
};

/// The heated floor of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatedFloor {
    /// The room's key.
    pub room: String,
    /// Floor that carries tube.
    pub area: Figure<Area>,
    /// Tube, by catalogue key.
    pub tube: String,
    /// Tube spacing.
    pub spacing: Decided<Length>,
    /// Resistance of the finish.
    pub finish: Figure<AreaResistance>,
    /// Heat that leaders on their way through give the room.
    pub leaders: Figure<Power>,
    /// Heat that the room needs from this floor, leaders' heat already taken off.
    pub needed: Figure<Power>,
    /// The same per area.
    pub flux_needed: Figure<HeatFlux>,
    /// Output per area and degree of water excess.
    pub output_coefficient: Figure<Transmittance>,
    /// Water excess over the room that gives the flux needed.
    pub excess_needed: Figure<TemperatureDifference>,
    /// Supply temperature at which this room would just be warm.
    pub supply_needed: Figure<Temperature>,
    /// Heat per area that the floor gives as designed.
    pub flux: Figure<HeatFlux>,
    /// Heat per area that goes down.
    pub flux_down: Figure<HeatFlux>,
    /// Mean floor temperature as designed.
    pub surface: Figure<Temperature>,
    /// Hottest floor allowed here.
    pub surface_limit: Figure<Temperature>,
    /// Heat that the floor gives as designed.
    pub output: Figure<Power>,
    /// Heat by which the floor falls short; zero or less if it carries the room.
    pub short: Figure<Power>,
}

/// The heated floors and the water that feeds them.
#[derive(Clone, Debug, PartialEq)]
pub struct Emitters {
    /// Heated floors in the order of the text.
    pub floors: Vec<HeatedFloor>,
    /// Supply temperature on the design day.
    pub supply: Option<Decided<Temperature>>,
    /// The room that sets the supply temperature.
    pub governing: Option<String>,
}
