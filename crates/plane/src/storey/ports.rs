//! From the ports of a manifold onto the free floor.

use super::draft::Ground;
use super::ring;
use crate::chain;
use crate::point::Point;
use crate::region::Region;

/// Length of a leader whose floor begins at the manifold, metres.
const SHORTEST_LEADER_M: f64 = 0.03;

/// Depth over which tubes that stand close at the ports fan out, metres.
const FAN_M: f64 = 0.3;

/// Depth up to which a leader turns off at once, metres.
const SOON_M: f64 = 0.35;

/// Depth up to which one that turns away from the middle does so straight from its port, metres.
///
/// A slant would leave its bend no room.
const AT_ONCE_M: f64 = 0.2;

/// Depth that one needs beyond its place in the fan to turn off, metres.
const BEND_M: f64 = 0.2;

/// Sideways steps below this are play between strips, metres.
const PLAY_M: f64 = 3e-3;

/// Tubes start this far inside the wall's face, so that rounding cannot put them outside, metres.
const INSIDE_M: f64 = 2e-6;

impl Ground {
    /// Leads every leader from the wall behind the manifold to the free floor.
    ///
    /// Leaders stand `beyond_m` wider than the ports at either end, and `half_m` is half of
    /// a strip; their first pieces are drawn together onto the ports.
    pub(super) fn start_at_wall(&self, beyond_m: f64, half_m: f64, corners: &mut [Vec<Point>]) {
        let Some((ends, inward)) = self.manifold_entry() else { return };
        let given = &self.plan.manifolds[self.manifold];
        let wall = &self.plan.rooms[given.room].floor;
        let width = ends[0].distance(ends[1]) - half_m;
        let drawn = if width > 0.0 { 2.0 * beyond_m / (width + 2.0 * beyond_m) } else { 0.0 };
        let middle = ends[0].lerp(ends[1], 0.5);
        let along = (ends[1] - ends[0]).unit();
        for leader in corners.iter_mut() {
            let Some(first) = leader.first().copied() else { continue };
            if leader.get(1).is_some_and(|next| (*next - first).unit().dot(inward) < -0.9) {
                // Through a doorway behind the manifold: it starts there, and in no room before.
                leader[0] = first - inward * depth_to_wall_m(wall, first, inward, given.ports[0]);
                continue;
            }
            let shift = along * (-drawn * along.dot(first - middle));
            if shift.norm() > 1e-6 {
                draw_together(leader, inward, shift);
            }
            straighten(leader, inward);
            let first = first + shift;
            let depth = depth_to_wall_m(wall, first, inward, given.ports[0]);
            let start = first - inward * depth;
            if depth > 1e-6 {
                leader.insert(0, start);
            } else {
                leader[0] = start;
            }
            if leader.len() < 2 {
                // A loop at the manifold itself still needs a direction to come in.
                leader.push(first + inward * SHORTEST_LEADER_M);
            }
            *leader = chain::thinned(leader, 1e-4);
        }
    }
}

/// How far behind a place on the free floor its tube comes down, at the wall or the ports, metres.
fn depth_to_wall_m(wall: &Region, first: Point, inward: Point, port: Point) -> f64 {
    let to_ports = (first - port).dot(inward);
    let face = ring::hit(wall, first + inward * 0.01, -inward);
    let to_face = face.map_or(to_ports, |f| (first - f).dot(inward));
    to_ports.min(to_face) - INSIDE_M
}

/// Moves the start of a leader aside, and leads it back to its place on its first piece.
///
/// One that turns off soon does so where it would have; one that runs on deep into the room is
/// back in its place before that, so that leaders draw apart in one order.
fn draw_together(leader: &mut Vec<Point>, inward: Point, shift: Point) {
    let first = leader[0];
    leader[0] = first + shift;
    let Some(next) = leader.get(1).copied() else { return };
    let depth = (next - first).dot(inward);
    let is_straight = (next - first).unit().dot(inward) > 0.999 && depth > 0.0;
    let onward = leader.get(2).map_or(Point::default(), |after| (*after - next).unit());
    if is_straight && depth < AT_ONCE_M && onward.dot(shift.unit()) < -0.999 {
        leader[1] = next + shift;
    } else if is_straight && depth > SOON_M {
        leader.insert(1, first + inward * (depth - BEND_M).min(FAN_M));
    }
}

/// Sets the first piece of a leader square to the wall, off which play between strips puts it.
fn straighten(leader: &mut [Point], inward: Point) {
    let [first, next, ..] = leader else { return };
    let on = *first + inward * (*next - *first).dot(inward);
    if on.distance(*next) < PLAY_M {
        *next = on;
    }
}

/// Short sideways steps right behind the manifold, which its ports can do without, metres.
const LONGEST_STEP_M: f64 = 0.12;

/// Moves the starts of leaders sideways where that makes their first piece straight.
pub(super) fn straight_starts(leaders: &mut [Vec<Point>]) {
    for leader in leaders {
        let [start, one, two, three, ..] = leader.as_slice() else { continue };
        let (first, step, then) = (*one - *start, *two - *one, *three - *two);
        let straight = first.unit().dot(then.unit()) > 0.999 && step.norm() < LONGEST_STEP_M;
        if straight && step.unit().dot(first.unit()).abs() < 0.05 {
            let moved = *start + step;
            leader.splice(0..3, [moved]);
        }
    }
}

/// Begins every leader behind the wall; tells where each passes its face, and which way.
///
/// Tube comes down onto the floor, so the bend from the wall along it may have begun before.
/// What goes through a doorway behind the manifold has none there and stays as it is.
pub(super) fn begun_behind(
    leaders: &mut [Vec<Point>],
    inward: Point,
    depths_m: &[f64],
) -> Vec<Option<[Point; 2]>> {
    let mut faces = Vec::with_capacity(leaders.len());
    for (leader, depth_m) in leaders.iter_mut().zip(depths_m) {
        let [face, next, ..] = leader.as_slice() else {
            faces.push(None);
            continue;
        };
        let (face, onward) = (*face, (*next - *face).unit());
        let into = if onward.dot(inward) > -0.9 { inward } else { onward };
        faces.push(Some([face, into]));
        if into == inward {
            leader.insert(0, face - inward * *depth_m);
            *leader = chain::thinned(leader, 1e-4);
        }
    }
    faces
}

/// How far behind the face of the wall leaders begin until their tubes are cut at it, metres.
pub(super) const BEHIND_M: f64 = 0.1;
