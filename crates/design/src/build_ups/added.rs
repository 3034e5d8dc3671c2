//! Which layers are laid on the structural floor.

use super::Floor;
use job::{Carrier, Family, Layer};
use quantity::Quantity;

/// Thinnest concrete or wood that bears a floor: half-inch boards are laid, not walked on.
const BEARS_M: f64 = 0.015;

/// How many layers, from the room down, are laid on the structural floor.
///
/// Where the text is silent: plates and bare tube hang below it, so nothing is; else all down to the
/// first layer below the tube that bears (wood, concrete, or framing); where none does, the tube's
/// own layer is the structural floor, as a slab on the ground is.
pub(super) fn count(floor: &Floor<'_>) -> usize {
    if let Some(added) = &floor.assembly.added {
        return usize::try_from(added.value).unwrap_or(usize::MAX).min(floor.layers.len());
    }
    let hung = floor.holder_material().map(|material| material.carrier);
    if matches!(hung, Some(Carrier::Plates | Carrier::Bare)) {
        return 0;
    }
    let below = floor.layers.iter().enumerate().skip(floor.holder + 1);
    let first = below.into_iter().find(|(_, layer)| bears(floor, layer));
    first.map_or(floor.holder, |(number, _)| number)
}

/// Whether a layer bears a floor.
fn bears(floor: &Floor<'_>, layer: &Layer) -> bool {
    match layer {
        Layer::Framed { .. } => true,
        Layer::Material { thickness, .. } => {
            let family = floor.material(layer).map(|material| material.family);
            thickness.si() >= BEARS_M && matches!(family, Some(Family::Concrete | Family::Wood))
        }
        Layer::Rated { .. } | Layer::Air { .. } => false,
    }
}

/// Whether joists carry the floor.
pub(super) fn on_joists(floor: &Floor<'_>) -> bool {
    let framed = floor.layers.iter().any(|layer| matches!(layer, Layer::Framed { .. }));
    framed || floor.room.framing.is_some()
}
