//! How much of each door tube can pass.

use super::free::Free;
use super::plan::{Door, Plan, Room};
use super::ring;
use crate::point::Point;
use crate::region::Region;

/// Steps in which the width of a door is looked through, metres.
const STEP_M: f64 = 0.01;

/// Free floor that begins later behind a wall than wanted is hidden by something, metres.
const HIDDEN_M: f64 = 0.04;

/// Narrows doors to the stretch with free floor right behind the wall on both sides.
///
/// A door that a corner or a keep-out leaves nothing of has no width any more.
pub(super) fn open(plan: &mut Plan, free: &[Option<Free>]) {
    let sides = |door: &Door| {
        let side = |room: usize| Side::of(plan.rooms.get(room)?, free.get(room)?.as_ref()?, door);
        Some([side(door.rooms[0])?, side(door.rooms[1])?])
    };
    let opened: Vec<Option<Door>> =
        plan.doors.iter().map(|door| sides(door).map(|sides| narrowed(door, &sides))).collect();
    for (door, opened) in plan.doors.iter_mut().zip(opened) {
        if let Some(opened) = opened {
            *door = opened;
        }
    }
}

/// One side of a door.
struct Side<'a> {
    wall: &'a Region,
    floor: &'a Region,
    /// Unit direction along the wall.
    along: Point,
    /// Unit direction into the room.
    inward: Point,
    /// Deepest that free floor may begin behind the wall, metres.
    deepest_m: f64,
}

impl<'a> Side<'a> {
    /// The side of a room; nothing if the door is not at its wall.
    fn of(room: &'a Room, free: &'a Free, door: &Door) -> Option<Side<'a>> {
        let wall = &room.floor;
        let (a, b) = crate::chain::ring_edges(wall.outer()).min_by(|a, b| {
            let away = |e: &(Point, Point)| crate::point::segment_distance(e.0, e.1, door.at);
            away(a).total_cmp(&away(b))
        })?;
        let along = (b - a).unit();
        let edge_m = (room.wall_clearance_m - room.spacing_m / 2.0).max(0.0);
        let side = Side {
            wall,
            floor: &free.floor,
            along,
            inward: along.left(),
            deepest_m: edge_m + HIDDEN_M,
        };
        (along.norm() > 0.5).then_some(side)
    }

    /// Whether free floor begins right behind the wall at a place of the door.
    fn is_open(&self, at: Point) -> bool {
        // From a little outside, in case the door is drawn on the wall's face.
        let from = at - self.inward * 0.2;
        let depth = |region| {
            ring::hit(region, from, self.inward).map(|p: Point| (p - from).dot(self.inward))
        };
        let (Some(wall), Some(floor)) = (depth(self.wall), depth(self.floor)) else { return false };
        floor - wall <= self.deepest_m
    }
}

/// A door with the longest stretch that is open on both sides.
fn narrowed(door: &Door, sides: &[Side; 2]) -> Door {
    let steps = (door.width_m / 2.0 / STEP_M).ceil().clamp(1.0, 500.0) as i32;
    let along = sides[0].along;
    let place = |k: i32| door.at + along * (door.width_m / 2.0 * f64::from(k) / f64::from(steps));
    let is_open = |k: &i32| sides.iter().all(|side| side.is_open(place(*k)));
    let mut longest: Option<[i32; 2]> = None;
    let mut run: Option<[i32; 2]> = None;
    for k in -steps..=steps {
        run = is_open(&k).then(|| [run.map_or(k, |r| r[0]), k]);
        let length = |run: Option<[i32; 2]>| run.map_or(-1, |r| r[1] - r[0]);
        if length(run) > length(longest) {
            longest = run;
        }
    }
    match longest {
        Some([from, to]) if from == -steps && to == steps => door.clone(),
        Some([from, to]) => {
            let (from, to) = (place(from), place(to));
            Door { at: from.lerp(to, 0.5), width_m: from.distance(to), ..door.clone() }
        }
        None => Door { width_m: 0.0, ..door.clone() },
    }
}
