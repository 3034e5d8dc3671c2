//! U-values of constructions.

use super::FaceKind;
use crate::figure::{Figure, Given, How};
use job::{Assembly, Catalogue, Construction, Layer};
use laws::envelope as law;
use quantity::{AreaResistance, Conductivity, Length, Quantity, Transmittance};

/// The U-value of an assembly as a face of that kind, films included.
///
/// The error says what is missing, for a contractor.
pub(super) fn transmittance(
    assembly: &Assembly,
    kind: FaceKind,
    outdoors: bool,
    catalogue: &Catalogue,
) -> Result<Figure<Transmittance>, String> {
    match &assembly.construction {
        None => Err(format!("how assembly {} is made is not known", assembly.key)),
        Some(Construction::Rated(rated)) => Ok(Figure::new(
            format!("U of {}", assembly.key),
            rated.value.si(),
            How::Stated(rated.place),
        )),
        Some(Construction::Layers(layers)) => {
            let layers = layer_resistances(&layers.value, assembly, layers.place, catalogue)?;
            layered(&assembly.key, kind, outdoors, &layers)
        }
    }
}

fn layered(
    key: &str,
    kind: FaceKind,
    outdoors: bool,
    layers: &[Figure<AreaResistance>],
) -> Result<Figure<Transmittance>, String> {
    let inside = film(kind, true).map_err(|error| error.to_string())?;
    let outside = film(kind, !outdoors).map_err(|error| error.to_string())?;
    let layers = layers.iter().map(|layer| layer.work.clone()).collect();
    let inputs = [Given::from(&inside), Given::List(layers), Given::from(&outside)];
    Figure::by_law(format!("U of {key}"), &law::LAYERED_TRANSMITTANCE, &inputs)
        .map_err(|error| format!("assembly {key}: {error}"))
}

/// The air film at one side of a face.
pub(crate) fn film(kind: FaceKind, inside: bool) -> Result<Figure<AreaResistance>, laws::LawError> {
    let way = match kind {
        FaceKind::Ceiling | FaceKind::Roof | FaceKind::Skylight => law::HeatFlow::Up,
        FaceKind::Floor => law::HeatFlow::Down,
        FaceKind::Wall | FaceKind::Window | FaceKind::Door => law::HeatFlow::Horizontal,
    };
    let face = if inside { law::Face::Inside } else { law::Face::Outside };
    let name = if inside { "inside film" } else { "outside film" };
    let inputs = [Given::Choice(face as u8), Given::Choice(way as u8)];
    Figure::by_law(name, &law::SURFACE_RESISTANCE, &inputs)
}

/// Resistance of each layer, from the room outward or down.
pub(crate) fn layer_resistances(
    layers: &[Layer],
    assembly: &Assembly,
    place: job::Place,
    catalogue: &Catalogue,
) -> Result<Vec<Figure<AreaResistance>>, String> {
    layers
        .iter()
        .map(|layer| match layer {
            Layer::Rated { resistance, words, .. } => {
                Ok(Figure::new(words.clone(), resistance.si(), How::Stated(place)))
            }
            Layer::Air { .. } | Layer::Framed { .. } => {
                Err(format!("assembly {}: this layer cannot be told yet", assembly.key))
            }
            Layer::Material { material, thickness, .. } => {
                let thickness = Figure::new("thickness", thickness.si(), How::Stated(place));
                material_layer(material, &thickness, assembly, catalogue)
            }
        })
        .collect()
}

/// Resistance of so much of a material.
pub(crate) fn material_layer(
    material: &str,
    thickness: &Figure<Length>,
    assembly: &Assembly,
    catalogue: &Catalogue,
) -> Result<Figure<AreaResistance>, String> {
    let conductivity = conductivity(material, catalogue)
        .ok_or_else(|| format!("assembly {}: no material `{material}`", assembly.key))?;
    Figure::by_law(
        material,
        &law::LAYER_RESISTANCE,
        &[Given::from(thickness), Given::from(&conductivity)],
    )
    .map_err(|error| format!("assembly {}: {error}", assembly.key))
}

/// Conductivity of a material of the catalogue.
pub(crate) fn conductivity(material: &str, catalogue: &Catalogue) -> Option<Figure<Conductivity>> {
    let entry = catalogue.material(material)?;
    let how = How::Catalogue(format!("{}: {}", entry.name, entry.source));
    Some(Figure::new(format!("conductivity of {}", entry.name), entry.conductivity.si(), how))
}

/// stub
pub(crate) fn surface_transmittance(
    job: &job::Job,
    assembly: &Assembly,
    up: bool,
    outdoors: bool,
) -> Result<Figure<Transmittance>, String> {
    let kind = if up { FaceKind::Roof } else { FaceKind::Wall };
    transmittance(assembly, kind, outdoors, &job.catalogue)
}
