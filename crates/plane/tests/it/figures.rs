//! Regions against closed-form areas and every kind of flaw.

use plane::{Flaw, Point, Region};

use crate::near;
use crate::plans::points;

fn square(low: f64, high: f64) -> Vec<Point> {
    points(&[(low, low), (high, low), (high, high), (low, high)])
}

#[test]
fn area_and_perimeter_count_holes() {
    let region = Region::new(square(0.0, 4.0), vec![square(1.0, 2.0)]).unwrap();
    near(region.area_m2(), 15.0, 1e-12);
    near(region.perimeter_m(), 20.0, 1e-12);
    assert!(!region.contains(Point::new(1.5, 1.5)));
    assert!(region.contains(Point::new(1.0, 1.5)), "the boundary belongs to the region");
}

#[test]
fn area_far_from_the_origin_keeps_its_digits() {
    let region = Region::simple(square(99_990.0, 99_991.0)).unwrap();
    near(region.area_m2(), 1.0, 1e-6);
}

#[test]
fn rings_are_turned_the_right_way() {
    let mut clockwise = square(0.0, 4.0);
    clockwise.reverse();
    let region = Region::new(clockwise, vec![square(1.0, 2.0)]).unwrap();
    let signed = |ring: &[Point]| {
        (0..ring.len()).fold(0.0, |sum, i| sum + ring[i].cross(ring[(i + 1) % ring.len()]))
    };
    assert!(signed(region.outer()) > 0.0);
    assert!(signed(&region.holes()[0]) < 0.0);
    near(region.area_m2(), 15.0, 1e-12);
}

#[test]
fn inward_offset_of_a_rectangle_is_a_rectangle() {
    let region = Region::rectangle(Point::new(0.0, 0.0), Point::new(4.0, 5.0)).unwrap();
    let inner = region.offset_inward(0.1);
    assert_eq!(inner.len(), 1);
    assert_eq!(inner[0].outer().len(), 4, "corners stay sharp");
    near(inner[0].area_m2(), 3.8 * 4.8, 4e-5);
    // Beyond its half width nothing is left, however far beyond.
    for d in [2.01, 2.49, 2.51, 3.0, 4.0, 5.5, 40.0] {
        assert!(region.offset_inward(d).is_empty(), "{d}: {:?}", region.offset_inward(d));
    }
    assert!(region.offset_inward(f64::NAN).is_empty());
}

#[test]
fn inward_offset_at_a_jutting_corner_is_mitred() {
    // Of an L, the inner corner moves by the offset along both axes. A bevel
    // would leave a triangle of half the square of the offset more.
    let l = points(&[(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 5.0), (0.0, 5.0)]);
    let inner = Region::simple(l).unwrap().offset_inward(0.5);
    assert_eq!(inner[0].outer().len(), 6);
    near(inner[0].area_m2(), 5.0 * 2.0 + 2.0 * 2.0, 2e-5);
}

#[test]
fn outward_offset_mitres_down_to_47_degrees() {
    let region = Region::simple(square(0.0, 1.0)).unwrap();
    near(region.offset_inward(-0.5)[0].area_m2(), 4.0, 1e-5);
    // An equilateral triangle: A + p·d + d²·3·tan(60°).
    let third = |k: f64| (std::f64::consts::TAU * k / 3.0).sin_cos();
    let corners: Vec<_> = (0..3).map(|k| third(f64::from(k))).map(|(s, c)| (c, s)).collect();
    let triangle = Region::simple(points(&corners)).unwrap();
    let (area, rim) = (triangle.area_m2(), triangle.perimeter_m());
    near(triangle.offset_inward(-0.1)[0].area_m2(), area + 0.1 * rim + 0.03 * 3f64.sqrt(), 1e-5);
    // A needle of 20° would reach out 5.8 offsets; it is cut off at 2.5.
    let needle = Region::simple(points(&[(0.0, -0.176), (1.0, 0.0), (0.0, 0.176)])).unwrap();
    let grown = needle.offset_inward(-0.1);
    let tip = grown[0].bounds().1.x;
    assert!(tip > 1.2 && tip < 1.25, "tip at {tip}");
}

#[test]
fn keep_outs_are_taken_out() {
    let region = Region::simple(square(0.0, 4.0)).unwrap();
    let across = points(&[(-1.0, 1.0), (5.0, 1.0), (5.0, 2.0), (-1.0, 2.0)]);
    let left = region.difference(&[across, square(3.0, 3.5)]).unwrap();
    assert_eq!(left.len(), 2);
    near(left.iter().map(Region::area_m2).sum(), 12.0 - 0.25, 1e-9);
    let bad = points(&[(0.0, 0.0), (1.0, 1.0)]);
    assert_eq!(region.difference(&[square(1.0, 2.0), bad]), Err(Flaw::TooFewCorners { ring: 1 }));
}

#[test]
fn overlap_is_measured() {
    let one = Region::simple(square(0.0, 2.0)).unwrap();
    let other = Region::simple(square(1.5, 3.0)).unwrap();
    near(one.overlap_area_m2(&other), 0.25, 1e-9);
    near(other.overlap_area_m2(&one), 0.25, 1e-9);
    near(one.overlap_area_m2(&Region::simple(square(2.0, 3.0)).unwrap()), 0.0, 1e-12);
}

#[test]
fn crossing_edges_are_named() {
    let bow = points(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 3.0)]);
    assert_eq!(Region::simple(bow), Err(Flaw::CrossesItself { ring: 0, edges: [0, 2] }));
    // The doubled corner does not shift the numbers.
    let bow = points(&[(0.0, 0.0), (0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 3.0)]);
    assert_eq!(Region::simple(bow), Err(Flaw::CrossesItself { ring: 0, edges: [1, 3] }));
    let spike = points(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (2.0, 4.0), (2.0, 2.0), (0.0, 2.0)]);
    assert!(matches!(Region::simple(spike), Err(Flaw::CrossesItself { ring: 0, .. })));
}

#[test]
fn every_flaw_is_found_and_nothing_panics() {
    let too_few = Region::simple(points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0)]));
    assert_eq!(too_few, Err(Flaw::TooFewCorners { ring: 0 }));
    assert_eq!(Region::simple(Vec::new()), Err(Flaw::TooFewCorners { ring: 0 }));
    let flat = Region::simple(points(&[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)]));
    assert_eq!(flat, Err(Flaw::NoArea { ring: 0 }));
    for wrong in [f64::NAN, f64::INFINITY, 1e300, -1e6] {
        let corners = points(&[(0.0, 0.0), (1.0, 0.0), (1.0, wrong)]);
        assert_eq!(Region::simple(corners), Err(Flaw::OutOfReach { ring: 0, corner: 2 }));
    }
    let outside = Region::new(square(0.0, 1.0), vec![square(2.0, 3.0)]);
    assert_eq!(outside, Err(Flaw::MisplacedHole { ring: 1 }));
    let nested = Region::new(square(0.0, 9.0), vec![square(1.0, 2.0), square(0.5, 3.0)]);
    assert_eq!(nested, Err(Flaw::MisplacedHole { ring: 1 }));
    let meeting = Region::new(square(0.0, 4.0), vec![square(3.0, 5.0)]);
    assert!(matches!(meeting, Err(Flaw::RingsMeet { rings: [0, 1], .. })));
    assert!(!meeting.unwrap_err().to_string().is_empty());
}
