//! The layer that holds the tube, and what lies over and under it, as the section takes them.

use super::super::section::{Bays, Slab, Spread};
use super::EMISSIVITY;
use crate::figure::{Figure, How};
use job::{Assembly, Carrier, Construction, Layer, Material, Place, Tube};
use quantity::{AreaResistance, Quantity};

/// How much less deep than its tube a layer may be said to be, metres: nominal sizes round.
const FITS_M: f64 = 0.005;

/// Share of a floor that joists take where its layers do not say: 1 1/2 in of every 16 in.
const USUAL_FRAME: f64 = 0.094;

/// Where the tube lies in its floor.
pub(super) struct Parts<'a> {
    pub(super) place: Place,
    pub(super) above: &'a [Layer],
    pub(super) material: &'a Material,
    pub(super) thickness_m: f64,
    pub(super) cover_m: f64,
    pub(super) cover: How,
    pub(super) under: &'a [Layer],
}

/// Finds the layer that holds the tube.
pub(super) fn parts<'a>(
    assembly: &'a Assembly,
    tube: &Tube,
    catalogue: &'a job::Catalogue,
) -> Result<Parts<'a>, String> {
    let key = &assembly.key;
    let layers = match &assembly.construction {
        Some(Construction::Layers(layers)) => layers,
        _ => {
            let why = format!("floor {key} gives no layers, so the tube's place is unknown");
            return Err(why);
        }
    };
    let holder = layers
        .value
        .iter()
        .position(|layer| matches!(layer, Layer::Material { holds_tube: true, .. }));
    let Some(at) = holder else {
        let why = format!("no layer of floor {key} holds the tube: write `with tube` behind one");
        return Err(why);
    };
    let Layer::Material { material, thickness, cover, .. } = &layers.value[at] else {
        return Err(format!("floor {key}: the layer with the tube has no thickness"));
    };
    let material = catalogue
        .material(material)
        .ok_or_else(|| format!("floor {key}: no material `{material}`"))?;
    let (thickness_m, outside_m) = (thickness.si(), tube.outside.si());
    // Silent about depth, embedded tube lies in the middle of its layer, any other at its top.
    let (silent_m, why) = match material.carrier {
        Carrier::Screed => {
            ((thickness_m - outside_m) / 2.0, "the tube lies in the middle of its layer")
        }
        Carrier::Board => (0.0, "the tube lies flush in its groove"),
        Carrier::Plates => (0.0, "the tube lies against its plate"),
        Carrier::Bare => (0.0, "the tube hangs in the air of its bay"),
    };
    let cover_m = cover.map_or(silent_m, Quantity::si);
    let how = match cover {
        Some(_) => How::Stated(layers.place),
        None => How::Assumed(why.to_owned()),
    };
    let is_buried = material.carrier == Carrier::Screed;
    if cover_m < 0.0 || is_buried && cover_m == 0.0 || cover_m + outside_m > thickness_m + FITS_M {
        return Err(format!("floor {key}: the tube does not fit into its layer"));
    }
    Ok(Parts {
        place: layers.place,
        above: &layers.value[..at],
        material,
        // A groove or clip may be a hair less deep than its tube is thick.
        thickness_m: thickness_m.max(cover_m + outside_m),
        cover_m,
        cover: how,
        under: &layers.value[at + 1..],
    })
}

/// Layers over the tube's own from the tube upward, finish last.
pub(super) fn slabs_over(
    above: &[Layer],
    covering_m: Option<f64>,
    resistances: &[Figure<AreaResistance>],
) -> Vec<Slab> {
    // Resistances stand from the room down, the finish first.
    let plain = above.iter().map(|layer| layer.thickness().map(Quantity::si));
    let thicknesses = std::iter::once(covering_m).chain(plain);
    let slabs = resistances.iter().zip(thicknesses);
    let slabs =
        slabs.filter_map(|(resistance, thickness_m)| Slab::resisting(resistance.si(), thickness_m));
    let mut slabs: Vec<Slab> = slabs.collect();
    slabs.reverse();
    slabs
}

/// Layers below the tube's own, from the lowest up.
pub(super) fn slabs_under(under: &[Layer], resistances: &[Figure<AreaResistance>]) -> Vec<Slab> {
    let thicknesses = under.iter().map(|layer| layer.thickness().map(Quantity::si));
    let slabs = resistances.iter().zip(thicknesses);
    let slabs =
        slabs.filter_map(|(resistance, thickness_m)| Slab::resisting(resistance.si(), thickness_m));
    let mut slabs: Vec<Slab> = slabs.collect();
    slabs.reverse();
    slabs
}

/// Joist bays, where the tube hangs bare in one.
pub(super) fn bays(material: &Material, under: &[Layer]) -> Option<Bays> {
    let framed = under.iter().find_map(|layer| match layer {
        Layer::Framed { share, .. } => Some(share.si()),
        _ => None,
    });
    let clear = 1.0 - framed.unwrap_or(USUAL_FRAME).clamp(0.0, 0.9);
    (material.carrier == Carrier::Bare).then_some(Bays { clear, emissivity: EMISSIVITY })
}

pub(super) fn spread(material: &Material) -> Option<Spread> {
    let sheet = material.sheet?;
    Some(Spread {
        thickness_m: sheet.thickness.si(),
        width_m: sheet.width.map(Quantity::si),
        conductivity_w_mk: sheet.conductivity.si(),
        stores_j_m3k: None,
        contact_m2k_w: sheet.contact.si(),
    })
}
