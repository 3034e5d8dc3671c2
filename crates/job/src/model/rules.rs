//! The limits and conventions of a code or practice, each with its clause.

use super::conventions::{
    BlowerDoorMethod, Dimensions, EdgeFactor, Films, GroundMethod, JoistHoles, NextHouse,
    SpaceFactor, UnheatedMethod, UsualLoss, WarmerNeighbours,
};
use super::heating::{DropRule, SupplyRule};
use super::limits::OutdoorInsulation;
use super::plant::JoistKind;
use crate::decision::Place;
use quantity::{
    AirChange, AreaResistance, ArealMass, Length, Quantity, Ratio, Temperature,
    TemperatureDifference, Transmittance, Velocity,
};

/// One limit or default of a rule set, with its clause.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule<T> {
    /// The limit.
    pub value: T,
    /// Clause or table.
    pub clause: String,
    /// Document and edition.
    pub source: String,
    /// Whether nobody here has the print at hand.
    pub from_memory: bool,
    /// What other sources say, and why this value holds; empty where none is known to differ.
    pub against: String,
}

impl<T> Rule<T> {
    /// Clause and source on one line, memory marked.
    pub fn citation(&self) -> String {
        let memory = if self.from_memory { " (from memory)" } else { "" };
        match self.clause.as_str() {
            "" => format!("{}{memory}", self.source),
            clause => format!("{}, {clause}{memory}", self.source),
        }
    }
}

/// A limit that the job sets otherwise than its rule set.
#[derive(Clone, Debug, PartialEq)]
pub struct Override {
    /// The limit's key: `floor_wood`.
    pub rule: String,
    /// What the rule set says, as it writes it.
    pub was: String,
    /// Its citation.
    pub citation: String,
    /// What the job says.
    pub now: String,
    /// Why, in the words of the job.
    pub why: String,
    /// Where the job says so.
    pub place: Place,
}

/// The limits and conventions of one code or practice.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleSet {
    /// Its key: `us-residential`.
    pub key: String,
    /// What it is called on paper.
    pub name: String,
    /// Tube that an open design takes, by catalogue key.
    pub tube: Rule<String>,
    /// Hottest floor where people stay.
    pub floor_living: Rule<Temperature>,
    /// Hottest floor in a bath.
    pub floor_bath: Rule<Temperature>,
    /// Hottest floor where nobody stays.
    pub floor_utility: Rule<Temperature>,
    /// Hottest strip along outside walls.
    pub floor_perimeter: Rule<Temperature>,
    /// Hottest spot of a floor where people stay.
    pub peak_living: Rule<Temperature>,
    /// Hottest spot of a floor in a bath.
    pub peak_bath: Rule<Temperature>,
    /// Hottest spot of a floor where nobody stays.
    pub peak_utility: Rule<Temperature>,
    /// Hottest spot of the strip along outside walls.
    pub peak_perimeter: Rule<Temperature>,
    /// Hottest wood floor, at any spot.
    pub floor_wood: Rule<Temperature>,
    /// Hottest resilient floor, at any spot.
    pub floor_resilient: Rule<Temperature>,
    /// Hottest floor of tile or stone, at any spot.
    pub floor_stone: Rule<Temperature>,
    /// Hottest supply water into a slab or screed.
    pub supply_slab: Rule<Temperature>,
    /// Hottest supply water beside gypsum board or plaster.
    pub supply_gypsum: Rule<Temperature>,
    /// Hottest supply water into boards, plates and bare tube.
    pub supply_dry: Rule<Temperature>,
    /// Supply temperature that an open design stays under where it can.
    pub supply_preferred: Rule<Temperature>,
    /// How far water cools in the loop that sets the supply, unless the text says otherwise.
    pub drop: Rule<TemperatureDifference>,
    /// How far water cools at least in any other loop.
    pub drop_least: Rule<TemperatureDifference>,
    /// How far water may cool in any other loop.
    pub drop_most: Rule<TemperatureDifference>,
    /// Which rooms set the supply temperature, unless the text says otherwise.
    pub supply_for: Rule<SupplyRule>,
    /// How far water cools in each loop, unless the text says otherwise.
    pub drops: Rule<DropRule>,
    /// How far the water that rooms need may differ for one circuit to serve them.
    pub circuit_spread: Rule<TemperatureDifference>,
    /// Hottest surface of a wall panel.
    pub wall_surface: Rule<Temperature>,
    /// Hottest surface of a ceiling panel.
    pub ceiling_surface: Rule<Temperature>,
    /// From the surface of a wall panel to its room, radiation and convection together.
    pub wall_film: Rule<Transmittance>,
    /// The same of a ceiling panel.
    pub ceiling_film: Rule<Transmittance>,
    /// Longest loop, by tube key, connections included.
    pub loop_length: Vec<(String, Rule<Length>)>,
    /// Spacings that an open design chooses from, widest first.
    pub spacings: Rule<Vec<Length>>,
    /// Closest spacing that is laid.
    pub spacing_least: Rule<Length>,
    /// Widest spacing that is laid.
    pub spacing_most: Rule<Length>,
    /// Least cover over tube in concrete.
    pub cover_concrete: Rule<Length>,
    /// Least cover over tube in screed.
    pub cover_screed: Rule<Length>,
    /// Least cover over tube in poured gypsum.
    pub cover_gypsum: Rule<Length>,
    /// Weight that a floor on joists may gain before an engineer must look.
    pub added_weight: Rule<ArealMass>,
    /// Widest strip along outside walls that counts as one.
    pub perimeter_depth: Rule<Length>,
    /// Gap below a door that a raised floor may use up.
    pub door_gap: Rule<Length>,
    /// How much one riser of a stair may differ from the others.
    pub riser_difference: Rule<Length>,
    /// How far an appliance under a counter can be let down.
    pub appliance_gap: Rule<Length>,
    /// Distance of the outermost tube from a wall.
    pub wall_clearance: Rule<Length>,
    /// Least distance between neighbouring leader tubes, centre to centre.
    pub leader_gap: Rule<Length>,
    /// Tube in the floor of a room below which it takes no loop of its own but shares a neighbour's.
    pub loop_least: Rule<Length>,
    /// How much warmer or cooler than its neighbour's a room may be wished that shares its loop.
    pub shared_indoor: Rule<TemperatureDifference>,
    /// Most heat per floor of a room that shares a loop, over that of the neighbour.
    pub shared_heat: Rule<Ratio>,
    /// Share of the longest loop up to which loops may be filled by a room that they take in.
    pub shared_full: Rule<Ratio>,
    /// Length of the sleeve on tube that crosses a movement joint, half of it to each side.
    pub joint_sleeve: Rule<Length>,
    /// Least distance from the bottom of a saw cut to the tube below it.
    pub saw_cut_clearance: Rule<Length>,
    /// Least distance from the edge of a toilet's flange to the middle of a tube.
    pub flange_clearance: Rule<Length>,
    /// Diameter of a toilet's flange where the text gives none.
    pub flange_diameter: Rule<Length>,
    /// Width of a plate below a wall where the text gives none.
    pub plate_width: Rule<Length>,
    /// Width of a door's sill where the text gives none.
    pub sill_width: Rule<Length>,
    /// Least distance of drills and fasteners from the centre of a tube.
    pub fastener_clearance: Rule<Length>,
    /// Fastest water in a loop.
    pub velocity_most: Rule<Velocity>,
    /// Lengths of coils that can be bought, where the job names none.
    pub coil_lengths: Rule<Vec<Length>>,
    /// Tube cut for each loop beyond its drawn length.
    pub cut_allowance: Rule<Length>,
    /// How far a laid loop may differ from the drawn one, as a share of it, before it is told.
    pub laid_difference: Rule<Ratio>,
    /// How much the design day's ground loss exceeds that at the annual mean.
    pub ground_swing: Rule<Ratio>,
    /// How much ground water within a metre of the slab adds.
    pub ground_water: Rule<Ratio>,
    /// Least resistance below a heated floor on the ground.
    pub insulation_ground: Rule<AreaResistance>,
    /// Least resistance below a heated floor over a heated room.
    pub insulation_heated: Rule<AreaResistance>,
    /// Least resistance below a heated floor over what nobody heats.
    pub insulation_unheated: Rule<AreaResistance>,
    /// The same over outdoor air, by how cold that gets.
    pub insulation_outdoors: Vec<OutdoorInsulation>,
    /// Which faces of walls and floors areas are taken from.
    pub dimensions: Rule<Dimensions>,
    /// Allowance on the U-value of faces to outdoors for thermal bridges; its comment says what
    /// it covers.
    pub thermal_bridges: Rule<Transmittance>,
    /// Air films of surfaces.
    pub films: Rule<Films>,
    /// Whether heat from warmer neighbours lowers a room's load.
    pub warmer_neighbours: Rule<WarmerNeighbours>,
    /// How loss to the ground is found.
    pub ground_method: Rule<GroundMethod>,
    /// Perimeter factors of slabs, for the method that asks for them.
    pub edge_factors: Vec<EdgeFactor>,
    /// How the temperature of unheated spaces is found.
    pub unheated_method: Rule<UnheatedMethod>,
    /// Temperature factors of unheated spaces, by kind.
    pub space_factors: Vec<SpaceFactor>,
    /// How warm the next house is taken to be.
    pub next_house: Rule<NextHouse>,
    /// How a blower-door test gives the air change of a room.
    pub blower_door: Rule<BlowerDoorMethod>,
    /// Divisor of the air change at 50 Pa.
    pub blower_divisor: Rule<Ratio>,
    /// Shielding coefficient of a room with more than one outside wall.
    pub shielding: Rule<Ratio>,
    /// Least air change of a room where leakage was measured.
    pub air_least: Rule<AirChange>,
    /// Share of the sum of all rooms' leakage that comes into the house at one time.
    pub leakage_share: Rule<Ratio>,
    /// Deepest floor in the ground that still counts as a slab at grade, for perimeter factors.
    pub slab_at_grade: Rule<Length>,
    /// Usual heat losses per floor area, by age, oldest first.
    pub usual_losses: Vec<UsualLoss>,
    /// Holes in joists, by how the joists are made.
    pub joist_holes: Vec<JoistHoles>,
    /// How much wider a hole through a joist is drilled than its tube.
    pub hole_over_tube: Rule<Length>,
    /// Nearest that holes for tube are drilled to a bearing.
    pub lane_nearest: Rule<Length>,
    /// Farthest that they are drilled from it.
    pub lane_farthest: Rule<Length>,
    /// Gap between plates on one tube, for their expansion.
    pub plate_gap: Rule<Length>,
    /// What the job sets otherwise.
    pub overrides: Vec<Override>,
}

impl RuleSet {
    /// The longest loop of that tube.
    pub fn loop_length(&self, tube: &str) -> Option<&Rule<Length>> {
        self.loop_length.iter().find(|(key, _)| key == tube).map(|(_, rule)| rule)
    }

    /// What it says about holes in joists made like that.
    pub fn joist_holes(&self, kind: JoistKind) -> Option<&JoistHoles> {
        self.joist_holes.iter().find(|holes| holes.kind == kind)
    }
}

/// A rule on a quantity, for citing it beside a number.
impl<Q: Quantity> Rule<Q> {
    /// The limit in SI.
    pub fn si(&self) -> f64 {
        self.value.si()
    }
}
