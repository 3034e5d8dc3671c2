//! What makes no sense is told, with the place and what to do.

use proptest::prelude::*;
use solve::section::{
    Accuracy, Inclusion, Layer, Material, Rect, Section, SectionError, Side, Temperatures, Tube,
};

use crate::random::nonsense;

fn slab() -> Section {
    Section {
        width_m: 0.1,
        layers: vec![Layer::new(0.05, 0.034), Layer::new(0.1, 1.8)],
        inclusions: vec![],
        tubes: vec![Tube::round(0.0, 0.1, 0.016)],
        above: Side::Film { coefficient_w_m2k: 10.8 },
        below: Side::Held,
    }
}

fn refusal(change: impl Fn(&mut Section)) -> SectionError {
    let mut section = slab();
    change(&mut section);
    section.solve(&Accuracy::default()).expect_err("must be refused")
}

#[test]
fn figures_must_be_sensible() {
    for value in [0.0, -1.0, 1e-300, f64::NAN, f64::INFINITY] {
        let of = [
            refusal(|s| s.width_m = value),
            refusal(|s| s.layers[1].thickness_m = value),
            refusal(|s| s.layers[0].material.conductivity_w_mk = value),
            refusal(|s| s.tubes[0] = Tube::round(0.0, 0.1, value)),
            refusal(|s| s.above = Side::Film { coefficient_w_m2k: value }),
        ];
        for error in of {
            assert!(matches!(error, SectionError::NotSensible { .. }), "{value}: {error:?}");
        }
    }
    let error = refusal(|s| s.layers[1].material = Material::new(-2.0));
    assert_eq!(
        error.to_string(),
        "layer 2 from the bottom: conductivity is -2: give a sensible number above zero"
    );
}

#[test]
fn tubes_must_lie_inside_and_apart() {
    let error = refusal(|s| s.tubes[0] = Tube::round(0.0, 0.146, 0.016));
    assert_eq!(
        error.to_string(),
        "tube 1 lies outside at 8.0 mm from the left and 154.0 mm from the bottom: \
         keep it within 100.0 mm wide and 150.0 mm high"
    );
    let error = refusal(|s| s.tubes[0] = Tube::round(f64::NAN, 0.1, 0.016));
    assert!(matches!(error, SectionError::Outside { .. }), "{error:?}");
    let error = refusal(|s| s.tubes[0] = Tube::round(0.005, 0.1, 0.016));
    assert!(matches!(error, SectionError::CutTube { tube: 1, .. }), "{error:?}");
    let error = refusal(|s| s.tubes.push(Tube::round(0.0, 0.112, 0.016)));
    assert!(matches!(error, SectionError::TubesOverlap { tubes: (1, 2), .. }), "{error:?}");
    let error = refusal(|s| {
        s.tubes[0] = Tube::block(Rect { left_m: 0.0, right_m: 0.01, bottom_m: 0.0, top_m: 0.02 });
    });
    assert_eq!(error, SectionError::TubeAtHeldSide { tube: 1 });
}

#[test]
fn something_must_set_a_temperature() {
    let error = refusal(|s| {
        s.tubes.clear();
        s.above = Side::Insulated;
        s.below = Side::Insulated;
    });
    assert_eq!(error, SectionError::NothingHeld);
    assert_eq!(refusal(|s| s.layers.clear()), SectionError::NoLayers);
}

#[test]
fn inclusions_must_lie_inside() {
    let rect = Rect { left_m: 0.05, right_m: 0.12, bottom_m: 0.0, top_m: 0.02 };
    let error = refusal(|s| s.inclusions.push(Inclusion::new(rect, 200.0)));
    assert!(matches!(error, SectionError::Outside { .. }), "{error:?}");
    let turned = Rect { left_m: 0.05, right_m: 0.02, ..rect };
    let error = refusal(|s| s.inclusions.push(Inclusion::new(turned, 200.0)));
    assert!(matches!(error, SectionError::NotSensible { what: "width", .. }), "{error:?}");
}

#[test]
fn too_many_points_are_refused_not_tried() {
    let accuracy = Accuracy { most_nodes: 100, ..Accuracy::default() };
    let error = slab().solve(&accuracy).expect_err("too few points allowed");
    assert!(matches!(error, SectionError::TooFine { most: 25, .. }), "{error:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    #[test]
    fn no_figures_at_all_break_it(section in nonsense()) {
        let few = Accuracy { most_nodes: 4_000, ..Accuracy::default() };
        if let Ok(solved) = section.solve(&few) {
            let state = solved.superpose(&Temperatures::of_water(40.0, 20.0, 10.0));
            prop_assert!(!state.up_w_m2.is_nan() && !state.down_w_m2.is_nan(), "{state:?}");
        }
    }
}
