//! What a floor gives, and the figures that it rests on.

use super::super::section::{Pairs, Response};
use super::{BuildUp, EMISSIVITY, NOMINAL_FILM_W_M2K};
use crate::figure::{Figure, Given, How, Work};
use job::Tube;
use laws::{panel as law, tube_heat};
use quantity::{Conductivity, Length, Quantity, Ratio, Transmittance};
use std::sync::Arc;

impl BuildUp {
    /// Conductance from fluid to the outside of the tube at a film of that Nusselt number, W/mK.
    pub(crate) fn tube_w_mk(&self, nusselt: f64, fluid_w_mk: f64) -> f64 {
        let Tube { outside, inside, conductivity, .. } = &self.tube;
        let (outside_m, bore_m) = (outside.si(), inside.si());
        tube_heat::tube_conductance(outside_m, bore_m, conductivity.si(), nusselt, fluid_w_mk)
    }

    /// The same before any flow is known.
    pub(crate) fn nominal_tube_w_mk(&self) -> f64 {
        // Nusselt number and conductivity stand for their product, film times bore.
        self.tube_w_mk(NOMINAL_FILM_W_M2K * self.tube.inside.si(), 1.0)
    }

    /// What the floor gives at that distance of its tubes, metres, and conductance of its tube.
    ///
    /// Of a floor of parts, what all of them give together; the distance is that of the rest.
    pub(crate) fn response(&self, spacing_m: f64, tube_w_mk: f64) -> Result<Response, String> {
        let zones = self.zone_responses(spacing_m, tube_w_mk)?;
        let shares: Vec<(f64, Response)> =
            zones.iter().map(|own| (own.zone.share, own.response)).collect();
        Response::of_parts(&shares).ok_or_else(|| "it has no part".to_owned())
    }

    /// The same of the rest alone; what lies under rugs counts by its share.
    pub(super) fn rest_response(&self, spacing_m: f64, tube_w_mk: f64) -> Result<Response, String> {
        let bare = self.response_without_rugs(spacing_m, tube_w_mk)?;
        let Some(rugs) = &self.rugs else { return Ok(bare) };
        let panel = rugs.curve.at(spacing_m).map_err(|error| error.to_string())?;
        let under = Response::of(&panel, tube_w_mk, &self.beyond());
        Ok(bare.beside(&under, rugs.share.si()))
    }

    /// The same without its rugs.
    pub(crate) fn response_without_rugs(
        &self,
        spacing_m: f64,
        tube_w_mk: f64,
    ) -> Result<Response, String> {
        let panel = self.curve.at(spacing_m).map_err(|error| error.to_string())?;
        Ok(Response::of(&panel, tube_w_mk, &self.beyond()))
    }

    /// Share of the floor that rugs cover; none without any.
    pub(crate) fn rugs(&self) -> Option<&Figure<Ratio>> {
        self.rugs.as_ref().map(|rugs| &rugs.share)
    }

    /// The floor between two tubes that need not be equally warm; none where its section cannot
    /// be solved.
    pub(crate) fn pairs(&self) -> Option<Arc<Pairs>> {
        // Bare tube in a joist bay warms the bay, not the floor beside it.
        self.curve.cut().bays.is_none().then(|| self.curve.pairs().ok())?
    }

    /// Output per area and degree of water excess, with what it was made from.
    pub(crate) fn output_coefficient(
        &self,
        spacing: &Figure<Length>,
        tube_w_mk: f64,
    ) -> Result<Figure<Transmittance>, String> {
        let response = self.response(spacing.si(), tube_w_mk)?;
        let film: Figure<quantity::LinearTransmittance> = Figure::settled(
            "from fluid to the outside of the tube, for each length",
            tube_w_mk,
            "film of the fluid at its flow and wall of the tube, one behind the other",
            vec![self.tube_wall().work],
        );
        let mut from = vec![spacing.work.clone(), film.work];
        from.extend(self.works());
        Ok(Figure::settled(
            "output per area and degree of water excess",
            response.room,
            match self.is_unchecked() {
                true => {
                    "unchecked: radiation and convection of bare tube in a joist bay, about linear"
                }
                false => "conduction in two dimensions through the section, solved within 0.2 %",
            },
            from,
        ))
    }

    /// The same by EN 1264-2, for tube in screed or slab and turbulent water; none else.
    pub(crate) fn published_coefficient(
        &self,
        spacing: &Figure<Length>,
    ) -> Option<Figure<Transmittance>> {
        if !self.is_wet {
            return None;
        }
        let how = || How::Catalogue(format!("{}: {}", self.tube.name, self.tube.source));
        let outside = Figure::<Length>::new("outside diameter", self.tube.outside.si(), how());
        let wall_m = (self.tube.outside.si() - self.tube.inside.si()) / 2.0;
        let wall = Figure::<Length>::new("wall of the tube", wall_m, how());
        let inputs = [
            &spacing.work,
            &self.cover.work,
            &outside.work,
            &wall.work,
            &self.tube_wall().work,
            &self.holder.work,
            &self.covering.work,
        ];
        let name = "output per area and degree by the published curves";
        Figure::by_law(name, &law::EMBEDDED_TUBE_COEFFICIENT, &inputs.map(Given::One)).ok()
    }

    /// The figures that its section rests on.
    pub(crate) fn works(&self) -> Vec<Arc<Work>> {
        let mut works = vec![
            self.cover.work.clone(),
            self.holder.work.clone(),
            self.covering.work.clone(),
            self.insulation.work.clone(),
        ];
        works.extend(self.downward.works());
        works.extend(self.part_works());
        if self.is_unchecked() {
            let why = "plastic tube; no published measurement of bare tube in a joist bay was at \
                       hand, so what such a floor gives is unchecked";
            works.push(Figure::<Ratio>::assumed("emissivity of the tube", EMISSIVITY, why).work);
        }
        let rugs = self.rugs.iter();
        works.extend(rugs.flat_map(|it| [it.share.work.clone(), it.resistance.work.clone()]));
        works
    }

    fn tube_wall(&self) -> Figure<Conductivity> {
        let how = How::Catalogue(format!("{}: {}", self.tube.name, self.tube.source));
        Figure::new("conductivity of the tube", self.tube.conductivity.si(), how)
    }
}
