//! Which manifold serves which room, and the floor that it has for it.

use super::annex::Annex;
use super::draft::Ground;
use super::free::Free;
use super::halves::{self, Mark};
use super::layout::Reason;
use super::lengths;
use super::net;
use super::plan::Plan;
use super::ways::{self, Way};
use crate::point::Point;
use crate::region::Region;

/// Rooms by manifold, each with a ground of its own.
pub(super) struct Served {
    pub(super) grounds: Vec<Ground>,
    /// Rooms that no manifold can take.
    pub(super) refused: Vec<(usize, Reason)>,
}

/// Most times that a room is moved to another manifold to part their leaders.
const MOST_MOVES: usize = 6;

/// Doors shared by manifolds beyond which not every order of their leaders is tried.
const MOST_SHARED_DOORS: usize = 4;

/// Shares of a heated room smaller than this are left to the leaders in them, square metres.
const LEAST_OWN_M2: f64 = 1.0;

/// What a room loses with its second best manifold, the room, and manifolds by cost.
type Wish = (f64, usize, Vec<(f64, usize)>);

/// A storey with its rooms given to manifolds.
struct Town<'a> {
    plan: &'a Plan,
    free: &'a [Option<Free>],
    /// Ways from each manifold to each room.
    ways: Vec<Vec<Option<Way>>>,
    /// The manifold of each heated room.
    chosen: Vec<Option<usize>>,
    /// Loops that each room takes, by manifold.
    loops: Vec<Vec<usize>>,
}

/// Gives every heated room a manifold, and every manifold floor that no other uses.
///
/// Rooms go to the nearest manifold that has ports left, those first that would lose most
/// elsewhere. Where leaders of two manifolds would cross, the room is moved that costs least.
pub(super) fn served(plan: &Plan, free: &[Option<Free>]) -> Served {
    let ways: Vec<_> = (0..plan.manifolds.len()).map(|m| ways::ways(plan, m)).collect();
    let mut town =
        Town { plan, free, ways, chosen: vec![None; plan.rooms.len()], loops: Vec::new() };
    let rooms = 0..plan.rooms.len();
    town.loops = (0..plan.manifolds.len())
        .map(|manifold| rooms.clone().map(|room| town.loops_on(manifold, room)).collect())
        .collect();
    let mut refused = town.choose();
    for _ in 0..MOST_MOVES {
        let Err(rooms) = town.grounds() else { break };
        if !town.moved(&rooms) {
            break;
        }
    }
    loop {
        match town.grounds() {
            Ok(grounds) => return Served { grounds, refused },
            // Leaders that would cross in any case: the room of the dearest way is left out.
            Err(_) => {
                let dearest = (0..plan.rooms.len())
                    .filter(|room| town.chosen[*room].is_some())
                    .max_by(|a, b| town.cost_m(*a).total_cmp(&town.cost_m(*b)).then(b.cmp(a)));
                let Some(room) = dearest else { return Served { grounds: Vec::new(), refused } };
                town.chosen[room] = None;
                refused.push((room, Reason::NoLayout));
            }
        }
    }
}

impl Town<'_> {
    fn cost_m(&self, room: usize) -> f64 {
        let way = self.chosen[room].and_then(|m| self.ways[m][room]);
        way.map_or(0.0, |w| w.cost_m)
    }

    /// Manifolds that a room may hang on and that reach it, the nearest first.
    fn open_to(&self, room: usize) -> Vec<(f64, usize)> {
        let held = self.plan.rooms[room].manifold;
        let key = |manifold: usize| self.plan.manifolds.get(manifold).map(|it| &it.key);
        let reach = |m: usize| Some((self.ways[m][room]?.cost_m, m));
        let mut open: Vec<(f64, usize)> = (0..self.ways.len())
            // One that comes to the floor in two places stands in the plan twice, under one name.
            .filter(|m| held.is_none_or(|h| key(h) == key(*m)))
            .filter_map(reach)
            .collect();
        open.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        open
    }

    /// Loops that a room takes on a manifold.
    fn loops_on(&self, manifold: usize, room: usize) -> usize {
        let given = &self.plan.rooms[room];
        let (Some(free), Some(way)) = (&self.free[room], self.ways[manifold][room]) else {
            return 0;
        };
        let extra_m = self.plan.manifolds[manifold].extra_m;
        if given.heated { lengths::count(given, free.area_m2(), extra_m, way.length_m) } else { 0 }
    }

    /// Loops on a manifold so far.
    fn taken(&self, manifold: usize) -> usize {
        let rooms = self.chosen.iter().zip(&self.loops[manifold]);
        rooms.filter(|(m, _)| **m == Some(manifold)).map(|(_, loops)| loops).sum()
    }

    fn has_ports(&self, manifold: usize, room: usize) -> bool {
        self.taken(manifold) + self.loops[manifold][room]
            <= self.plan.manifolds[manifold].most_loops
    }

    /// Gives rooms to manifolds; tells those that find no ports or no way.
    fn choose(&mut self) -> Vec<(usize, Reason)> {
        let mut refused = Vec::new();
        let heated = |room: &usize| self.plan.rooms[*room].heated && self.free[*room].is_some();
        let mut rooms: Vec<Wish> = (0..self.plan.rooms.len())
            .filter(heated)
            .map(|room| {
                let open = self.open_to(room);
                // What it loses with its second best; all where there is none.
                let regret = match open.as_slice() {
                    [best, second, ..] => second.0 - best.0,
                    _ => f64::INFINITY,
                };
                (regret, room, open)
            })
            .collect();
        rooms.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        for (_, room, open) in rooms {
            let Some((_, nearest)) = open.first().copied() else {
                refused.push((room, self.why_no_way(room)));
                continue;
            };
            self.chosen[room] = open.iter().map(|o| o.1).find(|m| self.has_ports(*m, room));
            if self.chosen[room].is_none() {
                let loops = self.taken(nearest) + self.loops[nearest][room];
                refused.push((room, Reason::TooManyLoops { manifold: nearest, loops }));
            }
        }
        refused
    }

    /// Why no manifold reaches a room: its widest door is too narrow, or it has none.
    fn why_no_way(&self, room: usize) -> Reason {
        let doors = self.plan.doors.iter().enumerate().filter(|(_, d)| d.rooms.contains(&room));
        let widest = doors.max_by(|a, b| a.1.width_m.total_cmp(&b.1.width_m).then(b.0.cmp(&a.0)));
        let needed_m = ways::least_width_m(self.plan);
        match widest {
            Some((door, given)) if given.width_m < needed_m => {
                let width_m = given.width_m;
                Reason::PassageTooNarrow { door: Some(door), loops: 1, needed_m, width_m }
            }
            _ => Reason::NoWay,
        }
    }

    /// Moves the room that costs least so that fewer leaders must cross.
    ///
    /// `meeting` are the rooms that could not be shared between manifolds.
    fn moved(&mut self, meeting: &[usize]) -> bool {
        let mut moves: Vec<(f64, usize, usize)> = Vec::new();
        for room in 0..self.chosen.len() {
            let Some(now) = self.chosen[room] else { continue };
            for (cost, other) in self.open_to(room) {
                if other != now && self.has_ports(other, room) {
                    moves.push((cost - self.cost_m(room), room, other));
                }
            }
        }
        moves.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (_, room, other) in moves {
            let before = self.chosen[room].replace(other);
            match self.grounds() {
                Ok(_) => return true,
                Err(rooms) if rooms.len() < meeting.len() => return true,
                Err(_) => self.chosen[room] = before,
            }
        }
        false
    }

    /// The ground of every manifold, or the rooms in which leaders would cross.
    fn grounds(&self) -> Result<Vec<Ground>, Vec<usize>> {
        let trees: Vec<Vec<Option<Way>>> = (0..self.ways.len())
            .map(|manifold| {
                let rooms = 0..self.chosen.len();
                let rooms: Vec<usize> =
                    rooms.filter(|room| self.chosen[*room] == Some(manifold)).collect();
                ways::leading_to(&self.ways[manifold], &rooms)
            })
            .collect();
        let shared = self.shared_doors(&trees);
        let orders = 1_usize << shared.len().min(MOST_SHARED_DOORS);
        let mut fewest: Option<Vec<usize>> = None;
        for order in 0..orders {
            match self.grounds_in_order(&trees, &shared, order) {
                Ok(grounds) => return Ok(grounds),
                Err(rooms) if fewest.as_ref().is_none_or(|f| rooms.len() < f.len()) => {
                    fewest = Some(rooms);
                }
                Err(_) => {}
            }
        }
        Err(fewest.unwrap_or_default())
    }

    /// Doors that leaders of several manifolds pass, with those manifolds.
    fn shared_doors(&self, trees: &[Vec<Option<Way>>]) -> Vec<(usize, Vec<usize>)> {
        let passes = |tree: &[Option<Way>], door: usize| {
            tree.iter().flatten().any(|w| w.before.is_some_and(|(_, d)| d == door))
        };
        let users = |door: usize| (0..trees.len()).filter(|m| passes(&trees[*m], door)).collect();
        let doors = (0..self.plan.doors.len()).map(|door| (door, users(door)));
        doors.filter(|(_, users): &(usize, Vec<usize>)| users.len() > 1).collect()
    }

    /// The grounds with leaders side by side in shared doors, one way round or the other.
    fn grounds_in_order(
        &self,
        trees: &[Vec<Option<Way>>],
        shared: &[(usize, Vec<usize>)],
        order: usize,
    ) -> Result<Vec<Ground>, Vec<usize>> {
        let mut grounds: Vec<Ground> = trees
            .iter()
            .enumerate()
            .map(|(manifold, tree)| Ground {
                plan: self.plan.clone(),
                manifold,
                free: reached(self.free, tree),
                ways: tree.clone(),
                own: self.chosen.iter().map(|m| *m == Some(manifold)).collect(),
                passed_over: Vec::new(),
                off_leader: Vec::new(),
            })
            .collect();
        for (number, (door, users)) in shared.iter().enumerate() {
            let is_turned = order >> number.min(usize::BITS as usize - 1) & 1 == 1;
            self.part_door(*door, users, is_turned, &mut grounds);
        }
        let mut meeting = Vec::new();
        for room in 0..self.plan.rooms.len() {
            let users: Vec<usize> =
                (0..trees.len()).filter(|m| trees[*m][room].is_some()).collect();
            if users.len() < 2 {
                continue;
            }
            let marks: Vec<Mark> = users.iter().flat_map(|m| grounds[*m].marks(room)).collect();
            let floor = self.free[room].as_ref().map(|free| &free.floor);
            let Some(shares) = floor.and_then(|f| halves::shared_out(f, &marks)) else {
                meeting.push(room);
                continue;
            };
            let given = &self.plan.rooms[room];
            let may_all = given.heated && given.manifold.is_none() && given.loops.is_none();
            let away = |share: &Region, annex: &Annex| share.boundary_distance_m(annex.middle());
            let all = shares.clone();
            for (owner, share) in shares {
                let ground = &mut grounds[owner];
                ground.own[room] |= may_all && share.area_m2() > LEAST_OWN_M2;
                if let Some(free) = &mut ground.free[room] {
                    free.annexes.retain(|annex| {
                        let here_m = away(&share, annex);
                        all.iter().all(|(other, s)| *other == owner || away(s, annex) > here_m)
                    });
                    free.keep_within(share);
                }
            }
        }
        if meeting.is_empty() { Ok(grounds) } else { Err(meeting) }
    }

    /// Gives each manifold its part of a door, by the loops that pass.
    fn part_door(&self, door: usize, users: &[usize], is_turned: bool, grounds: &mut [Ground]) {
        let given = &self.plan.doors[door];
        let first = users.iter().find_map(|m| {
            let (before, _) = grounds[*m]
                .ways
                .iter()
                .flatten()
                .find_map(|w| w.before.filter(|(_, d)| *d == door))?;
            grounds[*m].door_ends(door, before)
        });
        let Some((_, outward)) = first else { return };
        let along = outward.left();
        let loops = |m: usize| {
            let rooms = 0..self.chosen.len();
            let passes = |room: &usize| {
                self.chosen[*room] == Some(m) && grounds[m].chain(*room).1.contains(&door)
            };
            rooms.filter(passes).map(|room| self.loops[m][room]).sum::<usize>().max(1) as f64
        };
        let mut users: Vec<(usize, f64)> = users.iter().map(|m| (*m, loops(*m))).collect();
        if is_turned {
            users.reverse();
        }
        let all: f64 = users.iter().map(|u| u.1).sum();
        let mut gone = -0.5;
        for (manifold, loops) in users {
            let share = loops / all;
            let part = &mut grounds[manifold].plan.doors[door];
            part.at = given.at + along * (given.width_m * (gone + share / 2.0));
            part.width_m = given.width_m * share;
            gone += share;
        }
    }
}

/// Free floors of rooms that a tree of ways comes to.
fn reached(free: &[Option<Free>], tree: &[Option<Way>]) -> Vec<Option<Free>> {
    let rooms = free.iter().zip(tree);
    rooms.map(|(free, way)| free.clone().filter(|_| way.is_some())).collect()
}

impl Ground {
    /// Where leaders of this manifold come into a room and leave it.
    fn marks(&self, room: usize) -> Vec<Mark> {
        let owner = self.manifold;
        let Some(way) = self.ways[room] else { return Vec::new() };
        let entry = match way.before {
            None => self.manifold_entry().map(|e| e.0),
            Some((_, door)) => self.door_mark(door, room),
        };
        let onward = self.ways.iter().flatten().filter_map(|w| w.before);
        let onward = onward
            .filter(|(before, _)| *before == room)
            .filter_map(|(_, door)| self.door_mark(door, room));
        entry.into_iter().chain(onward).map(|ends| Mark { owner, ends }).collect()
    }

    fn door_mark(&self, door: usize, room: usize) -> Option<[Point; 2]> {
        let (_, outward) = self.door_ends(door, room)?;
        let given = self.plan.doors.get(door)?;
        let floor = &self.free.get(room)?.as_ref()?.floor;
        net::door_ends(floor, given.at, given.width_m, outward)
    }
}
