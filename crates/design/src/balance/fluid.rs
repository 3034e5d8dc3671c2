//! What runs in the tube, and its film.

use crate::emitters::BuildUp;
use laws::tube_heat;
use quantity::Quantity;
use std::f64::consts::PI;

/// What a fluid is like near the temperature at which it runs, in SI.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FluidFigures {
    pub(crate) specific_heat_j_kgk: f64,
    pub(crate) viscosity_pa_s: f64,
    pub(crate) conductivity_w_mk: f64,
}

impl FluidFigures {
    /// From this fluid to the outside of a tube, W/mK; nominal while nothing flows.
    pub(super) fn tube_w_mk(&self, build_up: &BuildUp, mass_flow_kg_s: f64) -> f64 {
        if mass_flow_kg_s <= 0.0 {
            return build_up.nominal_tube_w_mk();
        }
        let bore_m = build_up.tube.inside.si();
        let reynolds = 4.0 * mass_flow_kg_s / (PI * bore_m * self.viscosity_pa_s);
        let prandtl = tube_heat::prandtl_number(
            self.specific_heat_j_kgk,
            self.viscosity_pa_s,
            self.conductivity_w_mk,
        );
        let rough = build_up.tube.roughness.si() / bore_m;
        let nusselt = tube_heat::tube_nusselt_number(reynolds, prandtl, rough);
        build_up.tube_w_mk(nusselt, self.conductivity_w_mk)
    }
}
