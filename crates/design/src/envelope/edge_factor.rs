//! Loss to the ground by perimeter factor, and below-grade averages: North American practice.
//!
//! A slab at grade loses by its edge alone, to outdoors; nothing downward comes on top. Deeper
//! floors and walls go by the averages of ASHRAE Fundamentals, to the ground's surface in winter.

use super::construction::film_by;
use super::ground::{floor_resistance, wall_resistance};
use super::layers::layer_resistances;
use super::{Behind, Enclosure, Face, FaceKind, GroundFloor};
use crate::figure::{Figure, Given, How};
use job::{Assembly, Construction, EdgeFactor, EdgeKind, Job, Layer};
use laws::envelope::HeatFlow;
use laws::ground as law;
use quantity::{
    AreaResistance, Conductivity, HeatLossCoefficient, Length, LinearTransmittance, Quantity,
    Ratio, Transmittance,
};

/// Insulation within two per cent of an entry counts as the entry's.
const NEAR: f64 = 0.98;

/// Mean depth of a room's floor along its own outside walls; that of the whole floor for a room
/// that has none; none for a floor at grade.
pub(super) fn depth(enclosure: &Enclosure, floor: &Face) -> Option<Figure<Length>> {
    let in_ground = |face: &&Face| face.kind == FaceKind::Wall && face.behind == Behind::Ground;
    let walls = enclosure.faces.iter().filter(in_ground);
    let walls: Vec<_> = walls.map(|wall| wall.area.clone()).collect();
    match enclosure.exposed_edge.as_ref().filter(|edge| edge.si() > 0.0) {
        Some(_) if walls.is_empty() => None,
        Some(edge) => {
            let walls = Figure::sum("walls in the ground", &walls);
            Some(Figure::quotient("mean depth of the floor", &walls.work, &edge.work))
        }
        None => floor.depth.clone(),
    }
}

/// The heated floors that lie deeper than a slab at grade, as one; none if there are none.
pub(super) fn deep_whole(job: &Job, enclosures: &[Enclosure]) -> Option<GroundFloor> {
    let deep = |enclosure: &Enclosure, face: &Face| {
        let on_ground = face.kind == FaceKind::Floor && face.behind == Behind::Ground;
        let at_grade_m = job.rules.slab_at_grade.si();
        on_ground && depth(enclosure, face).is_some_and(|depth| depth.si() > at_grade_m)
    };
    let (mut areas, mut edges) = (Vec::new(), Vec::new());
    for enclosure in enclosures.iter().filter(|one| !one.unheated && one.floor.is_some()) {
        let floors = enclosure.faces.iter().filter(|face| deep(enclosure, face));
        let before = areas.len();
        areas.extend(floors.map(|face| face.area.clone()));
        if areas.len() > before {
            edges.extend(enclosure.exposed_edge.clone());
        }
    }
    let area = Figure::sum("floor deep in the ground", &areas);
    let exposed_edge = Figure::sum("its exposed edge", &edges);
    let whole = GroundFloor { area, exposed_edge, dimension: None, depth: None };
    (!areas.is_empty()).then_some(whole)
}

/// Heat per degree to outdoors of a room's slab at grade; each of several pieces by its area.
pub(super) fn edge_loss(
    job: &Job,
    enclosure: &Enclosure,
    floor: &Face,
    assembly: &Assembly,
) -> Result<Figure<HeatLossCoefficient>, String> {
    let edge = enclosure.exposed_edge.as_ref();
    let edge = edge.ok_or("the length of the floor's edge along outside walls is not known")?;
    let heated = job.room(&enclosure.room).is_some_and(|room| room.heated.value);
    let factor = factor(job, assembly, heated && holds_tube(assembly))?;
    let name = "loss of the slab by its edge";
    let pieces = |face: &&Face| face.kind == FaceKind::Floor && face.behind == Behind::Ground;
    let areas: Vec<_> =
        enclosure.faces.iter().filter(pieces).map(|face| face.area.clone()).collect();
    if areas.len() < 2 {
        return Ok(Figure::product(name, &[&factor.work, &edge.work]));
    }
    let all = Figure::sum("floor on the ground", &areas);
    let share: Figure<Ratio> = Figure::quotient("share", &floor.area.work, &all.work);
    Ok(Figure::product(name, &[&factor.work, &edge.work, &share.work]))
}

/// The perimeter factor of a slab: the lowest among entries no better insulated than it is.
fn factor(
    job: &Job,
    assembly: &Assembly,
    heated: bool,
) -> Result<Figure<LinearTransmittance>, String> {
    let below_m2k_w = below(job, assembly)?;
    let edge_m2k_w = assembly.edge.as_ref().map_or(0.0, |edge| edge.value.si());
    let reach = |stated: &Option<job::Fact<Length>>| {
        stated.as_ref().map_or(0.0, |length| length.value.si())
    };
    let (depth_m, width_m) = (reach(&assembly.edge_depth), reach(&assembly.edge_width));
    let is_there = |entry: &&EdgeFactor| {
        let wanted_m2k_w = NEAR * entry.resistance.si();
        let wanted_m = NEAR * entry.reach.si();
        match entry.kind {
            EdgeKind::None => true,
            EdgeKind::Vertical => edge_m2k_w >= wanted_m2k_w && depth_m >= wanted_m,
            EdgeKind::Horizontal => edge_m2k_w >= wanted_m2k_w && width_m >= wanted_m,
            EdgeKind::Full => edge_m2k_w.min(below_m2k_w) >= wanted_m2k_w,
        }
    };
    let entries = job.rules.edge_factors.iter().filter(|entry| entry.heated == heated);
    let best = entries.filter(is_there).min_by(|a, b| a.factor.si().total_cmp(&b.factor.si()));
    let best = best.ok_or_else(|| {
        let kind = if heated { "a heated" } else { "an unheated" };
        format!("the rule set has no perimeter factor for {kind} slab like {}", assembly.key)
    })?;
    Ok(Figure::rule(format!("perimeter factor of {}", assembly.key), &best.factor))
}

fn holds_tube(assembly: &Assembly) -> bool {
    tube_layer(assembly).is_some()
}

/// Number of the layer that holds the tube.
fn tube_layer(assembly: &Assembly) -> Option<usize> {
    let Some(Construction::Layers(layers)) = &assembly.construction else { return None };
    let holds = |layer: &Layer| matches!(layer, Layer::Material { holds_tube: true, .. });
    layers.value.iter().position(holds)
}

/// Resistance below the tube, or of the whole slab where there is none.
fn below(job: &Job, assembly: &Assembly) -> Result<f64, String> {
    let Some(Construction::Layers(layers)) = &assembly.construction else {
        return Ok(floor_resistance(job, assembly)?.si());
    };
    let under = tube_layer(assembly).map_or(0, |layer| layer + 1);
    let layers = layer_resistances(&layers.value[under..], assembly, layers.place, &job.catalogue)?;
    Ok(layers.iter().map(Figure::si).sum())
}

/// Mean U-value of a floor that lies deep in the ground.
pub(super) fn deep_floor(
    job: &Job,
    assembly: &Assembly,
    whole: &GroundFloor,
    depth: &Figure<Length>,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
    let layers = floor_resistance(job, assembly)?;
    let inside = film_by(job.rules.films.value, HeatFlow::Down, true).map_err(told)?;
    let resistance = Figure::<AreaResistance>::sum("floor and inside film", &[layers, inside]);
    let ground = Figure::<Conductivity>::fact("conductivity of the ground", &job.outdoors.ground);
    let width = shorter_side(whole);
    let inputs = [&width.work, &depth.work, &resistance.work, &ground.work];
    let name = format!("U of {} in the ground", assembly.key);
    Figure::by_law(name, &law::BELOW_GRADE_FLOOR_TRANSMITTANCE, &inputs.map(Given::One))
        .map_err(told)
}

/// The shorter side of the rectangle that has the floor's area and edge.
fn shorter_side(whole: &GroundFloor) -> Figure<Length> {
    let (area_m2, half_m) = (whole.area.si(), whole.exposed_edge.si() / 2.0);
    // Sides a and b with ab the area and a + b half the edge; a square where the edge is short.
    let rest = half_m * half_m / 4.0 - area_m2;
    let side_m = if rest > 0.0 { half_m / 2.0 - rest.sqrt() } else { area_m2.sqrt() };
    Figure::settled(
        "shorter side of the floor",
        side_m,
        "of the rectangle with its area and its exposed edge",
        vec![whole.area.work.clone(), whole.exposed_edge.work.clone()],
    )
}

/// Mean U-value of a wall in the ground, from the depth of its upper edge down to the floor's.
pub(super) fn deep_wall(
    job: &Job,
    assembly: &Assembly,
    top: Option<&Figure<Length>>,
    depth: &Figure<Length>,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("wall {}: {error}", assembly.key);
    let layers = wall_resistance(job, assembly)?;
    let inside = film_by(job.rules.films.value, HeatFlow::Horizontal, true).map_err(told)?;
    let resistance = Figure::<AreaResistance>::sum("wall and inside film", &[layers, inside]);
    let ground = Figure::<Conductivity>::fact("conductivity of the ground", &job.outdoors.ground);
    let surface = || {
        let how = How::Decided("the wall is taken from the ground's surface down".to_owned());
        Figure::<Length>::new("ground's surface", 0.0, how)
    };
    let top = top.cloned().unwrap_or_else(surface);
    let inputs = [&top.work, &depth.work, &resistance.work, &ground.work];
    let name = format!("U of {} in the ground", assembly.key);
    Figure::by_law(name, &law::BELOW_GRADE_WALL_TRANSMITTANCE, &inputs.map(Given::One))
        .map_err(told)
}
