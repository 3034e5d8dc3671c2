//! Doors of a plan whose rooms are cut: to the piece they open to, and in the joints themselves.

use super::drawn_on;
use job::Joint;
use plane::storey::{Door, Plan};
use plane::{Point, Region};
use quantity::Quantity;

/// Steps in which a joint is looked along, metres.
const STEP_M: f64 = 0.01;
/// How far behind the joint's edge its two sides are looked for, metres.
const BEHIND_M: f64 = 0.01;
/// Room for bends beside the leaders of a door in a joint, metres.
const BESIDE_M: f64 = 0.15;

/// A piece of a room that joints cut.
pub(super) struct Piece<'a> {
    /// The room, by number of the storey's own plan.
    pub(super) home: usize,
    pub(super) floor: Region,
    /// The joints that may cut it.
    pub(super) joints: Vec<&'a Joint>,
}

/// Lets doors and manifolds of cut rooms lead to the piece that they stand at.
pub(super) fn moved(plan: &mut Plan, own: &Plan, pieces: &[Piece<'_>], place_of: &[usize]) {
    let nearest = |room: usize, at: Point| {
        let here = pieces.iter().zip(place_of).filter(|(piece, _)| piece.home == room);
        let away = |piece: &Piece<'_>| match piece.floor.contains(at) {
            true => 0.0,
            false => piece.floor.boundary_distance_m(at),
        };
        let near = here.min_by(|a, b| away(a.0).total_cmp(&away(b.0)));
        near.map_or(room, |(_, place)| *place)
    };
    for (door, own) in plan.doors.iter_mut().zip(&own.doors) {
        door.rooms = own.rooms.map(|room| nearest(room, own.at));
    }
    for (manifold, own) in plan.manifolds.iter_mut().zip(&own.manifolds) {
        let middle = own.ports[0].lerp(own.ports[1], 0.5);
        manifold.room = nearest(own.room, middle);
        if let Some(piece) = pieces.iter().zip(place_of).find(|(_, it)| **it == manifold.room) {
            manifold.ports = on_one_side(own.ports, &piece.0.floor);
        }
    }
}

/// Ports that a joint would part, moved along their wall to the side of that floor.
fn on_one_side(ports: [Point; 2], floor: &Region) -> [Point; 2] {
    let [a, b] = ports;
    let (along, width_m) = ((b - a).unit(), a.distance(b));
    let is_at = |p: Point| floor.boundary_distance_m(p) < 1e-3;
    let off_m = |ports: [Point; 2]| ports.into_iter().filter(|end| !is_at(*end)).count();
    if off_m(ports) == 0 {
        return ports;
    }
    let steps = (width_m / STEP_M).ceil().clamp(1.0, 1000.0) as i32;
    let shift = |k: i32| {
        let by = along * (width_m * f64::from(k) / f64::from(steps));
        [a + by, b + by]
    };
    // The least way to either side on which both ends stand at the floor.
    let ways = (1..=steps).flat_map(|k| [k, -k]);
    ways.map(shift).find(|moved| off_m(*moved) == 0).unwrap_or(ports)
}

/// Doors in a joint between two pieces of one room, at both ends of each stretch.
///
/// Leaders follow walls, so they pass where the joint ends; `loops` is the most that may pass.
pub(super) fn within<'a>(
    joint: &Joint,
    reach_m: f64,
    loops: usize,
    gap_m: f64,
    pieces: impl Iterator<Item = (&'a Piece<'a>, usize)> + Clone,
    own: &Plan,
) -> Vec<Door> {
    let width_m = joint.width.value.si();
    let wanted_m = 2.0 * loops as f64 * gap_m + BESIDE_M;
    let mut doors = Vec::new();
    for [a, b] in drawn_on(joint, reach_m) {
        let (along, length_m) = ((b - a).unit(), a.distance(b));
        let side = along.left() * (width_m / 2.0 + BEHIND_M);
        let rooms_at = |along_m: f64| {
            let at = a + along * along_m;
            let on = |p: Point| {
                let mut own_pieces = pieces.clone();
                own_pieces
                    .find(|(piece, _)| {
                        let of_joint = piece.joints.iter().any(|it| std::ptr::eq(*it, joint));
                        of_joint && piece.floor.contains(p)
                    })
                    .map(|(piece, place)| (piece.home, place))
            };
            let (one, other) = (on(at - side)?, on(at + side)?);
            let taken = own.rooms[one.0].keep_outs.iter();
            let is_free = taken
                .clone()
                .all(|ring| Region::simple(ring.clone()).map_or(true, |ring| !ring.contains(at)));
            (one.0 == other.0 && one.1 != other.1 && is_free).then_some([one.1, other.1])
        };
        let steps = (length_m / STEP_M).floor().clamp(0.0, 1e5) as usize;
        let mut from = 0;
        while from <= steps {
            let Some(rooms) = rooms_at(from as f64 * STEP_M) else {
                from += 1;
                continue;
            };
            let mut to = from;
            while to < steps && rooms_at((to + 1) as f64 * STEP_M) == Some(rooms) {
                to += 1;
            }
            let clear_m = own.rooms.get(rooms[0]).map_or(0.0, |room| room.wall_clearance_m);
            let ends = [from as f64 * STEP_M, to as f64 * STEP_M];
            for [low, high] in stretches(ends, clear_m, wanted_m) {
                doors.push(Door {
                    key: joint.key.clone(),
                    rooms,
                    at: a + along * ((low + high) / 2.0),
                    width_m: high - low,
                });
            }
            from = to + 1;
        }
    }
    doors
}

/// One stretch at either end, as wide as wanted; all of it where they would meet.
fn stretches([from, to]: [f64; 2], clear_m: f64, wanted_m: f64) -> Vec<[f64; 2]> {
    let (from, to) = (from + clear_m / 2.0, to - clear_m / 2.0);
    if to <= from {
        return Vec::new();
    }
    if to - from <= 2.0 * wanted_m {
        return vec![[from, to]];
    }
    vec![[from, from + wanted_m], [to - wanted_m, to]]
}
