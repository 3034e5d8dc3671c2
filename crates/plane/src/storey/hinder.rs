//! Which rooms stand in the way of the others of a manifold, and why.

use super::draft::{Fault, Ground};
use super::layout::Reason;
use super::peel::Blocked;
use super::slots::ports_needed_m;
use super::ways;
use crate::clip;
use crate::region::Region;

/// Steps by which the width of a narrow place is halved in on.
const WIDTH_STEPS: u32 = 12;

impl Ground {
    /// Rooms to leave out, the farthest first, as many as a fault asks for.
    ///
    /// Nothing where no room can be named; then none of the manifold can be laid.
    pub(super) fn in_the_way(&self, fault: Fault) -> Vec<usize> {
        let through = |door: usize| self.served(|room| self.chain(room).1.contains(&door));
        let (mut rooms, excess) = match fault {
            Fault::Blocked(Blocked::Opening { door, loops, width_m }) => {
                let needed_m = |loops: usize| self.opening_needed_m(door, loops);
                let fit = (0..loops).rev().find(|n| needed_m(*n) <= width_m).unwrap_or(0);
                let rooms = door.map_or_else(|| self.served(|_| true), through);
                (rooms, loops.saturating_sub(fit).max(1))
            }
            Fault::Blocked(Blocked::Narrow { room }) => {
                let passing = self.served(|r| r != room && self.chain(r).0.contains(&room));
                (if passing.is_empty() { self.served(|r| r == room) } else { passing }, 1)
            }
            Fault::Shares { room } => {
                let here = self.served(|r| r == room);
                (if here.is_empty() { self.served(|_| true) } else { here }, 1)
            }
            Fault::Door { door } => (through(door), usize::MAX),
            Fault::Order => (Vec::new(), 0),
            Fault::TooMany { loops } => {
                let most = self.plan.manifolds[self.manifold].most_loops;
                (self.served(|_| true), loops.saturating_sub(most).max(1))
            }
        };
        let cost = |room: usize| self.ways[room].map_or(0.0, |w| w.cost_m);
        rooms.sort_by(|a, b| cost(*b).total_cmp(&cost(*a)).then(b.cmp(a)));
        rooms.truncate(excess);
        rooms
    }

    /// Rooms with loops on this manifold of which something holds.
    fn served(&self, holds: impl Fn(usize) -> bool) -> Vec<usize> {
        let here = |room: &usize| self.own[*room] && self.ways[*room].is_some() && holds(*room);
        (0..self.plan.rooms.len()).filter(here).collect()
    }

    /// Width that loops need in a door, or at the manifold, metres.
    fn opening_needed_m(&self, door: Option<usize>, loops: usize) -> f64 {
        let gap_m = self.plan.leader_gap_m;
        door.map_or(ports_needed_m(loops, gap_m), |_| 2.0 * gap_m * loops as f64)
    }

    /// Leaves out ways that lead to no room any more.
    pub(super) fn forget_ways(&mut self) {
        self.ways = ways::leading_to(&self.ways, &self.served(|_| true));
    }

    /// A fault in the terms of the layout.
    pub(super) fn reason(&self, fault: Fault) -> Reason {
        let manifold = self.manifold;
        match fault {
            Fault::Blocked(Blocked::Opening { door, loops, width_m }) => {
                let needed_m = self.opening_needed_m(door, loops);
                match door {
                    Some(_) => Reason::PassageTooNarrow { door, loops, needed_m, width_m },
                    None => Reason::ManifoldTooShort { manifold, loops, needed_m, width_m },
                }
            }
            Fault::Blocked(Blocked::Narrow { room }) => {
                let loops = self.served(|r| r != room && self.chain(r).0.contains(&room)).len();
                let floor = self.free[room].as_ref().map(|free| &free.floor);
                let (needed_m, width_m) =
                    (2.0 * self.plan.leader_gap_m * loops as f64, floor.map_or(0.0, narrowest_m));
                if width_m < needed_m {
                    Reason::PassageTooNarrow { door: None, loops, needed_m, width_m }
                } else {
                    Reason::NoLayout
                }
            }
            Fault::TooMany { loops } => Reason::TooManyLoops { manifold, loops },
            Fault::Shares { .. } | Fault::Door { .. } | Fault::Order => Reason::NoLayout,
        }
    }
}

/// Width of the narrowest place that parts a floor in two, or of all of it, metres.
fn narrowest_m(floor: &Region) -> f64 {
    let whole = std::slice::from_ref(floor);
    let (low, high) = floor.bounds();
    let (mut least, mut most) = (0.0, low.distance(high));
    for _ in 0..WIDTH_STEPS {
        let middle = (least + most) / 2.0;
        if clip::erode(whole, middle / 2.0).len() == 1 { least = middle } else { most = middle }
    }
    least
}
