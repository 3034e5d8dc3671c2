//! What is tried when leaders find no way.

use super::draft::{Fault, Sharing};
use super::peel::Blocked;
use super::search::Search;
use super::shares::Cut;

impl Search<'_> {
    /// Tries another way of sharing what stands in the way; false if all has been tried.
    pub(super) fn next_choice(&mut self, fault: Fault) -> bool {
        if self.entered_by_fewer(fault) {
            return true;
        }
        let root = self.ground.plan.manifolds[self.ground.manifold].room;
        let culprit = match fault {
            Fault::Blocked(Blocked::Narrow { room }) | Fault::Shares { room } => room,
            _ => root,
        };
        let next = |search: &mut Self, room: usize| {
            let chosen = search.options[room].as_ref().map_or(0, |o| o.chosen);
            search.choose(room, chosen + 1)
        };
        // The room itself, also with fewer loops; then those that may force leaders through
        // it; at last its own loop and that of the manifold's room.
        next(self, culprit)
            || self.with_fewer(culprit)
            || (0..self.sharings.len()).any(|room| self.options[room].is_some() && next(self, room))
            || self.give_up_own(culprit)
            || self.give_up_own(root)
    }

    /// Takes a loop from a room that others pass, for they leave it less floor than it has.
    fn with_fewer(&mut self, room: usize) -> bool {
        let given = &self.ground.plan.rooms[room];
        let count = self.sharings[room].weights.len();
        let is_free = given.loops.is_none() && count > given.least_loops.max(1);
        let is_passed = self.options[room].as_ref().is_some_and(|o| !o.doors.is_empty());
        if is_free && is_passed {
            self.set_count(room, count - 1);
        }
        is_free && is_passed
    }

    /// Heated rooms without a loop of their own.
    pub(super) fn given_up(&self) -> Vec<usize> {
        let rooms = 0..self.sharings.len();
        let is_bare = |room: &usize| {
            let given = &self.ground.plan.rooms[*room];
            self.options[*room].is_some()
                && self.ground.own[*room]
                && given.loops != Some(0)
                && self.sharings[*room].weights.is_empty()
        };
        rooms.filter(is_bare).collect()
    }

    /// Where an opening into several shares is too tight, lets all come in by the widest.
    fn entered_by_fewer(&mut self, fault: Fault) -> bool {
        let Fault::Blocked(Blocked::Opening { door, .. }) = fault else { return false };
        let room = match door {
            None => Some(self.ground.plan.manifolds[self.ground.manifold].room),
            Some(door) => {
                self.ground.plan.rooms.iter().enumerate().map(|(room, _)| room).find(|r| {
                    self.ground.ways[*r].and_then(|w| w.before).is_some_and(|(_, d)| d == door)
                })
            }
        };
        let Some(sharing) = room.map(|room| &mut self.sharings[room]) else { return false };
        let is_cut = sharing.weights.len() > 1 && !matches!(sharing.cut, Cut::FromEntry { .. });
        !std::mem::replace(&mut sharing.one_entry, true) && is_cut
    }

    /// Leaves a room that others pass to be heated by their leaders.
    fn give_up_own(&mut self, room: usize) -> bool {
        let is_passed = self.options[room].as_ref().is_some_and(|o| !o.doors.is_empty());
        let has_own = !self.sharings[room].weights.is_empty();
        if is_passed && has_own {
            self.sharings[room] =
                Sharing { cut: Cut::Whole, weights: Vec::new(), turn: None, one_entry: false };
        }
        is_passed && has_own
    }
}
