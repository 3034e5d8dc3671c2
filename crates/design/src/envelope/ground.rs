//! The floor on the ground, by ISO 13370: one size for the whole, one U-value for each build-up.

use super::FaceKind;
use super::GroundFloor;
use super::construction::{film, layer_resistances};
use crate::figure::{Figure, Given, How};
use job::{Assembly, Construction, Job};
use laws::ground as law;
use quantity::{AreaResistance, Length, Quantity, Transmittance};

/// Thickness taken for outside walls and for edge insulation where nothing states it.
const WALL_M: f64 = 0.15;
const EDGE_INSULATION_M: f64 = 0.05;

/// U-value of floor and ground together, edge insulation included.
pub(super) fn transmittance(
    job: &Job,
    assembly: &Assembly,
    ground: &GroundFloor,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
    let dimension = ground
        .dimension
        .as_ref()
        .ok_or("no edge of the floor is exposed, so its loss to the ground is unknown")?;
    let conductivity = Figure::fact("conductivity of the ground", &job.outdoors.ground);
    let thickness = equivalent_thickness(job, assembly)?;
    let bare: Figure<Transmittance> = Figure::by_law(
        format!("U of {} on the ground", assembly.key),
        &law::SLAB_ON_GROUND_TRANSMITTANCE,
        &[Given::from(dimension), Given::from(&thickness), Given::from(&conductivity)],
    )
    .map_err(told)?;
    let Some(edge) = &assembly.edge else { return Ok(bare) };
    let Some(depth) = &assembly.edge_depth else {
        return Err(format!("floor {}: `edge` needs `edge_depth`", assembly.key));
    };
    let (edge, depth) = (Figure::fact("edge insulation", edge), Figure::fact("its depth", depth));
    let insulation = Figure::<Length>::assumed(
        "thickness of the edge insulation",
        EDGE_INSULATION_M,
        "50 mm; its own thickness hardly matters beside its resistance",
    );
    let inputs = [&depth.work, &insulation.work, &edge.work, &thickness.work, &conductivity.work];
    let change = Figure::<quantity::LinearTransmittance>::by_law(
        "change by edge insulation",
        &law::VERTICAL_EDGE_INSULATION,
        &inputs.map(Given::One),
    )
    .map_err(told)?;
    let insulated = Figure::<Transmittance>::by_law(
        format!("U of {} on the ground, edge insulated", assembly.key),
        &law::EDGE_INSULATED_TRANSMITTANCE,
        &[Given::from(&bare), Given::from(&change), Given::from(dimension)],
    )
    .map_err(told)?;
    if insulated.si() <= 0.0 {
        return Err(
            "so small a floor on the ground is beyond the rule for edge insulation".to_owned()
        );
    }
    Ok(insulated)
}

fn equivalent_thickness(job: &Job, assembly: &Assembly) -> Result<Figure<Length>, String> {
    let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
    let floor = floor_resistance(job, assembly)?;
    let wall = Figure::<Length>::assumed(
        "thickness of the outside walls",
        WALL_M,
        "150 mm, a framed wall of 2×6; the ground loss hardly depends on it",
    );
    let inside = film(FaceKind::Floor, true).map_err(told)?;
    let outside = film(FaceKind::Floor, false).map_err(told)?;
    let ground = Figure::fact("conductivity of the ground", &job.outdoors.ground);
    let inputs = [&wall.work, &inside.work, &floor.work, &outside.work, &ground.work];
    Figure::by_law(
        format!("equivalent thickness of {}", assembly.key),
        &law::EQUIVALENT_THICKNESS,
        &inputs.map(Given::One),
    )
    .map_err(told)
}

/// Resistance of all layers of a floor.
fn floor_resistance(job: &Job, assembly: &Assembly) -> Result<Figure<AreaResistance>, String> {
    let name = format!("layers of {}", assembly.key);
    match &assembly.construction {
        None => Err(format!("how assembly {} is made is not known", assembly.key)),
        Some(Construction::Rated(rated)) => {
            // A rated floor holds its films; what is left without them lies between.
            let film = |inside| film(FaceKind::Floor, inside).map_or(0.0, |film| film.si());
            let film_m2k_w = film(true) + film(false);
            let si = (1.0 / rated.value.si() - film_m2k_w).max(0.0);
            Ok(Figure::new(name, si, How::Stated(rated.place)))
        }
        Some(Construction::Layers(layers)) => {
            let place = layers.place;
            let layers = layer_resistances(&layers.value, assembly, place, &job.catalogue)?;
            Ok(Figure::sum(name, &layers))
        }
    }
}
