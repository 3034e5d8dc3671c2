//! Resistance of each layer of a construction.

use crate::figure::{Figure, Given, How};
use job::{AirLayer, Assembly, Catalogue, Layer, Place};
use laws::envelope as law;
use laws::envelope::HeatFlow;
use quantity::{AreaResistance, Conductivity, Length, Quantity, Ratio};

/// Where the layers of a construction stand in the text, and what they are made of.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub(super) assembly: &'a Assembly,
    pub(super) place: Place,
    pub(super) catalogue: &'a Catalogue,
}

/// One layer as heat meets it.
pub(super) enum Path {
    /// The same all over.
    Plain(Figure<AreaResistance>),
    /// Fill and frame side by side.
    Framed {
        fill: Figure<AreaResistance>,
        frame: Figure<AreaResistance>,
        /// Share of the area of fill and of frame.
        shares: [Figure<Ratio>; 2],
    },
}

impl Path {
    /// Its resistance taken by itself, fill and frame side by side.
    pub(super) fn resistance(&self) -> Result<Figure<AreaResistance>, laws::LawError> {
        match self {
            Path::Plain(resistance) => Ok(resistance.clone()),
            Path::Framed { fill, frame, shares: [filled, framed] } => {
                let shares = Given::List(vec![filled.work.clone(), framed.work.clone()]);
                let resistances = Given::List(vec![fill.work.clone(), frame.work.clone()]);
                let name = format!("{} and frame side by side", fill.work.name);
                Figure::by_law(name, &law::PARALLEL_RESISTANCE, &[shares, resistances])
            }
        }
    }
}

/// Layers from the room out to where outdoor air sweeps them, and whether it does.
///
/// What lies outward of a layer with much moving air does not count (ISO 6946).
pub(super) fn sheltered(layers: &[Layer]) -> (&[Layer], bool) {
    fn open(layer: &Layer) -> bool {
        match layer {
            Layer::Air { moves, .. } => *moves == AirLayer::Open,
            Layer::Framed { fill, .. } => open(fill),
            Layer::Material { .. } | Layer::Rated { .. } => false,
        }
    }
    match layers.iter().position(open) {
        Some(swept) => (&layers[..swept], true),
        None => (layers, false),
    }
}

/// Number of the first layer whose air is slightly ventilated, if there is one.
pub(super) fn slightly_ventilated(layers: &[Layer]) -> Option<usize> {
    let slight = |layer: &Layer| matches!(layer, Layer::Air { moves: AirLayer::Slight, .. });
    layers.iter().position(slight)
}

/// A layer as heat meets it on that way; the error says what is missing, for a contractor.
pub(super) fn path(source: Source<'_>, layer: &Layer, way: HeatFlow) -> Result<Path, String> {
    let Layer::Framed { fill, frame, share, thickness } = layer else {
        return plain(source, layer, way).map(Path::Plain);
    };
    let how = || How::Stated(source.place);
    let fill = plain(source, fill, way)?;
    let thickness = Figure::new("thickness", thickness.si(), how());
    let frame = material_layer(frame, &thickness, source.assembly, source.catalogue)?;
    let framed = share.si();
    if !(0.0..=1.0).contains(&framed) {
        let key = &source.assembly.key;
        return Err(format!("assembly {key}: the frame takes between nothing and all of a layer"));
    }
    let shares = [
        Figure::new(format!("share of {}", fill.work.name), 1.0 - framed, how()),
        Figure::new(format!("share of {}", frame.work.name), framed, how()),
    ];
    Ok(Path::Framed { fill, frame, shares })
}

/// Resistance of a layer that is the same all over.
fn plain(
    source: Source<'_>,
    layer: &Layer,
    way: HeatFlow,
) -> Result<Figure<AreaResistance>, String> {
    match layer {
        Layer::Rated { resistance, words, .. } => {
            Ok(Figure::new(words.clone(), resistance.si(), How::Stated(source.place)))
        }
        Layer::Material { material, thickness, .. } => {
            let thickness = Figure::new("thickness", thickness.si(), How::Stated(source.place));
            material_layer(material, &thickness, source.assembly, source.catalogue)
        }
        Layer::Air { thickness, moves } => {
            let thickness = Figure::new("thickness", thickness.si(), How::Stated(source.place));
            air(&thickness, *moves, way)
                .map_err(|error| format!("assembly {}: air: {error}", source.assembly.key))
        }
        Layer::Framed { .. } => path(source, layer, way)?
            .resistance()
            .map_err(|error| format!("assembly {}: {error}", source.assembly.key)),
    }
}

/// Resistance of an air layer, by how much its air moves.
fn air(
    thickness: &Figure<Length>,
    moves: AirLayer,
    way: HeatFlow,
) -> Result<Figure<AreaResistance>, laws::LawError> {
    let inputs = [Given::from(thickness), Given::Choice(way as u8)];
    let still: Figure<AreaResistance> =
        Figure::by_law("still air", &law::UNVENTILATED_AIR_LAYER_RESISTANCE, &inputs)?;
    match moves {
        AirLayer::Still => Ok(still),
        AirLayer::Open => Ok(Figure::new(
            "air that moves freely",
            0.0,
            How::Rule("EN ISO 6946:2007, 5.3.4 (from memory)".to_owned()),
        )),
        AirLayer::Slight => {
            let law = &law::SLIGHTLY_VENTILATED_AIR_LAYER;
            Figure::by_law("slightly ventilated air", law, &[Given::from(&still)])
        }
    }
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

/// Resistance of each layer of a floor, from the room down, framed ones side by side.
pub(crate) fn layer_resistances(
    layers: &[Layer],
    assembly: &Assembly,
    place: Place,
    catalogue: &Catalogue,
) -> Result<Vec<Figure<AreaResistance>>, String> {
    let source = Source { assembly, place, catalogue };
    let (layers, _) = sheltered(layers);
    layers.iter().map(|layer| plain(source, layer, HeatFlow::Down)).collect()
}
