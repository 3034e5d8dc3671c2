//! Outdoor air of each room, and of several rooms at one time.
//!
//! A room takes the larger of what leaks in on its windward hour and the least that it must have,
//! less what is blown in or drawn off on purpose, and that on top. The house does not take the sum:
//! air that leaks into one side leaves at the other, so by EN 12831:2003 its own leaks count as the
//! rule set's share of the sum over rooms, and no less than the sum of what its rooms must have.

use super::case::{Case, difference};
use crate::envelope::{Behind, Enclosure, FaceKind};
use crate::figure::{Figure, Given, How};
use job::{BlowerDoorMethod, Fact};
use laws::{air as law, conventions, envelope};
use quantity::{
    AirChange, AirFlow, AirVolume, Density, HeatLossCoefficient, Length, Power, Quantity, Ratio,
    SpecificHeat, Temperature,
};

/// Specific heat of air, J/kgK.
pub(super) const AIR_J_KGK: f64 = 1006.0;

/// Outdoor air of one room.
#[derive(Clone)]
pub(super) struct RoomAir {
    /// Through leaks, where the house's leakage is known.
    leaks: Option<Figure<AirFlow>>,
    /// What must come in by itself, purpose-moved air taken off.
    least: Figure<AirFlow>,
    /// What comes in on purpose: as it flows, and as it weighs after heat recovery.
    moved: Option<[Figure<AirFlow>; 2]>,
    density: Figure<Density>,
    indoor: Figure<Temperature>,
}

/// A flow of outdoor air with what it costs.
#[derive(Clone)]
pub(super) struct AirLoss {
    pub(super) flow: Figure<AirFlow>,
    pub(super) coefficient: Figure<HeatLossCoefficient>,
    pub(super) heat: Figure<Power>,
}

impl RoomAir {
    /// What comes in by itself when the room stands alone in the wind.
    fn natural(&self) -> Figure<AirFlow> {
        let both: Vec<_> = self.leaks.iter().chain([&self.least]).cloned().collect();
        match both.as_slice() {
            [_, _] => Figure::largest("outdoor air by itself", &both)
                .unwrap_or_else(|| self.least.clone()),
            _ => self.least.clone(),
        }
    }

    /// What so much air coming in by itself costs, purpose-moved air on top.
    fn loss(&self, natural: &Figure<AirFlow>, case: &Case<'_>) -> Result<AirLoss, String> {
        let told = |error: laws::LawError| format!("air: {error}");
        let (flow, weighed) = match &self.moved {
            None => (natural.clone(), natural.clone()),
            Some([moved, weighed]) => (
                Figure::sum("outdoor air", &[natural.clone(), moved.clone()]),
                Figure::sum("outdoor air after recovery", &[natural.clone(), weighed.clone()]),
            ),
        };
        let heat = Figure::<SpecificHeat>::new(
            "specific heat of air",
            AIR_J_KGK,
            How::Catalogue(
                "dry air at room temperature, 1006 J/kgK (common handbook value)".to_owned(),
            ),
        );
        let inputs = [&weighed.work, &self.density.work, &heat.work];
        let coefficient =
            Figure::by_law("outdoor air", &law::AIR_FLOW_LOSS, &inputs.map(Given::One))
                .map_err(told)?;
        let difference = difference(&self.indoor, &case.weather.outdoor);
        let inputs = [Given::from(&coefficient), Given::from(&difference)];
        let heat = Figure::by_law("outdoor air to warm", &envelope::TRANSMISSION_HEAT, &inputs);
        Ok(AirLoss { flow, coefficient, heat: heat.map_err(told)? })
    }

    /// What the room's own outdoor air costs.
    pub(super) fn own_loss(&self, case: &Case<'_>) -> Result<AirLoss, String> {
        self.loss(&self.natural(), case)
    }
}

/// Outdoor air of several rooms at one time.
///
/// Leaks count by the rule set's share of their sum, all least air changes as they are; the larger
/// of both sums holds (EN 12831:2003). A room alone keeps its own.
pub(super) fn together(rooms: &[&RoomAir], case: &Case<'_>) -> Result<AirLoss, String> {
    let rule = &case.job.rules.leakage_share;
    let by_room = case.leaks_add_up();
    let share = if by_room { 1.0 } else { rule.si() };
    let leaks: f64 = rooms.iter().filter_map(|room| Some(room.leaks.as_ref()?.si())).sum();
    let least: f64 = rooms.iter().map(|room| room.least.si()).sum();
    let by_leaks = share * leaks >= least;
    let natural = |room: &RoomAir| match &room.leaks {
        _ if rooms.len() == 1 => room.natural(),
        Some(leaks) if by_leaks && by_room => leaks.clone(),
        Some(leaks) if by_leaks => {
            let share = Figure::<Ratio>::rule("share of leaks at one time", rule);
            Figure::product("leaks at one time", &[&leaks.work, &share.work])
        }
        _ => room.least.clone(),
    };
    let losses: Result<Vec<AirLoss>, String> =
        rooms.iter().map(|room| room.loss(&natural(room), case)).collect();
    let losses = losses?;
    let known = rooms.iter().any(|room| room.leaks.is_some());
    let words = match (rooms.len(), known, by_leaks) {
        (1, ..) | (_, false, _) => "outdoor air of its rooms",
        (.., true) => "outdoor air at one time: the leaks are more than its rooms must have",
        (.., false) => "outdoor air at one time: its rooms must have more than leaks in",
    };
    let flows: Vec<_> = losses.iter().map(|loss| loss.flow.clone()).collect();
    let coefficients: Vec<_> = losses.iter().map(|loss| loss.coefficient.clone()).collect();
    let heats: Vec<_> = losses.iter().map(|loss| loss.heat.clone()).collect();
    Ok(AirLoss {
        flow: Figure::sum(words, &flows),
        coefficient: Figure::sum(words, &coefficients),
        heat: Figure::sum("outdoor air to warm at one time", &heats),
    })
}

/// The air of every room, by number; the error says what is missing.
pub(super) fn plan(case: &Case<'_>) -> Vec<Result<RoomAir, String>> {
    let volumes: Vec<_> = case.envelope.enclosures.iter().map(volume).collect();
    let moved = super::fans::moved(case, &volumes);
    let leaks = HouseLeaks::of(case);
    let rooms = case.envelope.enclosures.iter().zip(volumes).zip(moved);
    rooms.map(|((one, volume), moved)| room(case, one, volume, moved, &leaks)).collect()
}

/// Air in a room.
fn volume(enclosure: &Enclosure) -> Result<Figure<AirVolume>, String> {
    if let Some(volume) = &enclosure.volume {
        return Ok(volume.clone());
    }
    let area = enclosure.area.as_ref().ok_or("no floor area")?;
    let height = enclosure.height.as_ref().ok_or("no ceiling height")?;
    Ok(Figure::product("air in the room", &[&area.work, &height.work]))
}

fn room(
    case: &Case<'_>,
    enclosure: &Enclosure,
    volume: Result<Figure<AirVolume>, String>,
    moved: Option<[Figure<AirFlow>; 2]>,
    leaks: &HouseLeaks,
) -> Result<RoomAir, String> {
    let told = |error: laws::LawError| format!("air: {error}");
    let job = case.job;
    let volume = volume?;
    let leaks = leaks.of_room(case, enclosure, &volume).map_err(told)?;
    let own = case.stated(&enclosure.room).and_then(|room| room.air_changes.as_ref());
    let stated: &Fact<AirChange> = own.unwrap_or(&job.house.air_changes);
    let supposed = own.is_none() && stated.place().is_none();
    let changes = match (&leaks, supposed) {
        // What was measured takes the place of what was supposed.
        (Some(_), true) => Figure::rule("least air changes", &job.rules.air_least),
        _ => Figure::fact("air changes", stated),
    };
    let wanted: Figure<AirFlow> = Figure::product("outdoor air", &[&volume.work, &changes.work]);
    // A stated air change is what comes in by itself; one that must be had takes what fans bring.
    let least = match &moved {
        Some([flow, _]) if leaks.is_some() || supposed => less_moved(&wanted, flow),
        _ => wanted,
    };
    let altitude = Figure::fact("altitude", &job.outdoors.altitude);
    let density = Figure::by_law(
        "density of the air",
        &law::AIR_DENSITY_AT_ALTITUDE,
        &[Given::from(&altitude), Given::from(&enclosure.indoor)],
    )
    .map_err(told)?;
    Ok(RoomAir { leaks, least, moved, density, indoor: enclosure.indoor.clone() })
}

fn less_moved(wanted: &Figure<AirFlow>, moved: &Figure<AirFlow>) -> Figure<AirFlow> {
    let name = "outdoor air still wanted beside the fans";
    match wanted.si() > moved.si() {
        true => wanted.less(name, moved),
        false => Figure::settled(
            name,
            0.0,
            "fans bring all that the room must have",
            vec![wanted.work.clone(), moved.work.clone()],
        ),
    }
}

/// What is known of the house's leaks.
enum HouseLeaks {
    /// Nothing.
    Unknown,
    /// Air change at 50 Pa.
    BlowerDoor(Figure<AirChange>),
    /// A flow of the house at the design hour, shared out by outside area.
    Flow(Result<Figure<AirFlow>, laws::LawError>, Figure<quantity::Area>),
}

impl HouseLeaks {
    fn of(case: &Case<'_>) -> Self {
        let house = &case.job.house;
        if let Some(area) = &house.leakage_area {
            let area = Figure::fact("effective leakage area", area);
            return HouseLeaks::Flow(house_flow(case, &area), outside_area(case));
        }
        match &house.blower_door {
            Some(n50) => HouseLeaks::BlowerDoor(Figure::fact("air changes at 50 Pa", n50)),
            None => HouseLeaks::Unknown,
        }
    }

    fn of_room(
        &self,
        case: &Case<'_>,
        enclosure: &Enclosure,
        volume: &Figure<AirVolume>,
    ) -> Result<Option<Figure<AirFlow>>, laws::LawError> {
        let rules = &case.job.rules;
        let exposed = outside_faces(case, enclosure).next().is_some();
        match self {
            HouseLeaks::Unknown => Ok(None),
            HouseLeaks::Flow(flow, outside) => {
                let own = room_outside(case, enclosure);
                if outside.si() <= 0.0 {
                    return Ok(None);
                }
                let share: Figure<Ratio> =
                    Figure::quotient("share of the outside faces", &own.work, &outside.work);
                let flow = flow.clone()?;
                Ok(Some(Figure::product("leaks", &[&flow.work, &share.work])))
            }
            HouseLeaks::BlowerDoor(n50) => match rules.blower_door.value {
                BlowerDoorMethod::Divisor => {
                    let divisor = Figure::<Ratio>::rule("divisor", &rules.blower_divisor);
                    let inputs = [Given::from(n50), Given::from(&divisor)];
                    let name = "air changes through leaks";
                    let changes: Figure<AirChange> =
                        Figure::by_law(name, &law::NATURAL_AIR_CHANGE, &inputs)?;
                    Ok(Some(Figure::product("leaks", &[&volume.work, &changes.work])))
                }
                BlowerDoorMethod::Shielding => {
                    let shielding = match exposed {
                        true => Figure::<Ratio>::rule("shielding", &rules.shielding),
                        false => Figure::new(
                            "shielding",
                            0.0,
                            How::Rule("EN 12831:2003: no outside face, no leaks".to_owned()),
                        ),
                    };
                    let height = height_correction(case, enclosure)?;
                    let inputs = [&volume.work, &n50.work, &shielding.work, &height.work];
                    let law = &law::INFILTRATION_AIR_FLOW;
                    Figure::by_law("leaks", law, &inputs.map(Given::One)).map(Some)
                }
            },
        }
    }
}

/// Height of the ground outside over the lowest floor, metres.
fn ground_m(case: &Case<'_>) -> f64 {
    let lowest = case.job.storeys.first().and_then(|storey| storey.ground.as_ref());
    lowest.map_or(0.0, |ground| ground.value.si())
}

fn height_correction(
    case: &Case<'_>,
    enclosure: &Enclosure,
) -> Result<Figure<Ratio>, laws::LawError> {
    let half_m = enclosure.height.as_ref().map_or(0.0, |height| height.si() / 2.0);
    let middle_m = (enclosure.level_m - ground_m(case) + half_m).max(0.0);
    let what = "floor level and half the ceiling height";
    let middle = Figure::<Length>::taken_off("middle of the room over the ground", middle_m, what);
    Figure::by_law(
        "correction for height",
        &conventions::HEIGHT_CORRECTION,
        &[Given::from(&middle)],
    )
}

/// Faces of a room that air leaks through.
fn outside_faces<'a>(
    case: &'a Case<'_>,
    enclosure: &'a Enclosure,
) -> impl Iterator<Item = &'a crate::envelope::Face> + 'a {
    let outside = |behind: &Behind| *behind == Behind::Outdoors || case.looks_into_cold(behind);
    enclosure.faces.iter().filter(move |face| outside(&face.behind))
}

/// Outside area of a room, by which a leakage flow is shared out.
fn room_outside(case: &Case<'_>, enclosure: &Enclosure) -> Figure<quantity::Area> {
    if enclosure.outside_area.si() > 0.0 {
        return enclosure.outside_area.clone();
    }
    let faces = outside_faces(case, enclosure).filter(|face| face.kind != FaceKind::Floor);
    let areas: Vec<_> = faces.map(|face| face.area.clone()).collect();
    Figure::sum("outside faces", &areas)
}

/// Outside area of all heated rooms.
fn outside_area(case: &Case<'_>) -> Figure<quantity::Area> {
    let heated = case.envelope.enclosures.iter().filter(|one| !one.unheated);
    let areas: Vec<_> = heated.map(|one| room_outside(case, one)).collect();
    Figure::sum("outside faces of the house", &areas)
}

/// Flow that wind and stack drive through the leaks of the house at the design hour.
fn house_flow(
    case: &Case<'_>,
    area: &Figure<quantity::Area>,
) -> Result<Figure<AirFlow>, laws::LawError> {
    let height = stack_height(case);
    let difference = difference(&case.usual(), &case.weather.outdoor);
    let flue = Figure::fact("share of the leaks that a flue makes", &case.job.house.flue_share);
    let inputs = [&area.work, &height.work, &difference.work, &flue.work];
    let name = "leaks of the house by wind and stack";
    Figure::by_law(name, &law::LEAKAGE_AIR_FLOW, &inputs.map(Given::One))
}

/// Mean height over the ground of the ceilings that close the house.
fn stack_height(case: &Case<'_>) -> Figure<Length> {
    let closes = |face: &&crate::envelope::Face| {
        let above = matches!(face.kind, FaceKind::Ceiling | FaceKind::Roof);
        above && (face.behind == Behind::Outdoors || case.looks_into_cold(&face.behind))
    };
    let (mut area_m2, mut moment_m3) = (0.0, 0.0);
    for one in case.envelope.enclosures.iter().filter(|one| !one.unheated) {
        let Some(height) = &one.height else { continue };
        let own: f64 = one.faces.iter().filter(closes).map(|face| face.area.si()).sum();
        area_m2 += own;
        moment_m3 += own * (one.level_m - ground_m(case) + height.si());
    }
    let name = "mean height of the ceilings over the ground";
    if area_m2 > 0.0 {
        return Figure::taken_off(name, moment_m3 / area_m2, "ceilings under roof or attic");
    }
    Figure::assumed(name, 2.5, "no ceiling under roof or attic is known; one storey")
}
