//! Settled water as figures: flow, friction, head.

use super::{Flows, LoopFlow, ManifoldFlow};
use crate::balance::Settled;
use crate::emitters::Floor;
use crate::figure::{Figure, Given, How, Work};
use crate::loops::TubeLoop;
use job::{Fluid, Job, Tube};
use laws::fluids::{glycol, water};
use laws::{Law, LawError, friction, hydraulics};
use quantity::{
    Conductivity, Density, Flow, Head, Length, MassFlow, Power, PressureDifference,
    PressureGradient, Quantity, Ratio, SpecificHeat, Temperature, TemperatureDifference, Velocity,
    Viscosity,
};
use std::sync::Arc;

/// Loss of a quarter turn beyond the friction of its own arc.
///
/// Rounded bends at Re 5000 of a bend radius of 5 to 8 bores lose K = 0.45 to 0.61, of which the
/// arc's length explains all but this (cross-read with a general fluid library).
const QUARTER_TURN_K: f64 = 0.15;

/// What the fluid is like at one temperature.
#[derive(Clone, Debug)]
pub(crate) struct Fill {
    pub(crate) density: Figure<Density>,
    pub(crate) specific_heat: Figure<SpecificHeat>,
    pub(crate) viscosity: Figure<Viscosity>,
    pub(crate) conductivity: Figure<Conductivity>,
}

/// The fluid of the job at that temperature.
pub(crate) fn fluid(job: &Job, temperature: &Figure<Temperature>) -> Result<Fill, LawError> {
    let share = Figure::fact("glycol by volume", &job.heating.glycol);
    let with_glycol = job.heating.fluid.value == Fluid::PropyleneGlycol && share.si() > 0.0;
    let inputs: Vec<Given<'_>> = if with_glycol {
        vec![Given::from(&share), Given::from(temperature)]
    } else {
        vec![Given::from(temperature)]
    };
    let pick = |plain: &'static Law, mixed: &'static Law| if with_glycol { mixed } else { plain };
    let heat = pick(&water::WATER_SPECIFIC_HEAT, &glycol::PROPYLENE_GLYCOL_SPECIFIC_HEAT);
    let density = pick(&water::WATER_DENSITY, &glycol::PROPYLENE_GLYCOL_DENSITY);
    let conductivity = pick(&water::WATER_CONDUCTIVITY, &glycol::PROPYLENE_GLYCOL_CONDUCTIVITY);
    let viscosity = pick(&water::WATER_VISCOSITY, &glycol::PROPYLENE_GLYCOL_VISCOSITY);
    Ok(Fill {
        density: Figure::by_law("density of the fluid", density, &inputs)?,
        specific_heat: Figure::by_law("specific heat of the fluid", heat, &inputs)?,
        viscosity: Figure::by_law("viscosity of the fluid", viscosity, &inputs)?,
        conductivity: Figure::by_law("conductivity of the fluid", conductivity, &inputs)?,
    })
}

/// The settled water of one loop as figures.
pub(crate) fn loop_flow(
    job: &Job,
    tube_loop: &TubeLoop,
    floor: &Floor,
    settled: &Settled,
    supply: &Figure<Temperature>,
) -> Result<LoopFlow, LawError> {
    let from = made_from(tube_loop, floor, supply);
    let [heat_up, heat_down, leader_heat] = heats(settled, &from);
    let back = Figure::<Temperature>::settled(
        "return at the port",
        settled.return_k,
        "so that the mean water excess gives the heat needed, within the allowed drop",
        from,
    );
    let how = How::Less(supply.work.clone(), back.work.clone());
    let drop =
        Figure::<TemperatureDifference>::new("temperature drop", supply.si() - back.si(), how);
    let fill = fluid(job, &mean_temperature(supply, &back))?;
    let parts = [heat_up.clone(), heat_down.clone(), leader_heat.clone()];
    let heat = Figure::sum("heat that the loop carries", &parts);
    let inputs =
        [&heat.work, &drop.work, &fill.density.work, &fill.specific_heat.work].map(Given::One);
    let flow: Figure<Flow> = Figure::by_law("flow", &hydraulics::FLOW_FOR_HEAT, &inputs)?;
    let mass_flow = Figure::<MassFlow>::product("mass flow", &[&flow.work, &fill.density.work]);
    let Moving { velocity, reynolds, friction, head } =
        moving(tube_loop, &floor.build_up.tube, &fill, &flow)?;
    Ok(LoopFlow {
        key: tube_loop.key.clone(),
        heat_up,
        heat_down,
        leader_heat,
        supply: supply.clone(),
        back,
        drop,
        mass_flow,
        flow,
        velocity,
        reynolds,
        friction,
        head,
    })
}

/// All that the settled numbers were made from, so that their standing is that of the weakest.
fn made_from(tube_loop: &TubeLoop, floor: &Floor, supply: &Figure<Temperature>) -> Vec<Arc<Work>> {
    let build_up = &floor.build_up;
    let mut made_from = [
        &supply.work,
        &floor.coefficient.work,
        &floor.load.heat.total.work,
        &floor.indoor.work,
        &tube_loop.area.work,
        &tube_loop.leader_length.work,
    ]
    .map(Clone::clone)
    .to_vec();
    made_from.extend(build_up.works());
    made_from
}

/// Heat to the room, below the floor, and of the leaders.
fn heats(settled: &Settled, from: &[Arc<Work>]) -> [Figure<Power>; 3] {
    let power = |name: &str, si: f64, how: &str| Figure::settled(name, si, how, from.to_vec());
    [
        power(
            "heat to the room",
            settled.up_w,
            "section at the mean water excess and the film of its flow × floor of the loop",
        ),
        power(
            "heat below the floor",
            settled.down_w,
            "section to what is below × floor of the loop, and below its leaders",
        ),
        power(
            "heat of the leaders",
            settled.leader_w,
            "their strip as a field with their distance from each other (estimate)",
        ),
    ]
}

/// What the flow does in the tube.
struct Moving {
    velocity: Figure<Velocity>,
    reynolds: Figure<Ratio>,
    friction: Figure<PressureDifference>,
    head: Figure<Head>,
}

fn moving(
    tube_loop: &TubeLoop,
    tube: &Tube,
    fill: &Fill,
    flow: &Figure<Flow>,
) -> Result<Moving, LawError> {
    let catalogue = || How::Catalogue(format!("{}: {}", tube.name, tube.source));
    let bore = Figure::<Length>::new("mean inside diameter", tube.inside.si(), catalogue());
    let rough = Figure::<Length>::new("roughness of the bore", tube.roughness.si(), catalogue());
    let inputs = [&flow.work, &bore.work, &rough.work, &fill.density.work, &fill.viscosity.work];
    let inputs = inputs.map(Given::One);
    let law = &friction::TUBE_PRESSURE_GRADIENT;
    let gradient = Figure::<PressureGradient>::by_law("friction per length", law, &inputs)?;
    let velocity = Figure::by_law_output("velocity", law, &inputs, 1)?;
    let reynolds = Figure::by_law_output("Reynolds number", law, &inputs, 2)?;
    let bends = bend_losses(tube_loop);
    let inputs =
        [&tube_loop.length.work, &gradient.work, &bends.work, &fill.density.work, &velocity.work];
    let friction = Figure::<PressureDifference>::by_law(
        "friction over the loop",
        &friction::CIRCUIT_PRESSURE_DROP,
        &inputs.map(Given::One),
    )?;
    let inputs = [Given::from(&friction), Given::from(&fill.density)];
    let head = Figure::by_law("head", &hydraulics::HEAD_OF_PRESSURE, &inputs)?;
    Ok(Moving { velocity, reynolds, friction, head })
}

fn mean_temperature(
    supply: &Figure<Temperature>,
    back: &Figure<Temperature>,
) -> Figure<Temperature> {
    let from = vec![supply.work.clone(), back.work.clone()];
    let si = (supply.si() + back.si()) / 2.0;
    Figure::settled("mean water temperature", si, "mean of supply and return", from)
}

fn bend_losses(tube_loop: &TubeLoop) -> Figure<Ratio> {
    let turned: f64 = tube_loop.path.bends().iter().map(|bend| bend.turn_rad.abs()).sum();
    let quarters = turned / std::f64::consts::FRAC_PI_2;
    let why = format!(
        "{QUARTER_TURN_K} for each quarter turn beyond its own length, {quarters:.0} quarter turns on the drawing"
    );
    Figure::taken_off("loss of all bends", QUARTER_TURN_K * quarters, why)
}

/// Sums and worst of each manifold.
pub(crate) fn manifolds(job: &Job, loops: &[TubeLoop], flows: &[LoopFlow]) -> Flows {
    let mut manifolds = Vec::new();
    for manifold in &job.manifolds {
        let own: Vec<&LoopFlow> = loops
            .iter()
            .filter(|tube_loop| tube_loop.manifold == manifold.key)
            .filter_map(|tube_loop| flows.iter().find(|flow| flow.key == tube_loop.key))
            .collect();
        manifolds.extend(one_manifold(&manifold.key, &own));
    }
    Flows { loops: flows.to_vec(), manifolds }
}

fn one_manifold(key: &str, own: &[&LoopFlow]) -> Option<ManifoldFlow> {
    let worst = own.iter().fold(None, |worst: Option<&&LoopFlow>, next| match worst {
        Some(most) if most.head.si() >= next.head.si() => Some(most),
        _ => Some(next),
    })?;
    let flow = Figure::sum("flow of all loops", &each(own, |flow| &flow.flow));
    let head = Figure::largest("head of the worst loop", &each(own, |flow| &flow.head))?;
    let parts: Vec<_> = own
        .iter()
        .flat_map(|flow| [flow.heat_up.clone(), flow.heat_down.clone(), flow.leader_heat.clone()])
        .collect();
    let heat = Figure::sum("heat of all loops", &parts);
    let mass: f64 = own.iter().map(|flow| flow.mass_flow.si()).sum();
    let mixed: f64 = own.iter().map(|flow| flow.mass_flow.si() * flow.back.si()).sum();
    let parts = |flow: &&LoopFlow| [flow.back.work.clone(), flow.mass_flow.work.clone()];
    let from: Vec<Arc<Work>> = own.iter().flat_map(parts).collect();
    let back_k = if mass > 0.0 { mixed / mass } else { worst.back.si() };
    let back = Figure::settled("mixed return", back_k, "returns weighted by mass flow", from);
    Some(ManifoldFlow {
        key: key.to_owned(),
        loops: own.iter().map(|flow| flow.key.clone()).collect(),
        flow,
        head,
        worst: worst.key.clone(),
        heat,
        back,
    })
}

fn each<Q: Quantity>(own: &[&LoopFlow], pick: impl Fn(&LoopFlow) -> &Figure<Q>) -> Vec<Figure<Q>> {
    own.iter().map(|flow| pick(flow).clone()).collect()
}
