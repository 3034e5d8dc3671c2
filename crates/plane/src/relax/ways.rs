//! Ways of tube from one place and direction to another with one radius.
//!
//! Of all curves that are nowhere bent tighter than a radius the shortest is two
//! arcs of that radius with a straight piece or a third arc between them (L. E.
//! Dubins, American Journal of Mathematics 79, 1957, pages 497 to 516). That is
//! also how a crew bends tube: a turn narrower than two radii becomes a bulb of
//! three arcs, a jog two arcs and a straight slope.

use std::f64::consts::TAU;

use crate::path::Segment;
use crate::point::Point;

/// Turns smaller than this are none, radians.
const NO_TURN_RAD: f64 = 1e-7;

/// Pieces shorter than this are none, metres.
const NO_PIECE_M: f64 = 1e-7;

/// A place on a tube with its direction of travel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose {
    pub(super) at: Point,
    /// Unit vector.
    pub(super) heading: Point,
}

/// Up to three pieces from one pose to another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    pieces: [Segment; 3],
    count: usize,
    pub(super) length_m: f64,
    /// Angle turned in all, left and right both counted.
    pub(super) turning_rad: f64,
}

impl Way {
    fn start() -> Way {
        let nothing = Segment::Line { from: Point::default(), to: Point::default() };
        Way { pieces: [nothing; 3], count: 0, length_m: 0.0, turning_rad: 0.0 }
    }

    pub(super) fn segments(&self) -> &[Segment] {
        &self.pieces[..self.count]
    }

    fn push(&mut self, piece: Segment) {
        let length = piece.length_m();
        if length < NO_PIECE_M {
            return;
        }
        if let Segment::Arc { turn_rad, .. } = piece {
            self.turning_rad += turn_rad.abs();
        }
        if let Some(place) = self.pieces.get_mut(self.count) {
            *place = piece;
            self.count += 1;
            self.length_m += length;
        }
    }

    /// Appends an arc about `centre`, turning to the left for side 1, right for -1.
    fn push_arc(&mut self, from: Point, to: Point, centre: Point, turn_rad: f64) {
        let radius_m = from.distance(centre);
        self.push(Segment::Arc { from, to, centre, radius_m, turn_rad });
    }
}

/// Calls `each` with every way of two arcs with a line or an arc between.
pub(super) fn each_way(from: Pose, to: Pose, radius_m: f64, mut each: impl FnMut(Way)) {
    for first in [1.0, -1.0] {
        for last in [1.0, -1.0] {
            if let Some(way) = with_line(from, to, radius_m, first, last) {
                each(way);
            }
        }
        for middle in [1.0, -1.0] {
            if let Some(way) = with_arc(from, to, radius_m, first, middle) {
                each(way);
            }
        }
    }
}

/// Arc to side `first`, straight on, arc to side `last`.
fn with_line(from: Pose, to: Pose, radius: f64, first: f64, last: f64) -> Option<Way> {
    let begin = from.at + from.heading.left() * (radius * first);
    let end = to.at + to.heading.left() * (radius * last);
    let between = end - begin;
    let square = between.dot(between);
    let sideways = (last - first) * radius;
    let straight = (square - sideways * sideways).max(0.0).sqrt();
    if square < sideways * sideways {
        return None;
    }
    // Equal centres: one arc does it all, whatever the direction in between.
    let along = if square > NO_PIECE_M * NO_PIECE_M {
        (between * straight - between.left() * sideways) * (1.0 / square)
    } else {
        to.heading
    };
    let leave = begin - along.left() * (radius * first);
    let meet = end - along.left() * (radius * last);
    let mut way = Way::start();
    way.push_arc(from.at, leave, begin, first * turn(from.heading, along, first));
    way.push(Segment::Line { from: leave, to: meet });
    way.push_arc(meet, to.at, end, last * turn(along, to.heading, last));
    Some(way)
}

/// Arcs to side `first`, to the other, and to `first` again.
///
/// The middle circle lies to the left of the way from the first to the last one
/// for `middle` 1, to the right for -1.
fn with_arc(from: Pose, to: Pose, radius: f64, first: f64, middle: f64) -> Option<Way> {
    let begin = from.at + from.heading.left() * (radius * first);
    let end = to.at + to.heading.left() * (radius * first);
    let half = (end - begin) * 0.5;
    let square = half.dot(half);
    let apart = 4.0 * radius * radius - square;
    if apart < 0.0 || square < NO_PIECE_M * NO_PIECE_M {
        return None;
    }
    let centre = begin + half + half.left().unit() * (middle * apart.sqrt());
    let (leave, meet) = (begin.lerp(centre, 0.5), centre.lerp(end, 0.5));
    let mut way = Way::start();
    let turned = turn(from.at - begin, leave - begin, first);
    way.push_arc(from.at, leave, begin, first * turned);
    let turned = turn(leave - centre, meet - centre, -first);
    way.push_arc(leave, meet, centre, -first * turned);
    let turned = turn(meet - end, to.at - end, first);
    way.push_arc(meet, to.at, end, first * turned);
    Some(way)
}

/// Angle from one direction to another turning only to one side, 0 to a full circle.
fn turn(from: Point, to: Point, side: f64) -> f64 {
    let angle = side * from.angle_to(to);
    if angle < -NO_TURN_RAD { angle + TAU } else { angle.max(0.0) }
}
