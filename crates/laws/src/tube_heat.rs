//! Heat from what runs in a tube to the tube's outside.

use crate::declare::laws;
use crate::friction::friction_factor;
use std::f64::consts::PI;

/// End of laminar flow where heat is concerned, and start of turbulent flow (Gnielinski 2013).
const LAMINAR_END: f64 = 2300.0;
const TURBULENT_START: f64 = 4000.0;

/// Developed laminar flow in a tube of even wall temperature.
///
/// With even heat along the tube it is 4.36; the lower one holds, for floors lie between.
const LAMINAR_NUSSELT: f64 = 3.66;

laws! { topic "tube heat";
    /// Prandtl number of a fluid.
    PRANDTL_NUMBER: fn prandtl_number(
        /// specific heat of the fluid
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 1000.0..=5000.0],
        /// viscosity of the fluid
        viscosity_pa_s: f64 ["μ", Viscosity, 0.0001..=1.0],
        /// conductivity of the fluid
        conductivity_w_mk: f64 ["λ", Conductivity, 0.1..=1.0],
    ) -> f64 [prandtl "Pr" Ratio];
    formula "Pr = c μ / λ";
    source "Prandtl 1910", "", Definition;
    {
        specific_heat_j_kgk * viscosity_pa_s / conductivity_w_mk
    }

    /// Nusselt number of turbulent flow in a tube.
    ///
    /// Long tube; water properties taken alike at wall and middle. Within a tenth of most
    /// measurements.
    TURBULENT_NUSSELT_NUMBER: fn turbulent_nusselt_number(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 3000.0..=5000000.0],
        /// Prandtl number
        prandtl: f64 ["Pr", Ratio, 0.5..=2000.0],
        /// friction factor of Darcy
        friction_factor: f64 ["f", Ratio, 0.005..=0.1],
    ) -> f64 [nusselt "Nu" Ratio];
    formula "Nu = (f/8) (Re − 1000) Pr / [1 + 12.7 √(f/8) (Pr^⅔ − 1)]";
    source "Gnielinski 1976", "Int. Chemical Engineering 16", Memory;
    {
        let eighth = friction_factor / 8.0;
        eighth * (reynolds - 1000.0) * prandtl
            / (1.0 + 12.7 * eighth.sqrt() * (prandtl.powf(2.0 / 3.0) - 1.0))
    }

    /// Nusselt number of any flow in a long tube.
    ///
    /// Between Re 2300 and 4000 in a straight line, as Gnielinski proposed in 2013. Bends stir
    /// laminar flow, so that the heat is rather more than this.
    TUBE_NUSSELT_NUMBER: fn tube_nusselt_number(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 0.0..=5000000.0],
        /// Prandtl number
        prandtl: f64 ["Pr", Ratio, 0.5..=2000.0],
        /// roughness over bore
        roughness_ratio: f64 ["ε", Ratio, 0.0..=0.05],
    ) -> f64 [nusselt "Nu" Ratio];
    formula "Nu = 3.66 to Re 2300; Gnielinski (Re, Pr, f), f by Colebrook (ε), from Re 4000; between, in a straight line";
    source "Gnielinski 2013", "Int. J. Heat and Mass Transfer 63, in a straight line between", Memory;
    {
        if reynolds <= LAMINAR_END {
            return LAMINAR_NUSSELT;
        }
        let turbulent = |reynolds| {
            let factor = friction_factor(reynolds, roughness_ratio);
            turbulent_nusselt_number(reynolds, prandtl, factor)
        };
        if reynolds >= TURBULENT_START {
            return turbulent(reynolds);
        }
        let part = (reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END);
        LAMINAR_NUSSELT + part * (turbulent(TURBULENT_START) - LAMINAR_NUSSELT)
    }

    /// Heat per tube length and degree, fluid to outside.
    ///
    /// Film and wall one behind the other.
    TUBE_CONDUCTANCE: fn tube_conductance(
        /// outside diameter
        outside_m: f64 ["D", Length, 0.004..=0.2],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.19],
        /// conductivity of the tube
        tube_w_mk: f64 ["λr", Conductivity, 0.05..=500.0],
        /// Nusselt number
        nusselt: f64 ["Nu", Ratio, 1.0..=100000.0],
        /// conductivity of the fluid
        fluid_w_mk: f64 ["λ", Conductivity, 0.1..=1.0],
    ) -> f64 [conductance_w_mk "G" LinearTransmittance];
    formula "1/G = ln(D/d) / (2π λr) + 1 / (π Nu λ)";
    source "conduction through a hollow cylinder", "", Definition;
    {
        1.0 / ((outside_m / bore_m).ln() / (2.0 * PI * tube_w_mk) + 1.0 / (PI * nusselt * fluid_w_mk))
    }
}
