//! Sections with a closed form.

use std::f64::consts::PI;

use solve::section::{Accuracy, Layer, Port, Section, Side, Solved, Temperatures, Tube};

use crate::near;

fn solve(section: &Section) -> Solved {
    section.solve(&Accuracy::default()).expect("solves")
}

#[test]
fn plain_layers_are_resistances_in_series() {
    let section = Section {
        width_m: 0.2,
        layers: vec![Layer::new(0.05, 0.035), Layer::new(0.002, 200.0), Layer::new(0.06, 1.2)],
        inclusions: vec![],
        tubes: vec![],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 5.9 },
    };
    let expected = 1.0 / (1.0 / 10.8 + 0.05 / 0.035 + 0.002 / 200.0 + 0.06 / 1.2 + 1.0 / 5.9);
    let solved = solve(&section);
    near(solved.conductance_w_m2k(Port::Room, Port::Below) / expected, 1.0, 1e-9);
    let state = solved.superpose(&Temperatures { tubes_c: vec![], room_c: 20.0, below_c: 5.0 });
    near(state.above.min.celsius, 20.0 - 15.0 * expected / 10.8, 1e-9);
    near(state.down_w_m2, 15.0 * expected, 1e-9);
}

#[test]
fn lines_of_equal_temperature_lie_level_in_plain_layers() {
    let section = Section {
        width_m: 0.2,
        layers: vec![Layer::new(0.1, 1.0)],
        inclusions: vec![],
        tubes: vec![],
        above: Side::Held,
        below: Side::Held,
    };
    let temperatures = Temperatures { tubes_c: vec![], room_c: 20.0, below_c: 10.0 };
    let field = solve(&section).field(&temperatures);
    let pieces = field.isotherm(13.7);
    let length_m: f64 = pieces.iter().map(|[a, b]| (a.0 - b.0).hypot(a.1 - b.1)).sum();
    near(length_m, 0.2, 1e-9);
    for (_, y_m) in pieces.iter().flatten() {
        near(*y_m, 0.037, 1e-9);
    }
    assert!(field.isotherm(25.0).is_empty());
}

#[test]
fn the_water_for_a_heat_gives_that_heat() {
    let section = Section {
        width_m: 0.1,
        layers: vec![Layer::new(0.03, 0.04), Layer::new(0.065, 1.2)],
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, 0.045, 0.016).behind(0.12)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 5.9 },
    };
    let solved = solve(&section);
    let water_c = solved.water_for_c(65.0, 21.0, 8.0).expect("tubes warm the room");
    near(solved.superpose(&Temperatures::of_water(water_c, 21.0, 8.0)).up_w_m2, 65.0, 1e-9);
    let bare = Section { tubes: vec![], ..section };
    assert_eq!(solve(&bare).water_for_c(65.0, 21.0, 8.0), None);
}

/// Shape factor of one tube in a row at a depth below a surface that is held, in a deep body.
fn row(diameter_m: f64, spacing_m: f64, depth_m: f64) -> f64 {
    // The field below the row dies off within a spacing.
    let under_m = 2.0 * spacing_m;
    let section = Section {
        width_m: spacing_m / 2.0,
        layers: vec![Layer::new(under_m + depth_m, 1.0)],
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, under_m, diameter_m)],
        above: Side::Held,
        below: Side::Insulated,
    };
    2.0 * solve(&section).conductance_w_mk(Port::Tube(0), Port::Room)
}

#[test]
fn a_row_of_thin_cylinders_has_its_textbook_shape_factor() {
    // 2π / ln(2w/(πD) · sinh(2πz/w)), a limit for thin cylinders.
    let (d, w, z): (f64, f64, f64) = (0.005, 0.2, 0.05);
    let expected = 2.0 * PI / (2.0 * w / (PI * d) * (2.0 * PI * z / w).sinh()).ln();
    near(expected, 1.54349, 1e-5);
    near(row(d, w, z) / expected, 1.0, 0.002);
}

#[test]
fn rows_of_thick_cylinders_agree_with_finite_elements() {
    // Independent finite elements where the thin limit is 1.3 % off.
    near(row(0.020, 0.15, 0.06) / 1.88554, 1.0, 0.002);
    near(row(0.016, 0.30, 0.05) / 2.335163, 1.0, 0.002);
}

#[test]
fn a_cylinder_between_two_planes_has_its_textbook_shape_factor() {
    // 2π / ln(8z/(πD)) mid-way between two planes that are held, far from other cylinders.
    let section = Section {
        width_m: 0.25,
        layers: vec![Layer::new(0.1, 1.0)],
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, 0.05, 0.016)],
        above: Side::Held,
        below: Side::Held,
    };
    let solved = solve(&section);
    let both = [Port::Room, Port::Below].map(|side| solved.conductance_w_mk(Port::Tube(0), side));
    near(2.0 * (both[0] + both[1]) / (2.0 * PI / (8.0 * 0.05 / (PI * 0.016)).ln()), 1.0, 0.005);
    near(both[0] / both[1], 1.0, 1e-9);
}

#[test]
fn film_and_wall_are_in_series_with_the_section() {
    let plain = Section {
        width_m: 0.1,
        layers: vec![Layer::new(0.1, 1.5)],
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, 0.05, 0.016)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Insulated,
    };
    let bare = 2.0 * solve(&plain).conductance_w_mk(Port::Tube(0), Port::Room);
    let resistance = 0.15;
    let mut behind = plain.clone();
    behind.tubes = vec![Tube::round(0.0, 0.05, 0.016).behind(resistance)];
    let got = 2.0 * solve(&behind).conductance_w_mk(Port::Tube(0), Port::Room);
    near(got, 1.0 / (1.0 / bare + resistance), 1e-9);

    let mut later = solve(&plain);
    later.set_resistance(0, resistance);
    near(2.0 * later.conductance_w_mk(Port::Tube(0), Port::Room), got, 1e-12);
    let state = later.superpose(&Temperatures::of_water(40.0, 20.0, 20.0));
    near(state.tubes[0].heat_w_m, 20.0 * got, 1e-9);
    near(state.tubes[0].surface_c, 40.0 - resistance * 20.0 * got, 1e-9);
    near(state.up_w_m2 * 0.2, 20.0 * got, 1e-9);
}
