//! Responses against the closed forms of a plain slab.

use std::f64::consts::PI;

use solve::response::Response;
use solve::section::{Inclusion, Layer, Material, Port, Rect, Section, SectionError, Side, Tube};

use crate::near;

const CONDUCTIVITY: f64 = 1.4;
const CAPACITY: f64 = 2.0e6;
const THICKNESS_M: f64 = 0.12;
const FILM: f64 = 10.8;

/// A plain slab that is held below and meets the room by a film.
fn slab(capacity: f64) -> Section {
    let material = Material::new(CONDUCTIVITY).storing(capacity);
    Section {
        width_m: 0.05,
        layers: vec![Layer { thickness_m: THICKNESS_M, material }],
        inclusions: vec![],
        tubes: vec![],
        above: Side::Film { coefficient_w_m2k: FILM },
        below: Side::Held,
    }
}

/// Share of the steady heat into the room after a step below: the series of a slab with one
/// face held and a film on the other, its roots from `β cot βL = −h/k`.
fn series(time_s: f64) -> f64 {
    let (diffusivity, ratio) = (CONDUCTIVITY / CAPACITY, FILM / CONDUCTIVITY);
    let slope = ratio / (1.0 + ratio * THICKNESS_M);
    let mut left = 0.0;
    for n in 0..60 {
        // One root lies between each odd quarter turn and the half turn after it.
        let (mut low, mut high) = ((f64::from(n) + 0.5) * PI, (f64::from(n) + 1.0) * PI);
        for _ in 0..80 {
            let angle = (low + high) / 2.0;
            let over = angle * angle.cos() + ratio * THICKNESS_M * angle.sin();
            let rising = if n % 2 == 0 { over > 0.0 } else { over < 0.0 };
            if rising { low = angle } else { high = angle }
        }
        let beta = low / THICKNESS_M;
        // ∫ (1 − slope·x) sin βx dx over the slab, and the square of the mode.
        let (sine, cosine) = (low.sin(), low.cos());
        let moment =
            (1.0 - cosine) / beta - slope * (sine / (beta * beta) - THICKNESS_M * cosine / beta);
        let square = THICKNESS_M / 2.0 - (2.0 * low).sin() / (4.0 * beta);
        left += moment / square * sine * (-diffusivity * beta * beta * time_s).exp();
    }
    1.0 - left / (1.0 - slope * THICKNESS_M)
}

#[test]
fn a_plain_slab_follows_its_series() {
    let response = Response::of(&slab(CAPACITY), Port::Below, Port::Room).expect("responds");
    for hours in [0.25, 0.5, 1.0, 2.0, 4.0, 8.0] {
        near(response.after(3600.0 * hours), series(3600.0 * hours), 0.004);
    }
    for share in [0.63, 0.95] {
        let time_s = response.time_to_s(share).expect("reached");
        near(series(time_s), share, 0.004);
    }
    assert_eq!(response.time_to_s(1.0), None);
}

#[test]
fn a_days_swing_of_a_plain_slab_has_its_closed_form() {
    // 1 / (cosh γL / h + sinh γL / (kγ)), γ² = iω/a, beside the steady 1 / (1/h + L/k).
    let day_s = 86_400.0;
    let root = (2.0 * PI / day_s * CAPACITY / CONDUCTIVITY / 2.0).sqrt();
    let z = root * THICKNESS_M;
    let cosh = (z.cosh() * z.cos(), z.sinh() * z.sin());
    let sinh = (z.sinh() * z.cos(), z.cosh() * z.sin());
    // Divided by γ = root · (1 + i).
    let per = ((sinh.0 + sinh.1) / (2.0 * root), (sinh.1 - sinh.0) / (2.0 * root));
    let whole = (cosh.0 / FILM + per.0 / CONDUCTIVITY, cosh.1 / FILM + per.1 / CONDUCTIVITY);
    let steady = 1.0 / FILM + THICKNESS_M / CONDUCTIVITY;

    let swing =
        Response::of(&slab(CAPACITY), Port::Below, Port::Room).expect("responds").under_sine(day_s);
    near(swing.amplitude, steady / whole.0.hypot(whole.1), 0.003);
    near(swing.lag_s, whole.1.atan2(whole.0) / (2.0 * PI) * day_s, 60.0);
}

#[test]
fn a_slab_that_conducts_well_has_one_time_constant() {
    // 240 kJ/(m²·K) between 10.8 and 0.3 W/(m²·K): C / (h + U) is 6.006 h, a closed form.
    let material = Material::new(1e4).storing(2.4e6);
    let section = Section {
        layers: vec![Layer { thickness_m: 0.1, material }],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 0.3 },
        ..slab(CAPACITY)
    };
    let response = Response::of(&section, Port::Below, Port::Room).expect("responds");
    let time_s = response.time_to_s(1.0 - (-1f64).exp()).expect("reached");
    near(time_s / 3600.0, 6.006, 0.01);
}

#[test]
fn film_and_wall_of_the_tube_stand_in_series() {
    // The same slab warmed by a tube behind 0.15 m·K/W every 100 mm: the slab is one store between
    // 1 / (0.15 · 0.1) = 66.67, 10.8 and 0.3 W/(m²·K), so C over their sum is 0.857 h (closed form).
    let material = Material::new(1e4).storing(2.4e6);
    let with = |resistance_mk_w: f64| Section {
        layers: vec![Layer { thickness_m: 0.1, material }],
        tubes: vec![Tube::round(0.0, 0.05, 0.001).behind(resistance_mk_w)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 0.3 },
        ..slab(CAPACITY)
    };
    let time_s = |resistance_mk_w: f64| {
        let response = Response::of(&with(resistance_mk_w), Port::Tube(0), Port::Room);
        response.expect("responds").time_to_s(1.0 - (-1f64).exp()).expect("reached")
    };
    near(time_s(0.15) / 3600.0, 240e3 / (1.0 / 0.015 + 11.1) / 3600.0, 0.003);
    // Without it the surface is the water, and a slab that conducts so well follows at once.
    assert!(time_s(0.0) < 60.0, "{}", time_s(0.0));
    assert!(time_s(0.3) > time_s(0.15));
}

/// Against the finer grid, for a slab and for plates under wood.
#[test]
fn a_quick_response_is_near_enough() {
    let wood = Material::new(0.13).storing(0.8e6);
    let concrete = Material::new(1.65).storing(2.1e6);
    let air = Material::new(0.085).storing(1.2e3);
    let layer = |thickness_m: f64, material| Layer { thickness_m, material };
    let embedded = Section {
        width_m: 0.15,
        layers: vec![layer(0.05, Material::new(0.034).storing(45e3)), layer(0.1, concrete)],
        tubes: vec![Tube::round(0.0, 0.1, 0.016).behind(0.15)],
        ..slab(CAPACITY)
    };
    let sheet = Rect { left_m: 0.0, right_m: 0.05, bottom_m: 0.119, top_m: 0.1195 };
    let plates = Section {
        width_m: 0.1,
        layers: vec![
            layer(0.1, Material::new(0.04).storing(30e3)),
            layer(0.019, air),
            layer(0.0005, air),
            layer(0.019, wood),
            layer(0.019, wood),
        ],
        inclusions: vec![Inclusion::new(sheet, 200.0)],
        tubes: vec![
            Tube::block(Rect { left_m: 0.0, right_m: 0.008, bottom_m: 0.103, top_m: 0.119 })
                .behind(0.15),
        ],
        ..slab(CAPACITY)
    };
    for section in [embedded, plates] {
        let fine = Response::of(&section, Port::Tube(0), Port::Room).expect("responds");
        let quick = Response::quick(&section, Port::Tube(0), Port::Room).expect("responds");
        for share in [0.63, 0.95] {
            let times = [&fine, &quick].map(|it| it.time_to_s(share).expect("reached"));
            near(times[1] / times[0], 1.0, 0.03);
        }
    }
}

#[test]
fn what_cannot_respond_is_told() {
    let section = slab(0.0);
    let of = |a: Port, b: Port| Response::of(&section, a, b).expect_err("must be refused");
    assert_eq!(of(Port::Below, Port::Room), SectionError::NothingStored);
    assert_eq!(of(Port::Room, Port::Room), SectionError::NoPath);
    assert_eq!(of(Port::Tube(0), Port::Room), SectionError::NoPath);
}
