//! Bare tube in a joist bay.

use solve::cavity::{Bay, Cavity, Standing, Tubes, nusselt};

use crate::near;

const BAY: Bay = Bay { width_m: 0.37, up_m2k_w: 0.35, down_m2k_w: 3.2 };
const TUBES: Tubes = Tubes { count: 2, diameter_m: 0.0159, emissivity: 0.9, resistance_mk_w: 0.11 };

fn settle(bay: &Bay, tubes: &Tubes, water_c: f64) -> Cavity {
    Cavity::settle(bay, tubes, water_c, 20.0, 12.0).expect("sensible")
}

#[test]
fn convection_agrees_with_the_laminar_law() {
    // The same authors' law for laminar flow alone, 0.36 + 0.518 Ra^¼ / (1 + (0.559/Pr)^9/16)^4/9,
    // fits the same measurements apart by up to some 5 % where tubes of floors lie.
    for rayleigh in [1e3, 3e3, 1e4, 3e4f64] {
        let fluid = (1.0 + (0.559f64 / 0.71).powf(9.0 / 16.0)).powf(4.0 / 9.0);
        let laminar = 0.36 + 0.518 * rayleigh.powf(0.25) / fluid;
        near(nusselt(rayleigh, 0.71) / laminar, 1.0, 0.05);
    }
}

#[test]
fn tubes_give_what_the_bay_passes_on() {
    let cavity = settle(&BAY, &TUBES, 60.0);
    let given = 2.0 * cavity.tube_w_m;
    near(given, BAY.width_m * (cavity.up_w_m2 + cavity.down_w_m2), 1e-9 * given);
    near(cavity.tube_surface_c, 60.0 - TUBES.resistance_mk_w * cavity.tube_w_m, 1e-9);
    assert!(cavity.bay_c < cavity.tube_surface_c && cavity.bay_c > 20.0);
    assert_eq!(cavity.standing, Standing::Unchecked);
}

#[test]
fn many_large_tubes_bring_the_bay_to_the_water() {
    // The limit without resistance between water and bay: layers in series alone.
    let tubes = Tubes { count: 10_000, diameter_m: 0.05, resistance_mk_w: 0.0, ..TUBES };
    near(settle(&BAY, &tubes, 50.0).up_w_m2, 30.0 / BAY.up_m2k_w, 0.1);
    let none = settle(&BAY, &Tubes { count: 0, ..TUBES }, 50.0);
    // Without tubes, the floor is what its layers are.
    near(none.up_w_m2, -8.0 / (BAY.up_m2k_w + BAY.down_m2k_w), 1e-9);
}

#[test]
fn more_water_temperature_and_more_tube_give_more_heat() {
    let base = settle(&BAY, &TUBES, 50.0).up_w_m2;
    assert!(settle(&BAY, &TUBES, 60.0).up_w_m2 > base);
    assert!(settle(&BAY, &Tubes { count: 3, ..TUBES }, 50.0).up_w_m2 > base);
    assert!(settle(&BAY, &Tubes { emissivity: 0.1, ..TUBES }, 50.0).up_w_m2 < base);
}

#[test]
fn figures_without_sense_are_told() {
    let error = Cavity::settle(&Bay { width_m: -0.1, ..BAY }, &TUBES, 50.0, 20.0, 20.0);
    assert_eq!(
        error.expect_err("must be refused").to_string(),
        "width of the joist bay is -0.1: give a sensible number"
    );
    assert!(Cavity::settle(&BAY, &TUBES, f64::NAN, 20.0, 20.0).is_err());
}
