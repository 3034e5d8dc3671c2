//! Validation cases of ISO 10211, annex A.

use std::f64::consts::PI;

use solve::section::{Accuracy, Inclusion, Layer, Rect, Section, Side, Solved, Temperatures, Tube};

use crate::near;

fn rect(left_mm: f64, right_mm: f64, bottom_mm: f64, top_mm: f64) -> Rect {
    let m = |mm: f64| 1e-3 * mm;
    Rect { left_m: m(left_mm), right_m: m(right_mm), bottom_m: m(bottom_mm), top_m: m(top_mm) }
}

/// Half a square column of side one: 20 °C on top, 0 °C on all other faces.
fn column() -> Solved {
    // A thin block holds the left face; the right side is the middle of the column.
    let skin_m = 1e-3;
    let face = Side::Film { coefficient_w_m2k: 1e7 };
    let section = Section {
        width_m: 0.5 + skin_m,
        layers: vec![Layer::new(1.0, 1.0)],
        inclusions: vec![],
        tubes: vec![Tube::block(rect(0.0, 1e3 * skin_m, 0.0, 1e3))],
        above: face,
        below: face,
    };
    section.solve(&Accuracy::default()).expect("solves")
}

#[test]
fn case_1_has_the_temperatures_of_its_series() {
    let field = column().field(&Temperatures::of_water(0.0, 20.0, 0.0));
    let series = |x: f64, y: f64| -> f64 {
        let term = |n: f64| {
            let part = (n * PI * y).sinh() / (n * PI).sinh();
            80.0 / (n * PI) * (n * PI * x).sin() * part
        };
        (0..100).map(|i| term(f64::from(2 * i + 1))).sum()
    };
    for j in 1..8 {
        for i in 1..5 {
            let (x, y) = (f64::from(i) / 8.0, f64::from(j) / 8.0);
            let got = field.celsius_at(x + 1e-3, y).expect("inside");
            near(got, series(x, y), 0.1);
        }
    }
}

#[test]
fn case_1_has_the_published_temperatures() {
    // Printed to a tenth of a kelvin: the row nearest the top, and the middle of the column.
    let field = column().field(&Temperatures::of_water(0.0, 20.0, 0.0));
    for (i, expected) in [9.7, 13.4, 14.7, 15.1].into_iter().enumerate() {
        let x = 1e-3 + (i + 1) as f64 / 8.0;
        near(field.celsius_at(x, 7.0 / 8.0).expect("inside"), expected, 0.1);
    }
    near(field.celsius_at(0.501, 0.5).expect("inside"), 5.0, 0.1);
}

#[test]
fn case_2_has_the_published_heat_and_temperatures() {
    // Concrete on wood and insulation, with an aluminium angle and sheet below; from the inside up.
    let (insulation, metal) = (0.029, 230.0);
    let layer = |mm: f64, conductivity: f64| Layer::new(1e-3 * mm, conductivity);
    let section = Section {
        width_m: 0.5,
        layers: vec![
            layer(1.5, metal),
            layer(33.5, insulation),
            layer(1.5, insulation),
            layer(5.0, insulation),
            layer(6.0, 1.15),
        ],
        inclusions: vec![
            Inclusion::new(rect(0.0, 1.5, 1.5, 35.0), metal),
            Inclusion::new(rect(0.0, 15.0, 35.0, 36.5), metal),
            Inclusion::new(rect(0.0, 15.0, 36.5, 41.5), 0.12),
        ],
        tubes: vec![],
        above: Side::Film { coefficient_w_m2k: 1.0 / 0.06 },
        below: Side::Film { coefficient_w_m2k: 1.0 / 0.11 },
    };
    let solved = section.solve(&Accuracy::default()).expect("solves");
    let temperatures = Temperatures { tubes_c: vec![], room_c: 0.0, below_c: 20.0 };
    near(solved.superpose(&temperatures).up_w_m2 * 0.5, 9.5, 0.1);
    let field = solved.field(&temperatures);
    for (x_mm, y_mm, expected) in [
        (0.0, 47.5, 7.1),
        (500.0, 47.5, 0.8),
        (0.0, 41.5, 7.9),
        (15.0, 41.5, 6.3),
        (500.0, 41.5, 0.8),
        (0.0, 36.5, 16.4),
        (15.0, 36.5, 16.3),
        (0.0, 0.0, 16.8),
        (500.0, 0.0, 18.3),
    ] {
        near(field.celsius_at(1e-3 * x_mm, 1e-3 * y_mm).expect("inside"), expected, 0.1);
    }
}
