//! What speaks against a way of sharing: loops too long, uneven, tight or missing.

use super::draft::Draft;
use super::lengths::{extremes, own_lengths};
use super::search::{Field, Found, Search};
use crate::region::Region;

/// What one loop over its limit weighs against differences in length.
const OVER_LIMIT: f64 = 10.0;

/// What a loop that could not be laid weighs against them.
const NO_LOOP: f64 = 30.0;

/// What a loop with bends tighter than the radius weighs, which cannot be handed out.
const TIGHT_LOOP: f64 = 10.0;

/// What a tight bend of a leader weighs, some of which can be laid anew.
const TIGHT_LEADER: f64 = 1.0;

/// Turns below this are easily laid anew, radians.
const SLIGHT_RAD: f64 = 0.2;

/// Difference among loops of a room that is not left without trying something else.
pub(super) const WORST_SPREAD: f64 = 0.15;

/// What a difference beyond that weighs.
const BEYOND_WORST: f64 = 10.0;

/// What a loop weighs, so that fewer are taken where they do as well.
const A_LOOP: f64 = 0.1;

/// What a metre of leaders weighs.
const LEADER_M: f64 = 1e-3;

/// What floor without any tube weighs, if it were all floor there is.
const BARE: f64 = 20.0;

/// Share of a loop's floor far from its tube that is not left without trying something else.
pub(super) const COLD: f64 = 0.08;

/// Estimated difference among loops of a room with which a draft is taken as it is.
const SOUND_SPREAD: f64 = 0.1;

/// Share of the floor without tube with which it is.
const SOUND_BARE: f64 = 0.02;

/// A room with a flaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Flawed {
    pub(super) room: usize,
    /// Whether another number of loops may mend it.
    pub(super) in_number: bool,
}

impl Search<'_> {
    /// What speaks against lengths, leaders and floor left over.
    pub(super) fn harm(&self, draft: &Draft, lengths: &[f64]) -> f64 {
        let mut harm = A_LOOP * draft.order.loops.len() as f64;
        for (room, given) in self.ground.plan.rooms.iter().enumerate() {
            let own = own_lengths(draft, lengths, room);
            let over = own.iter().filter(|l| **l > given.tube.longest_loop_m).count();
            let spread = spread(&own);
            harm += OVER_LIMIT * over as f64;
            harm += spread + BEYOND_WORST * (spread - WORST_SPREAD).max(0.0);
        }
        harm += TIGHT_LEADER * self.tight_in_leaders(draft) as f64;
        let leaders = draft.order.loops.iter().map(|zone| draft.leaders[*zone].length_m());
        harm + 2.0 * LEADER_M * leaders.sum::<f64>() + BARE * draft.bare_share()
    }

    /// Bends of leaders whose inner tube is tighter than the radius.
    pub(super) fn tight_in_leaders(&self, draft: &Draft) -> usize {
        let tight = |zone: &usize| {
            let tube = &self.ground.plan.rooms[draft.net.zones[*zone].room].tube;
            let least_m = tube.bend_radius_m + draft.gauge.half_m / 2.0 - 1e-4;
            let bends = draft.leaders[*zone].bends();
            bends.iter().filter(|b| b.radius_m < least_m && b.turn_rad.abs() > SLIGHT_RAD).count()
        };
        draft.order.loops.iter().map(tight).sum()
    }

    pub(super) fn estimated_harm(&self, draft: &Draft) -> f64 {
        self.harm(draft, &self.ground.lengths_m(draft))
    }

    /// The same once fields are drawn, whose bends are not bendable yet.
    pub(super) fn harm_as_drawn(&self, draft: &Draft, lengths: &[f64], drawn: &[Field]) -> f64 {
        let lacking = |field: &Field| match field {
            // A loop that leaves all its floor cold is none.
            Ok(drawn) => NO_LOOP * (drawn.uncovered - COLD).max(0.0),
            Err(_) => NO_LOOP,
        };
        let cold_m2 = |(zone, field): (&usize, &Field)| {
            let floor = draft.floors[*zone].as_ref().map_or(0.0, Region::area_m2);
            field.as_ref().map_or(floor, |drawn| drawn.uncovered * floor)
        };
        let cold_m2: f64 = draft.order.loops.iter().zip(drawn).map(cold_m2).sum();
        let lacking: f64 = drawn.iter().map(lacking).sum();
        self.harm(draft, lengths) + lacking + BARE * cold_m2 / draft.floor_m2().max(1e-9)
    }

    /// The same once fields are laid, with what could not be bent.
    pub(super) fn harm_as_laid(&self, draft: &Draft, lengths: &[f64], laid: &[Field]) -> f64 {
        let is_flawed = |field: &&Field| field.as_ref().is_ok_and(|laid| laid.flaws() > 0);
        let flawed = laid.iter().filter(is_flawed).count() as f64;
        self.harm_as_drawn(draft, lengths, laid) + TIGHT_LOOP * flawed
    }

    /// Whether estimates leave nothing to be wished for.
    pub(super) fn looks_sound(&self, draft: &Draft) -> bool {
        let lengths = self.ground.lengths_m(draft);
        let rooms = self.ground.plan.rooms.iter().enumerate();
        let mut own = rooms
            .map(|(room, given)| (own_lengths(draft, &lengths, room), given.tube.longest_loop_m));
        draft.bare_share() < SOUND_BARE
            && self.tight_in_leaders(draft) == 0
            && own.all(|(own, limit)| extremes(&own).1 <= limit && spread(&own) < SOUND_SPREAD)
    }

    /// Rooms with loops that could not be laid, not be bent, are too long or very uneven.
    pub(super) fn unsound_rooms(&self, found: &Found) -> Vec<Flawed> {
        let zones = &found.draft.net.zones;
        let lengths = self.ground.measured_m(&found.draft, &found.laid);
        let mut rooms: Vec<Flawed> = Vec::new();
        for (zone, field) in found.draft.order.loops.iter().zip(&found.laid) {
            let room = zones[*zone].room;
            let own = own_lengths(&found.draft, &lengths, room);
            let is_over = extremes(&own).1 > self.ground.plan.rooms[room].tube.longest_loop_m;
            let is_uneven = spread(&own) > WORST_SPREAD;
            let is_tight = field.as_ref().is_ok_and(|l| l.flaws() > 0);
            let is_cold = field.as_ref().is_ok_and(|l| l.uncovered > COLD);
            let in_number = field.is_err() || is_over || is_tight || is_cold;
            if !(in_number || is_uneven) {
                continue;
            }
            match rooms.iter_mut().find(|flawed| flawed.room == room) {
                Some(flawed) => flawed.in_number |= in_number,
                None => rooms.push(Flawed { room, in_number }),
            }
        }
        rooms.sort_by_key(|flawed| (!flawed.in_number, flawed.room));
        rooms
    }
}

/// Difference among some lengths over the longest.
pub(super) fn spread(lengths: &[f64]) -> f64 {
    let (shortest, longest) = extremes(lengths);
    if lengths.len() > 1 { (longest - shortest) / longest.max(1.0) } else { 0.0 }
}
