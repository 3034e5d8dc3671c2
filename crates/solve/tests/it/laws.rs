//! What holds of every section.

use proptest::prelude::*;
use solve::section::{
    Accuracy, Inclusion, Port, Rect, Section, Shape, Side, Solved, Temperatures, Tube,
};

use crate::random::section;

/// One pair of grids is enough for what holds on any grid.
const QUICK: Accuracy = Accuracy { relative: 1.0, most_nodes: 40_000 };

fn solve(section: &Section) -> Solved {
    section.solve(&QUICK).unwrap_or_else(|reason| panic!("{reason}: {section:?}"))
}

fn temperatures(section: &Section) -> Temperatures {
    let tubes_c = section.tubes.iter().enumerate().map(|(i, _)| 45.0 - 12.0 * i as f64).collect();
    Temperatures { tubes_c, room_c: 20.0, below_c: 8.0 }
}

/// The section seen in a mirror on its side.
fn mirrored(section: &Section) -> Section {
    let width_m = section.width_m;
    let rect = |r: Rect| Rect { left_m: width_m - r.right_m, right_m: width_m - r.left_m, ..r };
    let inclusion = |i: &Inclusion| Inclusion { rect: rect(i.rect), ..*i };
    let tube = |tube: &Tube| {
        let shape = match tube.shape {
            Shape::Round { x_m, y_m, diameter_m } => {
                Shape::Round { x_m: width_m - x_m, y_m, diameter_m }
            }
            Shape::Block(block) => Shape::Block(rect(block)),
        };
        Tube { shape, ..*tube }
    };
    Section {
        inclusions: section.inclusions.iter().map(inclusion).collect(),
        tubes: section.tubes.iter().map(tube).collect(),
        ..section.clone()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn heat_in_is_heat_out(section in section()) {
        let solved = solve(&section);
        let state = solved.superpose(&temperatures(&section));
        // Heat of the parts of tubes that lie in the section.
        let given: f64 = section.tubes.iter().zip(&state.tubes).map(|(tube, state)| {
            let Shape::Round { x_m, .. } = tube.shape else { return state.heat_w_m };
            if x_m == 0.0 { state.heat_w_m / 2.0 } else { state.heat_w_m }
        }).sum();
        let taken = (state.up_w_m2 + state.down_w_m2) * section.width_m;
        let scale = given.abs() + taken.abs() + state.down_w_m2.abs();
        prop_assert!((given - taken).abs() <= 1e-9 * scale, "{given} {taken}");
        // What the surfaces give by their own temperatures is what the conductances say.
        for (side, surface, air_c, out) in [
            (section.above, state.above, 20.0, state.up_w_m2),
            (section.below, state.below, 8.0, state.down_w_m2),
        ] {
            if let Side::Film { coefficient_w_m2k } = side {
                let by_film = coefficient_w_m2k * (surface.mean_c - air_c);
                let large = coefficient_w_m2k * 45.0;
                prop_assert!((by_film - out).abs() <= 1e-9 * large, "{by_film} {out}");
            }
        }
    }

    #[test]
    fn no_temperature_leaves_the_range_given(section in section()) {
        let field = solve(&section).field(&temperatures(&section));
        let warmest = field.celsius.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let coolest = field.celsius.iter().copied().fold(f64::INFINITY, f64::min);
        prop_assert!(warmest <= 45.0 + 1e-9 && coolest >= 8.0 - 1e-9, "{coolest} {warmest}");
    }

    #[test]
    fn a_mirror_changes_nothing(section in section()) {
        let (plain, seen) = (solve(&section), solve(&mirrored(&section)));
        for pair in [(Port::Tube(0), Port::Room), (Port::Tube(0), Port::Below), (Port::Room, Port::Below)] {
            let (a, b) = (plain.conductance_w_mk(pair.0, pair.1), seen.conductance_w_mk(pair.0, pair.1));
            let scale = plain.conductance_w_mk(Port::Tube(0), Port::Room);
            prop_assert!((a - b).abs() <= 1e-5 * (a + scale), "{pair:?}: {a} {b}");
        }
    }

    #[test]
    fn better_conduction_never_lessens_the_heat(section in section(), more in 1.05..4.0f64, which in 0usize..8) {
        let mut better = section.clone();
        let layers = better.layers.iter_mut().map(|layer| &mut layer.material);
        let all = layers.chain(better.inclusions.iter_mut().map(|i| &mut i.material));
        let count = section.layers.len() + section.inclusions.len();
        if let Some(material) = { all }.nth(which % count) {
            material.conductivity_w_mk *= more;
        }
        // All tubes at one, all else at nought.
        let all_heat = |section: &Section| {
            let state = solve(section).superpose(&Temperatures::of_water(1.0, 0.0, 0.0));
            (state.up_w_m2 + state.down_w_m2) * section.width_m
        };
        let (before, after) = (all_heat(&section), all_heat(&better));
        // The extrapolated figure may move by its own error.
        prop_assert!(after >= before * (1.0 - 2e-3), "{before} {after}");
    }
}
