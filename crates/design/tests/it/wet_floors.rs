//! Wet floors in section against the published curves of EN 1264-2, types A and C.
//!
//! The curves come from measurements and take the water as turbulent; their coefficients are from
//! memory. Independent finite elements read 0 to 12 % below them as well, of which part is the
//! surface coefficient: the standard's base curve is worth 11.1 W/m²K at 9 K, the section has 10.8.

use laws::{panel, tube_heat};
use solve::section::{Accuracy, Layer, Port, Section, Side, Tube};

/// Film of turbulent water, W/m²K.
const FILM_W_M2K: f64 = 1500.0;
/// Screed and tube of the standard's reference.
const SCREED_W_MK: f64 = 1.2;
const TUBE_W_MK: f64 = 0.35;
const WALL_M: f64 = 0.002;

/// Output per degree by the section: insulation of 0.75 m²K/W, a room as warm below.
fn solved(spacing_m: f64, cover_m: f64, outside_m: f64, covering_m2k_w: f64) -> f64 {
    let insulation_m = 0.03;
    let mut layers =
        vec![Layer::new(insulation_m, 0.04), Layer::new(cover_m + outside_m + 0.001, SCREED_W_MK)];
    if covering_m2k_w > 0.0 {
        layers.push(Layer::new(0.01, 0.01 / covering_m2k_w));
    }
    let bore_m = outside_m - 2.0 * WALL_M;
    // Nusselt number and conductivity of the fluid stand for their product, film times bore.
    let conductance =
        tube_heat::tube_conductance(outside_m, bore_m, TUBE_W_MK, FILM_W_M2K * bore_m, 1.0);
    let middle_m = insulation_m + 0.001 + outside_m / 2.0;
    let section = Section {
        width_m: spacing_m / 2.0,
        layers,
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, middle_m, outside_m).behind(1.0 / conductance)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 1.0 / 0.17 },
    };
    let solved = section.solve(&Accuracy::default()).unwrap();
    // Water, room and what is below as warm as the room: all that leaves upward is the floor's.
    solved.conductance_w_m2k(Port::Tube(0), Port::Room)
}

/// Snapshot of our own, shown in `docs/checks.md`.
const CURVES: &str = include_str!("../../../../checks/sections/curves.csv");

/// Where the ratio is outside 0.90 to 1.20: thin tube far apart under little screed.
///
/// The curve corrects tube of another diameter by a factor, and takes the wall of the reference,
/// 20 mm with 2 mm, off as if it were as large; both flatter the thinnest tube.
const EXPLAINED: [&str; 1] = ["T 0.3 R 0 su 0.035 D 0.014"];

#[test]
fn the_published_curves_lie_where_they_should() {
    let mut ratios: Vec<(f64, String)> = Vec::new();
    for spacing_m in [0.075, 0.1, 0.15, 0.2, 0.225, 0.3, 0.375] {
        for covering in [0.0, 0.05, 0.1, 0.15] {
            for cover_m in [0.035, 0.045, 0.065] {
                for outside_m in [0.014, 0.016, 0.02] {
                    let curve = panel::embedded_tube_coefficient(
                        spacing_m,
                        cover_m,
                        outside_m,
                        WALL_M,
                        TUBE_W_MK,
                        SCREED_W_MK,
                        covering,
                    );
                    let ratio = curve / solved(spacing_m, cover_m, outside_m, covering);
                    let what = format!("T {spacing_m} R {covering} su {cover_m} D {outside_m}");
                    ratios.push((ratio, what));
                }
            }
        }
    }
    ratios.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (least, most) = (&ratios[0], &ratios[ratios.len() - 1]);
    let median = ratios[ratios.len() / 2].0;
    let mut told: Vec<String> =
        [("least", least), ("median", &(median, String::new())), ("most", most)]
            .iter()
            .map(|(what, (ratio, floor))| format!("{what},{ratio:.3},{floor}"))
            .collect();
    told.push(format!("outside 0.90 to 1.20,{},{}", EXPLAINED.len(), EXPLAINED[0]));
    let lacking: Vec<_> =
        told.iter().filter(|line| !CURVES.lines().any(|own| own == *line)).collect();
    assert!(lacking.is_empty(), "checks/sections/curves.csv lacks {lacking:#?}");
    let outliers: Vec<_> =
        ratios.iter().filter(|(ratio, _)| !(0.90..=1.20).contains(ratio)).collect();
    let outliers: Vec<&str> = outliers.iter().map(|(_, what)| what.as_str()).collect();
    assert_eq!(outliers, EXPLAINED);
    assert_eq!(ratios.len(), 252);
}
