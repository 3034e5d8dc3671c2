//! Joists and tubes off the middle of their bay, against the cell without joists.
//!
//! A bay of 406.4 mm (16 in) with two tubes in plates under a subfloor is even about its middle, so
//! half of it with one tube is solved: joist of 38.1 mm (1 1/2 in), of which half stands at the edge.

use solve::section::{
    Accuracy, Inclusion, Layer, Material, Rect, Section, Side, Temperatures, Tube,
};

const HALF_BAY_M: f64 = 0.2032;
const HALF_JOIST_M: f64 = 0.01905;
/// Gypsum board, insulation, air; sheet and slot; plywood, wood.
const LAYERS: [(f64, f64); 6] =
    [(0.0127, 0.16), (0.089, 0.04), (0.05, 0.238), (0.0005, 0.238), (0.019, 0.12), (0.012, 0.15)];

/// Heat up and down, W/m², of plates that wide with the tube so far from the middle of the bay.
fn heats(plate_m: f64, from_middle_m: f64, joist: bool) -> [f64; 2] {
    let sheet_m = LAYERS[..3].iter().map(|layer| layer.0).sum::<f64>();
    let side_m = HALF_BAY_M - HALF_JOIST_M;
    let rect = |left_m: f64, right_m: f64, bottom_m: f64, top_m: f64| Rect {
        left_m,
        right_m,
        bottom_m,
        top_m,
    };
    let (left_m, right_m) = (from_middle_m - plate_m / 2.0, from_middle_m + plate_m / 2.0);
    let plate = rect(left_m.max(0.0), right_m.min(side_m), sheet_m, sheet_m + LAYERS[3].0);
    let mut inclusions = vec![Inclusion { rect: plate, material: Material::new(200.0) }];
    if joist {
        // From the ceiling's board up to the subfloor.
        let rect = rect(side_m, HALF_BAY_M, LAYERS[0].0, sheet_m + LAYERS[3].0);
        inclusions.push(Inclusion { rect, material: Material::new(0.13) });
    }
    let tube = rect(from_middle_m - 0.008, from_middle_m + 0.008, sheet_m - 0.016, sheet_m);
    let section = Section {
        width_m: HALF_BAY_M,
        layers: LAYERS.map(|(m, w_mk)| Layer::new(m, w_mk)).to_vec(),
        inclusions,
        tubes: vec![Tube::block(tube)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Film { coefficient_w_m2k: 5.88 },
    };
    let solved = section.solve(&Accuracy::default()).expect("it can be solved");
    assert!(solved.error().conductance < 0.002);
    let state = solved.superpose(&Temperatures::of_water(50.0, 20.0, 20.0));
    [state.up_w_m2, state.down_w_m2]
}

/// Joists cost less than 1 % of the heat upward and add 8 to 16 % downward, which layers between
/// framing carry in their resistance; tubes off the middle cost 2 % at most. So floors under a
/// subfloor are solved without joists, one tube to a cell.
#[test]
fn joists_hardly_count_upward() {
    for plate_m in [0.102, 0.152] {
        let [up, down] = heats(plate_m, HALF_BAY_M / 2.0, false);
        for from_middle_m in [0.089, HALF_BAY_M / 2.0, 0.108] {
            let [with, sent] = heats(plate_m, from_middle_m, true);
            let [without, _] = heats(plate_m, from_middle_m, false);
            assert!((0.99..1.0).contains(&(with / without)), "{plate_m}: {with} {without}");
            assert!((0.98..1.0).contains(&(with / up)), "{plate_m}: {with} {up}");
            assert!((1.08..1.16).contains(&(sent / down)), "{plate_m}: {sent} {down}");
        }
    }
}
