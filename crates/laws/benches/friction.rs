//! How long the hot kernels take, beside what they could be replaced by.
//!
//! Prints nanoseconds an evaluation and the ratio to Swamee and Jain's explicit formula; asserts
//! nothing. `cargo bench -p laws`.

use laws::fluids::{glycol, water};
use laws::friction;
use std::hint::black_box;
use std::time::Instant;

const EVALUATIONS: u32 = 1_000_000;

/// Nanoseconds that one evaluation takes, the best of five rounds.
fn nanoseconds(kernel: impl Fn(f64) -> f64) -> f64 {
    let round = || {
        let start = Instant::now();
        let mut sum = 0.0;
        for step in 0..EVALUATIONS {
            sum += kernel(black_box(f64::from(step) / f64::from(EVALUATIONS)));
        }
        black_box(sum);
        start.elapsed().as_secs_f64() * 1e9 / f64::from(EVALUATIONS)
    };
    (0..5).map(|_| round()).fold(f64::INFINITY, f64::min)
}

fn main() {
    let ratio = 1.24e-4;
    let explicit =
        nanoseconds(|part| friction::swamee_jain_friction_factor(4000.0 + 96_000.0 * part, ratio));
    let show = |name: &str, time: f64| {
        println!("{name:44} {time:7.1} ns  {:5.2} of Swamee-Jain", time / explicit);
    };
    show("Swamee-Jain, Re 4000 to 100000", explicit);
    show("std powf alone, x^0.9", nanoseconds(|part| (4000.0 + 96_000.0 * part).powf(0.9)));
    let factor = |low: f64, high: f64| {
        nanoseconds(move |part| friction::friction_factor(low + (high - low) * part, ratio))
    };
    show("friction factor, laminar", factor(100.0, 2000.0));
    show("friction factor, join, Re 2000 to 4000", factor(2000.0, 4000.0));
    show("friction factor, Colebrook, to 100000", factor(4000.0, 100_000.0));
    show(
        "Churchill, Re 4000 to 100000",
        nanoseconds(|part| friction::churchill_friction_factor(4000.0 + 96_000.0 * part, ratio)),
    );
    show(
        "tube pressure gradient, turbulent",
        nanoseconds(|part| {
            friction::tube_pressure_gradient(1e-4 + 1e-4 * part, 0.012, 1.5e-6, 992.3, 6.5e-4)[0]
        }),
    );
    show("water viscosity", nanoseconds(|part| water::water_viscosity(280.0 + 80.0 * part)));
    show("water density", nanoseconds(|part| water::water_density(280.0 + 80.0 * part)));
    show(
        "propylene glycol viscosity",
        nanoseconds(|part| glycol::propylene_glycol_viscosity(0.4, 260.0 + 90.0 * part)),
    );
}
