//! Verdicts on holes in joists against published limits.

use plane::bays::{Fault, HoleLimits, JoistKind, Mend, Verdict, judge, largest_hole_m, mends};

use crate::joist_floors::{BRITISH, IRC};
use crate::near;

const IN: f64 = 0.0254;

/// A hole at mid span and mid depth of a joist of that depth.
fn middle(depth_m: f64, diameter_m: f64) -> [f64; 3] {
    [2.0, depth_m / 2.0, diameter_m]
}

fn one(depth_m: f64, hole: [f64; 3], limits: &HoleLimits) -> Verdict {
    let verdicts = judge(JoistKind::Sawn, depth_m, 4.0, &[hole], limits);
    verdicts.into_iter().next().expect("a verdict for each hole")
}

/// Largest bored holes as inspectors print them: 2x6 1 13/16 in, 2x8 2 3/8 in, 2x10 3 1/16 in, 2x12
/// 3 3/4 in, from a third of the actual depth, rounded down to a sixteenth. The 2 in edges leave
/// less in a 2x6: 1 1/2 in.
#[test]
fn largest_holes_are_the_printed_ones() {
    for (depth_in, printed_in) in [(7.25, 2.375), (9.25, 3.0625), (11.25, 3.75)] {
        let most_in = largest_hole_m(depth_in * IN, &IRC) / IN;
        near((most_in * 16.0 + 1e-6).floor() / 16.0, printed_in, 1e-9);
    }
    near(5.5 / 3.0, 1.8333, 1e-4);
    near(largest_hole_m(5.5 * IN, &IRC) / IN, 1.5, 1e-9);
    near(largest_hole_m(3.5 * IN, &IRC), 0.0, 1e-12);
}

/// British practice: 0.25 of the depth, 65 mm at most. Printed: 100 mm 25.0, 150 mm 37.5, 200 mm
/// 50.0, 225 mm 56.3, 300 mm 65.
#[test]
fn largest_holes_by_british_practice_are_the_printed_ones() {
    for (depth_mm, printed_mm) in
        [(100.0, 25.0), (150.0, 37.5), (200.0, 50.0), (225.0, 56.25), (275.0, 65.0), (300.0, 65.0)]
    {
        near(largest_hole_m(depth_mm / 1e3, &BRITISH) * 1e3, printed_mm, 1e-9);
    }
}

/// A 4 in duct in a 2x6: 4 in against 1.83 in.
#[test]
fn a_duct_through_a_two_by_six_is_too_large() {
    let Verdict::Breaks(faults) = one(5.5 * IN, middle(5.5 * IN, 4.0 * IN), &IRC) else {
        panic!("a hole of 4 in in 5 1/2 in");
    };
    let Some(Fault::TooLarge { most_m }) = faults.first() else { panic!("{faults:?}") };
    near(most_m / IN, 5.5 / 3.0, 1e-6);
    let mended = mends(&faults[0], 4.0 * IN, &IRC);
    // A hole of 4 in needs at least 12 in of depth.
    assert!(
        mended.iter().any(|m| matches!(m, Mend::DeeperJoist(d) if (d / IN - 12.0).abs() < 1e-6))
    );
}

#[test]
fn a_hole_just_inside_the_limit_keeps_and_just_outside_breaks() {
    let depth = 9.25 * IN;
    assert_eq!(one(depth, middle(depth, 3.0625 * IN), &IRC), Verdict::Keeps);
    assert!(matches!(one(depth, middle(depth, 3.125 * IN), &IRC), Verdict::Breaks(_)));
    let at = |from_top_in: f64| [2.0, from_top_in * IN, 1.0 * IN];
    assert_eq!(one(depth, at(2.5), &IRC), Verdict::Keeps);
    let Verdict::Breaks(faults) = one(depth, at(2.4), &IRC) else { panic!("1.9 in to the edge") };
    let Some(Fault::NearEdge { has_m, .. }) = faults.first() else { panic!("{faults:?}") };
    near(has_m / IN, 1.9, 1e-9);
}

#[test]
fn holes_too_near_each_other_break_and_two_inches_keep() {
    let depth = 11.25 * IN;
    let pair = |apart_in: f64| {
        let holes = [[1.0, depth / 2.0, IN], [1.0 + apart_in * IN, depth / 2.0, IN]];
        judge(JoistKind::Sawn, depth, 4.0, &holes, &IRC)
    };
    assert!(pair(3.0).iter().all(|v| *v == Verdict::Keeps));
    for verdict in pair(2.9) {
        let Verdict::Breaks(faults) = verdict else { panic!("1.9 in of wood") };
        assert!(matches!(faults[..], [Fault::NearHole { .. }]));
        assert_eq!(mends(&faults[0], IN, &IRC), [Mend::FewerHoles]);
    }
}

/// Printed for a span of 4 m: holes between 1000 and 1600 mm from the bearing.
#[test]
fn british_practice_asks_for_mid_depth_and_a_zone_of_the_span() {
    let at = |along: f64, below: f64| one(0.2, [along, below, 0.025], &BRITISH);
    assert_eq!(at(1.0, 0.1), Verdict::Keeps);
    assert_eq!(at(1.6, 0.1), Verdict::Keeps);
    assert_eq!(at(2.9, 0.1), Verdict::Keeps);
    let Verdict::Breaks(faults) = at(0.9, 0.1) else { panic!("outside the zone") };
    assert!(matches!(faults[..], [Fault::OutsideZone { zone_m: [1.0, 1.6] }]));
    let Verdict::Breaks(faults) = at(1.2, 0.07) else { panic!("off the middle") };
    assert!(matches!(faults[..], [Fault::OffMiddle { .. }]));
}

#[test]
fn engineered_joists_cannot_be_told() {
    for kind in [JoistKind::IJoist, JoistKind::OpenWeb] {
        let verdicts = judge(kind, 0.3, 4.0, &[middle(0.3, 0.02)], &IRC);
        assert!(matches!(verdicts[..], [Verdict::CannotTell(words)] if words.contains("maker")));
    }
}
