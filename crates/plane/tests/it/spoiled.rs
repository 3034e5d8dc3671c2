//! The verifier finds what is wrong with layouts spoiled on purpose.

use plane::fill::counterflow;
use plane::verify::{self, Fault, Limits};
use plane::{Path, Point, Segment};

use crate::laid::moved;
use crate::near;
use crate::plans;

const LIMITS: Limits = Limits { near_m: 0.1125, bend_radius_m: 0.07, same_strand_m: 0.35 };

fn sound() -> Path {
    let plan = plans::rectangle();
    counterflow(&plan.region, plan.entry, &plan.spec()).unwrap().path
}

fn report(paths: &[Path]) -> verify::Report {
    verify::check(paths, &plans::rectangle().region, &LIMITS)
}

fn first_arc(path: &Path) -> usize {
    path.segments.iter().position(|s| matches!(s, Segment::Arc { .. })).unwrap()
}

#[test]
fn a_sound_layout_passes() {
    let report = report(&[sound()]);
    assert!(report.crossings.is_empty() && report.faults.is_empty());
    near(report.outside_m, 0.0, 1e-9);
    assert!(report.covered_fraction > 0.99);
    assert!(report.between_loops.is_none());
}

#[test]
fn a_detour_over_the_neighbour_crosses() {
    let mut path = sound();
    let longest = (0..path.segments.len())
        .max_by(|&i, &j| path.segments[i].length_m().total_cmp(&path.segments[j].length_m()))
        .unwrap();
    let (from, to) = (path.segments[longest].from(), path.segments[longest].to());
    let middle = from.lerp(to, 0.5);
    for side in [1.0, -1.0] {
        let tip = middle + (to - from).unit().left() * (0.25 * side);
        let mut spoiled = path.clone();
        let detour = [Segment::Line { from, to: tip }, Segment::Line { from: tip, to }];
        spoiled.segments.splice(longest..=longest, detour);
        let report = report(&[spoiled]);
        assert!(!report.crossings.is_empty() || report.outside_m > 0.1);
        assert!(!report.faults.is_empty());
    }
    path.segments.truncate(0);
    assert!(report(&[path]).crossings.is_empty());
}

#[test]
fn crossing_loops_are_named_and_placed() {
    let line = |a: (f64, f64), b: (f64, f64)| Path {
        segments: vec![Segment::Line { from: Point::new(a.0, a.1), to: Point::new(b.0, b.1) }],
    };
    let found = verify::crossings(&[line((0.0, 0.0), (2.0, 2.0)), line((0.0, 2.0), (2.0, 0.0))]);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].paths, [0, 1]);
    near(found[0].at.distance(Point::new(1.0, 1.0)), 0.0, 1e-9);
}

#[test]
fn a_copy_beside_the_tube_is_too_close() {
    let path = sound();
    let copy = moved(&path, Point::new(0.012, 0.0));
    let closest = verify::closest_between(&[path, copy], 0.5).unwrap();
    assert!(closest.gap_m <= 0.012 + 1e-9);
}

#[test]
fn gaps_are_measured_exactly() {
    let lines = plans::points(&[(0.0, 0.0), (2.0, 0.0), (2.0, 0.2), (0.0, 0.2)]);
    let path = Path::rounded(&lines, 0.1);
    let closest = verify::closest_within(&[path], 0.5, 0.6).unwrap();
    near(closest.gap_m, 0.2, 1e-9);
}

#[test]
fn a_chord_for_an_arc_is_two_kinks() {
    let mut path = sound();
    let i = first_arc(&path);
    let (from, to) = (path.segments[i].from(), path.segments[i].to());
    path.segments[i] = Segment::Line { from, to };
    let kinks = verify::faults(&path).iter().filter(|f| matches!(f, Fault::Kink { .. })).count();
    assert_eq!(kinks, 2);
}

#[test]
fn a_false_radius_a_jump_and_a_nan_are_found() {
    let base = sound();
    let i = first_arc(&base);
    let mut path = base.clone();
    if let Segment::Arc { radius_m, .. } = &mut path.segments[i] {
        *radius_m *= 1.3;
    }
    assert!(verify::faults(&path).iter().any(|f| matches!(f, Fault::FalseArc { .. })));
    let mut path = base.clone();
    if let Segment::Line { from, .. } = &mut path.segments[2] {
        from.x += 0.004;
    }
    assert!(verify::faults(&path).iter().any(|f| matches!(f, Fault::Jump { .. })));
    let mut path = base;
    if let Segment::Line { from, .. } = &mut path.segments[0] {
        from.x = f64::NAN;
    }
    let report = report(&[path]);
    assert!(report.faults.iter().any(|f| matches!(f, Fault::NotANumber { segment: 0 })));
}

#[test]
fn shrunk_bends_are_tight_by_both_measures() {
    // Corners far apart, each with the whole radius.
    let corners = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (0.0, 4.0)];
    let corners: Vec<Point> = (0..6)
        .flat_map(|turn| corners.map(|(x, y)| Point::new(x, y + 6.0 * f64::from(turn))))
        .collect();
    let path = Path::rounded(&corners, 0.08);
    let tight = |p: &Path| verify::tight_bends(p, 0.07).len();
    let scaled = Path {
        segments: path
            .segments
            .iter()
            .map(|s| match *s {
                Segment::Line { from, to } => Segment::Line { from: from * 0.7, to: to * 0.7 },
                Segment::Arc { from, to, centre, radius_m, turn_rad } => Segment::Arc {
                    from: from * 0.7,
                    to: to * 0.7,
                    centre: centre * 0.7,
                    radius_m: radius_m * 0.7,
                    turn_rad,
                },
            })
            .collect(),
    };
    assert!(tight(&scaled) > tight(&path) + 10);
    let sampled = |p: &Path| verify::least_sampled_radius_m(p, 0.02);
    assert!(sampled(&scaled) < 0.8 * sampled(&path));
}

#[test]
fn missing_and_shifted_tube_shows() {
    let whole = sound();
    let mut cut = whole.clone();
    cut.segments.truncate(whole.segments.len() * 4 / 5);
    assert!(
        report(&[cut]).covered_fraction
            < report(std::slice::from_ref(&whole)).covered_fraction - 0.02
    );
    let shifted = moved(&whole, Point::new(0.2, 0.0));
    assert!(report(&[shifted]).outside_m > 1.0);
    near(report(&[]).covered_fraction, 0.0, 1e-12);
}
