//! A floor's layers one by one, with their names and what they store.

use super::section::{Cut, Named, Slab, Spread, Whole};
use crate::figure::{Figure, How};
use job::{Catalogue, Finish, Layer, Material, Place};
use quantity::{AreaResistance, ArealHeatCapacity, Quantity};

/// Metals below this conductivity, W/mK, are steel, others aluminium.
pub(crate) const STEEL_BELOW_W_MK: f64 = 100.0;

/// What a floor's layers are found in.
pub(super) struct Stack<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) place: Place,
    pub(super) finish: Option<&'a Finish>,
    /// Layers over the tube's own, from the room down, and those below it.
    pub(super) above: &'a [Layer],
    pub(super) under: &'a [Layer],
    pub(super) holder: &'a Material,
    /// Resistance of the finish and of each layer over the tube's own, from the room down.
    pub(super) over_m2k_w: &'a [Figure<AreaResistance>],
    /// The same of each layer below.
    pub(super) under_m2k_w: &'a [Figure<AreaResistance>],
}

impl Stack<'_> {
    /// The floor with its layers apart, cut as `cut` is.
    pub(super) fn whole(&self, cut: &Cut) -> Whole {
        let mut over: Vec<Named> = Vec::new();
        let plain = self.above.iter().zip(self.over_m2k_w.iter().skip(1));
        over.extend(self.finish.zip(self.over_m2k_w.first()).and_then(|it| self.covering(it)));
        over.extend(plain.filter_map(|(layer, resistance)| self.layer(layer, resistance)));
        over.reverse();
        let under = self.under.iter().zip(self.under_m2k_w);
        let mut under: Vec<Named> =
            under.filter_map(|(layer, resistance)| self.layer(layer, resistance)).collect();
        under.reverse();
        let holder = cut.holder.storing(of_material(self.holder));
        let spread = cut.spread.map(|spread| Spread {
            stores_j_m3k: metal(self.catalogue, spread.conductivity_w_mk),
            ..spread
        });
        let over_slabs = over.iter().map(|layer| layer.slab).collect();
        let mut whole = Whole {
            cut: Cut { over: over_slabs, holder, spread, ..cut.clone() },
            over,
            holder: self.holder.name.clone(),
            under,
            stored: Ok(Vec::new()),
        };
        whole.stored = self.stored(&whole);
        whole
    }

    fn covering(&self, (finish, resistance): (&Finish, &Figure<AreaResistance>)) -> Option<Named> {
        let thickness_m = finish.thickness.si();
        let slab = Slab::resisting(resistance.si(), Some(thickness_m))?;
        let heavy = finish.specific_heat.map(|heat| heat.si() * finish.weight.si());
        let stores = heat_over(heavy, slab.thickness_m);
        let name = finish.name.clone();
        Some(Named { name, slab: slab.storing(stores), to_scale: thickness_m > 0.0 })
    }

    fn layer(&self, layer: &Layer, resistance: &Figure<AreaResistance>) -> Option<Named> {
        let thickness_m = layer.thickness().map(Quantity::si).filter(|m| *m > 0.0);
        let slab = Slab::resisting(resistance.si(), thickness_m)?;
        let name = layer_name(layer, self.catalogue);
        let slab = slab.storing(stores(layer, self.catalogue));
        Some(Named { name, slab, to_scale: thickness_m.is_some() })
    }

    /// Heat that each layer stores, from the room down.
    fn stored(&self, whole: &Whole) -> Result<Vec<Figure<ArealHeatCapacity>>, String> {
        let holder = [(whole.holder.as_str(), whole.cut.holder)];
        let named = |layers: &'_ [Named]| -> Vec<(String, Slab)> {
            layers.iter().rev().map(|it| (it.name.clone(), it.slab)).collect()
        };
        let holder = holder.map(|(name, slab)| (name.to_owned(), slab));
        let all = named(&whole.over).into_iter().chain(holder).chain(named(&whole.under));
        all.filter(|(_, slab)| slab.stores_j_m3k != Some(0.0))
            .map(|(name, slab)| {
                let stores = slab.stores_j_m3k.ok_or_else(|| name.clone())?;
                let how = How::Settled(
                    "its thickness times its density and specific heat, by the catalogue"
                        .to_owned(),
                    vec![
                        Figure::<quantity::Length>::new(
                            "thickness",
                            slab.thickness_m,
                            How::Stated(self.place),
                        )
                        .work,
                    ],
                );
                Ok(Figure::new(format!("heat stored in {name}"), stores * slab.thickness_m, how))
            })
            .collect()
    }
}

fn heat_over(areal_j_m2k: Option<f64>, thickness_m: f64) -> Option<f64> {
    areal_j_m2k.filter(|_| thickness_m > 0.0).map(|heat| heat / thickness_m)
}

/// Density times specific heat; none where either is not known.
fn of_material(material: &Material) -> Option<f64> {
    Some(material.density?.si() * material.specific_heat?.si())
}

fn metal(catalogue: &Catalogue, conductivity_w_mk: f64) -> Option<f64> {
    let steel = conductivity_w_mk < STEEL_BELOW_W_MK;
    catalogue.material(if steel { "steel" } else { "aluminium" }).and_then(of_material)
}

/// What a layer stores for its volume, J/m³K: nothing for air and for insulation told by its
/// resistance alone; none where it is not known.
fn stores(layer: &Layer, catalogue: &Catalogue) -> Option<f64> {
    match layer {
        Layer::Material { material, .. } => of_material(catalogue.material(material)?),
        Layer::Rated { .. } | Layer::Air { .. } => Some(0.0),
        Layer::Framed { fill, frame, share, .. } => {
            let (fill, frame) =
                (stores(fill, catalogue)?, of_material(catalogue.material(frame)?)?);
            Some(fill * (1.0 - share.si()) + frame * share.si())
        }
    }
}

/// What a layer is called on paper.
pub(crate) fn layer_name(layer: &Layer, catalogue: &Catalogue) -> String {
    match layer {
        Layer::Material { material, .. } => {
            catalogue.material(material).map_or_else(|| material.clone(), |it| it.name.clone())
        }
        Layer::Rated { words, .. } => words.clone(),
        Layer::Air { .. } => "air".to_owned(),
        Layer::Framed { fill, .. } => format!("{} between its frame", layer_name(fill, catalogue)),
    }
}
