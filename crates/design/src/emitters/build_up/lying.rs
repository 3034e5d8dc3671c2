//! A panel on a wall or ceiling: the same layers, whatever they face.

use super::super::section::{Cut, Slab};
use super::NOMINAL_FILM_W_M2K;
use super::tube_layer::{bays, parts, slabs_over, slabs_under, spread};
use crate::envelope::{conductivity, layer_resistances};
use crate::figure::{Figure, How, Work};
use job::{Assembly, Layer, Tube};
use laws::tube_heat;
use quantity::{Length, Quantity};
use std::sync::Arc;

/// Layers with a tube in them, whatever they face: a panel on a wall or ceiling.
pub(in crate::emitters) struct Lying {
    /// What it is called on paper.
    pub(in crate::emitters) name: String,
    pub(in crate::emitters) cut: Cut,
    pub(in crate::emitters) grooves: Option<Length>,
    /// The material that holds the tube, by key, and those against it.
    pub(in crate::emitters) holder: String,
    pub(in crate::emitters) beside: Vec<String>,
    pub(in crate::emitters) works: Vec<Arc<Work>>,
}

impl Lying {
    /// Conductance from turbulent water to the outside of the tube, W/mK.
    pub(in crate::emitters) fn tube_w_mk(&self, tube: &Tube) -> f64 {
        let bore_m = tube.inside.si();
        let (outside_m, own) = (tube.outside.si(), tube.conductivity.si());
        tube_heat::tube_conductance(outside_m, bore_m, own, NOMINAL_FILM_W_M2K * bore_m, 1.0)
    }
}

/// The layers of a panel as its section, with that coefficient from its surface to the room.
pub(in crate::emitters) fn cut_of(
    assembly: &Assembly,
    tube: &Tube,
    catalogue: &job::Catalogue,
    film_w_m2k: f64,
) -> Result<Lying, String> {
    let parts = parts(assembly, tube, catalogue)?;
    let holder = conductivity(&parts.material.key, catalogue)
        .ok_or_else(|| format!("panel {}: no material `{}`", assembly.key, parts.material.key))?;
    let over = layer_resistances(parts.above, assembly, parts.place, catalogue)?;
    let under = layer_resistances(parts.under, assembly, parts.place, catalogue)?;
    let behind = Figure::sum("layers behind the tube's own", &under);
    let before = Figure::sum("layers before the tube's own", &over);
    // No finish lies on a panel.
    let none = Figure::new("finish", 0.0, How::Decided("none".to_owned()));
    let over: Vec<_> = std::iter::once(none).chain(over).collect();
    let cut = Cut {
        over: slabs_over(parts.above, None, &over),
        holder: Slab::new(parts.thickness_m, holder.si()),
        cover_m: parts.cover_m,
        tube_m: tube.outside.si(),
        spread: spread(parts.material),
        bays: bays(parts.material, parts.under),
        film_w_m2k,
        under: Slab::lumped(&slabs_under(parts.under, &under), 0.0),
    };
    let of_catalogue = assembly.build_up.as_deref().and_then(|key| catalogue.build_up(key));
    let key = |layer: &Layer| match layer {
        Layer::Material { material, .. } => Some(material.clone()),
        _ => None,
    };
    let beside = parts.above.last().into_iter().chain(parts.under.first()).filter_map(key);
    Ok(Lying {
        name: of_catalogue.map_or_else(|| assembly.key.replace('_', " "), |it| it.name.clone()),
        cut,
        grooves: parts.material.grooves,
        holder: parts.material.key.clone(),
        beside: beside.collect(),
        works: vec![before.work, holder.work, behind.work],
    })
}
