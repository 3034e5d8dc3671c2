//! The floor of a small room, added to that of the neighbour whose loop it shares.
//!
//! Leaders keep out of it: it counts to the floor of one loop only, once the neighbour's own
//! floor is shared out.

use super::draft::Ground;
use super::free::Free;
use super::held::{NotShared, Shared, Unheld};
use super::layout::{Layout, Loop};
use super::net::Zone;
use super::plan::{Door, Plan};
use super::ring;
use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// A room that shares a loop, as its neighbour's loop sees it.
#[derive(Clone, Debug)]
pub(super) struct Annex {
    pub(super) room: usize,
    /// Ends of its door on the neighbour's free floor.
    pub(super) ends: [Point; 2],
    /// Where the loop's own strip may lie: the way through the wall and the floor behind it.
    pub(super) floor: Region,
    /// The same from wall to wall.
    pub(super) bare: Region,
}

/// How far the way through a wall reaches onto the floors on both sides, metres.
const OVERLAP_M: f64 = 2e-3;

/// Width that a door needs beside the distance kept from its jambs, in spacings: tube there and
/// back, each half a spacing inside its strip.
const SPACINGS: f64 = 1.6;

impl Annex {
    pub(super) fn middle(&self) -> Point {
        self.ends[0].lerp(self.ends[1], 0.5)
    }
}

/// Takes rooms that share a loop for part of their neighbours: no loop and no way of their own.
///
/// The first that cannot, with why.
pub(super) fn agreed(plan: &mut Plan) -> Result<(), Unheld> {
    for held in plan.held.shared.clone() {
        let Shared { room, with } = held;
        let unheld = |why| Err(Unheld::Shared { held, why });
        let is_heated = |room: usize| plan.rooms.get(room).is_some_and(|r| r.heated);
        if room == with || !is_heated(room) || !is_heated(with) {
            return unheld(NotShared::NoFloor);
        }
        if plan.held.shared_with(with).is_some() {
            return unheld(NotShared::InTurn);
        }
        if plan.manifolds.iter().any(|m| m.room == room) {
            return unheld(NotShared::HasManifold);
        }
        if door(plan, held).is_none() {
            return unheld(NotShared::NoDoor);
        }
        // The closer of two spacings serves both.
        let spacing_m = plan.rooms[room].spacing_m.min(plan.rooms[with].spacing_m);
        plan.rooms[room].spacing_m = spacing_m;
        plan.rooms[with].spacing_m = spacing_m;
        let walls = plan.rooms[room].outside_walls.clone();
        plan.rooms[with].outside_walls.extend(walls);
    }
    for held in &plan.held.shared {
        plan.rooms[held.room].heated = false;
    }
    Ok(())
}

/// The widest door between a room and the neighbour whose loop it shares.
fn door(plan: &Plan, held: Shared) -> Option<&Door> {
    let joins = |d: &&Door| d.rooms == [held.room, held.with] || d.rooms == [held.with, held.room];
    let doors = plan.doors.iter().filter(joins);
    doors.fold(None, |best: Option<&Door>, door| match best {
        Some(best) if best.width_m >= door.width_m => Some(best),
        _ => Some(door),
    })
}

/// Gives every room the floors of those that share its loop; the first that cannot, with why.
pub(super) fn added(plan: &Plan, free: &mut [Option<Free>]) -> Result<(), Unheld> {
    for held in &plan.held.shared {
        let annex = annex(plan, free, *held).map_err(|why| Unheld::Shared { held: *held, why })?;
        if let Some(free) = &mut free[held.with] {
            free.annexes.push(annex);
        }
    }
    Ok(())
}

fn annex(plan: &Plan, free: &[Option<Free>], held: Shared) -> Result<Annex, NotShared> {
    let door = door(plan, held).ok_or(NotShared::NoDoor)?;
    let (host, guest) =
        free[held.with].as_ref().zip(free[held.room].as_ref()).ok_or(NotShared::NoFloor)?;
    let given = &plan.rooms[held.room];
    let edge_m = (given.wall_clearance_m - given.spacing_m / 2.0).max(0.0);
    let needed_m = SPACINGS * given.spacing_m + 2.0 * edge_m;
    if door.width_m < needed_m {
        return Err(NotShared::DoorTooNarrow { needed_m, width_m: door.width_m });
    }
    let walls = [&plan.rooms[held.with].floor, &given.floor];
    let (_, bare) = passage(walls, door, door.width_m).ok_or(NotShared::NoDoor)?;
    let (ends, way) = passage([&host.floor, &guest.floor], door, door.width_m - 2.0 * edge_m)
        .ok_or(NotShared::NoDoor)?;
    let joined = |way: Region, floor: &Region| {
        let mut all = clip::union(&[way], std::slice::from_ref(floor));
        (all.len() == 1).then(|| all.swap_remove(0)).ok_or(NotShared::NoDoor)
    };
    Ok(Annex {
        room: held.room,
        ends,
        floor: joined(way, &guest.floor)?,
        bare: joined(bare, &guest.bare)?,
    })
}

/// The way through a door between two floors, and its ends on the first.
pub(super) fn passage(
    floors: [&Region; 2],
    door: &Door,
    width_m: f64,
) -> Option<([Point; 2], Region)> {
    let feet = floors.map(|floor| floor.nearest_boundary(door.at));
    let across = wall_normal(floors[0], feet[0])?;
    let aside = across.left() * (width_m / 2.0);
    // From a little inside the wall to either side.
    let hit = |floor: &Region, p: Point, direction: Point| ring::hit(floor, p, direction);
    let near =
        [hit(floors[0], door.at - aside, -across)?, hit(floors[0], door.at + aside, -across)?];
    let far = [hit(floors[1], door.at - aside, across)?, hit(floors[1], door.at + aside, across)?];
    let (back, on) = (across * -OVERLAP_M, across * OVERLAP_M);
    let ring = vec![near[0] + back, near[1] + back, far[1] + on, far[0] + on];
    Some((near, Region::simple(ring).ok()?))
}

/// The direction out of a floor, square to its edge at a place.
fn wall_normal(floor: &Region, at: Point) -> Option<Point> {
    let away = |e: &(Point, Point)| crate::point::segment_distance(e.0, e.1, at);
    let edges = crate::chain::ring_edges(floor.outer());
    let nearest = edges.min_by(|a, b| away(a).total_cmp(&away(b)))?;
    Some(-(nearest.1 - nearest.0).unit().left())
}

impl Ground {
    /// Rooms that share a loop of a room.
    pub(super) fn annexes(&self, room: usize) -> &[Annex] {
        self.free[room].as_ref().map_or(&[], |free| &free.annexes)
    }

    /// Adds rooms that share a loop to the share of their neighbour at whose edge their door is.
    pub(super) fn annexed(&self, room: usize, shares: &mut [Zone]) {
        for annex in self.annexes(room) {
            let middle = annex.middle();
            let away = |zone: &&mut Zone| zone.floor.boundary_distance_m(middle);
            let nearest = shares.iter_mut().min_by(|a, b| away(a).total_cmp(&away(b)));
            let Some(zone) = nearest else { return };
            let floors = [zone.floor.clone()];
            let joined = clip::union(&floors, std::slice::from_ref(&annex.floor));
            if let [joined] = joined.as_slice() {
                zone.floor = joined.clone();
                zone.annexes.push((annex.room, middle));
            }
        }
    }
}

/// Whether a loop of the neighbour runs through every room that shares one; the first that is
/// left out, with why.
pub(super) fn served(plan: &Plan, layout: &Layout) -> Result<(), Unheld> {
    let is_served = |held: &&Shared| {
        let runs_through = |l: &Loop| l.lengths_m.iter().any(|(r, m)| *r == held.room && *m > 0.0);
        layout.loops.iter().any(|l| l.room == held.with && runs_through(l))
    };
    match plan.held.shared.iter().find(|held| !is_served(held)) {
        Some(held) => Err(Unheld::Shared { held: *held, why: NotShared::Parted }),
        None => Ok(()),
    }
}
