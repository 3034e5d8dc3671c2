//! Friction of flow in tubes.

use crate::declare::laws;
use std::f64::consts::{LN_10, PI};

/// Where laminar flow begins to break up.
const LAMINAR_END: f64 = 2000.0;

/// From where flow is taken as turbulent.
const TURBULENT_START: f64 = 4000.0;

/// 2 / ln 10: turns Colebrook's decimal logarithm into the natural one.
const TWO_DECADES: f64 = 2.0 / LN_10;

/// Colebrook's equation solved for `x = 1 / √f`, with the argument of its logarithm there.
///
/// Newton's method: the function is concave and rises, so it closes in from any start. From the
/// start chosen, three steps bring the error of f below 1e-12 for Re from 2000 to 1e8 and relative
/// roughness to 0.05 (tested); the count is fixed so that the answer is the same everywhere.
fn colebrook(reynolds: f64, roughness_ratio: f64) -> (f64, f64) {
    let rough = roughness_ratio / 3.7;
    let smooth = 2.51 / reynolds;
    let mut x = -TWO_DECADES * (rough + 7.0 * smooth).ln();
    for _ in 0..3 {
        let argument = rough + smooth * x;
        let residual = x + TWO_DECADES * argument.ln();
        x -= residual / (1.0 + TWO_DECADES * smooth / argument);
    }
    (x, rough + smooth * x)
}

/// Friction factor of Colebrook, and its change with the Reynolds number.
fn colebrook_with_slope(reynolds: f64, roughness_ratio: f64) -> (f64, f64) {
    let (x, argument) = colebrook(reynolds, roughness_ratio);
    let smooth = 2.51 / reynolds;
    let pull = TWO_DECADES * smooth / argument;
    let slope_of_x = pull * x / reynolds / (1.0 + pull);
    (x.powi(-2), -2.0 * x.powi(-3) * slope_of_x)
}

laws! { topic "friction";
    /// Reynolds number of flow in a tube.
    ///
    /// The same for flow either way.
    REYNOLDS_NUMBER: fn reynolds_number(
        /// velocity
        velocity_m_s: f64 ["v", Velocity, 0.0..=10.0],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// viscosity of the fluid
        viscosity_pa_s: f64 ["μ", Viscosity, 0.0001..=1.0],
    ) -> f64 [reynolds "Re" Ratio];
    formula "Re = ρ |v| d / μ";
    source "Reynolds 1883", "", Definition;
    {
        density_kg_m3 * velocity_m_s.abs() * bore_m / viscosity_pa_s
    }

    /// Friction factor of laminar flow.
    LAMINAR_FRICTION_FACTOR: fn laminar_friction_factor(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 1.0..=2300.0],
    ) -> f64 [friction_factor "f" Ratio];
    formula "f = 64 / Re";
    source "Hagen 1839, Poiseuille 1840", "", Definition;
    {
        64.0 / reynolds
    }

    /// Friction factor of turbulent flow.
    ///
    /// Solved by three steps of Newton's method.
    COLEBROOK_FRICTION_FACTOR: fn colebrook_friction_factor(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 4000.0..=100000000.0],
        /// roughness over bore
        roughness_ratio: f64 ["ε", Ratio, 0.0..=0.05],
    ) -> f64 [friction_factor "f" Ratio];
    formula "1/√f = −2 log10(ε / 3.7 + 2.51 / (Re √f))";
    source "Colebrook 1939", "J. Inst. Civil Engineers 11", Memory;
    {
        colebrook(reynolds, roughness_ratio).0.powi(-2)
    }

    /// Friction factor of flow, laminar, turbulent or between.
    ///
    /// Between Re 2000 and 4000 no law holds; the cubic in Re that meets 64 / Re and Colebrook in
    /// value and slope (Hermite's) is our choice, so that a network solver sees no jump. Read losses
    /// there as uncertain by a fifth.
    FRICTION_FACTOR: fn friction_factor(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 1.0..=100000000.0],
        /// roughness over bore
        roughness_ratio: f64 ["ε", Ratio, 0.0..=0.05],
    ) -> f64 [friction_factor "f" Ratio];
    formula "f = 64 / Re to Re 2000; Colebrook (Re, ε) from Re 4000; between, the cubic that joins both smoothly";
    source "Colebrook 1939", "with a cubic join of our choice", Memory;
    {
        if reynolds <= LAMINAR_END {
            return laminar_friction_factor(reynolds);
        }
        if reynolds >= TURBULENT_START {
            return colebrook_friction_factor(reynolds, roughness_ratio);
        }
        let width = TURBULENT_START - LAMINAR_END;
        let start = laminar_friction_factor(LAMINAR_END);
        let start_slope = -start / LAMINAR_END * width;
        let (end, end_slope) = colebrook_with_slope(TURBULENT_START, roughness_ratio);
        let end_slope = end_slope * width;
        let part = (reynolds - LAMINAR_END) / width;
        let rest = 1.0 - part;
        // Hermite's cubic in Bernstein's form: sums of positive shares keep their digits.
        rest * rest * ((1.0 + 2.0 * part) * start + part * start_slope)
            + part * part * ((1.0 + 2.0 * rest) * end - rest * end_slope)
    }

    /// Friction factor by an explicit stand-in for Colebrook.
    ///
    /// Reads 0.7 % below to 3.2 % above Colebrook; kept to compare with programs that use it.
    SWAMEE_JAIN_FRICTION_FACTOR: fn swamee_jain_friction_factor(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 4000.0..=100000000.0],
        /// roughness over bore
        roughness_ratio: f64 ["ε", Ratio, 0.0..=0.01],
    ) -> f64 [friction_factor "f" Ratio];
    formula "f = 0.25 / log10(ε / 3.7 + 5.74 / Re^0.9)²";
    source "Swamee and Jain 1976", "J. Hydraulics Division ASCE 102", Print;
    {
        0.25 / (roughness_ratio / 3.7 + 5.74 / reynolds.powf(0.9)).log10().powi(2)
    }

    /// Friction factor by one equation for all flow.
    ///
    /// Reads up to a third above the smooth join between Re 2000 and 4000; kept to compare.
    CHURCHILL_FRICTION_FACTOR: fn churchill_friction_factor(
        /// Reynolds number
        reynolds: f64 ["Re", Ratio, 1.0..=100000000.0],
        /// roughness over bore
        roughness_ratio: f64 ["ε", Ratio, 0.0..=0.05],
    ) -> f64 [friction_factor "f" Ratio];
    formula "f = 8 [(8/Re)^12 + (A + B)^-1.5]^(1/12); A = [−2.457 ln((7/Re)^0.9 + 0.27 ε)]^16, B = (37530/Re)^16";
    source "Churchill 1977", "Chemical Engineering 84", Memory;
    {
        let turbulent =
            (-2.457 * ((7.0 / reynolds).powf(0.9) + 0.27 * roughness_ratio).ln()).powi(16);
        let transition = (37530.0 / reynolds).powi(16);
        let laminar = (8.0 / reynolds).powi(12);
        8.0 * (laminar + (turbulent + transition).powf(-1.5)).powf(1.0 / 12.0)
    }

    /// Velocity of a flow in a tube.
    FLOW_VELOCITY: fn flow_velocity(
        /// flow
        flow_m3_s: f64 ["Q", Flow, 0.0..=0.5],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
    ) -> f64 [velocity_m_s "v" Velocity];
    formula "v = 4 Q / (π d²)";
    source "continuity", "", Definition;
    {
        4.0 * flow_m3_s / (PI * bore_m * bore_m)
    }

    /// Flow that has a velocity in a tube.
    FLOW_AT_VELOCITY: fn flow_at_velocity(
        /// velocity
        velocity_m_s: f64 ["v", Velocity, 0.0..=10.0],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
    ) -> f64 [flow_m3_s "Q" Flow];
    formula "Q = v π d² / 4";
    source "continuity", "", Definition;
    {
        velocity_m_s * PI * bore_m * bore_m / 4.0
    }

    /// Pressure drop per length of tube.
    PRESSURE_GRADIENT: fn pressure_gradient(
        /// friction factor of Darcy
        friction_factor: f64 ["f", Ratio, 0.005..=70.0],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// velocity
        velocity_m_s: f64 ["v", Velocity, 0.0..=10.0],
    ) -> f64 [gradient_pa_m "R" PressureGradient];
    formula "R = f / d · ρ v |v| / 2";
    source "Darcy and Weisbach 1845", "", Definition;
    {
        friction_factor / bore_m * 0.5 * density_kg_m3 * velocity_m_s * velocity_m_s.abs()
    }

    /// Pressure drop per length of a tube with a flow.
    ///
    /// Straight tube. Long bends hold flow laminar beyond Re 2000 at a greater loss than this. The
    /// kernel takes flow either way; at no flow the gradient is zero and the factor infinite.
    TUBE_PRESSURE_GRADIENT: fn tube_pressure_gradient(
        /// flow
        flow_m3_s: f64 ["Q", Flow, 1e-9..=0.5],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
        /// roughness of the tube, 0.0015 mm if smooth
        roughness_m: f64 ["k", Length, 0.0..=0.001],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// viscosity of the fluid
        viscosity_pa_s: f64 ["μ", Viscosity, 0.0001..=1.0],
    ) -> [f64; 4] [
        gradient_pa_m "R" PressureGradient,
        velocity_m_s "v" Velocity,
        reynolds "Re" Ratio,
        friction_factor "f" Ratio,
    ];
    formula "v = 4 Q / (π d²); Re = ρ |v| d / μ; f(Re, k/d); R = f / d · ρ v |v| / 2";
    source "Darcy and Weisbach 1845, Colebrook 1939", "with a cubic join of our choice", Memory;
    {
        let velocity = flow_velocity(flow_m3_s, bore_m);
        let reynolds = reynolds_number(velocity, bore_m, density_kg_m3, viscosity_pa_s);
        let factor = friction_factor(reynolds, roughness_m / bore_m);
        // An infinite factor times no velocity is no gradient, not an undefined one.
        let gradient = if velocity == 0.0 {
            0.0
        } else {
            pressure_gradient(factor, bore_m, density_kg_m3, velocity)
        };
        [gradient, velocity, reynolds, factor]
    }

    /// Pressure drop of a length of tube with bends.
    CIRCUIT_PRESSURE_DROP: fn circuit_pressure_drop(
        /// length of the tube
        length_m: f64 ["L", Length, 0.0..=1000.0],
        /// pressure drop per length
        gradient_pa_m: f64 ["R", PressureGradient, 0.0..=20000.0],
        /// sum of the loss coefficients of bends and fittings
        loss_coefficient: f64 ["ΣK", Ratio, 0.0..=1000.0],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// velocity
        velocity_m_s: f64 ["v", Velocity, 0.0..=10.0],
    ) -> f64 [drop_pa "Δp" PressureDifference];
    formula "Δp = L R + ΣK ρ v |v| / 2";
    source "Darcy and Weisbach 1845", "", Definition;
    {
        length_m * gradient_pa_m
            + loss_coefficient * 0.5 * density_kg_m3 * velocity_m_s * velocity_m_s.abs()
    }

    /// Pressure drop per length of tube, after Hazen and Williams.
    ///
    /// For water near 60 °F in turbulent flow only: not for glycol, not for slow or hot flow. Kept to
    /// compare with tables that use it.
    HAZEN_WILLIAMS_GRADIENT: fn hazen_williams_gradient(
        /// flow
        flow_m3_s: f64 ["Q", Flow, 0.00001..=0.5],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.005..=0.5],
        /// Hazen and Williams' coefficient, 150 for smooth tube
        coefficient: f64 ["C", Ratio, 60.0..=160.0],
    ) -> f64 [gradient_pa_m "R" PressureGradient];
    formula "psi/ft = 4.52 Q^1.852 / (C^1.852 d^4.8704), Q in gpm, d in inches";
    source "Hazen and Williams 1905", "as printed in sprinkler codes", Print;
    {
        let gallons_a_minute = quantity::unit::GPM.from_si(flow_m3_s);
        let inches = quantity::unit::INCH.from_si(bore_m);
        let psi_a_foot = 4.52 * (gallons_a_minute / coefficient).powf(1.852) / inches.powf(4.8704);
        quantity::unit::PSI_HUNDRED_FEET.to_si(100.0 * psi_a_foot)
    }
}
