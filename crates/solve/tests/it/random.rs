//! Random sections that make sense.

use proptest::prelude::*;
use solve::section::{Inclusion, Layer, Material, Rect, Section, Side, Tube};

fn conductivity() -> impl Strategy<Value = f64> {
    (-1.6..2.4).prop_map(|power| 10f64.powf(power))
}

fn side() -> impl Strategy<Value = Side> {
    prop_oneof![
        4 => (1.0..25.0).prop_map(|coefficient_w_m2k| Side::Film { coefficient_w_m2k }),
        1 => Just(Side::Held),
    ]
}

/// Shares of width and height, in order.
fn share() -> impl Strategy<Value = (f64, f64)> {
    (0.0..0.9f64, 0.02..0.5f64).prop_map(|(from, length)| (from, (from + length).min(1.0)))
}

/// Any figure at all, sensible or not.
fn figure() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 0.001..0.3f64,
        1 => (-300.0..300.0).prop_map(|power| 10f64.powf(power)),
        1 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -1.0, f64::NAN, f64::INFINITY, f64::MIN_POSITIVE]),
    ]
}

/// A section of any figures at all.
pub(crate) fn nonsense() -> impl Strategy<Value = Section> {
    let side = || {
        prop_oneof![
            figure().prop_map(|coefficient_w_m2k| Side::Film { coefficient_w_m2k }),
            Just(Side::Held),
            Just(Side::Insulated),
        ]
    };
    let rect = || {
        (figure(), figure(), figure(), figure()).prop_map(|(left_m, right_m, bottom_m, top_m)| {
            Rect { left_m, right_m, bottom_m, top_m }
        })
    };
    let tube = prop_oneof![
        (figure(), figure(), figure()).prop_map(|(x, y, d)| Tube::round(x, y, d)),
        rect().prop_map(Tube::block),
    ];
    (
        figure(),
        prop::collection::vec((figure(), figure()), 0..4),
        prop::collection::vec((rect(), figure()), 0..2),
        prop::collection::vec((tube, figure()), 0..2),
        side(),
        side(),
    )
        .prop_map(|(width_m, layers, inclusions, tubes, above, below)| Section {
            width_m,
            layers: layers.into_iter().map(|(t, k)| Layer::new(t, k)).collect(),
            inclusions: inclusions.into_iter().map(|(rect, k)| Inclusion::new(rect, k)).collect(),
            tubes: tubes.into_iter().map(|(tube, resistance)| tube.behind(resistance)).collect(),
            above,
            below,
        })
}

/// A section with up to two inclusions and up to two round tubes, either half a tube on the left or
/// whole ones inside.
pub(crate) fn section() -> impl Strategy<Value = Section> {
    let layers = prop::collection::vec((0.004..0.15, conductivity()), 1..5);
    let inclusions = prop::collection::vec((share(), share(), conductivity()), 0..3);
    let tubes = prop::collection::vec((0.008..0.03, 0.2..0.8), 1..3);
    (0.06..0.4, layers, inclusions, tubes, any::<bool>(), side(), side()).prop_map(
        |(width_m, layers, inclusions, tubes, on_side, above, below)| {
            let layers: Vec<Layer> = layers.into_iter().map(|(t, k)| Layer::new(t, k)).collect();
            let height_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
            let inclusion = |(x, y, k): ((f64, f64), (f64, f64), f64)| Inclusion {
                rect: Rect {
                    left_m: x.0 * width_m,
                    right_m: x.1 * width_m,
                    bottom_m: y.0 * height_m,
                    top_m: y.1 * height_m,
                },
                material: Material::new(k),
            };
            // Each tube has its part of the width to itself.
            let part_m = width_m / tubes.len() as f64;
            let tube = |(i, (diameter_m, up)): (usize, (f64, f64))| {
                let diameter_m = diameter_m.min(0.35 * height_m).min(0.5 * part_m);
                let x_m = if on_side { i as f64 * part_m } else { (i as f64 + 0.5) * part_m };
                Tube::round(x_m, up * height_m, diameter_m)
            };
            Section {
                width_m,
                layers,
                inclusions: inclusions.into_iter().map(inclusion).collect(),
                tubes: tubes.into_iter().enumerate().map(tube).collect(),
                above,
                below,
            }
        },
    )
}
