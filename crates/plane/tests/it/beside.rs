//! What lies beside tube, on plans where a ruler tells.

use crate::near;
use plane::beside::raster::Grid;
use plane::beside::{Meets, stations};
use plane::{Path, Point, Region, Segment};

const REACH_M: f64 = 0.42;

fn room(wide_m: f64, high_m: f64) -> Region {
    Region::rectangle(Point::default(), Point::new(wide_m, high_m)).unwrap()
}

/// A straight tube from the left to the right at that height.
fn row(y: f64, from: f64, to: f64) -> Path {
    let (from, to) = (Point::new(from, y), Point::new(to, y));
    Path { segments: vec![Segment::Line { from, to }] }
}

#[test]
fn rows_meet_each_other_and_the_walls() {
    let (region, ys) = (room(4.0, 1.0), [0.1, 0.3, 0.5]);
    let paths = ys.map(|y| row(y, 0.5, 3.5));
    let all = stations(&paths.each_ref(), &[&region], 0.1, REACH_M);
    assert_eq!(all.len(), 90);
    for (number, station) in all.iter().enumerate() {
        let (row, [left, right]) = (number / 30, station.sides);
        near(station.length_m, 0.1, 1e-9);
        near(right.gap_m, if row == 0 { 0.1 } else { 0.2 }, 1e-9);
        near(left.gap_m, if row == 2 { REACH_M } else { 0.2 }, 1e-9);
        // Each looks at the piece across from it.
        let expected = if row == 2 { Meets::Nothing } else { Meets::Tube(number + 30) };
        assert_eq!(left.meets, expected);
        assert_eq!(right.meets, if row == 0 { Meets::Edge } else { Meets::Tube(number - 30) });
    }
    near(all[0].sides[1].half_m(REACH_M), 0.1, 1e-12);
    near(all[0].sides[0].half_m(REACH_M), 0.1, 1e-9);
    near(all[89].sides[0].half_m(REACH_M), 0.21, 1e-12);
}

#[test]
fn a_wall_hides_the_tube_behind_it() {
    let (near_room, far) = (room(4.0, 1.0), room(4.0, 1.0));
    let far = Region::simple(far.outer().iter().map(|p| *p + Point::new(0.0, 1.1)).collect());
    let far = far.unwrap();
    let paths = [row(0.95, 0.5, 3.5), row(1.15, 0.5, 3.5)];
    let all = stations(&paths.each_ref(), &[&near_room, &far], 0.1, REACH_M);
    assert_eq!((all[0].region, all[40].region), (Some(0), Some(1)));
    assert_eq!(all[10].sides[0].meets, Meets::Edge);
    near(all[10].sides[0].gap_m, 0.05, 1e-9);
    near(all[40].sides[1].gap_m, 0.05, 1e-9);
}

#[test]
fn the_legs_of_a_turn_face_each_other() {
    let corners = [(0.5, 0.4), (3.0, 0.4), (3.0, 0.6), (0.5, 0.6)];
    let path = Path::rounded(&corners.map(|(x, y)| Point::new(x, y)), 0.1);
    let region = room(4.0, 1.0);
    let all = stations(&[&path], &[&region], 0.1, REACH_M);
    let length_m: f64 = all.iter().map(|station| station.length_m).sum();
    near(length_m, path.length_m(), 1e-9);
    let (first, last) = (&all[2], &all[all.len() - 3]);
    near(first.sides[0].gap_m, 0.2, 1e-9);
    near(last.sides[0].gap_m, 0.2, 1e-9);
    assert_eq!(first.sides[0].meets, Meets::Tube(all.len() - 3));
}

#[test]
fn squares_know_their_tube() {
    let (region, paths) = (room(4.0, 1.0), [row(0.1, 0.0, 4.0), row(0.3, 0.0, 4.0)]);
    let all = stations(&paths.each_ref(), &[&region], 0.1, REACH_M);
    let (low, high) = region.bounds();
    let grid = Grid::over(low, high, 0.025).unwrap();
    assert_eq!((grid.columns, grid.rows), (160, 40));
    let inside = grid.regions(&[&region]);
    let area_m2 = inside.iter().flatten().count() as f64 * grid.cell_m2();
    near(area_m2, region.area_m2(), 1e-9);
    let nearest = grid.nearest(&all, &inside, REACH_M);
    for (cell, near_by) in nearest.iter().enumerate() {
        let at = grid.middle(cell);
        let away = (at.y - 0.1).abs().min((at.y - 0.3).abs());
        match near_by {
            Some(found) => {
                near(f64::from(found.away_m), away, 1e-6);
                let tube = all[found.station as usize].middle();
                assert_eq!(found.is_left, at.y >= tube.y, "{at:?}");
            }
            None => assert!(away > REACH_M / 2.0, "{at:?}"),
        }
    }
    let known = nearest.iter().flatten().count() as f64 * grid.cell_m2();
    near(known, 4.0 * 0.5, 0.05);
}

#[test]
fn odd_plans_give_nothing() {
    let region = room(1.0, 1.0);
    assert!(stations(&[&Path::default()], &[&region], 0.1, REACH_M).is_empty());
    assert!(stations(&[&row(0.1, 0.0, 1.0)], &[&region], f64::NAN, f64::NAN).is_empty());
    let far = Path {
        segments: vec![Segment::Line { from: Point::new(0.0, f64::NAN), to: Point::default() }],
    };
    assert!(stations(&[&far], &[&region], 0.1, REACH_M).is_empty());
    assert!(Grid::over(Point::default(), Point::new(f64::INFINITY, 1.0), 0.025).is_none());
    assert!(Grid::over(Point::default(), Point::new(1.0, 1.0), 0.0).is_none());
    let huge = Grid::over(Point::default(), Point::new(9e4, 9e4), 0.025).unwrap();
    assert!(huge.len() < 5_000_000);
}
