//! Close corners of a leader's way taken together, so that tube can follow.

use super::curve;
use crate::point::Point;

/// A way whose corners are taken together where tube could not follow each.
///
/// Towards the free floor the lesser of two close corners of one bend is cut off; round the
/// edge of what is taken they become the one where their outer edges meet, if that is no sharp
/// spike. A short step aside before a corner is left out, away from the edge.
pub(super) fn loosened(mut way: Vec<Point>, radius_m: f64, ahead: bool) -> Vec<Point> {
    let mut i = 1;
    while i + 2 < way.len() {
        let turns = curve::turns(&way);
        let [one, other] = [turns[i], turns[i + 1]];
        let needed = radius_m * ((one.abs() / 2.0).tan() + (other.abs() / 2.0).tan());
        if way[i].distance(way[i + 1]) >= needed {
            i += 1;
            continue;
        }
        let to_free = |turn: f64| (turn > 0.0) == ahead;
        let corner = meeting(way[i - 1], way[i], way[i + 1], way[i + 2]);
        let (corner, is_sound) = match (to_free(one), to_free(other)) {
            (true, true) => (Some(if one.abs() < other.abs() { way[i + 1] } else { way[i] }), true),
            (false, false) => (corner, (one + other).abs() < SHARPEST_RAD),
            (true, false) => (corner, is_on(corner, way[i - 1], way[i])),
            (false, true) => (corner, is_on(corner, way[i + 1], way[i + 2])),
        };
        match corner.filter(|_| is_sound) {
            Some(corner) => {
                way[i] = corner;
                way.remove(i + 1);
                i = i.saturating_sub(1).max(1);
            }
            None => i += 1,
        }
    }
    way
}

/// Whether a place on the line through `a` and `b` lies between them.
fn is_on(place: Option<Point>, a: Point, b: Point) -> bool {
    place.is_some_and(|p| (p - a).dot(b - a) > 0.0 && (p - b).dot(a - b) > 0.0)
}

/// Two corners that together turn more are not made one, radians.
const SHARPEST_RAD: f64 = 2.0;

/// Where the edge from `a` to `b` run on meets that from `d` to `c` run back.
fn meeting(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (along, back) = ((b - a).unit(), (c - d).unit());
    let sine = along.cross(back);
    (sine.abs() > 0.1).then(|| b + along * ((c - b).cross(back) / sine))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(points: &[[f64; 2]]) -> Vec<Point> {
        points.iter().map(|p| Point::new(p[0], p[1])).collect()
    }

    #[test]
    fn two_close_corners_towards_free_floor_become_one() {
        // A short bevel: 0.05 m between turns of 45° leaves no room for arcs of 0.1 m.
        let bevelled = way(&[[0.0, 0.0], [1.0, 0.0], [1.035, 0.035], [1.035, 1.0]]);
        let loose = loosened(bevelled, 0.1, true);
        assert_eq!(loose.len(), 3, "{loose:?}");
        assert!(loose[1].x >= 1.0 && loose[1].y <= 0.035, "inside of the bevel: {loose:?}");
    }

    #[test]
    fn round_an_edge_the_outer_edges_meet() {
        let bevelled = way(&[[0.0, 0.0], [1.0, 0.0], [1.035, -0.035], [1.035, -1.0]]);
        let loose = loosened(bevelled, 0.1, true);
        assert_eq!(loose.len(), 3, "{loose:?}");
        assert!(loose[1].distance(Point::new(1.035, 0.0)) < 1e-12, "{loose:?}");
    }

    #[test]
    fn corners_with_room_stay() {
        let wide = way(&[[0.0, 0.0], [1.0, 0.0], [1.0, 0.3], [2.0, 0.3]]);
        assert_eq!(loosened(wide.clone(), 0.1, true), wide);
    }
}
