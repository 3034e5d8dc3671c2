//! Choosing counts, shares and gauges of one manifold's loops.

use super::draft::{Draft, Fault, Ground, Sharing};
use super::hug::Gauge;
use super::lengths::{count, extremes, own_lengths};
use super::net::Net;
use super::order::Order;
use super::own::Laid;
use super::peel::Blocked;
use super::shares::{self, Choice, Cut};
use crate::fill::{Effort, NoFill};
use crate::point::Point;

/// The field of one loop.
pub(super) type Field = Result<Laid, NoFill>;

/// A draft with its loops.
pub(super) struct Found {
    pub(super) draft: Draft,
    /// The fields in the order of the manifold.
    pub(super) laid: Vec<Field>,
    /// What speaks against it.
    harm: f64,
}

/// Lays the fields of a draft, in the order of its loops.
pub(super) type Fields<'f> = dyn FnMut(&Draft, Effort) -> Vec<Field> + 'f;

/// What one loop over its limit weighs against differences in length.
const OVER_LIMIT: f64 = 10.0;

/// What a loop that could not be laid weighs against them.
const NO_LOOP: f64 = 30.0;

/// Mean share of their limit from which loops of a room are taken to be one too few.
const FULL: f64 = 0.97;

/// Difference among loops of a room that is not left without trying something else.
const WORST_SPREAD: f64 = 0.15;

/// Other ways of sharing that are tried where a loop turned out unsound.
const OTHER_WAYS: usize = 3;

/// Logarithm of the ratio of weights beyond which no lean gives more.
const MOST_LEANT: f64 = 0.4;

/// Rounds of adjusting counts and shares by estimated lengths.
const ESTIMATED_ROUNDS: usize = 16;

/// Rounds of adjusting them by measured lengths.
const MEASURED_ROUNDS: usize = 3;

/// Differences among loops of a room that are evened out, over the longest one.
const ESTIMATED_SPREAD: f64 = 0.04;

/// The same once loops have been measured.
const MEASURED_SPREAD: f64 = 0.06;

/// Widths of leaders tried, as shares of the widest.
const GAUGES: [f64; 6] = [1.0, 0.8, 0.65, 0.5, 0.4, 0.33];

/// Leaders are not set out closer than this over the least gap between tubes.
const GAP_PLAY: f64 = 1.04;

/// The same where nothing else fits.
const LAST_PLAY: f64 = 1.0;

/// What one room is tried with.
struct Options {
    choices: Vec<Choice>,
    chosen: usize,
    ends: [Point; 2],
    doors: Vec<[Point; 2]>,
}

pub(super) struct Search<'a> {
    ground: &'a Ground,
    options: Vec<Option<Options>>,
    sharings: Vec<Sharing>,
}

impl<'a> Search<'a> {
    pub(super) fn new(ground: &'a Ground) -> Search<'a> {
        let rooms = ground.plan.rooms.len();
        let whole = Sharing { cut: Cut::Whole, weights: Vec::new(), turn: None, one_entry: false };
        let mut search = Search { ground, options: Vec::new(), sharings: vec![whole; rooms] };
        for room in 0..rooms {
            let options = search.openings(room);
            search.options.push(options);
            let count = search.first_count(room);
            search.set_count(room, count);
        }
        search
    }

    fn is_here(&self, room: usize) -> bool {
        self.ground.ways[room].is_some() && self.ground.free[room].is_some()
    }

    fn openings(&self, room: usize) -> Option<Options> {
        if !self.is_here(room) {
            return None;
        }
        let way = self.ground.ways[room]?;
        let ends = match way.before {
            None => self.ground.manifold_entry()?.0,
            Some((_, door)) => self.ground.door_ends(door, room)?.0,
        };
        let onward = self.ground.ways.iter().flatten().filter_map(|w| w.before);
        let doors = onward
            .filter(|(before, _)| *before == room)
            .filter_map(|(_, door)| Some(self.ground.door_ends(door, room)?.0))
            .collect();
        Some(Options { choices: Vec::new(), chosen: 0, ends, doors })
    }

    /// Loops that a room will take, by its area and the way to it.
    fn first_count(&self, room: usize) -> usize {
        let given = &self.ground.plan.rooms[room];
        let (Some(free), Some(way)) = (&self.ground.free[room], self.ground.ways[room]) else {
            return 0;
        };
        if !self.ground.own[room] || self.options[room].is_none() {
            return 0;
        }
        let extra_m = self.ground.plan.manifolds[self.ground.manifold].extra_m;
        count(given, free.floor.area_m2(), extra_m, way.length_m)
    }

    fn set_count(&mut self, room: usize, count: usize) {
        let Some(free) = &self.ground.free[room] else { return };
        let is_root = self.ground.ways[room].is_some_and(|w| w.before.is_none());
        if let Some(options) = &mut self.options[room] {
            options.choices =
                shares::choices(&free.floor, count, options.ends, &options.doors, is_root);
            options.chosen = 0;
        }
        self.sharings[room].weights = vec![1.0; count];
        self.choose(room, 0);
    }

    fn choose(&mut self, room: usize, number: usize) -> bool {
        let Some(options) = &mut self.options[room] else { return false };
        let Some(choice) = options.choices.get(number) else { return false };
        options.chosen = number;
        self.sharings[room].cut = choice.cut;
        self.sharings[room].one_entry = false;
        self.sharings[room].weights.fill(1.0);
        true
    }

    /// The zones, with a cut from the manifold where its loops part.
    fn net(&mut self) -> Result<Net, Fault> {
        let mut net = self.ground.net(&self.sharings)?;
        let room = self.ground.plan.manifolds[self.ground.manifold].room;
        for _ in 0..3 {
            let Cut::FromEntry { from, inward } = self.sharings[room].cut else { break };
            let order = Order::of(&net, &[]);
            let [(one, [_, q]), (_, [p, _])] = net.entry.parts.as_slice() else { break };
            let first = order.loops_from(&net, *one) as f64 / order.loops.len().max(1) as f64;
            let parted = q.lerp(*p, first);
            if parted.distance(from) < 1e-3 {
                break;
            }
            self.sharings[room].cut = Cut::FromEntry { from: parted, inward };
            net = self.ground.net(&self.sharings)?;
        }
        Ok(net)
    }

    /// The widest leaders that find their ways.
    fn drafted(&mut self) -> Result<Draft, Fault> {
        let net = self.net()?;
        let plan = &self.ground.plan;
        let least = plan.leader_gap_m * GAP_PLAY;
        let own = |zone: &super::net::Zone| plan.rooms[zone.room].spacing_m;
        let widest = net.zones.iter().map(own).fold(f64::INFINITY, f64::min);
        let widest = widest.min(self.widest_through(&net)).max(least);
        let clearance =
            net.zones.iter().map(|z| plan.rooms[z.room].wall_clearance_m).fold(0.0, f64::max);
        let edge =
            |z: &super::net::Zone| (plan.rooms[z.room].wall_clearance_m - own(z) / 2.0).max(0.0);
        let edge = net.zones.iter().map(edge).fold(f64::INFINITY, f64::min);
        let mut fault = None;
        let mut tried = f64::INFINITY;
        let gauges = GAUGES.iter().map(|share| (widest * share).max(least));
        for half_m in gauges.chain(std::iter::once(plan.leader_gap_m * LAST_PLAY)) {
            if half_m >= tried {
                continue;
            }
            tried = half_m;
            for depth in [1.0, 0.75, 0.55] {
                let inset_m = (depth * clearance - edge - half_m / 2.0).max(0.0);
                match self.ground.draft(&net, &self.sharings, Gauge { half_m, inset_m }) {
                    Ok(draft) => return Ok(draft),
                    Err(found) => fault = Some(found),
                }
                if inset_m == 0.0 {
                    break;
                }
            }
        }
        Err(fault.unwrap_or(Fault::Shares { room: 0 }))
    }

    /// Widest half strips that manifold and doors let pass side by side, metres.
    fn widest_through(&self, net: &Net) -> f64 {
        let order = Order::of(net, &[]);
        let ports: f64 = net.entry.parts.iter().map(|(_, [a, b])| a.distance(*b)).sum();
        let mut widest = ports / (2.0 * order.loops.len() as f64 - 1.0).max(1.0);
        for (zone, openings) in net.zones.iter().zip(&order.openings) {
            for opening in openings.iter().filter(|o| !o.loops.is_empty()) {
                let portal = &zone.portals[opening.portal];
                if portal.door.is_some() {
                    let width = portal.ends[0].distance(portal.ends[1]);
                    widest = widest.min(width / (2.0 * opening.loops.len() as f64));
                }
            }
        }
        widest * (1.0 - 1e-6)
    }

    /// The best layout found: loops sound, within their limit, about equally long in a room.
    pub(super) fn found(&mut self, fields: &mut Fields<'_>) -> Result<Found, Fault> {
        let mut best = self.finished(fields)?;
        for _ in 0..OTHER_WAYS {
            let unsound = self.unsound_rooms(&best);
            if unsound.is_empty() {
                break;
            }
            let kept = (self.sharings.clone(), best);
            if !self.other_choices(&unsound) {
                return Ok(kept.1);
            }
            best = match self.finished(fields) {
                Ok(other) if other.harm < kept.1.harm - 1e-9 => other,
                _ => {
                    self.sharings = kept.0;
                    kept.1
                }
            };
        }
        Ok(best)
    }

    /// A draft with its fields, evened out by lengths as laid.
    fn finished(&mut self, fields: &mut Fields<'_>) -> Result<Found, Fault> {
        let mut draft = self.settled()?;
        for _ in 0..MEASURED_ROUNDS {
            let laid = fields(&draft, Effort::Quick);
            let lengths = self.ground.measured_m(&draft, &laid);
            let kept = self.sharings.clone();
            if !self.adjusted(&draft, &lengths, MEASURED_SPREAD) {
                break;
            }
            match self.drafted() {
                Ok(better) => draft = better,
                // Shares as they were are better than none.
                Err(_) => {
                    self.sharings = kept;
                    break;
                }
            }
        }
        let mut laid = fields(&draft, Effort::Full);
        let mut lengths = self.ground.measured_m(&draft, &laid);
        // Bending adds a little tube; a loop that it takes over its limit is one too few.
        if self.raised(&draft, &lengths)
            && let Ok(better) = self.settled()
        {
            draft = better;
            laid = fields(&draft, Effort::Full);
            lengths = self.ground.measured_m(&draft, &laid);
        }
        let flaws = |field: &Field| field.as_ref().map_or(NO_LOOP, |l| 2.0 * l.tight as f64);
        let harm = self.harm(&draft, &lengths) + laid.iter().map(flaws).sum::<f64>();
        Ok(Found { draft, laid, harm })
    }

    /// Adjusts counts, cuts and shares until estimates are sound; the best draft on the way.
    fn settled(&mut self) -> Result<Draft, Fault> {
        let mut best: Option<(f64, Draft, Vec<Sharing>)> = None;
        let mut fault = Fault::Shares { room: 0 };
        for _ in 0..ESTIMATED_ROUNDS {
            match self.drafted() {
                Ok(draft) => {
                    let lengths = self.ground.lengths_m(&draft);
                    let harm = self.harm(&draft, &lengths);
                    let sharings = self.sharings.clone();
                    let is_done = !self.adjusted(&draft, &lengths, ESTIMATED_SPREAD);
                    if best.as_ref().is_none_or(|(least, _, _)| harm < *least) {
                        best = Some((harm, draft, sharings));
                    }
                    if is_done {
                        break;
                    }
                }
                Err(_) if best.is_some() => {
                    // Back to the best so far, with a loop more where one is too long.
                    let Some((_, draft, sharings)) = &best else { break };
                    self.sharings = sharings.clone();
                    let lengths = self.ground.lengths_m(draft);
                    let draft = draft.clone();
                    if !self.raised(&draft, &lengths) {
                        break;
                    }
                }
                Err(found) => {
                    fault = found;
                    if !self.next_choice(found) {
                        break;
                    }
                }
            }
        }
        let (_, draft, sharings) = best.ok_or(fault)?;
        self.sharings = sharings;
        Ok(draft)
    }

    /// What speaks against lengths: loops over their limit, and differences in a room.
    fn harm(&self, draft: &Draft, lengths: &[f64]) -> f64 {
        let mut harm = 0.0;
        for (room, given) in self.ground.plan.rooms.iter().enumerate() {
            let own = own_lengths(draft, lengths, room);
            let over = own.iter().filter(|l| **l > given.tube.longest_loop_m).count();
            let (shortest, longest) = extremes(&own);
            harm += OVER_LIMIT * over as f64;
            if own.len() > 1 {
                harm += (longest - shortest) / longest.max(1.0);
            }
        }
        harm
    }

    /// One loop more for every room with a loop over its limit; false if there is none.
    fn raised(&mut self, draft: &Draft, lengths: &[f64]) -> bool {
        let mut is_raised = false;
        for room in 0..self.sharings.len() {
            let given = &self.ground.plan.rooms[room];
            let own = own_lengths(draft, lengths, room);
            let is_over = own.iter().any(|l| *l > given.tube.longest_loop_m);
            if is_over && given.loops.is_none() {
                self.set_count(room, own.len() + 1);
                is_raised = true;
            }
        }
        is_raised
    }

    /// Rooms with loops that could not be laid, not be bent, or are much longer than others.
    fn unsound_rooms(&self, found: &Found) -> Vec<usize> {
        let zones = &found.draft.net.zones;
        let lengths = self.ground.measured_m(&found.draft, &found.laid);
        let mut rooms: Vec<usize> = Vec::new();
        for (zone, field) in found.draft.order.loops.iter().zip(&found.laid) {
            let room = zones[*zone].room;
            let (shortest, longest) = extremes(&own_lengths(&found.draft, &lengths, room));
            let is_uneven = longest - shortest > WORST_SPREAD * longest;
            let is_sound = field.as_ref().is_ok_and(|l| l.tight == 0) && !is_uneven;
            if !is_sound && !rooms.contains(&room) {
                rooms.push(room);
            }
        }
        rooms
    }

    /// Takes the next choice for each of some rooms; false if there is none for any.
    fn other_choices(&mut self, rooms: &[usize]) -> bool {
        let mut is_other = false;
        for room in rooms {
            let chosen = self.options[*room].as_ref().map_or(0, |o| o.chosen);
            if self.choose(*room, chosen + 1) {
                self.sharings[*room].weights.fill(1.0);
                is_other = true;
            }
        }
        is_other
    }

    /// Raises counts and evens out shares; false if all is well.
    fn adjusted(&mut self, draft: &Draft, lengths: &[f64], spread: f64) -> bool {
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
                self.set_count(room, own.len() + 1);
                changed = true;
            } else if self.is_at_its_lean(room) {
                continue;
            } else if longest - shortest > spread * longest && own.len() > 1 {
                for (weight, length) in self.sharings[room].weights.iter_mut().zip(&own) {
                    *weight *= (mean / length.max(1.0)).clamp(0.5, 2.0);
                }
                changed = true;
            }
        }
        changed
    }

    /// Whether a cut from the manifold leans as far as it may.
    fn is_at_its_lean(&self, room: usize) -> bool {
        match (self.sharings[room].cut, self.sharings[room].weights.as_slice()) {
            (Cut::FromEntry { .. }, [one, other]) => (one / other).ln().abs() > MOST_LEANT,
            _ => false,
        }
    }

    /// Tries another way of sharing what stands in the way; false if all has been tried.
    fn next_choice(&mut self, fault: Fault) -> bool {
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
