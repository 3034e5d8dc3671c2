//! Choosing counts, shares and gauges of one manifold's loops.
//!
//! Ways of sharing are weighed by drafts, in which loops are as long as floor and leaders
//! say; fields are laid for the best of them only.

use super::draft::{Draft, Fault, Ground, Sharing};
use super::lengths::count;
use super::own::Laid;
use super::shares::{Choice, Cut};
use super::weigh::COLD;
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
    pub(super) harm: f64,
}

impl Found {
    /// Whether a loop could not be laid, not be bent, or leaves much of its floor cold.
    fn lacks_a_loop(&self) -> bool {
        let is_whole = |laid: &Laid| laid.flaws() == 0 && laid.uncovered <= COLD;
        !self.laid.iter().all(|field| field.as_ref().is_ok_and(is_whole))
    }
}

/// Lays the fields of a draft, in the order of its loops.
pub(super) type Fields<'f> = dyn FnMut(&Draft, Effort) -> Vec<Field> + 'f;

/// Rounds of adjusting counts and shares by estimated lengths.
const ESTIMATED_ROUNDS: usize = 16;

/// The same where one of many ways is only weighed.
const WEIGHED_ROUNDS: usize = 3;

/// Rounds of adjusting them by measured lengths.
const MEASURED_ROUNDS: usize = 3;

/// Times that shares are changed by less where a change left no way.
const SHORTER_STEPS: usize = 3;

/// Share of the floor by which evener lengths may leave more of it bare.
const MORE_BARE: f64 = 0.01;

/// Rounds of adding loops where bending took one over its limit.
const RAISED_ROUNDS: usize = 3;

/// Differences among loops of a room that are evened out, over the longest one.
const ESTIMATED_SPREAD: f64 = 0.04;

/// The same once loops have been measured.
const MEASURED_SPREAD: f64 = 0.06;

/// Rounds in which something else is tried where loops turned out unsound.
const OTHER_ROUNDS: usize = 2;

/// Most other ways that are weighed in such a round.
const MOST_WEIGHED: usize = 4;

/// Most of them whose fields are laid.
const MOST_LAID: usize = 1;

/// The same where a loop is lacking.
const MOST_LAID_FOR_A_LOOP: usize = 3;

/// What one room is tried with.
#[derive(Clone, Debug)]
pub(super) struct Options {
    pub(super) choices: Vec<Choice>,
    pub(super) chosen: usize,
    pub(super) ends: [Point; 2],
    pub(super) doors: Vec<[Point; 2]>,
}

pub(super) struct Search<'a> {
    pub(super) ground: &'a Ground,
    pub(super) options: Vec<Option<Options>>,
    pub(super) sharings: Vec<Sharing>,
}

/// Everything chosen at one moment.
#[derive(Clone)]
struct State(Vec<Option<Options>>, Vec<Sharing>);

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
        Some(Options { choices: Vec::new(), chosen: 0, ends, doors: self.ground.onward(room) })
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
        count(given, free.area_m2(), extra_m, way.length_m)
    }

    fn state(&self) -> State {
        State(self.options.clone(), self.sharings.clone())
    }

    fn restore(&mut self, state: &State) {
        let State(options, sharings) = state.clone();
        (self.options, self.sharings) = (options, sharings);
    }

    /// The best layout found: loops sound, within their limit, about equally long in a room.
    pub(super) fn found(&mut self, fields: &mut Fields<'_>) -> Result<Found, Fault> {
        let draft = self.well_settled()?;
        let mut best = self.finished(draft, fields);
        let mut chosen = self.state();
        let mut tried = Vec::new();
        for _ in 0..OTHER_ROUNDS {
            let others = self.others(&best, &chosen, &mut tried);
            let mut is_better = false;
            let lacks = best.lacks_a_loop();
            let most = if lacks { MOST_LAID_FOR_A_LOOP } else { MOST_LAID };
            for (harm, draft, state) in others.into_iter().take(most) {
                if harm >= best.harm - 1e-9 {
                    break;
                }
                self.restore(&state);
                let other = self.finished(draft, fields);
                if other.harm < best.harm - 1e-9 {
                    (best, chosen, is_better) = (other, self.state(), true);
                    if !best.lacks_a_loop() {
                        break;
                    }
                }
            }
            self.restore(&chosen);
            if !is_better || !best.lacks_a_loop() {
                break;
            }
        }
        Ok(best)
    }

    /// Drafts with something else chosen for a room that is not sound, the likeliest first.
    fn others(
        &mut self,
        found: &Found,
        chosen: &State,
        tried: &mut Vec<(usize, usize, usize)>,
    ) -> Vec<(f64, Draft, State)> {
        let mut others = Vec::new();
        let mut left = MOST_WEIGHED;
        for flawed in self.unsound_rooms(found) {
            for (count, choice) in self.alternatives(flawed) {
                let way = (flawed.room, count, choice);
                if left == 0 || tried.contains(&way) {
                    continue;
                }
                tried.push(way);
                left -= 1;
                self.restore(chosen);
                self.take(flawed.room, count, choice);
                if let Ok(draft) = self.settled(WEIGHED_ROUNDS) {
                    others.push((self.estimated_harm(&draft), draft, self.state()));
                }
            }
            self.restore(chosen);
        }
        others.sort_by(|a, b| a.0.total_cmp(&b.0));
        others
    }

    /// A draft by the first way of sharing the manifold's room that looks sound, or by the
    /// best of all if none does.
    fn well_settled(&mut self) -> Result<Draft, Fault> {
        let begin = self.state();
        let root = self.ground.plan.manifolds[self.ground.manifold].room;
        let first = self.settled(ESTIMATED_ROUNDS);
        let mut best = match first {
            Ok(draft) if self.looks_sound(&draft) => return Ok(draft),
            Ok(draft) => Ok((self.estimated_harm(&draft), draft, self.state())),
            Err(fault) => Err(fault),
        };
        let first = self.way_of(root);
        for (count, choice) in self.ways_of_sharing(root) {
            if best.is_ok() && first == (count, choice) {
                continue;
            }
            self.restore(&begin);
            self.take(root, count, choice);
            let Ok(draft) = self.settled(WEIGHED_ROUNDS) else { continue };
            let harm = self.estimated_harm(&draft);
            let is_sound = self.looks_sound(&draft);
            if best.as_ref().map_or(true, |(least, ..)| harm < *least - 1e-9) {
                best = Ok((harm, draft, self.state()));
            }
            if is_sound {
                break;
            }
        }
        let (_, draft, state) = best?;
        self.restore(&state);
        Ok(draft)
    }

    /// A draft with its fields, evened out by lengths as laid.
    fn finished(&mut self, draft: Draft, fields: &mut Fields<'_>) -> Found {
        let mut draft = self.measured(draft, fields);
        let mut laid = fields(&draft, Effort::Full);
        let mut lengths = self.ground.measured_m(&draft, &laid);
        // Bending adds a little tube; a loop that it takes over its limit is one too few.
        for _ in 0..RAISED_ROUNDS {
            let kept = self.state();
            if !self.raised(&draft, &lengths) {
                break;
            }
            let Ok(better) = self.settled(ESTIMATED_ROUNDS) else {
                self.restore(&kept);
                break;
            };
            draft = better;
            laid = fields(&draft, Effort::Full);
            lengths = self.ground.measured_m(&draft, &laid);
        }
        let harm = self.harm_as_laid(&draft, &lengths, &laid);
        Found { draft, laid, harm }
    }

    /// The best of some drafts, each evened out by the lengths that the one before took.
    fn measured(&mut self, first: Draft, fields: &mut Fields<'_>) -> Draft {
        let mut best: Option<(f64, Draft, State)> = None;
        let mut draft = first;
        for _ in 0..=MEASURED_ROUNDS {
            let laid = fields(&draft, Effort::Quick);
            let lengths = self.ground.measured_m(&draft, &laid);
            let harm = self.harm_as_drawn(&draft, &lengths, &laid);
            let kept = self.state();
            if best.as_ref().is_none_or(|(least, ..)| harm < *least - 1e-9) {
                best = Some((harm, draft.clone(), kept.clone()));
            }
            if !self.adjusted(&draft, &lengths, MEASURED_SPREAD) {
                break;
            }
            let failed = match self.drafted_as_full(&draft) {
                Some(better) => {
                    draft = better;
                    continue;
                }
                None => self.sharings.clone(),
            };
            self.restore(&kept);
            let half_way = self.step_half_way(&failed).then(|| self.drafted_as_full(&draft));
            // Shares as they were are better than none.
            let Some(better) = half_way.flatten() else { break };
            draft = better;
        }
        let Some((_, best, state)) = best else { return draft };
        self.restore(&state);
        best
    }

    /// A draft with the shares of this moment that leaves hardly more floor bare than another.
    fn drafted_as_full(&mut self, as_this: &Draft) -> Option<Draft> {
        let draft = self.drafted().ok()?;
        (draft.bare_share() <= as_this.bare_share() + MORE_BARE).then_some(draft)
    }

    /// Adjusts counts, cuts and shares until estimates are sound; the best draft on the way.
    pub(super) fn settled(&mut self, rounds: usize) -> Result<Draft, Fault> {
        let mut best: Option<(f64, Draft, State)> = None;
        let mut fault = Fault::Shares { room: 0 };
        let mut shorter_steps = 0;
        for _ in 0..rounds {
            match self.drafted() {
                Ok(draft) => {
                    let lengths = self.ground.lengths_m(&draft);
                    let harm = self.harm(&draft, &lengths);
                    let state = self.state();
                    let far = best.as_ref().filter(|(least, ..)| harm > *least);
                    if let Some((_, _, nearer)) = far
                        && shorter_steps < SHORTER_STEPS
                    {
                        // Too far: floor changed hands that the step did not reckon with.
                        let (failed, nearer) = (self.sharings.clone(), nearer.clone());
                        self.restore(&nearer);
                        shorter_steps += 1;
                        if self.step_half_way(&failed) {
                            continue;
                        }
                        self.restore(&state);
                    }
                    let is_done = !self.adjusted(&draft, &lengths, ESTIMATED_SPREAD);
                    if best.as_ref().is_none_or(|(least, _, _)| harm < *least) {
                        best = Some((harm, draft, state));
                    }
                    if is_done {
                        break;
                    }
                }
                Err(_) if best.is_some() => {
                    // Back to the best so far; a smaller step from there, or else a loop more
                    // where one is too long.
                    let Some((_, draft, state)) = best.clone() else { break };
                    let failed = self.sharings.clone();
                    self.restore(&state);
                    shorter_steps += 1;
                    if shorter_steps <= SHORTER_STEPS && self.step_half_way(&failed) {
                        continue;
                    }
                    let lengths = self.ground.lengths_m(&draft);
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
        let (_, draft, state) = best.ok_or(fault)?;
        self.restore(&state);
        Ok(draft)
    }
}
