//! What each floor gives once the water has settled.

use super::helpers::{Around, helpers};
use super::limited::heated_parts;
use super::section::Sections;
use super::{BuildUp, Choice, Emitters, Floor, FloorSection, HeatedFloor, supply_for};
use crate::balance::{Settled, Solution, strip};
use crate::figure::{Figure, Given, How};
use crate::loops::TubeLoop;
use job::{Finding, Job, Severity};
use laws::{LawError, panel as law};
use quantity::{
    Area, HeatFlux, Power, Quantity, Temperature, TemperatureDifference, Transmittance,
};

/// The heated floors as designed, and the other emitters.
pub(crate) fn emitters(
    around: &Around<'_>,
    loops: &[TubeLoop],
    solution: &Solution,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Emitters {
    let choice = around.choice;
    let floors = choice
        .floors
        .iter()
        .filter_map(|floor| {
            let own: Vec<&Settled> = loops
                .iter()
                .zip(&solution.loops)
                .filter(|(tube_loop, _)| tube_loop.floor_in(&floor.room).is_some())
                .map(|(_, settled)| settled)
                .collect();
            let own = Own { settled: &own, up_w: solution.up_w(loops, &floor.room) };
            heated(around.job, choice, floor, &own, credit(choice, floor, loops, solution))
                .map_err(|error| {
                    let subject = format!("room.{}", floor.room);
                    let message = format!("cannot tell what its floor gives: {error}");
                    let advice = "look at its temperature, its layers and the supply temperature";
                    let stop = Severity::Stop;
                    findings.push(Finding::new(stop, "no-floor-output", subject, message, advice));
                })
                .ok()
        })
        .collect();
    let helpers = helpers(around, sections, findings);
    Emitters {
        floors,
        waters: choice.waters.clone(),
        rule: choice.rule.clone(),
        governed: Vec::new(),
        groups: Vec::new(),
        helpers,
    }
}

/// The loops of one floor with their water settled.
struct Own<'a> {
    settled: &'a [&'a Settled],
    /// What all of them give to this room.
    up_w: f64,
}

fn heated(
    job: &Job,
    choice: &Choice,
    floor: &Floor,
    own: &Own<'_>,
    credit: Figure<Power>,
) -> Result<HeatedFloor, LawError> {
    let supply_k = choice.supply_k(floor.circuit.as_deref()).unwrap_or(floor.indoor.si());
    let needed = floor.load.heat.total.less("heat the floor must give", &credit);
    let flux_needed: Figure<HeatFlux> =
        Figure::quotient("heat needed per heated floor", &needed.work, &floor.area.work);
    let passing = passing(floor);
    let to_give = Figure::sum(
        "heat to the room, and past the tubes",
        &[flux_needed.clone(), passing.clone()],
    );
    let inputs = [Given::from(&to_give), Given::from(&floor.coefficient)];
    let excess_needed = match flux_needed.si() > 0.0 && to_give.si() > 0.0 {
        true => Figure::by_law("water excess needed", &law::REQUIRED_EXCESS, &inputs)?,
        false => none_needed(&flux_needed),
    };
    let wanted = flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    let (room_k, drop_k) = (floor.indoor.si(), choice.drop.si());
    let needed_k = supply_for(wanted, passing.si(), floor.coefficient.si(), room_k, drop_k);
    let supply_needed = Figure::<Temperature>::settled(
        "supply temperature needed",
        needed_k,
        "room temperature plus the supply excess whose logarithmic mean gives the heat needed",
        vec![excess_needed.work.clone(), choice.drop.work.clone(), floor.indoor.work.clone()],
    );
    let flux = as_designed(floor, own, supply_k, &choice.drop, &credit);
    let Section { flux_down, warmest, coolest, water, section } = section(floor, &flux, own);
    let both = Figure::sum("heat up and down", &[flux.clone(), flux_down.clone()]);
    let up_share = match both.si() > 0.0 {
        true => Figure::quotient("share that goes up", &flux.work, &both.work),
        false => Figure::settled("share that goes up", 0.0, "it gives no heat", vec![both.work]),
    };
    let inputs = [Given::from(&flux), Given::from(&floor.indoor)];
    let surface =
        Figure::by_law("mean floor temperature", &law::FLOOR_SURFACE_TEMPERATURE, &inputs)?;
    let parts = heated_parts(job, floor, water.si() - floor.indoor.si());
    let spots: Vec<Figure<Temperature>> = parts.iter().map(|part| part.warmest.clone()).collect();
    let warmest = Figure::largest("warmest spot of its parts", &spots).unwrap_or(warmest);
    let output = Figure::product("heat the floor gives", &[&flux.work, &floor.area.work]);
    let short = needed.less("heat short", &output);
    Ok(HeatedFloor {
        room: floor.room.clone(),
        circuit: floor.circuit.clone(),
        area: floor.area.clone(),
        tube: floor.build_up.tube.key.clone(),
        spacing: floor.spacing.clone(),
        finish: floor.build_up.covering.clone(),
        leaders: credit,
        needed,
        flux_needed,
        output_coefficient: floor.coefficient.clone(),
        published_coefficient: floor.build_up.published_coefficient(&floor.spacing_laid),
        passing,
        excess_needed,
        supply_needed,
        flux,
        flux_down,
        up_share,
        water,
        surface,
        warmest,
        coolest,
        section,
        surface_limit: floor.limit.clone(),
        parts,
        output,
        short,
    })
}

/// Heat per area that the room loses through its floor past the tubes.
fn passing(floor: &Floor) -> Figure<HeatFlux> {
    let mut from = vec![floor.spacing_laid.work.clone(), floor.indoor.work.clone()];
    from.extend(floor.build_up.works());
    let how = "conduction in two dimensions from room to below, the tubes as warm as the room; and what \
               the room does not get as heat lost by the slab's edge passes film and wall of the tube";
    Figure::settled("heat past the tubes and by the edge", floor.lacking_w_m2(), how, from)
}

/// What the floor's section does at the heat that goes up.
struct Section {
    flux_down: Figure<HeatFlux>,
    warmest: Figure<Temperature>,
    coolest: Figure<Temperature>,
    water: Figure<Temperature>,
    section: Option<FloorSection>,
}

fn section(floor: &Floor, flux: &Figure<HeatFlux>, own: &Own<'_>) -> Section {
    let (room_k, beyond) = (floor.indoor.si(), floor.build_up.beyond());
    let is_off = own.settled.is_empty() && !floor.tubed;
    let excess_k = if is_off { 0.0 } else { floor.response.excess_k(flux.si(), room_k, &beyond) };
    let mut from = vec![flux.work.clone(), floor.coefficient.work.clone()];
    from.push(floor.indoor.work.clone());
    from.extend(floor.build_up.works());
    let surface = |name: &str, over_room_k: f64, at: &str| {
        Figure::settled(
            name,
            room_k + over_room_k,
            format!("surface of the section {at}, at the mean water temperature"),
            from.clone(),
        )
    };
    let [warmest_k, coolest_k] = floor.response.spots_k(excess_k, room_k, &beyond);
    Section {
        flux_down: Figure::settled(
            "heat downward",
            floor.down_w_m2(excess_k),
            "conduction in two dimensions to what is below, and by the slab's edge",
            from.clone(),
        ),
        warmest: surface("warmest spot of the floor", warmest_k, "over a tube"),
        coolest: surface("coolest spot between tubes", coolest_k, "farthest from a tube"),
        water: Figure::settled(
            "mean water of the floor",
            room_k + excess_k,
            "room temperature plus the excess that gives the heat upward",
            from.clone(),
        ),
        section: (!floor.build_up.is_unchecked()).then(|| FloorSection {
            whole: floor.build_up.whole.clone(),
            spacing_m: floor.spacing_laid.si(),
            bore_m: floor.build_up.tube.inside.si(),
            tube_w_mk: floor.tube_w_mk,
            beyond: floor.build_up.beyond_all(),
            held_back_k: floor.response.held_back_k,
            water_k: room_k + excess_k,
            room_k,
            under_rugs: floor.build_up.rugs().map(Figure::si),
            works: [floor.spacing_laid.work.clone()]
                .into_iter()
                .chain(floor.build_up.works())
                .collect(),
        }),
    }
}

/// Heat that leaders give a room on their way through: each by the floor it takes up.
pub(crate) fn credit(
    choice: &Choice,
    floor: &Floor,
    loops: &[TubeLoop],
    solution: &Solution,
) -> Figure<Power> {
    let name = "heat of leaders that cross the room";
    let crossed = choice.crossed.iter().find(|crossed| crossed.room == floor.room);
    let Some(crossed) = crossed else { return Figure::sum(name, &[]) };
    let mut parts = Vec::new();
    for (tube_loop, settled) in loops.iter().zip(&solution.loops) {
        let Some(supply_k) = choice.supply_k(tube_loop.circuit.as_deref()) else { continue };
        let mean_k = (supply_k + settled.return_k) / 2.0;
        let passed = tube_loop.leader.passed.iter().filter(|passed| passed.room == floor.room);
        for passed in passed {
            let Some(output) = strip(&crossed.build_up, passed.pitch_m(), settled.tube_w_mk) else {
                continue;
            };
            let excess = Figure::<TemperatureDifference>::settled(
                format!("mean water of {} less room temperature", tube_loop.key),
                (mean_k - floor.indoor.si() - output.held_back_k).max(0.0),
                "mean of supply and return at the port, less room temperature, and less what heat \
                 lost by the slab's edge takes in film and wall",
                vec![floor.indoor.work.clone()],
            );
            let strip = Figure::<Area>::taken_off(
                format!("floor that leaders of {} take up", tube_loop.key),
                passed.area_m2,
                "both tubes and half the distance to the next, as drawn",
            );
            let coefficient = strip_coefficient(&crossed.build_up, output.room);
            let heat = format!("leaders of {}", tube_loop.key);
            parts.push(Figure::product(heat, &[&strip.work, &coefficient.work, &excess.work]));
        }
    }
    Figure::sum(name, &parts)
}

/// Output of a strip of leaders per area and degree.
fn strip_coefficient(build_up: &BuildUp, up: f64) -> Figure<Transmittance> {
    let how = "output of a field with the leaders' distance from each other (estimate)";
    let name = "heat per area and degree of the leaders' strip";
    Figure::settled(name, up, how, build_up.works())
}

fn none_needed(flux: &Figure<HeatFlux>) -> Figure<TemperatureDifference> {
    let how =
        How::Settled("the room needs no heat from its floor".to_owned(), vec![flux.work.clone()]);
    Figure::new("water excess needed", 0.0, how)
}

/// Heat per area: that of the laid loops; where none is laid, what the water would give.
fn as_designed(
    floor: &Floor,
    own: &Own<'_>,
    supply_k: f64,
    drop: &Figure<TemperatureDifference>,
    leaders: &Figure<Power>,
) -> Figure<HeatFlux> {
    let mut from = vec![
        floor.coefficient.work.clone(),
        floor.indoor.work.clone(),
        floor.load.heat.total.work.clone(),
    ];
    from.push(leaders.work.clone());
    let name = "heat upward";
    if own.settled.is_empty() && !floor.tubed {
        return Figure::settled(name, 0.0, "it has no loop of its own", from);
    }
    if own.settled.is_empty() {
        let supply_excess_k = (supply_k - floor.indoor.si()).max(0.0);
        let drop_k = drop.si().min(0.95 * supply_excess_k);
        let excess_k = law::logarithmic_excess(supply_k, supply_k - drop_k, floor.indoor.si());
        let excess_k = if excess_k.is_finite() { excess_k } else { 0.0 };
        let beyond = floor.build_up.beyond();
        let most = floor.response.up_w_m2(excess_k, floor.indoor.si(), &beyond).max(0.0);
        let how =
            "no loop is laid: what the supply would give with the design drop, as far as needed";
        let wanted = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
        return Figure::settled(name, most.min(wanted), how, from);
    }
    let how = "heat of all its loops over the heated floor";
    Figure::settled(name, own.up_w / floor.area.si(), how, from)
}
