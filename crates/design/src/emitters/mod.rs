//! Spacing and water temperature, and what the floor then gives.
//!
//! Each floor is solved as heat flows in it: conduction in two dimensions through its section,
//! film and wall of the tube inside, and whatever lies below. The curves of EN 1264-2 stand beside
//! it for wet floors. The heat a floor must give is the room's loss less the heat of leaders that
//! cross it; limits of floor temperature cap it.

mod below;
mod build_up;
mod choose;
mod finish;
mod floor;
mod grouping;
mod helpers;
mod limited;
mod panel;
mod section;
mod sent_down;
mod spacing;
mod stack;
mod supply;
mod untold;
mod ways;
mod zones;

pub(crate) use build_up::{BuildUp, ZoneResponse, floor_of};
pub(crate) use choose::{Choice, choose};
pub(crate) use finish::{credit, emitters};
pub(crate) use floor::{Floor, peak_limit};
pub use grouping::CircuitGroup;
pub(crate) use grouping::{grouped, judge as judge_groups};
pub(crate) use helpers::Around;
pub use helpers::Helper;
pub use limited::HeatedPart;
pub use panel::Panel;
pub(crate) use section::{Beyond, Pairs, Response, Sections, WIDEST_M};
pub use section::{FloorSection, Isotherm, PictureLayer, SectionPicture};
pub(crate) use sent_down::{from_above, lost_below};
pub(crate) use spacing::SPOT_OVER_K;
pub(crate) use stack::{STEEL_BELOW_W_MK, layer_name};
pub use supply::{Water, WaterRule};
pub(crate) use supply::{supply_for, supply_needed};

pub(crate) use ways::governed;
pub use ways::{Governed, Way};
pub(crate) use zones::BAND_CLOSER;

use crate::figure::Figure;
use job::Decided;
use quantity::{
    Area, AreaResistance, HeatFlux, Length, Power, Quantity, Ratio, Temperature,
    TemperatureDifference, Transmittance,
};

/// The heated floor of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatedFloor {
    /// The room's key.
    pub room: String,
    /// The circuit that feeds it, by key; none where the job names none, or it has no loop.
    pub circuit: Option<String>,
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
    /// Output per area and degree of water excess, by conduction through the section.
    pub output_coefficient: Figure<Transmittance>,
    /// The same by the curves of EN 1264-2, which take the water as turbulent; wet floors only.
    pub published_coefficient: Option<Figure<Transmittance>>,
    /// Heat per area that the room loses through its floor past the tubes, and what it does not get
    /// as heat lost by the slab's edge cools the tube.
    pub passing: Figure<HeatFlux>,
    /// Water excess over the room that gives the flux needed.
    pub excess_needed: Figure<TemperatureDifference>,
    /// Supply temperature at which this room would just be warm.
    pub supply_needed: Figure<Temperature>,
    /// Heat per area that the floor gives as designed.
    pub flux: Figure<HeatFlux>,
    /// Heat per area that goes down.
    pub flux_down: Figure<HeatFlux>,
    /// Share of its heat that goes up.
    pub up_share: Figure<Ratio>,
    /// Mean of the water in its field as designed.
    pub water: Figure<Temperature>,
    /// Mean floor temperature as designed.
    pub surface: Figure<Temperature>,
    /// Warmest spot of the floor at the mean water temperature.
    pub warmest: Figure<Temperature>,
    /// Coolest spot between tubes at the mean water temperature.
    pub coolest: Figure<Temperature>,
    /// Its layers and tube as designed, to be drawn; none where they were not solved.
    pub section: Option<FloorSection>,
    /// Hottest floor allowed here; where parts have limits of their own, that of the rest.
    pub surface_limit: Figure<Temperature>,
    /// Its parts, where some have another finish or closer tube than the rest.
    pub parts: Vec<HeatedPart>,
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
    /// Water of each circuit that has a floor; one without a name where the job names none.
    pub waters: Vec<Water>,
    /// What sets the water of each of them.
    pub governed: Vec<Governed>,
    /// Manifolds that one water could serve, warmest first; none where there are fewer than two.
    pub groups: Vec<CircuitGroup>,
    /// How water is shared among the floors of a circuit.
    pub rule: WaterRule,
    /// Other emitters, in the order of the text.
    pub helpers: Vec<Helper>,
}

impl Emitters {
    /// The supply temperature of a floor; that of the hottest circuit where it has no loop.
    pub fn supply_of(&self, floor: &HeatedFloor) -> Option<Temperature> {
        let own = self.waters.iter().find(|water| water.circuit == floor.circuit);
        own.map(|water| water.supply.value).or_else(|| self.hottest())
    }

    /// Heat that other emitters give a room, watts.
    pub(crate) fn helped_w(&self, room: &str) -> f64 {
        let own = self.helpers.iter().filter(|helper| helper.room == *room);
        own.map(|helper| helper.output.si()).fold(0.0, |sum, own| sum + own)
    }

    /// The hottest supply temperature.
    pub fn hottest(&self) -> Option<Temperature> {
        let all = self.waters.iter().map(|water| water.supply.value);
        all.reduce(|hottest, next| if next.si() > hottest.si() { next } else { hottest })
    }
}
