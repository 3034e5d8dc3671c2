//! Laying a storey again by other free choices where a loop would have to be withheld.
//!
//! A small change of one choice makes strands lie otherwise from there on, and a bend that
//! found no room finds it elsewhere. So what nobody holds is chosen otherwise for the rooms
//! that lack a loop, one thing after the other, until none does. A storey that lacks none is
//! laid once.

use super::layout::{Layout, Reason};
use super::plan::{Pattern, Plan};

/// A plan with what is chosen for it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Trial {
    pub(super) plan: Plan,
    /// Ways of cutting its floor that are passed over, by room.
    pub(super) passed_over: Vec<usize>,
}

/// Something chosen otherwise for the rooms that lack a loop.
#[derive(Clone, Copy, Debug)]
enum Other {
    /// Rows, where the pattern is open.
    Rows,
    /// Bends wider than the tube asks for, metres.
    Wider(f64),
    /// The next way of cutting a floor that is shared.
    NextCut,
    /// All leaders farther apart, as a factor of the least gap.
    LeadersApart(f64),
    /// One loop more, where the number is open.
    OneMore,
}

/// What is tried in turn; what lessened the loops lacking stays when the next is tried.
const OTHERS: [Other; 8] = [
    Other::Rows,
    Other::Wider(0.002),
    Other::NextCut,
    Other::LeadersApart(1.1),
    Other::OneMore,
    Other::Wider(0.005),
    Other::LeadersApart(1.25),
    Other::NextCut,
];

impl Trial {
    pub(super) fn of(plan: &Plan) -> Trial {
        Trial { plan: plan.clone(), passed_over: vec![0; plan.rooms.len()] }
    }

    /// The best of some ways to lay a storey, the first that lacks nothing, and what it was laid by.
    pub(super) fn best(self, mut laid: impl FnMut(&Trial) -> Layout) -> (Layout, Trial) {
        let mut best = laid(&self);
        let mut trial = self;
        for other in OTHERS {
            let Some(changed) = trial.with(other, &best) else { continue };
            let next = laid(&changed);
            if next.lacking() < best.lacking() && next.beyond_help() <= best.beyond_help() {
                (best, trial) = (next, changed);
            }
        }
        (best, trial)
    }

    /// The same with something else for the rooms that lack a loop; nothing if all stays.
    fn with(&self, other: Other, layout: &Layout) -> Option<Trial> {
        let mut trial = self.clone();
        for room in layout.short_rooms() {
            let given = trial.plan.rooms.get_mut(room)?;
            match other {
                Other::Rows if given.pattern == Pattern::Auto => {
                    given.pattern = Pattern::Serpentine;
                }
                Other::Wider(by_m) => given.tube.bend_radius_m += by_m,
                Other::NextCut => trial.passed_over[room] += 1,
                Other::LeadersApart(factor) => {
                    trial.plan.leader_gap_m = self.plan.leader_gap_m * factor;
                }
                Other::OneMore if given.loops.is_none() => {
                    let is_here = |told: &usize| *told == room;
                    let loops = layout.loops.iter().map(|l| l.room).filter(is_here).count();
                    let lacking = layout.refusals.iter().map(|r| r.room).filter(is_here).count();
                    given.least_loops = loops + lacking + 1;
                }
                Other::Rows | Other::OneMore => {}
            }
        }
        (trial != *self).then_some(trial)
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
    matches!(reason, Reason::BendTooTight { .. } | Reason::NoLayout | Reason::OverLimit { .. })
}
