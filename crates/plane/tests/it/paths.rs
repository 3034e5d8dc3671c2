//! Lengths, places and bends of tube.

use std::f64::consts::{FRAC_PI_2, PI};

use plane::{Path, Point};

use crate::near;
use crate::plans::points;

fn hairpin() -> Path {
    Path::rounded(&points(&[(0.0, 0.0), (2.0, 0.0), (2.0, 0.2), (0.0, 0.2)]), 0.1)
}

#[test]
fn length_is_true_along_arcs() {
    // 1.9 m out, half a circle of 0.1 m, 1.9 m back.
    near(hairpin().length_m(), 3.8 + 0.1 * PI, 1e-9);
    let corner = Path::rounded(&points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)]), 0.25);
    near(corner.length_m(), 1.5 + 0.25 * FRAC_PI_2, 1e-12);
}

#[test]
fn length_equals_numerically_integrated_length() {
    let path = hairpin();
    let samples = path.sample(1e-4);
    let sum: f64 = samples.windows(2).map(|w| w[0].distance(w[1])).sum();
    // Chords of a tenth of a millimetre on 0.1 m radius miss 4e-8 of the arc.
    near(sum, path.length_m(), 1e-7);
}

#[test]
fn places_follow_the_tube() {
    let path = hairpin();
    assert_eq!(path.point_at(-1.0), Some(Point::new(0.0, 0.0)));
    assert_eq!(path.point_at(f64::INFINITY), path.end());
    let middle = path.point_at(path.length_m() / 2.0).unwrap();
    near(middle.x, 2.0, 1e-9);
    near(middle.y, 0.1, 1e-9);
    let back = path.reversed();
    near(back.length_m(), path.length_m(), 1e-12);
    near(
        back.point_at(0.3).unwrap().distance(path.point_at(path.length_m() - 0.3).unwrap()),
        0.0,
        1e-9,
    );
    assert_eq!(Path::default().point_at(1.0), None);
}

#[test]
fn a_hairpin_is_one_bend() {
    let bends = hairpin().bends();
    assert_eq!(bends.len(), 1);
    near(bends[0].radius_m, 0.1, 1e-9);
    near(bends[0].turn_rad, PI, 1e-9);
    near(hairpin().reversed().bends()[0].turn_rad, -PI, 1e-9);
}

#[test]
fn short_edges_share_their_length() {
    // Two right angles on an edge of 0.1 m leave 0.05 m for each.
    let path = Path::rounded(&points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.1), (0.0, 0.1)]), 0.08);
    near(path.bends()[0].radius_m, 0.05, 1e-9);
    assert!(plane::verify::faults(&path).is_empty());
}

#[test]
fn odd_input_gives_a_path_or_nothing() {
    for corners in [vec![], points(&[(0.0, 0.0)]), points(&[(1.0, 1.0); 4])] {
        assert!(Path::rounded(&corners, 0.1).segments.is_empty());
    }
    let back = Path::rounded(&points(&[(0.0, 0.0), (1.0, 0.0), (0.5, 0.0)]), 0.1);
    assert!(back.length_m() > 0.0);
    assert!(hairpin().sample(f64::NAN).len() > 10);
}
