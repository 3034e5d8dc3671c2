//! Bends that the tube allows.

use std::f64::consts::PI;

use plane::fill::{FillSpec, counterflow};
use plane::relax::{Fence, Relaxed, Strand, Wishes, relaxed};
use plane::{Path, Point, Region, Segment, verify};

use crate::near;
use crate::plans::{self, points};

const RADIUS_M: f64 = 0.08;

fn wishes(radius_m: f64) -> Wishes {
    Wishes { radius_m, least_gap_m: 0.05, field_gap: 0.67 }
}

/// A path alone on a wide floor.
fn alone(path: &Path, spacing_m: f64) -> Relaxed {
    let strand = Strand { path: path.clone(), spacing_m };
    relaxed(&[strand], &[], &wishes(RADIUS_M))
}

fn rounded(corners: &[(f64, f64)]) -> Path {
    Path::rounded(&points(corners), RADIUS_M)
}

fn hairpin(gap_m: f64) -> Path {
    rounded(&[(0.0, 0.0), (1.0, 0.0), (1.0, gap_m), (0.0, gap_m)])
}

/// Least and greatest ordinate of a path.
fn extent_y(path: &Path) -> (f64, f64) {
    let ys = path.sample(1e-3).into_iter().map(|p| p.y);
    ys.fold((f64::INFINITY, -f64::INFINITY), |(low, high), y| (low.min(y), high.max(y)))
}

fn mirrored(path: &Path) -> Path {
    let flip = |p: Point| Point::new(p.x, -p.y);
    let segments = path.segments.iter().map(|segment| match *segment {
        Segment::Line { from, to } => Segment::Line { from: flip(from), to: flip(to) },
        Segment::Arc { from, to, centre, radius_m, turn_rad } => Segment::Arc {
            from: flip(from),
            to: flip(to),
            centre: flip(centre),
            radius_m,
            turn_rad: -turn_rad,
        },
    });
    Path { segments: segments.collect() }
}

#[track_caller]
fn assert_sound(path: &Path, radius_m: f64) {
    assert_eq!(verify::faults(path), []);
    assert_eq!(verify::crossings(std::slice::from_ref(path)), []);
    let least = path.bends().iter().map(|b| b.radius_m).fold(f64::INFINITY, f64::min);
    assert!(least >= radius_m, "{least}");
    // Circles through three places of the tube know nothing of its arcs.
    let sampled = verify::least_sampled_radius_m(path, 0.02);
    assert!(sampled >= radius_m - 1e-4, "{sampled}");
}

#[test]
fn wide_bends_stay_exactly_as_they_are() {
    // A turn over 1.1 times the radius at both sides is wide enough.
    let path = Path::rounded(
        &points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 2.2 * RADIUS_M), (0.0, 2.2 * RADIUS_M)]),
        1.1 * RADIUS_M,
    );
    let out = alone(&path, 0.1);
    assert_eq!(out.paths, [path]);
    assert_eq!(out.tight, 0);
}

#[test]
fn a_narrow_hairpin_becomes_a_bulb_of_twice_the_radius() {
    for gap_m in [0.08, 0.1, 1.2 * RADIUS_M, 0.14] {
        let path = hairpin(gap_m);
        let out = alone(&path, gap_m);
        assert_eq!(out.tight, 0);
        assert_sound(&out.paths[0], RADIUS_M);
        let (low, high) = extent_y(&out.paths[0]);
        near(high - low, 2.0 * RADIUS_M, 0.01 * 2.0 * RADIUS_M);
        // The bulb stands out as far to either side.
        near(low + high, gap_m, 1e-3);
        let ends = [out.paths[0].start(), out.paths[0].end()];
        assert_eq!(ends, [path.start(), path.end()]);
        // At most: legs, neck and slope on either side, and one head.
        assert!(out.paths[0].segments.len() <= 7, "{:?}", out.paths[0]);
    }
}

#[test]
fn a_short_jog_becomes_a_slope() {
    for jog_m in [0.01, 0.03, 0.05, 0.1, 0.15] {
        let path = rounded(&[(0.0, 0.0), (1.0, 0.0), (1.0, jog_m), (2.0, jog_m)]);
        let out = alone(&path, 0.1);
        assert_eq!(out.tight, 0);
        assert_sound(&out.paths[0], RADIUS_M);
        let (low, high) = extent_y(&out.paths[0]);
        near(low, 0.0, 1e-6);
        near(high, jog_m, 1e-6);
        assert!(out.paths[0].segments.len() <= 5, "{:?}", out.paths[0]);
    }
}

#[test]
fn a_chamfered_corner_becomes_one_bend() {
    let path = rounded(&[(0.0, 0.0), (1.0, 0.0), (1.03, 0.03), (1.03, 1.0)]);
    let out = alone(&path, 0.1);
    assert_eq!(out.tight, 0);
    assert_sound(&out.paths[0], RADIUS_M);
    assert_eq!(out.paths[0].bends().len(), 1);
    near(out.paths[0].bends()[0].turn_rad, PI / 2.0, 1e-6);
}

#[test]
fn mirrored_tube_is_bent_the_mirrored_way() {
    let path = rounded(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.1), (0.3, 0.1), (0.3, 0.17), (0.0, 0.17)]);
    let there = alone(&path, 0.1);
    let here = alone(&mirrored(&path), 0.1);
    for (a, b) in there.paths[0].sample(0.01).iter().zip(mirrored(&here.paths[0]).sample(0.01)) {
        near(a.distance(b), 0.0, 1e-9);
    }
}

#[test]
fn a_wall_beside_a_hairpin_pushes_its_bulb_away() {
    let floor = Region::rectangle(Point::new(-0.01, -0.06), Point::new(2.0, 2.0)).unwrap();
    let path = hairpin(0.1);
    let strand = Strand { path: path.clone(), spacing_m: 0.1 };
    let ground = [floor.clone()];
    let fence = Fence { ground: &ground, clearance_m: 0.05, wanted_m: 0.05 };
    let out = relaxed(&[strand], &[fence], &wishes(RADIUS_M));
    assert_eq!(out.tight, 0);
    assert_sound(&out.paths[0], RADIUS_M);
    let (low, high) = extent_y(&out.paths[0]);
    assert!(low >= -0.0101, "{low}");
    assert!(high - low < 2.0 * RADIUS_M + 0.02, "{high} {low}");
}

#[test]
fn neighbours_keep_the_least_gap() {
    // Rows so close that bulbs side by side would come within 40 mm.
    let rows = [0.0, 0.2].map(|y| Strand {
        path: rounded(&[(0.0, y), (1.0, y), (1.0, y + 0.1), (0.0, y + 0.1)]),
        spacing_m: 0.1,
    });
    let out = relaxed(&rows, &[], &wishes(RADIUS_M));
    assert_eq!(out.tight, 0);
    assert_eq!(verify::crossings(&out.paths), []);
    let gap = verify::closest_between(&out.paths, 0.5).unwrap().gap_m;
    assert!(gap >= 0.05 - 1e-3, "{gap}");
}

#[test]
fn loops_of_rooms_are_bent_and_stay_sound() {
    for (radius_m, spacing_m) in [(0.08, 0.15), (0.08, 0.1), (0.127, 0.229)] {
        for plan in plans::all() {
            let spec = FillSpec { spacing_m, bend_radius_m: radius_m, ..plan.spec() };
            let Ok(fill) = counterflow(&plan.region, plan.entry, &spec) else { continue };
            let strand = Strand { path: fill.path.clone(), spacing_m };
            let ground = [plan.region.clone()];
            let fence = Fence { ground: &ground, clearance_m: 0.05, wanted_m: 0.05 };
            let out = relaxed(&[strand], &[fence], &wishes(radius_m));
            let path = &out.paths[0];
            let name = format!("{} {radius_m} {spacing_m}", plan.name);
            assert_eq!(verify::crossings(&out.paths), [], "{name}");
            assert_eq!(verify::faults(path), [], "{name}");
            near(verify::outside_m(path, &plan.region), 0.0, 1e-9);
            assert_eq!([path.start(), path.end()], [fill.path.start(), fill.path.end()]);
            if out.tight == 0 {
                assert_sound(path, radius_m);
            }
        }
    }
}

#[test]
fn odd_input_comes_back_as_it_was() {
    let path = hairpin(0.1);
    let strands = [Strand { path: path.clone(), spacing_m: f64::NAN }];
    for radius_m in [f64::NAN, -1.0, 0.0, f64::INFINITY] {
        let out = relaxed(&strands, &[], &wishes(radius_m));
        assert_eq!(out.paths, std::slice::from_ref(&path));
    }
    let empty = [Strand { path: Path::default(), spacing_m: 0.1 }];
    assert_eq!(relaxed(&empty, &[], &wishes(RADIUS_M)).paths, [Path::default()]);
    assert!(relaxed(&[], &[], &wishes(RADIUS_M)).paths.is_empty());
    assert_eq!(relaxed(&strands, &[], &wishes(RADIUS_M)).paths.len(), 1);
}
