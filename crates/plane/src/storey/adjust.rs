//! Counts of loops and sizes of their shares, by the lengths that they gave.

use super::draft::{Draft, Sharing};
use super::lengths::{extremes, own_areas_m2, own_lengths};
use super::search::Search;
use super::shares::{self, Choice, Cut};
use super::weigh::Flawed;

/// Mean share of their limit from which loops of a room are taken to be one too few.
const FULL: f64 = 0.97;

/// Logarithm of the least change of a share that is worth a draft.
const LEAST_STEP: f64 = 0.01;

impl Search<'_> {
    pub(super) fn set_count(&mut self, room: usize, count: usize) {
        let choices = self.choices(room, count);
        let passed_over = self.ground.passed_over.get(room).copied().unwrap_or(0);
        let first = passed_over % choices.len().max(1);
        if let Some(options) = &mut self.options[room] {
            (options.choices, options.chosen) = (choices, first);
        }
        self.sharings[room].weights = vec![1.0; count];
        self.choose(room, first);
    }

    fn choices(&self, room: usize, count: usize) -> Vec<Choice> {
        let (Some(free), Some(options)) = (&self.ground.free[room], &self.options[room]) else {
            return Vec::new();
        };
        let is_root = self.ground.ways[room].is_some_and(|w| w.before.is_none());
        let floor = free.open_floor();
        let open = count.saturating_sub(free.apart.len() + free.rest.len().saturating_sub(1));
        let annexes = free.annexes.iter().map(|annex| annex.ends);
        let doors: Vec<_> = options.doors.iter().copied().chain(annexes).collect();
        shares::choices(floor, open, options.ends, &doors, is_root)
    }

    /// Shares a room between so many loops by one of its choices.
    pub(super) fn take(&mut self, room: usize, count: usize, choice: usize) {
        if self.sharings[room].weights.len() != count {
            self.set_count(room, count);
        }
        self.choose(room, choice);
    }

    /// Counts and choices for a room, first those with the loops that it has, then with one fewer.
    pub(super) fn ways_of_sharing(&self, room: usize) -> Vec<(usize, usize)> {
        let count = self.sharings[room].weights.len();
        let mut ways: Vec<(usize, usize)> = self.numbered(room, count).collect();
        if self.may_have(room, count.saturating_sub(1)) {
            ways.extend(self.numbered(room, count - 1));
        }
        ways
    }

    /// The count and the choice of a room.
    pub(super) fn way_of(&self, room: usize) -> (usize, usize) {
        let chosen = self.options[room].as_ref().map_or(0, |o| o.chosen);
        (self.sharings[room].weights.len(), chosen)
    }

    /// What else a flawed room may be tried with.
    pub(super) fn alternatives(&self, flawed: Flawed) -> Vec<(usize, usize)> {
        let room = flawed.room;
        let (count, chosen) = self.way_of(room);
        let mut ways = self.ways_of_sharing(room);
        ways.retain(|way| *way != (count, chosen));
        if flawed.in_number && self.may_have(room, count + 1) {
            ways.extend(self.numbered(room, count + 1));
        }
        ways
    }

    /// Whether a room may have so many loops.
    fn may_have(&self, room: usize, count: usize) -> bool {
        let given = &self.ground.plan.rooms[room];
        let Some(free) = &self.ground.free[room] else { return false };
        let is_passed = self.options[room].as_ref().is_some_and(|o| !o.doors.is_empty());
        let most_m2 = given.tube.longest_loop_m * given.spacing_m * count as f64;
        let is_enough = is_passed || free.area_m2() < most_m2;
        given.loops.is_none() && count >= given.least_loops.max(1) && is_enough
    }

    fn numbered(&self, room: usize, count: usize) -> impl Iterator<Item = (usize, usize)> + use<> {
        let choices = self.choices(room, count).len();
        (0..choices).map(move |choice| (count, choice))
    }

    pub(super) fn choose(&mut self, room: usize, number: usize) -> bool {
        let Some(options) = &mut self.options[room] else { return false };
        let Some(choice) = options.choices.get(number) else { return false };
        options.chosen = number;
        self.sharings[room].cut = choice.cut;
        self.sharings[room].one_entry = false;
        self.sharings[room].weights.fill(1.0);
        true
    }

    /// One loop more for every room with a loop over its limit; false if there is none.
    pub(super) fn raised(&mut self, draft: &Draft, lengths: &[f64]) -> bool {
        let mut is_raised = false;
        for room in 0..self.sharings.len() {
            let given = &self.ground.plan.rooms[room];
            let own = own_lengths(draft, lengths, room);
            let is_over = own.iter().any(|l| *l > given.tube.longest_loop_m);
            if is_over && given.loops.is_none() {
                self.set_count(room, self.sharings[room].weights.len() + 1);
                is_raised = true;
            }
        }
        is_raised
    }

    /// Raises counts and evens out shares; false if all is well.
    pub(super) fn adjusted(&mut self, draft: &Draft, lengths: &[f64], spread: f64) -> bool {
        let mut changed = false;
        for room in 0..self.sharings.len() {
            let own = own_lengths(draft, lengths, room);
            if own.is_empty() {
                continue;
            }
            let given = &self.ground.plan.rooms[room];
            let (shortest, longest) = extremes(&own);
            let mean = own.iter().sum::<f64>() / own.len() as f64;
            let limit = given.tube.longest_loop_m;
            let is_over = longest > limit && longest - shortest <= spread * longest;
            if (mean > FULL * limit || is_over) && given.loops.is_none() {
                self.set_count(room, self.sharings[room].weights.len() + 1);
                changed = true;
            } else if self.is_fixed(room) {
                continue;
            } else if longest - shortest > spread * longest && own.len() > 1 {
                self.even_out(room, draft, &own);
                changed = true;
            }
        }
        changed
    }

    /// Moves floor from the long loops of a room to the short ones.
    ///
    /// What a share gains or loses is filled with tube at the spacing; leaders that pass it
    /// take as much of it as before.
    fn even_out(&mut self, room: usize, draft: &Draft, lengths: &[f64]) {
        let mean_m = lengths.iter().sum::<f64>() / lengths.len().max(1) as f64;
        let spacing_m = self.ground.plan.rooms[room].spacing_m;
        let apart = self.ground.free[room].as_ref().map_or(0, |free| free.apart.len());
        let weights = self.sharings[room].weights.iter_mut().skip(apart);
        for ((weight, length_m), area_m2) in weights.zip(lengths).zip(own_areas_m2(draft, room)) {
            let more_m2 = (mean_m - length_m) * spacing_m;
            *weight *= (1.0 + more_m2 / area_m2.max(1e-3)).clamp(0.5, 2.0);
        }
    }

    /// Sets shares half-way to others of the same rooms; false if there is nothing between.
    pub(super) fn step_half_way(&mut self, to: &[Sharing]) -> bool {
        let mut is_moved = false;
        for (here, to) in self.sharings.iter_mut().zip(to) {
            if here.cut != to.cut || here.weights.len() != to.weights.len() {
                continue;
            }
            for (weight, other) in here.weights.iter_mut().zip(&to.weights) {
                let middle = (*weight * other).sqrt();
                is_moved |= (middle / *weight).ln().abs() > LEAST_STEP;
                *weight = middle;
            }
        }
        is_moved
    }

    /// Whether a room is cut at a place that shares do not move.
    fn is_fixed(&self, room: usize) -> bool {
        matches!(self.sharings[room].cut, Cut::FromEntry { .. })
    }
}
