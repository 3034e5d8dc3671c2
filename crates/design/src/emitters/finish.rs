//! What each floor gives once the water has settled.

use super::{BuildUp, Choice, Emitters, Floor, HeatedFloor, supply_for};
use crate::balance::{Settled, Solution, strip_w_m2k};
use crate::figure::{Figure, Given, How};
use crate::loops::TubeLoop;
use job::{Finding, Severity};
use laws::{LawError, panel as law};
use quantity::{
    Area, HeatFlux, Power, Quantity, Temperature, TemperatureDifference, Transmittance,
};

/// The heated floors as designed.
pub(crate) fn emitters(
    choice: &Choice,
    loops: &[TubeLoop],
    solution: &Solution,
    findings: &mut Vec<Finding>,
) -> Emitters {
    let floors = choice
        .floors
        .iter()
        .filter_map(|floor| {
            let own: Vec<&Settled> = loops
                .iter()
                .zip(&solution.loops)
                .filter(|(tube_loop, _)| tube_loop.room == floor.room)
                .map(|(_, settled)| settled)
                .collect();
            heated(choice, floor, &own, credit(choice, floor, loops, solution))
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
    Emitters { floors, supply: choice.supply.clone(), governing: choice.governing.clone() }
}

fn heated(
    choice: &Choice,
    floor: &Floor,
    own: &[&Settled],
    credit: Figure<Power>,
) -> Result<HeatedFloor, LawError> {
    let supply_k = choice.supply.as_ref().map_or(floor.indoor.si(), |supply| supply.value.si());
    let needed = floor.load.heat.total.less("heat the floor must give", &credit);
    let flux_needed: Figure<HeatFlux> =
        Figure::quotient("heat needed per heated floor", &needed.work, &floor.area.work);
    let inputs = [Given::from(&flux_needed), Given::from(&floor.coefficient)];
    let excess_needed = match flux_needed.si() > 0.0 {
        true => Figure::by_law("water excess needed", &law::REQUIRED_EXCESS, &inputs)?,
        false => none_needed(&flux_needed),
    };
    let wanted = flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    let needed_k = supply_for(wanted, floor.coefficient.si(), floor.indoor.si(), choice.drop.si());
    let supply_needed = Figure::<Temperature>::settled(
        "supply temperature needed",
        needed_k,
        "room temperature plus the supply excess whose logarithmic mean gives the heat needed",
        vec![excess_needed.work.clone(), choice.drop.work.clone(), floor.indoor.work.clone()],
    );
    let flux = as_designed(floor, own, supply_k, &choice.drop, &credit);
    let build_up = &floor.build_up;
    let flux_down = build_up.downward.flux(&flux, &build_up.upward, &floor.indoor)?;
    let inputs = [Given::from(&flux), Given::from(&floor.indoor)];
    let surface =
        Figure::by_law("mean floor temperature", &law::FLOOR_SURFACE_TEMPERATURE, &inputs)?;
    let output = Figure::product("heat the floor gives", &[&flux.work, &floor.area.work]);
    let short = needed.less("heat short", &output);
    Ok(HeatedFloor {
        room: floor.room.clone(),
        area: floor.area.clone(),
        tube: floor.build_up.tube.key.clone(),
        spacing: floor.spacing.clone(),
        finish: floor.build_up.covering.clone(),
        leaders: credit,
        needed,
        flux_needed,
        output_coefficient: floor.coefficient.clone(),
        excess_needed,
        supply_needed,
        flux,
        flux_down,
        surface,
        surface_limit: floor.limit.clone(),
        output,
        short,
    })
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
    let (Some(crossed), Some(supply)) = (crossed, &choice.supply) else {
        return Figure::sum(name, &[]);
    };
    let mut parts = Vec::new();
    for (tube_loop, settled) in loops.iter().zip(&solution.loops) {
        let mean_k = (supply.value.si() + settled.return_k) / 2.0;
        let excess = Figure::<TemperatureDifference>::settled(
            format!("mean water of {} less room temperature", tube_loop.key),
            (mean_k - floor.indoor.si()).max(0.0),
            "mean of supply and return at the port, less room temperature",
            vec![floor.indoor.work.clone()],
        );
        let passed = tube_loop.leader.passed.iter().filter(|passed| passed.room == floor.room);
        for passed in passed {
            let strip = Figure::<Area>::taken_off(
                format!("floor that leaders of {} take up", tube_loop.key),
                passed.area_m2,
                "both tubes and half the distance to the next, as drawn",
            );
            let coefficient = strip_coefficient(&crossed.build_up, passed.pitch_m());
            let heat = format!("leaders of {}", tube_loop.key);
            parts.push(Figure::product(heat, &[&strip.work, &coefficient.work, &excess.work]));
        }
    }
    Figure::sum(name, &parts)
}

/// Output of a strip of leaders per area and degree.
fn strip_coefficient(build_up: &BuildUp, pitch_m: f64) -> Figure<Transmittance> {
    Figure::settled(
        "heat per area and degree of the leaders' strip",
        strip_w_m2k(build_up, pitch_m),
        "EN 1264-2 output of a field with the leaders' distance from each other (estimate)",
        [&build_up.cover.work, &build_up.screed.work, &build_up.covering.work]
            .map(Clone::clone)
            .to_vec(),
    )
}

fn none_needed(flux: &Figure<HeatFlux>) -> Figure<TemperatureDifference> {
    let how =
        How::Settled("the room needs no heat from its floor".to_owned(), vec![flux.work.clone()]);
    Figure::new("water excess needed", 0.0, how)
}

/// Heat per area: that of the laid loops; where none is laid, what the water would give.
fn as_designed(
    floor: &Floor,
    own: &[&Settled],
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
    if own.is_empty() && !floor.tubed {
        return Figure::settled(name, 0.0, "it has no loop of its own", from);
    }
    if own.is_empty() {
        let supply_excess_k = (supply_k - floor.indoor.si()).max(0.0);
        let drop_k = drop.si().min(0.95 * supply_excess_k);
        let excess_k = law::logarithmic_excess(supply_k, supply_k - drop_k, floor.indoor.si());
        let most = floor.coefficient.si() * if excess_k.is_finite() { excess_k } else { 0.0 };
        let how =
            "no loop is laid: what the supply would give with the design drop, as far as needed";
        return Figure::settled(name, most.min(floor.flux_needed.si().max(0.0)), how, from);
    }
    let up_w: f64 = own.iter().map(|settled| settled.up_w).sum();
    let how = "heat of all its loops over the heated floor";
    Figure::settled(name, up_w / floor.area.si(), how, from)
}
