//! The floor above and below the tube, as resistances.

use super::below::{Downward, Surroundings, Under};
use crate::envelope::{Enclosure, FaceKind, conductivity, layer_resistances, material_layer};
use crate::figure::{Figure, Given, How};
use job::{Assembly, Carrier, Construction, Job, Layer, Place, Room, Tube};
use laws::panel as law;
use quantity::{AreaResistance, Conductivity, Length, Quantity, Transmittance};

/// A heated floor's layers as the tube sees them.
#[derive(Clone, Debug)]
pub(crate) struct BuildUp {
    /// Screed or concrete above the tube.
    pub(crate) cover: Figure<Length>,
    /// Its conductivity.
    pub(crate) screed: Figure<Conductivity>,
    /// Finish, and layers between it and the screed.
    pub(crate) covering: Figure<AreaResistance>,
    /// From tube to room.
    pub(crate) upward: Figure<AreaResistance>,
    /// From tube to what is below.
    pub(crate) downward: Downward,
    /// Layers below the one that holds the tube.
    pub(crate) insulation: Figure<AreaResistance>,
    /// The tube.
    pub(crate) tube: Tube,
}

/// Where the tube lies in its floor.
struct Parts<'a> {
    place: Place,
    above: &'a [Layer],
    material: &'a str,
    thickness_m: f64,
    cover_m: f64,
    cover_stated: bool,
    under: &'a [Layer],
}

/// Why a floor's output cannot be told, for a contractor.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum NoBuildUp {
    /// The text lacks something.
    Incomplete(String),
    /// The tube lies in a way that no law here covers yet.
    NoLaw(String),
}

impl From<String> for NoBuildUp {
    fn from(why: String) -> Self {
        NoBuildUp::Incomplete(why)
    }
}

impl From<&str> for NoBuildUp {
    fn from(why: &str) -> Self {
        NoBuildUp::Incomplete(why.to_owned())
    }
}

/// The build-up of a room's heated floor.
pub(crate) fn build_up(
    around: &Surroundings<'_>,
    enclosure: &Enclosure,
    room: &Room,
    tube: &Tube,
) -> Result<BuildUp, NoBuildUp> {
    let job = around.job;
    let assembly = floor_of(job, enclosure, room);
    let assembly = assembly.ok_or("the text does not say how its floor is made")?;
    covered_by_a_law(job, assembly)?;
    let parts = parts(assembly, tube)?;
    let catalogue = &job.catalogue;
    let told = |error: laws::LawError| format!("floor {}: {error}", assembly.key);
    let place = parts.place;
    let how = match parts.cover_stated {
        true => How::Stated(place),
        false => How::Assumed("the tube lies in the middle of its layer".to_owned()),
    };
    let cover: Figure<Length> = Figure::new("cover over the tube", parts.cover_m, how);
    let screed = conductivity(parts.material, catalogue)
        .ok_or_else(|| format!("floor {}: no material `{}`", assembly.key, parts.material))?;
    let finish = finish(job, room)?;
    let mut over = vec![finish];
    over.extend(layer_resistances(parts.above, assembly, place, catalogue)?);
    let covering = Figure::sum("finish and layers over the screed", &over);
    let upward = Figure::by_law(
        "from tube to room",
        &law::UPWARD_RESISTANCE,
        &[Given::from(&covering), Given::from(&cover), Given::from(&screed)],
    )
    .map_err(told)?;
    let insulation = Figure::sum(
        "layers below the tube's own",
        &layer_resistances(parts.under, assembly, place, catalogue)?,
    );
    let rest_m = (parts.thickness_m - parts.cover_m).max(0.0);
    let rest = Figure::new("screed beside and below the tube", rest_m, How::Stated(place));
    let rest = material_layer(parts.material, &rest, assembly, catalogue)?;
    // The finish is no part of the ground's U-value, so it is none of what is taken off it.
    let over_screed = Figure::sum("layers over the screed", &over[1..]);
    let under = Under {
        over: &over_tube(&over_screed, &cover, &screed),
        rest: &rest,
        insulation: &insulation,
    };
    let downward = around.downward(enclosure, &under)?;
    Ok(BuildUp { cover, screed, covering, upward, downward, insulation, tube: tube.clone() })
}

/// How most of a room's floor is made.
pub(crate) fn floor_of<'a>(
    job: &'a Job,
    enclosure: &Enclosure,
    room: &Room,
) -> Option<&'a Assembly> {
    let faces = enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor);
    let largest = faces.max_by(|a, b| a.area.si().total_cmp(&b.area.si()));
    let of_face = largest.and_then(|face| face.assembly.as_deref());
    let stated = room.floor.as_ref().or(job.house.floor.as_ref());
    let key = of_face.or(stated.map(|stated| stated.value.as_str()))?;
    job.assembly(key)
}

/// Tube in grooved board or in plates is not embedded: the law for screed would not hold.
fn covered_by_a_law(job: &Job, assembly: &Assembly) -> Result<(), NoBuildUp> {
    let Some(Construction::Layers(layers)) = &assembly.construction else { return Ok(()) };
    let holder = layers.value.iter().find_map(|layer| match layer {
        Layer::Material { material, holds_tube: true, .. } => job.catalogue.material(material),
        _ => None,
    });
    match holder {
        Some(material) if material.carrier != Carrier::Screed => {
            Err(NoBuildUp::NoLaw(format!("tube in {}", material.name)))
        }
        _ => Ok(()),
    }
}

/// Finds the layer that holds the tube.
fn parts<'a>(assembly: &'a Assembly, tube: &Tube) -> Result<Parts<'a>, String> {
    let key = &assembly.key;
    let layers = match &assembly.construction {
        Some(Construction::Layers(layers)) => layers,
        _ => return Err(format!("floor {key} gives no layers, so the tube's place is unknown")),
    };
    let holder = layers
        .value
        .iter()
        .position(|layer| matches!(layer, Layer::Material { holds_tube: true, .. }));
    let Some(at) = holder else {
        return Err(format!(
            "no layer of floor {key} holds the tube: write `with tube` behind one"
        ));
    };
    let Layer::Material { material, thickness, cover, .. } = &layers.value[at] else {
        return Err(format!("floor {key}: the layer with the tube has no thickness"));
    };
    let (thickness_m, outside_m) = (thickness.si(), tube.outside.si());
    // Silent about depth, the tube lies in the middle of its layer.
    let cover_m = cover.map_or((thickness_m - outside_m) / 2.0, Quantity::si);
    if cover_m <= 0.0 || cover_m + outside_m > thickness_m + 1e-9 {
        return Err(format!("floor {key}: the tube does not fit into its layer"));
    }
    Ok(Parts {
        place: layers.place,
        above: &layers.value[..at],
        material,
        thickness_m,
        cover_m,
        cover_stated: cover.is_some(),
        under: &layers.value[at + 1..],
    })
}

/// Resistance of the room's finish.
fn finish(job: &Job, room: &Room) -> Result<Figure<AreaResistance>, String> {
    let entry = job.catalogue.finish(&room.finish.value);
    let entry =
        entry.ok_or_else(|| format!("no finish `{}` in the catalogue", room.finish.value))?;
    let name = format!("finish: {}", entry.name);
    let how = match &room.finish.origin {
        job::Origin::Assumed(why) => How::Assumed(format!("{}: {why}", entry.name)),
        _ => How::Catalogue(format!("{}: {}", entry.name, entry.source)),
    };
    Ok(Figure::new(name, entry.resistance.si(), how))
}

/// What lies between tube and room without the film, as layers.
fn over_tube(
    covering: &Figure<AreaResistance>,
    cover: &Figure<Length>,
    screed: &Figure<Conductivity>,
) -> Figure<AreaResistance> {
    let screed: Figure<AreaResistance> = Figure::quotient("cover", &cover.work, &screed.work);
    Figure::sum("layers over the tube", &[covering.clone(), screed])
}

impl BuildUp {
    /// Output per area and degree of water excess at a spacing (EN 1264-2, type A).
    pub(crate) fn output_coefficient(
        &self,
        spacing: &Figure<Length>,
    ) -> Result<Figure<Transmittance>, laws::LawError> {
        let how = || How::Catalogue(format!("{}: {}", self.tube.name, self.tube.source));
        let outside = Figure::<Length>::new("outside diameter", self.tube.outside.si(), how());
        let wall_m = (self.tube.outside.si() - self.tube.inside.si()) / 2.0;
        let wall = Figure::<Length>::new("wall of the tube", wall_m, how());
        let conductivity = Figure::<Conductivity>::new(
            "conductivity of the tube",
            self.tube.conductivity.si(),
            how(),
        );
        let inputs = [
            &spacing.work,
            &self.cover.work,
            &outside.work,
            &wall.work,
            &conductivity.work,
            &self.screed.work,
            &self.covering.work,
        ];
        let name = "output per area and degree of water excess";
        Figure::by_law(name, &law::EMBEDDED_TUBE_COEFFICIENT, &inputs.map(Given::One))
    }
}
