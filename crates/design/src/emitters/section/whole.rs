//! A floor across its tubes with every layer down to its underside.

use super::cut::{Cut, Slab};
use super::response::Beyond;
use crate::figure::{Figure, Work};
use quantity::ArealHeatCapacity;
use solve::section::{Section, Side};
use std::sync::Arc;

/// A layer as a paper names it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Named {
    pub(crate) name: String,
    pub(crate) slab: Slab,
    /// Whether its height is that of the text; only its resistance is known otherwise.
    pub(crate) to_scale: bool,
}

/// A floor whose layers are told one by one, whatever the distance of its tubes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Whole {
    /// The layer with the tube and those over it; its own sum of layers below is not asked.
    pub(crate) cut: Cut,
    /// The layers over the tube's own, from it upward.
    pub(crate) over: Vec<Named>,
    /// What the layer with the tube is called.
    pub(crate) holder: String,
    /// The layers below it, from the lowest up.
    pub(crate) under: Vec<Named>,
    /// Heat that each layer stores; none with the name of a layer of which it is not known.
    pub(crate) stored: Result<Vec<Figure<ArealHeatCapacity>>, String>,
}

/// The section of one heated floor as designed.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorSection {
    pub(crate) whole: Arc<Whole>,
    pub(crate) spacing_m: f64,
    /// Bore of the tube.
    pub(crate) bore_m: f64,
    /// From the fluid to the outside of the tube, W/mK.
    pub(crate) tube_w_mk: f64,
    /// What lies below the lowest layer.
    pub(crate) beyond: Beyond,
    /// What heat lost by the slab's edge takes of the water's excess in film and wall.
    pub(crate) held_back_k: f64,
    /// Mean water, and the room.
    pub(crate) water_k: f64,
    pub(crate) room_k: f64,
    /// Share of the floor under rugs, which the section leaves out; none without any.
    pub(crate) under_rugs: Option<f64>,
    /// What its figures rest on.
    pub(crate) works: Vec<Arc<Work>>,
}

/// Films of tubes are taken in steps of so much of themselves where time is asked for.
const FILM_STEP: f64 = 0.05;

impl FloorSection {
    /// The same with the tube's conductance to the nearest twentieth or so, so that floors alike
    /// but for their flow answer alike: film and wall are a small part of a floor's resistance.
    pub(crate) fn rounded(&self) -> Section {
        let step = (self.tube_w_mk.max(1e-9).ln() / FILM_STEP).round();
        FloorSection { tube_w_mk: (step * FILM_STEP).exp(), ..self.clone() }.section()
    }

    /// What is solved: half a spacing, with film and wall in the tube's resistance.
    pub(crate) fn section(&self) -> Section {
        let below = match self.beyond.resistance_m2k_w {
            resistance if resistance.is_finite() => {
                Side::Film { coefficient_w_m2k: 1.0 / resistance }
            }
            _ => Side::Insulated,
        };
        let under: Vec<Slab> = self.whole.under.iter().map(|layer| layer.slab).collect();
        let mut section = self.whole.cut.on(self.spacing_m, &under, below);
        let resistance_mk_w = 1.0 / self.tube_w_mk;
        section.tubes.iter_mut().for_each(|tube| tube.resistance_mk_w = resistance_mk_w);
        section
    }
}
