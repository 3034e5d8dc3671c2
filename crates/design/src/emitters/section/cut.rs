//! A floor across its tubes, as the solver wants it.

use solve::section::{Inclusion, Layer, Material, Rect, Section, Shape, Side, Tube};

/// Radiation and convection from a heated floor to its room (EN 1264-5), W/m²K.
pub(crate) const FLOOR_W_M2K: f64 = 10.8;
/// Height given to layers of which only the resistance is known, metres.
///
/// So thin that heat does not spread in them.
const NOMINAL_M: f64 = 0.01;
/// The same for layers below the tube's own that are taken as one.
const UNDER_M: f64 = 0.05;
/// Height of the slot that stands for the contact of a metal sheet, metres.
const CONTACT_M: f64 = 0.0005;
/// Layers that resist less than this are left out, m²K/W.
const LEAST_M2K_W: f64 = 1e-4;

/// One layer: how thick, how well it conducts, how much heat it stores.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Slab {
    pub(crate) thickness_m: f64,
    pub(crate) conductivity_w_mk: f64,
    /// Density times specific heat; none where either is not known.
    pub(crate) stores_j_m3k: Option<f64>,
}

/// Metal that spreads the heat of the tube below the layers over it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    pub(crate) thickness_m: f64,
    /// Across the tube; from groove to groove if none.
    pub(crate) width_m: Option<f64>,
    pub(crate) conductivity_w_mk: f64,
    /// Density times specific heat of the metal; none where either is not known.
    pub(crate) stores_j_m3k: Option<f64>,
    /// Resistance between the metal and what lies on it.
    pub(crate) contact_m2k_w: f64,
}

/// A joist bay in which bare tube hangs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bays {
    /// Share of the floor between joists.
    pub(crate) clear: f64,
    /// Emissivity of the tube.
    pub(crate) emissivity: f64,
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
    /// Joist bays, where the tube hangs bare in their air.
    pub(crate) bays: Option<Bays>,
    /// Radiation and convection from its surface to the room, W/m²K.
    pub(crate) film_w_m2k: f64,
    /// Layers below it, from the lowest up.
    pub(crate) under: Vec<Slab>,
}

impl Slab {
    /// A layer of which the resistance is known and perhaps the height; none if it hardly resists.
    pub(crate) fn resisting(resistance_m2k_w: f64, thickness_m: Option<f64>) -> Option<Slab> {
        let thickness_m = thickness_m.filter(|m| *m > 0.0).unwrap_or(NOMINAL_M);
        (resistance_m2k_w > LEAST_M2K_W)
            .then(|| Slab::new(thickness_m, thickness_m / resistance_m2k_w))
    }

    /// A layer that stores nothing that is known.
    pub(crate) fn new(thickness_m: f64, conductivity_w_mk: f64) -> Slab {
        Slab { thickness_m, conductivity_w_mk, stores_j_m3k: None }
    }

    /// The same layer with what it stores.
    pub(crate) fn storing(self, stores_j_m3k: Option<f64>) -> Slab {
        Slab { stores_j_m3k, ..self }
    }

    /// Layers below a tube and what is borrowed from beyond, as one.
    pub(crate) fn lumped(under: &[Slab], borrowed_m2k_w: f64) -> Vec<Slab> {
        let all_m2k_w = Slab::resistance_of(under) + borrowed_m2k_w;
        Slab::resisting(all_m2k_w, Some(UNDER_M)).into_iter().collect()
    }

    /// Resistance of layers, m²K/W.
    pub(crate) fn resistance_of(slabs: &[Slab]) -> f64 {
        slabs.iter().map(|slab| slab.thickness_m / slab.conductivity_w_mk).sum()
    }

    fn layer(self) -> Layer {
        let stores = self.stores_j_m3k.unwrap_or(0.0);
        let material = Material::new(self.conductivity_w_mk).storing(stores);
        Layer { thickness_m: self.thickness_m, material }
    }
}

impl Cut {
    /// Half a spacing with half a tube at its left side, over an underside held at temperature.
    pub(crate) fn section(&self, spacing_m: f64) -> Section {
        self.on(spacing_m, &self.under, Side::Held)
    }

    /// The same on those layers, from the lowest up, and beyond them that side.
    pub(crate) fn on(&self, spacing_m: f64, under: &[Slab], below: Side) -> Section {
        let (section, tube) = self.cell(spacing_m / 2.0, under, below);
        Section { tubes: vec![tube], ..section }
    }

    /// From the middle of one tube to that of the next, each half in it.
    pub(crate) fn between_two(&self, distance_m: f64) -> Section {
        let (section, tube) = self.cell(distance_m, &self.under, Side::Held);
        let last = match tube.shape {
            Shape::Round { y_m, diameter_m, .. } => Tube::round(distance_m, y_m, diameter_m),
            Shape::Block(rect) => {
                let left_m = distance_m - rect.right_m;
                Tube::block(Rect { left_m, right_m: distance_m, ..rect })
            }
        };
        let mirrored = |inclusion: &Inclusion| {
            let (left_m, right_m) = (inclusion.rect.left_m, inclusion.rect.right_m);
            let rect = Rect {
                left_m: distance_m - right_m,
                right_m: distance_m - left_m,
                ..inclusion.rect
            };
            Inclusion { rect, ..*inclusion }
        };
        let mut inclusions = section.inclusions.clone();
        inclusions.extend(section.inclusions.iter().map(mirrored));
        Section { tubes: vec![tube, last], inclusions, ..section }
    }

    /// Layers over a width with a tube's half at the left side, which is not yet in it.
    fn cell(&self, width_m: f64, under: &[Slab], below: Side) -> (Section, Tube) {
        let mut layers: Vec<Layer> = under.iter().copied().map(Slab::layer).collect();
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
            let metal = Material::new(spread.conductivity_w_mk);
            let material = metal.storing(spread.stores_j_m3k.unwrap_or(0.0));
            inclusions.push(Inclusion { rect, material });
        }
        layers.extend(self.over.iter().copied().map(Slab::layer));
        let section = Section {
            width_m,
            layers,
            inclusions,
            tubes: Vec::new(),
            above: Side::Film { coefficient_w_m2k: self.film_w_m2k },
            below,
        };
        (section, self.tube(top_m - self.cover_m))
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
