//! Whole floors against an independent finite element solution: `checks/sections/floors.csv`.

use solve::section::{Accuracy, Inclusion, Layer, Port, Rect, Section, Side, Tube};

use crate::{case, table};

/// What a conductance may be off, and a surface temperature in kelvins.
const CONDUCTANCE: f64 = 0.003;
const SURFACE_K: f64 = 0.05;

#[test]
fn all_floors_agree_with_finite_elements() {
    let rows = table::read(include_str!("../../../../checks/sections/floors.csv"));
    assert_eq!(rows.len(), 39);
    let mut faults = Vec::new();
    for row in &rows {
        let id = row.get("id").unwrap_or("?");
        let case = case::read(row).unwrap_or_else(|reason| panic!("{id}: {reason}"));
        let solved = case.section.solve(&Accuracy::default()).expect(id);
        let state = solved.superpose(&case.temperatures);
        let error = solved.error().conductance;
        if error > Accuracy::default().relative {
            faults.push(format!("{id}: states an error of {error}"));
        }
        for (column, a, b) in [
            ("K_tube_room", Port::Tube(0), Port::Room),
            ("K_tube_below", Port::Tube(0), Port::Below),
            ("K_room_below", Port::Room, Port::Below),
        ] {
            let (got, expected) = (solved.conductance_w_m2k(a, b), number(row, column));
            let off = (got / expected - 1.0).abs();
            // The stated error must be honest, the tolerance kept.
            if off > CONDUCTANCE.min(error + 1.1e-4) {
                faults.push(format!("{id} {column}: {got}, not {expected}"));
            }
        }
        for (column, got) in [
            ("Ts_min_C", state.above.min.celsius),
            ("Ts_mean_C", state.above.mean_c),
            ("Ts_max_C", state.above.max.celsius),
        ] {
            let expected = number(row, column);
            if (got - expected).abs() > SURFACE_K {
                faults.push(format!("{id} {column}: {got}, not {expected}"));
            }
        }
        for (column, got) in [("q_up_W_m2", state.up_w_m2), ("q_down_W_m2", state.down_w_m2)] {
            let expected = number(row, column);
            if (got / expected - 1.0).abs() > CONDUCTANCE {
                faults.push(format!("{id} {column}: {got}, not {expected}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn number(row: &table::Row, column: &str) -> f64 {
    row.get(column).and_then(|text| text.parse().ok()).unwrap_or(f64::NAN)
}

#[test]
fn a_round_tube_that_touches_a_plate_is_as_warm_there() {
    // Under a plate, with the tube off it by so much.
    let tube_to_room = |gap_m: f64, relative: f64| {
        let plate = Rect { left_m: 0.0, right_m: 0.08, bottom_m: 0.08, top_m: 0.0805 };
        let section = Section {
            width_m: 0.1,
            layers: vec![
                Layer::new(0.08, 0.035),
                Layer::new(0.0005, 0.03),
                Layer::new(0.015, 0.13),
            ],
            inclusions: vec![Inclusion::new(plate, 200.0)],
            tubes: vec![Tube::round(0.0, 0.072 - gap_m, 0.016)],
            above: Side::Film { coefficient_w_m2k: 10.8 },
            below: Side::Film { coefficient_w_m2k: 5.88 },
        };
        let solved = section.solve(&Accuracy { relative, ..Accuracy::default() }).expect("solves");
        solved.conductance_w_m2k(Port::Tube(0), Port::Room)
    };
    let touching = tube_to_room(0.0, 0.002);
    // A far finer grid says the same, and a gap of a millimetre halves the heat and more.
    assert!((touching / tube_to_room(0.0, 0.0003) - 1.0).abs() < 0.005);
    assert!(tube_to_room(0.001, 0.002) < 0.5 * touching);
}
