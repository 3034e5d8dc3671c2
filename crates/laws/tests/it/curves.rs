//! Curves join without a jump, and run the way that physics does.

use laws::fluids::{ethylene, glycol, water};
use laws::friction::{
    churchill_friction_factor, colebrook_friction_factor, friction_factor,
    swamee_jain_friction_factor, tube_pressure_gradient,
};
use laws::{ground, panel};

const ROUGHNESSES: [f64; 6] = [0.0, 1e-6, 1.24e-4, 1e-3, 0.01, 0.05];

/// Values of `curve` along `points` that do not rise.
fn falls(name: &str, points: impl Iterator<Item = f64>, curve: impl Fn(f64) -> f64) {
    let values: Vec<(f64, f64)> = points.map(|point| (point, curve(point))).collect();
    for pair in values.windows(2) {
        assert!(pair[1].1 < pair[0].1, "{name} rises from {:?} to {:?}", pair[0], pair[1]);
    }
}

fn steps(low: f64, high: f64, count: u32) -> impl Iterator<Item = f64> {
    (0..=count).map(move |step| low + (high - low) * f64::from(step) / f64::from(count))
}

fn factors(low: f64, high: f64, count: u32) -> impl Iterator<Item = f64> {
    steps(low.ln(), high.ln(), count).map(f64::exp)
}

#[test]
fn friction_joins_in_value_and_slope() {
    for roughness in ROUGHNESSES {
        for join in [2000.0, 4000.0] {
            let at = |reynolds: f64| friction_factor(reynolds, roughness);
            let step = 1e-2;
            let jump = (at(join + 1e-9) - at(join - 1e-9)).abs() / at(join);
            assert!(jump < 1e-10, "jump of {jump} at {join}");
            // One-sided differences of second order, so that curvature does not hide a kink.
            let before =
                (3.0 * at(join) - 4.0 * at(join - step) + at(join - 2.0 * step)) / (2.0 * step);
            let after =
                (-3.0 * at(join) + 4.0 * at(join + step) - at(join + 2.0 * step)) / (2.0 * step);
            let scale = at(join) / join;
            assert!((after - before).abs() < 1e-5 * scale, "slope {before} to {after} at {join}");
        }
    }
}

#[test]
fn colebrook_solves_its_equation() {
    for roughness in ROUGHNESSES {
        for reynolds in factors(2000.0, 1e8, 200) {
            let x = colebrook_friction_factor(reynolds, roughness).sqrt().recip();
            let residual = x + 2.0 * (roughness / 3.7 + 2.51 * x / reynolds).log10();
            assert!(residual.abs() < 1e-12 * x, "{residual} at Re {reynolds}, ε {roughness}");
        }
    }
}

/// More flow never takes less pressure, in the join too: a network solver relies on it.
#[test]
fn pressure_rises_with_flow() {
    for roughness_m in [0.0, 1.5e-6, 7e-6, 6e-4] {
        falls("gradient", factors(1e-6, 1e-2, 4000), |flow| {
            -tube_pressure_gradient(flow, 0.012, roughness_m, 1000.0, 1e-3)[0]
        });
    }
}

#[test]
fn flow_back_takes_the_same_pressure_back() {
    for flow in [1e-6, 2.5e-5, 1e-3] {
        let gradient = |flow| tube_pressure_gradient(flow, 0.012, 1.5e-6, 1000.0, 1e-3)[0];
        assert_eq!(gradient(-flow), -gradient(flow));
        assert!(gradient(flow) > 0.0);
    }
    assert_eq!(tube_pressure_gradient(0.0, 0.012, 1.5e-6, 1000.0, 1e-3)[0], 0.0);
}

/// The remarks of both laws name how far they stray from Colebrook.
#[test]
fn explicit_formulas_stay_as_near_as_they_say() {
    let (mut low, mut high) = (0.0_f64, 0.0_f64);
    for roughness in [0.0, 1e-6, 1e-5, 1e-4, 1e-3, 0.01] {
        for reynolds in factors(4000.0, 1e8, 400) {
            let explicit = swamee_jain_friction_factor(reynolds, roughness);
            let share = explicit / colebrook_friction_factor(reynolds, roughness) - 1.0;
            (low, high) = (low.min(share), high.max(share));
        }
    }
    assert!((-0.0075..=-0.0065).contains(&low), "{low} {high}");
    assert!((0.030..=0.032).contains(&high), "{low} {high}");
    let join = |re| churchill_friction_factor(re, 0.0) / friction_factor(re, 0.0) - 1.0;
    let most = steps(2000.0, 4000.0, 200).map(join).fold(0.0, f64::max);
    assert!((0.30..0.36).contains(&most), "{most}");
}

#[test]
fn friction_falls_with_flow_and_rises_with_roughness() {
    for roughness in ROUGHNESSES {
        let until = if roughness < 1e-4 { 1e8 } else { 100.0 / roughness };
        falls("f", factors(4000.0, until.max(1e4), 200), |re| {
            colebrook_friction_factor(re, roughness)
        });
    }
    falls("f", factors(1e-5, 0.05, 100), |ratio| -colebrook_friction_factor(1e5, ratio));
}

#[test]
fn water_thins_and_lightens_as_it_warms() {
    falls("viscosity", steps(273.15, 383.15, 220), water::water_viscosity);
    falls("density", steps(278.15, 383.15, 210), water::water_density);
    falls("conductivity", steps(273.15, 373.15, 200), |t| -water::water_conductivity(t));
    // Held, not run away, beyond the range.
    assert_eq!(water::water_viscosity(500.0), water::water_viscosity(383.15));
    assert_eq!(water::water_density(200.0), water::water_density(273.15));
}

#[test]
fn glycol_thickens_with_share_and_cold() {
    for share in steps(0.1, 0.6, 20) {
        let freezing = glycol::propylene_glycol_freezing_point(share).max(253.15);
        falls("viscosity", steps(freezing, 363.15, 200), |t| {
            glycol::propylene_glycol_viscosity(share, t)
        });
        falls("density", steps(freezing, 363.15, 200), |t| {
            glycol::propylene_glycol_density(share, t)
        });
    }
    for temperature in steps(278.15, 358.15, 16) {
        falls("viscosity", steps(0.1, 0.6, 100), |share| {
            -glycol::propylene_glycol_viscosity(share, temperature)
        });
        falls("specific heat", steps(0.1, 0.6, 100), |share| {
            glycol::propylene_glycol_specific_heat(share, temperature)
        });
    }
    for share in steps(0.1, 0.575, 19) {
        let freezing = ethylene::ethylene_glycol_freezing_point(share).max(253.15);
        falls("viscosity", steps(freezing, 363.15, 200), |t| {
            ethylene::ethylene_glycol_viscosity(share, t)
        });
        let thinner = ethylene::ethylene_glycol_viscosity(share, 293.15);
        assert!(thinner < glycol::propylene_glycol_viscosity(share, 293.15), "{share}");
    }
    falls("freezing", steps(0.0, 0.578, 120), ethylene::ethylene_glycol_freezing_point);
    falls("freezing", steps(0.0, 0.6, 120), glycol::propylene_glycol_freezing_point);
}

#[test]
fn floors_give_less_through_more() {
    let coefficient = |spacing, cover, covering| {
        panel::embedded_tube_coefficient(spacing, cover, 0.016, 0.002, 0.35, 1.2, covering)
    };
    falls("spacing", steps(0.05, 0.6, 110), |spacing| coefficient(spacing, 0.045, 0.05));
    falls("cover", steps(0.01, 0.065, 55), |cover| coefficient(0.15, cover, 0.05));
    falls("covering", steps(0.0, 0.15, 60), |covering| coefficient(0.15, 0.045, covering));
    // A wall that conducts worse gives less.
    falls("tube", steps(0.15, 1.0, 50), |tube| {
        -panel::embedded_tube_coefficient(0.15, 0.045, 0.016, 0.002, tube, 1.2, 0.05)
    });
}

#[test]
fn slab_branches_nearly_meet() {
    for dimension in [1.0, 5.0, 20.0] {
        let at = |part: f64| ground::slab_on_ground_transmittance(dimension, dimension * part, 2.0);
        assert!((at(1.0 - 1e-9) / at(1.0) - 1.0).abs() < 2e-4);
        falls("transmittance", factors(0.01, 10.0, 300), at);
    }
}

#[test]
fn inverse_laws_undo_each_other() {
    for heat in [1.0, 40.0, 99.0, 180.0] {
        let [surface, _] = panel::floor_surface_temperature(heat, 293.15);
        let back = panel::floor_surface_heat_flux(surface, 293.15);
        assert!((back / heat - 1.0).abs() < 1e-10, "{heat}");
    }
    for drop in [1.0, 5.0, 7.4, 7.6, 12.0] {
        let supply = panel::supply_excess(15.0, drop);
        let back = panel::circuit_drop(supply, 15.0);
        // The two branches leave out the square term below σ / ΔθH = 0.5.
        assert!((back - drop).abs() < 1e-9, "{drop} came back as {back}");
    }
    // The logarithmic mean is continuous where its formula is 0 / 0.
    let mean = |drop: f64| panel::logarithmic_excess(313.15 + drop, 313.15, 293.15);
    assert!((mean(0.0) - 20.0).abs() < 1e-12);
    assert!((mean(0.002 + 1e-9) - mean(0.002 - 1e-9)).abs() < 1e-8);
}
