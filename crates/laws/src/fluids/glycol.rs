//! Propylene glycol mixed with water.
//!
//! Two-way polynomials in the share of glycol and the temperature, a form that Melinder uses for
//! secondary fluids. The coefficients are our own fit, least squares of the relative error, to the
//! 217 states from 10 to 60 % by volume and from the freezing point to 90 °C that `CoolProp` gives for
//! its fluid APG, which is itself a fit to the ASHRAE tables of aqueous propylene glycol.

use crate::declare::laws;
use crate::table::linear;

/// A polynomial in `(share − 0.35) / 0.25` and `(t − 35 °C) / 55`: rows by the first power.
pub(super) type TwoWay<const N: usize, const M: usize> = [[f64; M]; N];

const DENSITY: TwoWay<4, 3> = [
    [1024.8308, -30.131, -7.7638],
    [17.881, -6.9664, -0.1354],
    [-4.1152, 0.628, 0.2244],
    [0.2701, -0.0766, 0.0],
];

const SPECIFIC_HEAT: TwoWay<4, 3> = [
    [3823.06, 166.444, 0.097],
    [-345.622, 76.399, 0.206],
    [-71.2, -0.763, -0.454],
    [-1.467, 0.575, 0.0],
];

const CONDUCTIVITY: TwoWay<4, 3> = [
    [0.4347481, 0.0389502, -0.0163629],
    [-0.1152019, -0.0262013, 0.0083477],
    [0.0118803, 0.0028683, -0.0007988],
    [-0.0013723, -0.0001563, 0.0],
];

const VISCOSITY_LOGARITHM: TwoWay<5, 4> = [
    [-6.105599, -1.739197, 0.727834, -0.192757],
    [0.855983, -0.504193, 0.260561, -0.050723],
    [-0.1218, 0.276707, -0.092585, 0.034383],
    [-0.034643, 0.010721, -0.031686, 0.0],
    [0.138337, -0.244327, 0.0, 0.0],
];

/// Volume shares, mass shares and freezing points of the ASHRAE table.
const VOLUME: [f64; 11] = [0.0, 0.096, 0.194, 0.253, 0.294, 0.344, 0.396, 0.447, 0.499, 0.55, 0.60];
const FREEZING_C: [f64; 11] =
    [0.0, -3.3, -7.1, -10.2, -12.7, -16.4, -21.1, -26.7, -33.5, -41.6, -51.1];
const MASS_OF_VOLUME: [f64; 7] = [0.0, 0.10, 0.20, 0.30, 0.40, 0.50, 0.60];
const VOLUME_OF_MASS: [f64; 7] = [0.0, 0.096, 0.194, 0.294, 0.396, 0.499, 0.60];

pub(super) fn two_way<const N: usize, const M: usize>(
    cells: &TwoWay<N, M>,
    share: f64,
    temperature_k: f64,
) -> f64 {
    // Beyond its range a polynomial runs away, so it is held at the edge.
    let x = (share.clamp(0.10, 0.60) - 0.35) / 0.25;
    let t = (temperature_k.clamp(253.15, 363.15) - 308.15) / 55.0;
    let row = |row: &[f64; M]| row.iter().rev().fold(0.0, |sum, cell| sum * t + cell);
    cells.iter().rev().fold(0.0, |sum, cells| sum * x + row(cells))
}

laws! { topic "fluids";
    /// Density of propylene glycol and water.
    ///
    /// Within 0.003 % of the values it was fitted to. Held at the ends of the range.
    PROPYLENE_GLYCOL_DENSITY: fn propylene_glycol_density(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals", "aqueous propylene glycol, as fitted by CoolProp", Print;
    {
        two_way(&DENSITY, share, temperature_k)
    }

    /// Specific heat of propylene glycol and water.
    ///
    /// Within 0.011 % of the values it was fitted to. Held at the ends of the range.
    PROPYLENE_GLYCOL_SPECIFIC_HEAT: fn propylene_glycol_specific_heat(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [specific_heat_j_kgk "c" SpecificHeat];
    formula "c = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals", "aqueous propylene glycol, as fitted by CoolProp", Print;
    {
        two_way(&SPECIFIC_HEAT, share, temperature_k)
    }

    /// Viscosity of propylene glycol and water.
    ///
    /// Within 0.37 % of the values it was fitted to. From the printed table they lie 1.5 % in the mean,
    /// within 3 % above the ice point, and up to 7.6 % below it (40 % at −15 °C), where the table is
    /// uneven. Held at the ends of the range.
    PROPYLENE_GLYCOL_VISCOSITY: fn propylene_glycol_viscosity(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [viscosity_pa_s "μ" Viscosity];
    formula "ln μ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals", "aqueous propylene glycol, as fitted by CoolProp", Print;
    {
        two_way(&VISCOSITY_LOGARITHM, share, temperature_k).exp()
    }

    /// Conductivity of propylene glycol and water.
    ///
    /// Within 0.06 % of the values it was fitted to. Held at the ends of the range.
    PROPYLENE_GLYCOL_CONDUCTIVITY: fn propylene_glycol_conductivity(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [conductivity_w_mk "λ" Conductivity];
    formula "λ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals", "aqueous propylene glycol, as fitted by CoolProp", Print;
    {
        two_way(&CONDUCTIVITY, share, temperature_k)
    }

    /// Freezing point of propylene glycol and water.
    ///
    /// First crystals form; the mixture bursts no tube until it is far colder. Linear between the
    /// entries of the table.
    PROPYLENE_GLYCOL_FREEZING_POINT: fn propylene_glycol_freezing_point(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.0..=0.6],
    ) -> f64 [temperature_k "T" Temperature];
    formula "T from the table of freezing points, linear in x";
    source "ASHRAE Handbook Fundamentals", "freezing points of aqueous propylene glycol", Print;
    {
        273.15 + linear(&VOLUME, &FREEZING_C, share)
    }

    /// Share by volume of a mixture given by mass.
    PROPYLENE_GLYCOL_VOLUME_SHARE: fn propylene_glycol_volume_share(
        /// share of glycol by mass
        mass_share: f64 ["w", Ratio, 0.0..=0.6],
    ) -> f64 [share "x" Ratio];
    formula "x from the table of shares, linear in w";
    source "ASHRAE Handbook Fundamentals", "freezing points of aqueous propylene glycol", Print;
    {
        linear(&MASS_OF_VOLUME, &VOLUME_OF_MASS, mass_share)
    }
}
