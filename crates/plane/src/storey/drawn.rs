//! Ways of leaders that somebody has drawn.
//!
//! A way is looked at before anything is laid: it must lead from a manifold through doors into
//! its room, on free floor, off other ways, with bends that its tube takes. Its strip is then
//! taken off the floor that all other leaders have.

use super::annex;
use super::curve;
use super::draft::Ground;
use super::free::Free;
use super::held::{HeldEntry, HeldWay, LoopName, NotTaken, Unheld};
use super::hug::{OVERLAP, TRIM};
use super::layout::Layout;
use super::leaders::strip;
use super::plan::{Door, Plan};
use crate::chain;
use crate::clip::{self, Cap};
use crate::point::{Point, crossing, segment_distance};
use crate::region::Region;

/// Farthest that a way begins from the ports of its manifold, metres.
const FROM_PORTS_M: f64 = 0.6;

/// Distance between places at which the room of a way is looked up, metres.
const STEP_M: f64 = 0.02;

/// How far around the ports ways may lie on each other and on the edge of the floor, metres.
const AT_PORTS_M: f64 = 0.4;

/// The far face of a wall lies no farther from the middle of its door than this beyond half the
/// door's width, metres.
const WALL_M: f64 = 0.3;

/// Tube of a loop whose way is kept comes this near to it, metres.
const KEPT_M: f64 = 0.12;

/// Corners that turn less need no radius, radians.
const SLIGHT_RAD: f64 = 0.2;

/// Looks at every way; the first that cannot be taken, with why.
///
/// Rooms on a way are entered by its doors, and hang on its manifold.
pub(super) fn agreed(plan: &mut Plan, free: &[Option<Free>]) -> Result<(), Unheld> {
    let mut taken: Vec<(LoopName, Vec<Region>, [Point; 2])> = Vec::new();
    for held in plan.held.ways.clone() {
        let name = held.name;
        let unheld = |why| Unheld::Way { name, why };
        let way = Way::of(plan, &held).map_err(unheld)?;
        way.is_on_the_floor(plan, free).map_err(unheld)?;
        way.is_bendable(plan).map_err(unheld)?;
        way.keeps_off(plan, &taken).map_err(unheld)?;
        taken.push((name, way.strip(plan.leader_gap_m), plan.manifolds[way.manifold].ports));
        way.settle(plan).map_err(unheld)?;
    }
    Ok(())
}

/// A way with what it passes.
struct Way<'a> {
    name: LoopName,
    corners: &'a [Point],
    manifold: usize,
    /// Rooms entered, each with its door, in order.
    entered: Vec<(usize, usize)>,
}

impl<'a> Way<'a> {
    fn of(plan: &Plan, held: &'a HeldWay) -> Result<Way<'a>, NotTaken> {
        let (name, corners) = (held.name, held.way.as_slice());
        let given = plan.rooms.get(name.room).filter(|room| room.heated).ok_or(NotTaken::NoLoop)?;
        if name.number == 0 || given.loops.is_some_and(|loops| loops < name.number) {
            return Err(NotTaken::NoLoop);
        }
        let first = *corners.first().ok_or(NotTaken::NotFromManifold)?;
        let away = |m: &usize| {
            let [a, b] = plan.manifolds[*m].ports;
            segment_distance(a, b, first)
        };
        let manifold = (0..plan.manifolds.len())
            .filter(|m| given.manifold.is_none_or(|held| held == *m))
            .filter(|m| away(m) <= FROM_PORTS_M)
            .min_by(|a, b| away(a).total_cmp(&away(b)))
            .ok_or(NotTaken::NotFromManifold)?;
        let mut way = Way { name, corners, manifold, entered: Vec::new() };
        way.entered = way.entered(plan)?;
        Ok(way)
    }

    /// Rooms that it enters after the manifold's own, and by which doors.
    fn entered(&self, plan: &Plan) -> Result<Vec<(usize, usize)>, NotTaken> {
        let mut here = plan.manifolds[self.manifold].room;
        let mut entered = Vec::new();
        let length = chain::length(self.corners);
        let steps = (length / STEP_M).ceil().clamp(1.0, 1e5) as usize;
        for k in 0..=steps {
            let at = chain::at(self.corners, length * k as f64 / steps as f64);
            let inside = |room: &usize| plan.rooms[*room].floor.encloses(at);
            let Some(room) = (0..plan.rooms.len()).find(inside).filter(|room| *room != here) else {
                continue;
            };
            let joins = |rooms: [usize; 2]| rooms == [here, room] || rooms == [room, here];
            let doors = plan.doors.iter().enumerate().filter(|(_, door)| joins(door.rooms));
            let nearest = doors.min_by(|a, b| a.1.at.distance(at).total_cmp(&b.1.at.distance(at)));
            let is_again = room == plan.manifolds[self.manifold].room
                || entered.iter().any(|(r, _)| *r == room);
            // Near the ports no wall is looked at later, so it must be the door that is passed here.
            let passes = |door: &Door| door.at.distance(at) < door.width_m / 2.0 + WALL_M;
            let Some((door, _)) = nearest.filter(|(_, door)| !is_again && passes(door)) else {
                return Err(NotTaken::OffTheFloor { at });
            };
            entered.push((room, door));
            here = room;
        }
        if here == self.name.room { Ok(entered) } else { Err(NotTaken::NotIntoRoom) }
    }

    fn strip(&self, half_m: f64) -> Vec<Region> {
        clip::thick(&[self.corners.to_vec()], half_m * TRIM, Cap::Flat)
    }

    fn is_on_the_floor(&self, plan: &Plan, free: &[Option<Free>]) -> Result<(), NotTaken> {
        let half_m = plan.leader_gap_m;
        let floors: Vec<Region> = free.iter().flatten().map(|f| f.floor.clone()).collect();
        let mut off = clip::difference(&self.strip(half_m), &floors);
        for (_, door) in &self.entered {
            let door = &plan.doors[*door];
            let [one, other] = door.rooms.map(|room| free[room].as_ref().map(|f| &f.floor));
            if let Some((_, passage)) = one
                .zip(other)
                .and_then(|(one, other)| annex::passage([one, other], door, door.width_m))
            {
                off = clip::difference(&off, &[passage]);
            }
        }
        let [a, b] = plan.manifolds[self.manifold].ports;
        let beyond = |p: &Point| segment_distance(a, b, *p) > AT_PORTS_M;
        off.retain(|piece| piece.outer().iter().any(beyond));
        let worst = off.iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()));
        match worst.filter(|piece| piece.area_m2() > OVERLAP * half_m * half_m) {
            Some(piece) => Err(NotTaken::OffTheFloor { at: piece.middle() }),
            None => Ok(()),
        }
    }

    fn is_bendable(&self, plan: &Plan) -> Result<(), NotTaken> {
        let half_m = plan.leader_gap_m;
        let radius_m = plan.rooms[self.name.room].tube.bend_radius_m + half_m / 2.0;
        let eased = curve::eased(self.corners, radius_m);
        let radii = curve::fitting(&eased, &vec![radius_m; eased.len()], radius_m);
        let turns = curve::turns(&eased);
        for ((at, radius), turn) in eased.iter().zip(&radii).zip(&turns) {
            if turn.abs() > SLIGHT_RAD && *radius < radius_m - 1e-3 {
                let radius_m = (radius - half_m / 2.0).max(0.0);
                return Err(NotTaken::TooTight { at: *at, radius_m });
            }
        }
        Ok(())
    }

    /// Whether it keeps off the ways before it, and off itself.
    fn keeps_off(
        &self,
        plan: &Plan,
        others: &[(LoopName, Vec<Region>, [Point; 2])],
    ) -> Result<(), NotTaken> {
        let half_m = plan.leader_gap_m;
        let own = self.strip(half_m);
        for (other, strip, [a, b]) in others {
            let mut both = clip::intersection(&own, strip);
            both.retain(|piece| segment_distance(*a, *b, piece.middle()) > AT_PORTS_M);
            let most_m2 = OVERLAP * half_m * half_m;
            if let Some(piece) = both.iter().find(|piece| piece.area_m2() > most_m2) {
                return Err(NotTaken::Crosses { other: *other, at: piece.middle() });
            }
        }
        let edges: Vec<(Point, Point)> = chain::edges(self.corners).collect();
        for (i, (a, b)) in edges.iter().enumerate() {
            for (c, d) in edges.iter().skip(i + 2) {
                if let Some((t, _)) = crossing(*a, *b, *c, *d) {
                    return Err(NotTaken::Crosses { other: self.name, at: a.lerp(*b, t) });
                }
            }
        }
        Ok(())
    }

    /// Lets the rooms that it enters be entered so by all.
    fn settle(&self, plan: &mut Plan) -> Result<(), NotTaken> {
        for (room, door) in &self.entered {
            match plan.held.entry_of(*room) {
                Some(entry) if entry.door == *door => {}
                Some(_) => return Err(NotTaken::OtherDoor { room: *room }),
                None => plan.held.entries.push(HeldEntry { room: *room, door: *door, at: None }),
            }
        }
        let given = &mut plan.rooms[self.name.room];
        given.manifold = Some(self.manifold);
        given.least_loops = given.least_loops.max(self.name.number);
        Ok(())
    }
}

impl Ground {
    /// Ways held for loops of this manifold.
    pub(super) fn ways_in_hand(&self) -> impl Iterator<Item = &HeldWay> {
        self.plan.held.ways.iter().filter(|way| self.own[way.name.room])
    }

    /// The ways by zone, empty where none is drawn, given the loops as they follow each other.
    pub(super) fn drawn(
        &self,
        loops: &[usize],
        names: &[LoopName],
        zones: usize,
    ) -> Vec<Vec<Point>> {
        let mut drawn = vec![Vec::new(); zones];
        for way in self.ways_in_hand() {
            let own = names.iter().zip(loops).find(|(name, _)| **name == way.name);
            if let Some((_, zone)) = own {
                drawn[*zone] = way.way.clone();
            }
        }
        drawn
    }
}

/// Whether the leaders of every loop go the way drawn for it; the first that do not.
pub(super) fn kept(plan: &Plan, layout: &Layout) -> Result<(), Unheld> {
    for held in &plan.held.ways {
        let name = held.name;
        let own = layout.loops.iter().find(|l| (l.room, l.number) == (name.room, name.number));
        // Its first stretch may have moved along the wall to the loop's port.
        let middles = chain::edges(&held.way).skip(1).map(|(a, b)| a.lerp(b, 0.5));
        let places: Vec<Point> = middles.chain(held.way.last().copied()).collect();
        let passes = |l: &super::layout::Loop| {
            let tube = l.path.chords(1e-3);
            places.iter().all(|p| chain::distance_to(&tube, *p) < KEPT_M)
        };
        if !own.is_some_and(passes) {
            return Err(Unheld::Way { name, why: NotTaken::NoRoomLeft });
        }
    }
    Ok(())
}

/// The strip of a leader, whether it passes a floor or not.
pub(super) fn lies_on(leader: &crate::path::Path, half_m: f64, floor: &Region) -> bool {
    let both = clip::intersection(&strip(leader, half_m), std::slice::from_ref(floor));
    both.iter().any(|piece| piece.area_m2() > 1e-4)
}
