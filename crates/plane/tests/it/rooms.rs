//! Loops in rooms as they are built.

use plane::fill::{Fill, FillSpec, NoFill, counterflow};
use plane::verify::{self, Limits};
use plane::{Point, Region};

use crate::near;
use crate::plans::{self, Plan};

fn laid(plan: &Plan) -> Fill {
    counterflow(&plan.region, plan.entry, &plan.spec())
        .unwrap_or_else(|reason| panic!("{}: {reason}", plan.name))
}

#[test]
fn every_plan_gets_a_sound_loop() {
    for plan in plans::all() {
        let fill = laid(&plan);
        let s = fill.spacing_used_m;
        let limits = Limits {
            near_m: (0.75 * plan.spacing_m).max(plan.clearance_m + 0.005),
            bend_radius_m: 0.08,
            same_strand_m: 2.6 * s,
        };
        let report = verify::check(std::slice::from_ref(&fill.path), &plan.region, &limits);
        let name = plan.name;
        assert_eq!(report.crossings, [], "{name}");
        assert_eq!(report.faults, [], "{name}");
        near(report.outside_m, 0.0, 1e-9);
        assert_eq!(report.tight_bends, fill.tight_bends, "{name}");
        assert!(report.covered_fraction > 0.97, "{name}: {}", report.covered_fraction);
        near(report.covered_fraction, fill.covered_fraction, 0.01);
        // The tip of a sharp reversal is the closest place, as in the bay.
        if let Some(closest) = report.within_loop {
            assert!(
                closest.gap_m > 0.5 * s,
                "{name}: {} of {s} at {:?}",
                closest.gap_m,
                closest.at
            );
        }
        near(s / plan.spacing_m, 1.0, 0.0901);
    }
}

#[test]
fn length_is_about_area_over_spacing() {
    for plan in plans::all() {
        let fill = laid(&plan);
        // A strip along the walls belongs to no strand if it is wider than half
        // a spacing.
        let strip = (plan.clearance_m - fill.spacing_used_m / 2.0).max(0.0);
        let floor: f64 = plan.region.offset_inward(strip).iter().map(Region::area_m2).sum();
        let expected = floor / fill.spacing_used_m;
        let ratio = fill.path.length_m() / expected;
        assert!((0.92..1.03).contains(&ratio), "{}: {ratio}", plan.name);
    }
}

#[test]
fn both_ends_lie_beside_the_entry() {
    for plan in plans::all() {
        let fill = laid(&plan);
        let (start, end) = (fill.path.start().unwrap(), fill.path.end().unwrap());
        near(start.distance(end), fill.spacing_used_m, 2e-3);
        for p in [start, end] {
            near(plan.region.boundary_distance_m(p), 0.0, 1e-3);
            assert!(p.distance(plan.entry) < 0.5, "{}", plan.name);
        }
    }
}

#[test]
fn bend_counts_of_the_rectangle_snapshot() {
    // A snapshot of our own output, not a truth: look at it when it changes.
    let fill = laid(&plans::rectangle());
    assert!(fill.tight_bends.len() <= 8, "{}", fill.tight_bends.len());
    assert!(fill.path.bends().len() <= 80, "{}", fill.path.bends().len());
}

#[test]
fn turned_and_mirrored_rooms_get_loops_as_good() {
    for plan in plans::all() {
        let base = laid(&plan);
        for k in 1..6 {
            let (sin, cos) = (0.37 * f64::from(k)).sin_cos();
            let flip = if k % 2 == 0 { 1.0 } else { -1.0 };
            let map = |p: Point| {
                let p = Point::new(p.x * flip, p.y);
                Point::new(p.x * cos - p.y * sin + 3.0, p.x * sin + p.y * cos - 2.0)
            };
            let outer = plan.region.outer().iter().map(|p| map(*p)).collect();
            let turn = |h: &Vec<Point>| h.iter().map(|p| map(*p)).collect();
            let holes = plan.region.holes().iter().map(turn).collect();
            let region = Region::new(outer, holes).unwrap();
            let fill = counterflow(&region, map(plan.entry), &plan.spec()).unwrap();
            // Coverage is weighed on an upright grid, so a turned room may get
            // another variant of the scan: spacing within a step or two (3 % of
            // length each), and as well covered.
            let ratio = fill.path.length_m() / base.path.length_m();
            assert!((0.9..1.1).contains(&ratio), "{} turned {k}: {ratio}", plan.name);
            near(fill.covered_fraction, base.covered_fraction, 0.02);
        }
    }
}

#[test]
fn a_plainly_mirrored_room_gets_the_same_length() {
    // Mirrored across an axis even the grids agree; only ties may fall
    // differently, and variants in a tie differ by some centimetres.
    let plan = plans::rectangle();
    let region = Region::rectangle(Point::new(-4.0, 0.0), Point::new(0.0, 5.0)).unwrap();
    let entry = Point::new(-plan.entry.x, 0.0);
    let mirrored = counterflow(&region, entry, &plan.spec()).unwrap();
    near(mirrored.path.length_m(), laid(&plan).path.length_m(), 0.3);
}

#[test]
fn the_same_room_gets_the_same_loop() {
    for plan in plans::all() {
        assert_eq!(laid(&plan), laid(&plan), "{}", plan.name);
    }
}

#[test]
fn spacings_from_100_to_300_mm_cover_a_room() {
    let plan = plans::rectangle();
    for mm in [100, 125, 150, 175, 200, 250, 300] {
        let spec = FillSpec { spacing_m: f64::from(mm) / 1000.0, ..plan.spec() };
        let fill = counterflow(&plan.region, plan.entry, &spec).unwrap();
        assert!(fill.covered_fraction > 0.97, "{mm}: {}", fill.covered_fraction);
    }
}

#[test]
fn a_strip_gets_a_single_turn() {
    let strip = Region::rectangle(Point::new(0.0, 0.0), Point::new(3.0, 0.42)).unwrap();
    let spec = plans::rectangle().spec();
    let fill = counterflow(&strip, Point::new(1.5, 0.0), &spec).unwrap();
    assert!(fill.path.length_m() > 4.5 && fill.path.length_m() < 6.5);
    assert!(fill.covered_fraction > 0.9);
}

#[test]
fn refusals_are_plain() {
    let plan = plans::rectangle();
    let spec = plan.spec();
    let tiny = Region::rectangle(Point::new(0.0, 0.0), Point::new(0.2, 0.2)).unwrap();
    let refused = counterflow(&tiny, Point::new(0.1, 0.0), &spec);
    assert!(matches!(refused, Err(NoFill::SmallerThanOneTurn { .. })), "{refused:?}");
    let far = Point::new(40.0, 0.0);
    assert_eq!(counterflow(&plan.region, far, &spec), Err(NoFill::EntryElsewhere));
    let nan = Point::new(f64::NAN, 0.0);
    assert_eq!(counterflow(&plan.region, nan, &spec), Err(NoFill::EntryElsewhere));
    let with = |spacing_m, wall_clearance_m, bend_radius_m| {
        let spec = FillSpec { spacing_m, wall_clearance_m, bend_radius_m };
        counterflow(&plan.region, plan.entry, &spec).map(|f| f.spacing_used_m)
    };
    for wrong in [f64::NAN, -1.0, f64::INFINITY] {
        assert_eq!(with(wrong, 0.1, 0.08), Err(NoFill::UnusableSpacing));
        assert_eq!(with(0.15, wrong, 0.08), Err(NoFill::UnusableClearance));
        assert_eq!(with(0.15, 0.1, wrong), Err(NoFill::UnusableRadius));
    }
    let field = Region::rectangle(Point::new(0.0, 0.0), Point::new(300.0, 300.0)).unwrap();
    assert_eq!(counterflow(&field, Point::new(0.0, 0.0), &spec), Err(NoFill::TooLarge));
}
