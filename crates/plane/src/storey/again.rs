//! Laying a storey again by other free choices where a loop would have to be withheld.
//!
//! A small change of one choice makes strands lie otherwise from there on, and a bend that
//! found no room finds it elsewhere. So what nobody holds is chosen otherwise for the rooms
//! that lack a loop, one thing after the other, until none does; and so, in fewer tries, for rooms
//! whose loops are very uneven or leave floor cold. A storey with neither is laid once.

use super::flaws::Flaws;
use super::layout::{Layout, Reason};
use super::plan::{Pattern, Plan, Room};

/// A plan with what is chosen for it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Trial {
    pub(super) plan: Plan,
    /// Ways of cutting its floor that are passed over, by room.
    pub(super) passed_over: Vec<usize>,
    /// Whether fields keep off their own leader by a bend of their tube, by room.
    pub(super) off_leader: Vec<bool>,
}

/// Something chosen otherwise for the rooms that lack a loop.
#[derive(Clone, Copy, Debug)]
enum Other {
    /// Dense bands whose rows turn bulb beside bulb.
    WiderBand,
    /// Rows, where the pattern is open.
    Rows,
    /// The field farther off its own leader, so that tube may turn back beside it.
    OffLeader,
    /// Bends wider than the tube asks for, metres.
    Wider(f64),
    /// The next way of cutting a floor that is shared.
    NextCut,
    /// All leaders farther apart, as a factor of the least gap.
    LeadersApart(f64),
    /// One loop more, where the number is open.
    OneMore,
}

/// What is tried in turn where a loop is lacking; what lessened that stays when the next is tried.
const WHERE_LACKING: [Other; 16] = [
    Other::WiderBand,
    Other::Rows,
    Other::OffLeader,
    Other::Wider(0.002),
    Other::NextCut,
    Other::LeadersApart(1.1),
    Other::OneMore,
    Other::Wider(0.005),
    Other::LeadersApart(1.25),
    Other::NextCut,
    Other::LeadersApart(1.4),
    Other::OneMore,
    Other::Wider(0.009),
    Other::LeadersApart(1.12),
    Other::LeadersApart(1.05),
    Other::Wider(0.003),
];

/// The same where loops are very uneven, leave floor cold or come near each other.
const WHERE_FLAWED: [Other; 3] =
    [Other::LeadersApart(1.06), Other::LeadersApart(1.15), Other::NextCut];

/// Weight of flaws that must go for a storey to be laid otherwise.
const LEAST_GAIN: f64 = 0.01;

/// Bend radius in spacings from which tube hardly turns back beside its own leader.
const WIDE_BENDS: f64 = 0.54;

/// Distance of one bulb of a band from the next, just over the least between strands, metres.
const BULBS_APART_M: f64 = 0.051;

impl Trial {
    pub(super) fn of(plan: &Plan) -> Trial {
        Trial {
            plan: plan.clone(),
            passed_over: vec![0; plan.rooms.len()],
            off_leader: vec![false; plan.rooms.len()],
        }
    }

    /// The best of some ways to lay a storey, the first without a flaw, and what it was laid by.
    pub(super) fn best(self, mut laid: impl FnMut(&Trial) -> Layout) -> (Layout, Trial) {
        let plan = self.plan.clone();
        let mut best = laid(&self);
        let mut trial = self;
        for other in WHERE_LACKING {
            let short = best.short_rooms();
            if short.is_empty() {
                break;
            }
            let Some(changed) = trial.with(other, &best, &short) else { continue };
            let next = laid(&changed);
            if next.lacking() < best.lacking()
                && next.beyond_help() <= best.beyond_help()
                && next.unheld.len() <= best.unheld.len()
            {
                (best, trial) = (next, changed);
            }
        }
        let mut flaws = Flaws::of(&best, &plan);
        for other in WHERE_FLAWED {
            let is_flawed = match other {
                Other::LeadersApart(_) => !flaws.near.is_empty(),
                _ => !flaws.rooms.is_empty(),
            };
            if !is_flawed || !best.short_rooms().is_empty() {
                continue;
            }
            let Some(changed) = trial.with(other, &best, &flaws.rooms) else { continue };
            let next = laid(&changed);
            let left = Flaws::of(&next, &plan);
            let keeps = next.unheld.len() <= best.unheld.len();
            if keeps && next.lacking() <= best.lacking() && left.weight < flaws.weight - LEAST_GAIN
            {
                (best, trial, flaws) = (next, changed, left);
            }
        }
        best.near = flaws.near;
        (best, trial)
    }

    /// The same with something else for some rooms; nothing if all stays.
    fn with(&self, other: Other, layout: &Layout, rooms: &[usize]) -> Option<Trial> {
        let mut trial = self.clone();
        if let Other::LeadersApart(factor) = other {
            trial.plan.leader_gap_m *= factor;
        }
        let told = || layout.loops.iter().map(|l| l.room);
        let loops = |room: usize| {
            told().chain(layout.refusals.iter().map(|r| r.room)).filter(|r| *r == room).count()
        };
        for &room in rooms {
            let given = trial.plan.rooms.get_mut(room)?;
            match other {
                Other::Rows if given.pattern == Pattern::Auto => {
                    given.pattern = Pattern::Serpentine;
                }
                Other::WiderBand => given.widen_band(),
                Other::OffLeader if given.tube.bend_radius_m > WIDE_BENDS * given.spacing_m => {
                    trial.off_leader[room] = true;
                }
                Other::Wider(by_m) => given.tube.bend_radius_m += by_m,
                Other::NextCut if loops(room) > 1 => trial.passed_over[room] += 1,
                Other::OneMore if given.loops.is_none() => given.least_loops = loops(room) + 1,
                _ => {}
            }
        }
        (trial != *self).then_some(trial)
    }
}

impl Room {
    /// Sets the strands of a dense band so far apart that its rows turn side by side.
    fn widen_band(&mut self) {
        if let Pattern::Band { spacing_m, .. } = &mut self.pattern {
            let beside_m = self.tube.bend_radius_m + BULBS_APART_M / 2.0;
            *spacing_m = spacing_m.max(beside_m.min(self.spacing_m));
        }
    }
}

impl Layout {
    /// Number of loops and rooms that are lacking; floor that leaders heat is not.
    fn lacking(&self) -> usize {
        self.refusals.iter().filter(|r| r.reason != Reason::HeatedByLeaders).count()
    }

    /// Those of them that other choices cannot mend.
    fn beyond_help(&self) -> usize {
        self.lacking() - self.refusals.iter().filter(|r| may_be_mended(&r.reason)).count()
    }

    /// Rooms that lack a loop which other choices may bring, each once.
    fn short_rooms(&self) -> Vec<usize> {
        let short = self.refusals.iter().filter(|r| may_be_mended(&r.reason));
        let mut rooms: Vec<usize> = short.map(|r| r.room).collect();
        rooms.sort_unstable();
        rooms.dedup();
        rooms
    }
}

/// Whether a loop may be had by other choices.
fn may_be_mended(reason: &Reason) -> bool {
    matches!(
        reason,
        Reason::BendTooTight { .. }
            | Reason::OverLimit { .. }
            | Reason::NoLayout
            | Reason::EntryTooNarrow
    )
}
