//! Floors and walls in the ground by ISO 13370: one size for the whole floor, a U-value for each
//! build-up and depth.

use super::construction::film;
use super::layers::layer_resistances;
use super::{FaceKind, GroundFloor};
use crate::figure::{Figure, Given, How};
use job::{Assembly, Construction, Job};
use laws::ground as law;
use quantity::{
    Area, AreaResistance, Conductivity, Length, LinearTransmittance, Quantity, Transmittance,
};

/// Thickness taken for outside walls and for edge insulation where nothing states it.
const WALL_M: f64 = 0.15;
const EDGE_INSULATION_M: f64 = 0.05;

/// U-value of floor and ground together, by its mean depth, edge insulation included.
pub(super) fn floor(
    job: &Job,
    assembly: &Assembly,
    ground: &GroundFloor,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
    let dimension = ground
        .dimension
        .as_ref()
        .ok_or("no edge of the floor is exposed, so its loss to the ground is unknown")?;
    let resistance = floor_resistance(job, assembly)?;
    let thickness = equivalent_thickness(job, &assembly.key, &resistance)?;
    let slab = Slab { job, dimension, thickness: &thickness };
    let name = format!("U of {} on the ground", assembly.key);
    let bare = match ground.depth.as_ref().filter(|depth| depth.si() > 0.0) {
        Some(depth) => slab.deep(name, depth).map_err(told)?,
        None => slab.at_grade(name).map_err(told)?,
    };
    let most_m = job.rules.slab_at_grade.si();
    let shallow = ground.depth.as_ref().is_none_or(|depth| depth.si() <= most_m);
    match slab.edge_change(assembly)? {
        // Insulation at the edge of a slab that lies deep is part of the wall beside it.
        Some(change) if shallow => slab.insulated(assembly, &bare, &change),
        _ => Ok(bare),
    }
}

/// U-value of a wall that stands in the ground to that depth.
pub(super) fn wall(
    job: &Job,
    assembly: &Assembly,
    floor: Option<&Assembly>,
    depth: &Figure<Length>,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("wall {}: {error}", assembly.key);
    let layers = wall_resistance(job, assembly)?;
    let films = [wall_film(true), wall_film(false)].map(|film| film.map_err(told));
    let [inside, outside] = films;
    let resistance = Figure::sum("wall with its films", &[inside?, layers, outside?]);
    let ground = Figure::<Conductivity>::fact("conductivity of the ground", &job.outdoors.ground);
    let thickness: Figure<Length> = Figure::product(
        format!("equivalent thickness of {}", assembly.key),
        &[&resistance.work, &ground.work],
    );
    // Without a floor on the ground beside it the wall's own thickness stands for it (7.4).
    let floor = match floor {
        Some(floor) => equivalent_thickness(job, &floor.key, &floor_resistance(job, floor)?)?,
        None => thickness.clone(),
    };
    let inputs = [&floor.work, &thickness.work, &depth.work, &ground.work];
    Figure::by_law(
        format!("U of {} in the ground", assembly.key),
        &law::HEATED_BASEMENT_WALL_TRANSMITTANCE,
        &inputs.map(Given::One),
    )
    .map_err(told)
}

/// U-value of the ground under a space, with or without a floor on it.
pub(crate) fn ground_of_space(
    job: &Job,
    assembly: Option<&Assembly>,
    area: &Figure<Area>,
    edge: &Figure<Length>,
) -> Result<Figure<Transmittance>, String> {
    let told = |error: laws::LawError| format!("ground: {error}");
    let inputs = [Given::from(area), Given::from(edge)];
    let name = "characteristic dimension of the ground";
    let dimension = Figure::by_law(name, &law::CHARACTERISTIC_DIMENSION, &inputs).map_err(told)?;
    let resistance = match assembly {
        Some(assembly) => floor_resistance(job, assembly)?,
        None => Figure::sum("bare ground", &[]),
    };
    let key = assembly.map_or("bare ground", |assembly| assembly.key.as_str());
    let thickness = equivalent_thickness(job, key, &resistance)?;
    let slab = Slab { job, dimension: &dimension, thickness: &thickness };
    slab.at_grade(format!("U of {key}")).map_err(told)
}

/// A floor on the ground by its size and its equivalent thickness.
struct Slab<'a> {
    job: &'a Job,
    dimension: &'a Figure<Length>,
    thickness: &'a Figure<Length>,
}

impl Slab<'_> {
    fn ground(&self) -> Figure<Conductivity> {
        Figure::fact("conductivity of the ground", &self.job.outdoors.ground)
    }

    fn at_grade(&self, name: String) -> Result<Figure<Transmittance>, laws::LawError> {
        let ground = self.ground();
        let inputs = [&self.dimension.work, &self.thickness.work, &ground.work];
        Figure::by_law(name, &law::SLAB_ON_GROUND_TRANSMITTANCE, &inputs.map(Given::One))
    }

    fn deep(
        &self,
        name: String,
        depth: &Figure<Length>,
    ) -> Result<Figure<Transmittance>, laws::LawError> {
        let ground = self.ground();
        let inputs = [&self.dimension.work, &self.thickness.work, &depth.work, &ground.work];
        Figure::by_law(name, &law::HEATED_BASEMENT_FLOOR_TRANSMITTANCE, &inputs.map(Given::One))
    }

    /// What insulation at the edge changes: the better of a strip down it and one along it.
    fn edge_change(
        &self,
        assembly: &Assembly,
    ) -> Result<Option<Figure<LinearTransmittance>>, String> {
        let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
        let Some(edge) = &assembly.edge else { return Ok(None) };
        let edge = Figure::fact("edge insulation", edge);
        let down = assembly.edge_depth.as_ref().map(|depth| {
            let depth = Figure::fact("its depth", depth);
            self.strip(&depth, &edge, &law::VERTICAL_EDGE_INSULATION)
        });
        let along = assembly.edge_width.as_ref().map(|width| {
            let width = Figure::fact("its width", width);
            self.strip(&width, &edge, &law::HORIZONTAL_EDGE_INSULATION)
        });
        let strips: Result<Vec<_>, _> = down.into_iter().chain(along).collect();
        let strips = strips.map_err(told)?;
        let best = strips.into_iter().min_by(|a, b| a.si().total_cmp(&b.si()));
        let missing =
            || format!("floor {}: `edge` needs `edge_depth` or `edge_width`", assembly.key);
        best.map(Some).ok_or_else(missing)
    }

    fn strip(
        &self,
        reach: &Figure<Length>,
        edge: &Figure<AreaResistance>,
        law: &'static laws::Law,
    ) -> Result<Figure<LinearTransmittance>, laws::LawError> {
        let insulation = Figure::<Length>::assumed(
            "thickness of the edge insulation",
            EDGE_INSULATION_M,
            "50 mm; its own thickness hardly matters beside its resistance",
        );
        let ground = self.ground();
        let inputs =
            [&reach.work, &insulation.work, &edge.work, &self.thickness.work, &ground.work];
        Figure::by_law("change by edge insulation", law, &inputs.map(Given::One))
    }

    fn insulated(
        &self,
        assembly: &Assembly,
        bare: &Figure<Transmittance>,
        change: &Figure<LinearTransmittance>,
    ) -> Result<Figure<Transmittance>, String> {
        let insulated = Figure::<Transmittance>::by_law(
            format!("U of {} on the ground, edge insulated", assembly.key),
            &law::EDGE_INSULATED_TRANSMITTANCE,
            &[Given::from(bare), Given::from(change), Given::from(self.dimension)],
        )
        .map_err(|error| format!("floor {}: {error}", assembly.key))?;
        if insulated.si() <= 0.0 {
            return Err(
                "so small a floor on the ground is beyond the rule for edge insulation".to_owned()
            );
        }
        Ok(insulated)
    }
}

/// The standard's own films, whatever the rule set takes elsewhere.
fn equivalent_thickness(
    job: &Job,
    key: &str,
    floor: &Figure<AreaResistance>,
) -> Result<Figure<Length>, String> {
    let told = |error: laws::LawError| format!("floor {key}: {error}");
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
        format!("equivalent thickness of {key}"),
        &law::EQUIVALENT_THICKNESS,
        &inputs.map(Given::One),
    )
    .map_err(told)
}

fn wall_film(inside: bool) -> Result<Figure<AreaResistance>, laws::LawError> {
    film(FaceKind::Wall, inside)
}

/// Resistance of all layers of a floor.
pub(super) fn floor_resistance(
    job: &Job,
    assembly: &Assembly,
) -> Result<Figure<AreaResistance>, String> {
    resistance(job, assembly, FaceKind::Floor)
}

/// Resistance of all layers of a wall.
pub(super) fn wall_resistance(
    job: &Job,
    assembly: &Assembly,
) -> Result<Figure<AreaResistance>, String> {
    resistance(job, assembly, FaceKind::Wall)
}

/// Resistance of all layers, films left out.
fn resistance(
    job: &Job,
    assembly: &Assembly,
    kind: FaceKind,
) -> Result<Figure<AreaResistance>, String> {
    let name = format!("layers of {}", assembly.key);
    match &assembly.construction {
        None => Err(format!("how assembly {} is made is not known", assembly.key)),
        Some(Construction::Rated(rated)) => {
            // A rated part holds its films; what is left without them lies between.
            let film = |inside| film(kind, inside).map_or(0.0, |film| film.si());
            let films_m2k_w = film(true) + film(false);
            let si = (1.0 / rated.value.si() - films_m2k_w).max(0.0);
            Ok(Figure::new(name, si, How::Stated(rated.place)))
        }
        Some(Construction::Layers(layers)) => {
            let place = layers.place;
            let layers = layer_resistances(&layers.value, assembly, place, &job.catalogue)?;
            Ok(Figure::sum(name, &layers))
        }
    }
}
