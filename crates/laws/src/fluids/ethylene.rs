//! Ethylene glycol mixed with water. Toxic: where drinking water is near, propylene glycol is used.
//!
//! Polynomials of the same form as for propylene glycol; the coefficients are our own fit, least
//! squares of the relative error, to the printed tables of ASHRAE from 10 to 60 % by volume and from
//! the freezing point to 90 °C. One density (10 %, 30 °C) is left out of the fit as a misprint.

use super::glycol::{TwoWay, two_way};
use crate::declare::laws;
use crate::table::linear;

const DENSITY: TwoWay<4, 3> = [
    [1046.1675, -25.4448, -7.3592],
    [35.1229, -4.0867, -0.0008],
    [-2.8102, -0.1618, 0.0025],
    [0.2273, -0.0147, 0.0],
];

const SPECIFIC_HEAT: TwoWay<4, 3> = [
    [3604.622, 170.388, 0.032],
    [-425.547, 71.148, -0.118],
    [-30.868, -2.518, -0.078],
    [1.081, 0.843, 0.0],
];

const CONDUCTIVITY: TwoWay<4, 3> = [
    [0.4476297, 0.0463985, -0.0164325],
    [-0.1030374, -0.0207376, 0.0083672],
    [0.014099, 0.0026482, -0.0006527],
    [-0.0009141, -0.0001003, 0.0],
];

const VISCOSITY_LOGARITHM: TwoWay<5, 4> = [
    [-6.36961, -1.288064, 0.479101, -0.216703],
    [0.655441, -0.205544, 0.056274, -0.041228],
    [0.025938, 0.020614, -0.036862, 0.099864],
    [0.001378, -0.076814, 0.029684, 0.0],
    [-0.035668, -0.104601, 0.0, 0.0],
];

/// The table of freezing points: shares by mass and by volume, and degrees Celsius.
const MASS: [f64; 45] = [
    0.00, 0.05, 0.10, 0.15, 0.20, 0.21, 0.22, 0.23, 0.24, 0.25, 0.26, 0.27, 0.28, 0.29, 0.30, 0.31,
    0.32, 0.33, 0.34, 0.35, 0.36, 0.37, 0.38, 0.39, 0.40, 0.41, 0.42, 0.43, 0.44, 0.45, 0.46, 0.47,
    0.48, 0.49, 0.50, 0.51, 0.52, 0.53, 0.54, 0.55, 0.56, 0.57, 0.58, 0.59, 0.60,
];
const VOLUME: [f64; 45] = [
    0.000, 0.044, 0.089, 0.136, 0.181, 0.192, 0.201, 0.210, 0.220, 0.229, 0.239, 0.248, 0.258,
    0.267, 0.277, 0.287, 0.296, 0.306, 0.316, 0.326, 0.335, 0.345, 0.355, 0.365, 0.375, 0.385,
    0.395, 0.405, 0.415, 0.425, 0.435, 0.445, 0.455, 0.466, 0.476, 0.486, 0.496, 0.506, 0.516,
    0.527, 0.537, 0.547, 0.557, 0.568, 0.578,
];
const FREEZING_C: [f64; 45] = [
    0.0, -1.4, -3.2, -5.4, -7.8, -8.4, -8.9, -9.5, -10.2, -10.7, -11.4, -12.0, -12.7, -13.3, -14.1,
    -14.8, -15.4, -16.2, -17.0, -17.9, -18.6, -19.4, -20.3, -21.3, -22.3, -23.2, -24.3, -25.3,
    -26.4, -27.5, -28.8, -29.8, -31.1, -32.6, -33.8, -35.1, -36.4, -37.9, -39.3, -41.1, -42.6,
    -44.2, -45.6, -47.1, -48.3,
];

laws! { topic "fluids";
    /// Density of ethylene glycol and water.
    ///
    /// Within 0.006 % of the printed table. Held at the ends of the range.
    ETHYLENE_GLYCOL_DENSITY: fn ethylene_glycol_density(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals 2001", "aqueous ethylene glycol, our fit", Print;
    {
        two_way(&DENSITY, share, temperature_k)
    }

    /// Specific heat of ethylene glycol and water.
    ///
    /// Within 0.03 % of the printed table. Held at the ends of the range.
    ETHYLENE_GLYCOL_SPECIFIC_HEAT: fn ethylene_glycol_specific_heat(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [specific_heat_j_kgk "c" SpecificHeat];
    formula "c = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals 2001", "aqueous ethylene glycol, our fit", Print;
    {
        two_way(&SPECIFIC_HEAT, share, temperature_k)
    }

    /// Viscosity of ethylene glycol and water.
    ///
    /// Within 4.7 % of the printed table (40 % at −20 °C), 1.2 % in the mean: the table is uneven and
    /// rounded. Held at the ends of the range.
    ETHYLENE_GLYCOL_VISCOSITY: fn ethylene_glycol_viscosity(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [viscosity_pa_s "μ" Viscosity];
    formula "ln μ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals 2001", "aqueous ethylene glycol, our fit", Print;
    {
        two_way(&VISCOSITY_LOGARITHM, share, temperature_k).exp()
    }

    /// Conductivity of ethylene glycol and water.
    ///
    /// Within 0.16 % of the printed table. Held at the ends of the range.
    ETHYLENE_GLYCOL_CONDUCTIVITY: fn ethylene_glycol_conductivity(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.1..=0.6],
        /// temperature of the mixture
        temperature_k: f64 ["T", Temperature, 253.15..=363.15],
    ) -> f64 [conductivity_w_mk "λ" Conductivity];
    formula "λ = Σ c (x − 0.35)^i (T − 308.15)^j, scaled";
    source "ASHRAE Handbook Fundamentals 2001", "aqueous ethylene glycol, our fit", Print;
    {
        two_way(&CONDUCTIVITY, share, temperature_k)
    }

    /// Freezing point of ethylene glycol and water.
    ///
    /// First crystals form. Linear between the entries of the table.
    ETHYLENE_GLYCOL_FREEZING_POINT: fn ethylene_glycol_freezing_point(
        /// share of glycol by volume
        share: f64 ["x", Ratio, 0.0..=0.578],
    ) -> f64 [temperature_k "T" Temperature];
    formula "T from the table of freezing points, linear in x";
    source "ASHRAE Handbook Fundamentals 2001", "freezing points of aqueous ethylene glycol", Print;
    {
        273.15 + linear(&VOLUME, &FREEZING_C, share)
    }

    /// Share by volume of ethylene glycol given by mass.
    ETHYLENE_GLYCOL_VOLUME_SHARE: fn ethylene_glycol_volume_share(
        /// share of glycol by mass
        mass_share: f64 ["w", Ratio, 0.0..=0.6],
    ) -> f64 [share "x" Ratio];
    formula "x from the table of shares, linear in w";
    source "ASHRAE Handbook Fundamentals 2001", "freezing points of aqueous ethylene glycol", Print;
    {
        linear(&MASS, &VOLUME, mass_share)
    }
}
