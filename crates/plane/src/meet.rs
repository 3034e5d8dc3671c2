//! Where pieces of tube meet straight edges, exactly.

use std::f64::consts::TAU;

use crate::path::Segment;
use crate::point::{Point, crossing};

/// Distances along a piece at which it meets the edge from `a` to `b`, metres, in order.
pub(crate) fn meets(segment: &Segment, a: Point, b: Point) -> Vec<f64> {
    match *segment {
        Segment::Line { from, to } => {
            crossing(from, to, a, b).map(|(t, _)| t * from.distance(to)).into_iter().collect()
        }
        Segment::Arc { .. } => {
            let along = b - a;
            let square = along.dot(along);
            let on_edge = |d: &f64| {
                let share = (segment.point_at(*d) - a).dot(along) / square;
                (0.0..=1.0).contains(&share)
            };
            crosses(segment, a, along.left()).into_iter().filter(on_edge).collect()
        }
    }
}

/// Distances along a piece at which it crosses the endless line through `at` square to `normal`.
pub(crate) fn crosses(segment: &Segment, at: Point, normal: Point) -> Vec<f64> {
    let normal = normal.unit();
    match *segment {
        Segment::Line { from, to } => {
            let (before, after) = ((from - at).dot(normal), (to - at).dot(normal));
            let meets = (before <= 0.0) != (after <= 0.0);
            let share = before / (before - after);
            meets.then(|| share * from.distance(to)).into_iter().collect()
        }
        Segment::Arc { from, centre, radius_m, turn_rad, .. } => {
            let arm = from - centre;
            let side = turn_rad.signum();
            // Height over the line after an angle t of the turn: off + p cos t + q sin t.
            let (off, p, q) =
                ((centre - at).dot(normal), arm.dot(normal), side * arm.left().dot(normal));
            let reach = p.hypot(q);
            if off.abs() > reach || reach <= 0.0 {
                return Vec::new();
            }
            let (top, aside) = (q.atan2(p), (-off / reach).acos());
            let turns = [top - aside, top + aside].map(|t| t.rem_euclid(TAU));
            let mut found: Vec<f64> =
                turns.into_iter().filter(|t| *t <= turn_rad.abs()).map(|t| t * radius_m).collect();
            found.sort_by(f64::total_cmp);
            found
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarter() -> Segment {
        Segment::Arc {
            from: Point::new(1.0, 0.0),
            to: Point::new(0.0, 1.0),
            centre: Point::default(),
            radius_m: 1.0,
            turn_rad: TAU / 4.0,
        }
    }

    #[test]
    fn an_arc_meets_an_edge_where_the_circle_does() {
        let (a, b) = (Point::new(-2.0, 0.5), Point::new(2.0, 0.5));
        // sin t = 1/2 after a twelfth of the circle, to either hand.
        for segment in [quarter(), quarter().reversed()] {
            let found = meets(&segment, a, b);
            let ahead = if segment == quarter() { TAU / 12.0 } else { TAU / 6.0 };
            assert_eq!(found.len(), 1);
            assert!((found[0] - ahead).abs() < 1e-12, "{found:?}");
        }
        assert!(meets(&quarter(), a, Point::new(0.5, 0.5)).is_empty(), "the edge ends before");
    }

    #[test]
    fn an_arc_crosses_a_chord_twice() {
        // The chord x + y = 1.2 lies within the quarter circle.
        let found = crosses(&quarter(), Point::new(0.6, 0.6), Point::new(1.0, 1.0));
        assert_eq!(found.len(), 2);
        for d in found {
            let p = quarter().point_at(d);
            assert!((p.x + p.y - 1.2).abs() < 1e-12);
        }
    }

    #[test]
    fn a_line_crosses_once_or_not_at_all() {
        let line = Segment::Line { from: Point::new(0.0, 0.0), to: Point::new(2.0, 0.0) };
        let up = Point::new(1.0, 0.0);
        assert_eq!(crosses(&line, Point::new(0.5, 7.0), up), vec![0.5]);
        assert!(crosses(&line, Point::new(3.0, 0.0), up).is_empty());
    }
}
