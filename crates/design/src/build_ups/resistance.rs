//! What lies above and below the tube, as resistances without air films.

use super::Floor;
use crate::envelope::{layer_resistances, material_layer};
use crate::figure::{Figure, How};
use job::{Carrier, Layer};
use quantity::{AreaResistance, Length, Quantity};

type Resistance = Figure<AreaResistance>;

/// From the tube up and down, as if heat went straight; none where a layer cannot be told.
pub(super) fn around_tube(floor: &Floor<'_>) -> (Option<Resistance>, Option<Resistance>) {
    let Some((over, rest)) = own_layer(floor) else { return (None, None) };
    let of_layers = |layers: &[Layer]| {
        layer_resistances(layers, floor.assembly, floor.place, &floor.job.catalogue).ok()
    };
    let finish = floor.job.catalogue.finish(&floor.room.finish.value).map(|it| {
        let how = How::Catalogue(format!("{}: {}", it.name, it.source));
        Figure::new(format!("finish: {}", it.name), it.resistance.si(), how)
    });
    let above = of_layers(&floor.layers[..floor.holder]).map(|layers| {
        let parts: Vec<_> = finish.into_iter().chain(layers).chain([over]).collect();
        Figure::sum("layers over the tube", &parts)
    });
    let below = of_layers(&floor.layers[floor.holder + 1..]).map(|layers| {
        let parts: Vec<_> = [rest].into_iter().chain(layers).collect();
        Figure::sum("layers below the tube", &parts)
    });
    (above, below)
}

/// What of the tube's own layer lies over it and below it.
///
/// Embedded tube lies under its cover, or at mid-depth; in boards and plates it lies against the
/// upper face, and the contact of their sheet comes on top; bare tube hangs in the middle of its air.
fn own_layer(floor: &Floor<'_>) -> Option<(Resistance, Resistance)> {
    let Layer::Material { material, thickness, cover, .. } = floor.layers.get(floor.holder)? else {
        return None;
    };
    let holder = floor.holder_material()?;
    let (whole_m, outside_m) = (thickness.si(), floor.tube.outside.si());
    let left_m = (whole_m - outside_m).max(0.0);
    let part = |name: &str, metres: f64| {
        let thickness = Figure::<Length>::new(name, metres, floor.origin());
        material_layer(material, &thickness, floor.assembly, &floor.job.catalogue).ok()
    };
    match holder.carrier {
        Carrier::Screed => {
            let over_m = cover.map_or(left_m / 2.0, Quantity::si);
            let rest_m = (whole_m - over_m).max(0.0);
            Some((part("cover over the tube", over_m)?, part("beside and below it", rest_m)?))
        }
        Carrier::Bare => {
            let half_m = whole_m / 2.0;
            Some((part("air over the tube", half_m)?, part("air below the tube", half_m)?))
        }
        Carrier::Board | Carrier::Plates => {
            let contact_si = holder.sheet.map_or(0.0, |sheet| sheet.contact.si());
            let how = How::Catalogue(format!("{}: {}", holder.name, holder.source));
            let contact = Figure::new("contact of the sheet", contact_si, how);
            Some((contact, part("board or air below the tube", left_m)?))
        }
    }
}
