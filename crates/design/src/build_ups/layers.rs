//! Thickness, weight and heat capacity of layers.

use super::Floor;
use crate::emitters::{STEEL_BELOW_W_MK, layer_name};
use crate::figure::{Figure, How};
use job::{Finish, Layer, Material, Sheet};
use quantity::{ArealHeatCapacity, ArealMass, Density, Length, Quantity, Ratio, SpecificHeat};

/// Distance of tubes by which plates are weighed where nothing says it: two runs in a usual bay.
const PLATES_APART_M: f64 = 0.2;
/// Materials below this conductivity, W/mK, are insulation: what lies beyond it is not warmed along.
const INSULATION_W_MK: f64 = 0.06;

/// A figure of the layers, from the text or from the build-up that it names.
fn stated<Q: Quantity>(floor: &Floor<'_>, name: impl Into<String>, si: f64) -> Figure<Q> {
    Figure::new(name, si, floor.origin())
}

fn of_catalogue<Q: Quantity>(name: String, si: f64, entry: &str, source: &str) -> Figure<Q> {
    Figure::new(name, si, How::Catalogue(format!("{entry}: {source}")))
}

fn finish<'a>(floor: &Floor<'a>) -> Option<&'a Finish> {
    floor.job.catalogue.finish(&floor.room.finish.value)
}

/// Height of the uppermost layers and the finish; none where one of them has no thickness.
pub(super) fn height(floor: &Floor<'_>, added: usize) -> Option<Figure<Length>> {
    let thickness = |layer: &Layer| {
        Some(stated(floor, layer_name(layer, &floor.job.catalogue), layer.thickness()?.si()))
    };
    let layers = floor.layers.iter().take(added).map(thickness).collect::<Option<Vec<_>>>()?;
    let finish = finish(floor).map(|it| {
        of_catalogue(format!("finish: {}", it.name), it.thickness.si(), &it.name, &it.source)
    });
    let parts: Vec<_> = finish.into_iter().chain(layers).collect();
    Some(Figure::sum("height over the structural floor", &parts))
}

/// Weight of the uppermost layers and the finish; none where a density is not known.
///
/// Insulation told by its R-value weighs next to nothing and is left out.
pub(super) fn weight(floor: &Floor<'_>, name: &str, layers: usize) -> Option<Figure<ArealMass>> {
    let mut parts = Vec::new();
    parts.extend(finish(floor).map(|it| {
        of_catalogue(format!("finish: {}", it.name), it.weight.si(), &it.name, &it.source)
    }));
    for layer in floor.layers.iter().take(layers) {
        parts.extend(layer_weight(floor, layer)?);
    }
    Some(Figure::sum(name, &parts))
}

/// The weights that make up a layer; outer none where a density is not known.
fn layer_weight(floor: &Floor<'_>, layer: &Layer) -> Option<Vec<Figure<ArealMass>>> {
    let catalogue = &floor.job.catalogue;
    match layer {
        Layer::Rated { .. } | Layer::Air { .. } => Some(Vec::new()),
        Layer::Material { thickness, .. } => {
            let material = floor.material(layer)?;
            let whole = of_material(floor, material, thickness.si(), None)?;
            let metal = material.sheet.as_ref().and_then(|sheet| of_sheet(floor, material, sheet));
            Some([Some(whole), metal].into_iter().flatten().collect())
        }
        Layer::Framed { fill, frame, share, thickness } => {
            let frame = catalogue.material(frame)?;
            let filled = match fill.as_ref() {
                Layer::Material { .. } => {
                    let share = stated(floor, "share of the fill", 1.0 - share.si());
                    Some(of_material(floor, floor.material(fill)?, thickness.si(), Some(share))?)
                }
                _ => None,
            };
            let share = stated(floor, "share of the frame", share.si());
            let framed = of_material(floor, frame, thickness.si(), Some(share))?;
            Some(filled.into_iter().chain([framed]).collect())
        }
    }
}

fn of_material(
    floor: &Floor<'_>,
    material: &Material,
    thickness_m: f64,
    share: Option<Figure<Ratio>>,
) -> Option<Figure<ArealMass>> {
    let thickness: Figure<Length> = stated(floor, "thickness", thickness_m);
    let density = density(material)?;
    let mut factors = vec![&thickness.work, &density.work];
    factors.extend(share.as_ref().map(|share| &share.work));
    Some(Figure::product(format!("weight of {}", material.name), &factors))
}

fn density(material: &Material) -> Option<Figure<Density>> {
    let name = format!("density of {}", material.name);
    Some(of_catalogue(name, material.density?.si(), &material.name, &material.source))
}

/// Weight of a sheet: all over the floor, or its width at each tube.
fn of_sheet(floor: &Floor<'_>, carrier: &Material, sheet: &Sheet) -> Option<Figure<ArealMass>> {
    let steel = sheet.conductivity.si() < STEEL_BELOW_W_MK;
    let metal = floor.job.catalogue.material(if steel { "steel" } else { "aluminium" })?;
    let thickness: Figure<Length> = of_catalogue(
        "thickness of the sheet".to_owned(),
        sheet.thickness.si(),
        &carrier.name,
        &carrier.source,
    );
    let share = sheet.width.map(|width| share_of_sheet(floor, carrier, width.si()));
    let density = density(metal)?;
    let mut factors = vec![&thickness.work, &density.work];
    factors.extend(share.as_ref().map(|share| &share.work));
    Some(Figure::product("weight of the metal sheet", &factors))
}

/// Share of the floor below which a sheet of that width lies.
fn share_of_sheet(floor: &Floor<'_>, carrier: &Material, width_m: f64) -> Figure<Ratio> {
    let name = "share of the floor with sheet";
    let grooves = carrier.grooves.map(Quantity::si);
    match floor.spacing_m.or(grooves).filter(|spacing| *spacing > 0.0) {
        Some(spacing_m) => {
            let share = (width_m / spacing_m).min(1.0);
            Figure::taken_off(name, share, "its width over the distance of the tubes")
        }
        None => {
            let share = (width_m / PLATES_APART_M).min(1.0);
            Figure::assumed(name, share, "two runs of tube in a usual bay, 8 in (200 mm) apart")
        }
    }
}

/// Heat stored in the layers that the tube warms; none where a density or specific heat is not known.
///
/// The finish is left out: it is thin, and changes more often than the floor.
pub(super) fn capacity(floor: &Floor<'_>) -> Option<Figure<ArealHeatCapacity>> {
    let mut parts = Vec::new();
    for (number, layer) in floor.layers.iter().enumerate() {
        match floor.material(layer) {
            Some(material) => {
                let insulates = material.conductivity.si() < INSULATION_W_MK;
                if number > floor.holder && insulates {
                    break;
                }
                parts.push(stored(floor, material, layer)?);
            }
            None if number > floor.holder => break,
            None => {}
        }
    }
    Some(Figure::sum("heat stored in the warmed layers", &parts))
}

fn stored(
    floor: &Floor<'_>,
    material: &Material,
    layer: &Layer,
) -> Option<Figure<ArealHeatCapacity>> {
    let thickness: Figure<Length> = stated(floor, "thickness", layer.thickness()?.si());
    let density = density(material)?;
    let specific_heat: Figure<SpecificHeat> = of_catalogue(
        format!("specific heat of {}", material.name),
        material.specific_heat?.si(),
        &material.name,
        &material.source,
    );
    let name = format!("heat stored in {}", material.name);
    Some(Figure::product(name, &[&thickness.work, &density.work, &specific_heat.work]))
}
