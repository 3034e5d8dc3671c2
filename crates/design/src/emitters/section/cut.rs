//! A floor across its tubes, as the solver wants it.

use solve::section::{Inclusion, Layer, Rect, Section, Side, Tube};

/// Radiation and convection from a heated floor to its room (EN 1264-5), W/m²K.
const FLOOR_W_M2K: f64 = 10.8;
/// Height given to layers of which only the resistance is known, metres.
///
/// So thin that heat does not spread in them.
const NOMINAL_M: f64 = 0.01;
/// The same for all layers below the tube's own, taken as one.
const UNDER_M: f64 = 0.05;
/// Height of the slot that stands for the contact of a metal sheet, metres.
const CONTACT_M: f64 = 0.0005;
/// Layers that resist less than this are left out, m²K/W.
const LEAST_M2K_W: f64 = 1e-4;

/// One layer: how thick and how well it conducts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Slab {
    pub(crate) thickness_m: f64,
    pub(crate) conductivity_w_mk: f64,
}

/// Metal that spreads the heat of the tube below the layers over it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    pub(crate) thickness_m: f64,
    /// Across the tube; from groove to groove if none.
    pub(crate) width_m: Option<f64>,
    pub(crate) conductivity_w_mk: f64,
    /// Resistance between the metal and what lies on it.
    pub(crate) contact_m2k_w: f64,
}

/// A floor across its tubes, whatever their distance.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cut {
    /// Layers over the one that holds the tube, from it upward.
    pub(crate) over: Vec<Slab>,
    /// The layer that holds the tube.
    pub(crate) holder: Slab,
    /// From its top to the top of the tube.
    pub(crate) cover_m: f64,
    /// Outside diameter of the tube.
    pub(crate) tube_m: f64,
    /// Metal on top of the layer that holds the tube.
    pub(crate) spread: Option<Spread>,
    /// All layers below it.
    pub(crate) under_m2k_w: f64,
}

impl Slab {
    /// A layer of which the resistance is known and perhaps the height; none if it hardly resists.
    pub(crate) fn resisting(resistance_m2k_w: f64, thickness_m: Option<f64>) -> Option<Slab> {
        let thickness_m = thickness_m.filter(|m| *m > 0.0).unwrap_or(NOMINAL_M);
        (resistance_m2k_w > LEAST_M2K_W)
            .then(|| Slab { thickness_m, conductivity_w_mk: thickness_m / resistance_m2k_w })
    }

    fn layer(self) -> Layer {
        Layer::new(self.thickness_m, self.conductivity_w_mk)
    }
}

impl Cut {
    /// Half a spacing with half a tube at its left side, over an underside held at temperature.
    pub(crate) fn section(&self, spacing_m: f64) -> Section {
        let width_m = spacing_m / 2.0;
        let mut layers = Vec::new();
        layers.extend(Slab::resisting(self.under_m2k_w, Some(UNDER_M)).map(Slab::layer));
        let below_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
        layers.push(self.holder.layer());
        let top_m = below_m + self.holder.thickness_m;
        let mut inclusions = Vec::new();
        if let Some(spread) = self.spread {
            let reach_m = spread.width_m.map_or(width_m, |wide| (wide / 2.0).min(width_m));
            let rect = Rect {
                left_m: 0.0,
                right_m: reach_m,
                bottom_m: top_m,
                top_m: top_m + spread.thickness_m,
            };
            // Beside the sheet the same height is filled with what fills its contact.
            let slot_w_mk = CONTACT_M / spread.contact_m2k_w.max(LEAST_M2K_W);
            layers
                .push(Layer::new(spread.thickness_m, slot_w_mk.min(self.holder.conductivity_w_mk)));
            layers.push(Layer::new(CONTACT_M, slot_w_mk));
            inclusions.push(Inclusion::new(rect, spread.conductivity_w_mk));
        }
        layers.extend(self.over.iter().copied().map(Slab::layer));
        Section {
            width_m,
            layers,
            inclusions,
            tubes: vec![self.tube(top_m - self.cover_m)],
            above: Side::Film { coefficient_w_m2k: FLOOR_W_M2K },
            below: Side::Held,
        }
    }

    /// The tube below that height, half of it; in the channel of a sheet as a block warm as one.
    fn tube(&self, top_m: f64) -> Tube {
        match self.spread {
            None => Tube::round(0.0, top_m - self.tube_m / 2.0, self.tube_m),
            Some(_) => Tube::block(Rect {
                left_m: 0.0,
                right_m: self.tube_m / 2.0,
                bottom_m: top_m - self.tube_m,
                top_m,
            }),
        }
    }
}
