//! Rooms cut by movement joints: each piece a room of the plan.

use super::super::plan::StoreyPlan;
use super::doors::{Piece, moved, within};
use super::{drawn_on, may_lie_in, movements};
use job::{Job, Joint};
use plane::storey::{Held, HeldEntry, Layout, LoopName, Plan, Room};
use plane::{Point, Region};
use quantity::Quantity;

/// Pieces of floor smaller than this are left out, square metres.
const PIECE_LEAST_M2: f64 = 0.05;

/// A storey whose rooms are cut by movement joints.
pub(in crate::loops) struct Parted {
    pub(in crate::loops) plan: Plan,
    /// The room of the storey's own plan that each room of this one is, or is a piece of.
    pub(super) home: Vec<usize>,
    /// Doors of the storey's own plan; those after them lie in joints.
    pub(super) doors: usize,
    /// Rooms that are cut, with the number of loops held in each.
    cut: Vec<(usize, Option<usize>)>,
}

impl Parted {
    /// Whether a room of the storey's own plan is cut.
    pub(super) fn is_cut(&self, room: usize) -> bool {
        self.cut.iter().any(|(cut, _)| *cut == room)
    }

    /// The plan with held numbers of loops in cut rooms left open; none where none is held.
    pub(super) fn open(&self) -> Option<Plan> {
        let mut plan = self.plan.clone();
        let is_held = self.cut.iter().any(|(_, held)| held.is_some());
        for (room, home) in plan.rooms.iter_mut().zip(&self.home) {
            if self.is_cut(*home) {
                room.loops = None;
            }
        }
        is_held.then_some(plan)
    }

    /// Whether a layout of the storey has the loops that are held in cut rooms.
    pub(super) fn has_numbers(&self, layout: &Layout) -> bool {
        self.cut.iter().all(|(room, held)| {
            let laid = layout.loops.iter().filter(|laid| laid.room == *room).count();
            held.is_none_or(|held| held == laid)
        })
    }
}

/// The plan of a storey with the rooms cut that movement joints cut; none where none is.
pub(in crate::loops) fn parted(job: &Job, storey: &StoreyPlan<'_>) -> Option<Parted> {
    let own = &storey.plan;
    let reach_m = job.house.thickest_wall.value.si();
    let mut pieces: Vec<Piece<'_>> = Vec::new();
    let mut cut = Vec::new();
    for (home, room) in own.rooms.iter().enumerate() {
        let joints: Vec<&Joint> =
            movements(job).filter(|joint| may_lie_in(job, joint, storey.rooms[home])).collect();
        let floors = cut_floor(&room.floor, &joints, reach_m);
        if floors.len() > 1 {
            cut.push((home, room.loops));
            pieces.extend(floors.into_iter().map(|floor| Piece {
                home,
                floor,
                joints: joints.clone(),
            }));
        }
    }
    if pieces.is_empty() {
        return None;
    }
    let mut plan = own.clone();
    let mut home: Vec<usize> = (0..own.rooms.len()).collect();
    // The first piece of a room takes its place, the others stand behind all rooms.
    let mut place_of: Vec<usize> = Vec::with_capacity(pieces.len());
    for piece in &pieces {
        let room = piece_of(&own.rooms[piece.home], &piece.floor);
        if place_of.iter().zip(&pieces).any(|(_, other)| other.home == piece.home) {
            place_of.push(plan.rooms.len());
            home.push(piece.home);
            plan.rooms.push(room);
        } else {
            place_of.push(piece.home);
            plan.rooms[piece.home] = room;
        }
    }
    for (room, _) in &cut {
        shared_out(&own.rooms[*room], &home, *room, &mut plan.rooms);
    }
    let places = || pieces.iter().zip(place_of.iter().copied());
    moved(&mut plan, own, &pieces, &place_of);
    let loops = likely_loops(&plan.rooms);
    for joint in movements(job) {
        plan.doors.extend(within(joint, reach_m, loops, own.leader_gap_m, places(), own));
    }
    let is_cut = |room: usize| cut.iter().any(|(other, _)| *other == room);
    plan.held = kept(&own.held, &plan, &is_cut);
    Some(Parted { plan, home, doors: own.doors.len(), cut })
}

/// The pieces of a floor on the sides of joints; the whole where none parts it.
fn cut_floor(floor: &Region, joints: &[&Joint], reach_m: f64) -> Vec<Region> {
    let strip = |[a, b]: [Point; 2], width_m: f64| {
        let (along, half) = ((b - a).unit(), width_m / 2.0);
        // Strips of two legs overlap where they meet.
        let (a, b, side) = (a - along * half, b + along * half, along.left() * half);
        vec![a - side, b - side, b + side, a + side]
    };
    let mut floors = vec![floor.clone()];
    for joint in joints {
        let width_m = joint.width.value.si();
        let legs = drawn_on(joint, reach_m);
        let strips: Vec<Vec<Point>> = legs.into_iter().map(|leg| strip(leg, width_m)).collect();
        let part = |floor: &Region| {
            let mut left = floor.difference(&strips).unwrap_or_default();
            left.retain(|piece| piece.area_m2() >= PIECE_LEAST_M2);
            // A joint that ends in the floor parts nothing: loops go round its end.
            if left.len() > 1 { left } else { vec![floor.clone()] }
        };
        floors = floors.iter().flat_map(part).collect();
    }
    floors
}

/// A piece of a room as a room of the plan.
fn piece_of(room: &Room, floor: &Region) -> Room {
    let touches = |ring: &Vec<Point>| {
        Region::simple(ring.clone()).is_ok_and(|ring| ring.overlap_area_m2(floor) > 1e-6)
    };
    let on_wall = |[a, b]: [Point; 2]| {
        let at = a.lerp(b, 0.5);
        let along = |[c, d]: &[Point; 2]| {
            let way = (*d - *c).unit();
            let (ahead, aside) = ((at - *c).dot(way), way.cross(at - *c).abs());
            aside < 1e-3 && (0.0..=c.distance(*d)).contains(&ahead)
        };
        room.outside_walls.iter().any(along)
    };
    Room {
        floor: floor.clone(),
        keep_outs: room.keep_outs.iter().filter(|ring| touches(ring)).cloned().collect(),
        outside_walls: floor.edges().map(|(a, b)| [a, b]).filter(|edge| on_wall(*edge)).collect(),
        ..room.clone()
    }
}

/// Shares the loops that are asked of a room out to its pieces, by their floor.
fn shared_out(whole: &Room, home: &[usize], room: usize, rooms: &mut [Room]) {
    let own: Vec<usize> = (0..rooms.len()).filter(|piece| home[*piece] == room).collect();
    let areas: Vec<f64> = own.iter().map(|piece| rooms[*piece].floor.area_m2()).collect();
    let held = whole.loops.map(|loops| allotted(loops, &areas));
    let least = allotted(whole.least_loops, &areas);
    for (number, piece) in own.into_iter().enumerate() {
        rooms[piece].loops = held.as_ref().map(|held| held[number]);
        rooms[piece].least_loops = least[number];
    }
}

/// So many loops for each of several areas, at least one, the rest where most floor is for each.
fn allotted(loops: usize, areas_m2: &[f64]) -> Vec<usize> {
    let mut each = vec![1; areas_m2.len()];
    for _ in areas_m2.len()..loops {
        let per_loop = |number: &usize| areas_m2[*number] / each[*number] as f64;
        let most = (0..each.len()).max_by(|a, b| per_loop(a).total_cmp(&per_loop(b)));
        if let Some(most) = most {
            each[most] += 1;
        }
    }
    each
}

/// Loops for which doors in joints are made wide enough.
///
/// From floor and spacing alone, with some to spare, so that a number that is held later moves no
/// door; only numbers held far beyond that make it wider.
fn likely_loops(rooms: &[Room]) -> usize {
    let fewest = |room: &Room| {
        let tube_m = room.floor.area_m2() / room.spacing_m;
        (tube_m / (0.8 * room.tube.longest_loop_m)).ceil().max(1.0) as usize
    };
    let heated = || rooms.iter().filter(|room| room.heated);
    let likely: usize = heated().map(|room| fewest(room).max(room.least_loops)).sum();
    let held: usize = heated().filter_map(|room| room.loops).sum();
    let likely = likely + likely.div_ceil(3);
    if held > likely { held } else { likely }
}

/// What is held of the storey and has a meaning in the cut one.
///
/// Loops of cut rooms have other numbers while they are laid, so nothing is held of single ones.
fn kept(held: &Held, plan: &Plan, is_cut: &impl Fn(usize) -> bool) -> Held {
    let whole = |name: &LoopName| !is_cut(name.room);
    let entry = |entry: &HeldEntry| {
        let Some(door) = plan.doors.get(entry.door).filter(|_| is_cut(entry.room)) else {
            return *entry;
        };
        // The piece at the door is entered by it.
        let at_door =
            door.rooms.into_iter().find(|room| plan.rooms[*room].key == plan.rooms[entry.room].key);
        HeldEntry { room: at_door.unwrap_or(entry.room), ..*entry }
    };
    let mut orders = held.orders.clone();
    orders.iter_mut().for_each(|order| order.loops.retain(whole));
    orders.retain(|order| order.loops.len() > 1);
    let mut shared = held.shared.clone();
    shared.retain(|shared| !is_cut(shared.room) && !is_cut(shared.with));
    Held {
        shared,
        regions: held.regions.iter().filter(|region| whole(&region.name)).cloned().collect(),
        orders,
        entries: held.entries.iter().map(entry).collect(),
        ways: held.ways.iter().filter(|way| whole(&way.name)).cloned().collect(),
    }
}
