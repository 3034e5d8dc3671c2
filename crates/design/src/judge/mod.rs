//! What the finished design is held against, and what would mend it.

mod floors;
mod loops;
mod mends;
mod water;

use crate::balance::Balance;
use crate::emitters::{Choice, Emitters};
use crate::flow::Flows;
use crate::loops::{Layer, TubeLoop};
use crate::memo::Memo;
use crate::words::Words;
use job::{Finding, Job, Severity};

/// A finished design before its findings.
pub(crate) struct Case<'a> {
    pub(crate) job: &'a Job,
    pub(crate) layer: &'a Layer<'a>,
    pub(crate) choice: &'a Choice,
    pub(crate) emitters: &'a Emitters,
    pub(crate) loops: &'a [TubeLoop],
    pub(crate) flows: &'a Flows,
    pub(crate) balance: Balance,
}

impl Case<'_> {
    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }
}

/// All findings of a design, in the order of the stages.
pub(crate) fn judge(case: &Case<'_>, memo: &mut Memo) -> Vec<Finding> {
    let mut findings = Vec::new();
    floors::judge(case, &mut findings);
    loops::judge(case, memo, &mut findings);
    water::judge(case, &mut findings);
    if !case.balance.settled {
        let message = format!(
            "flows and temperatures did not settle in {} rounds; heats still change by {:.1} W",
            case.balance.rounds, case.balance.last_change_w
        );
        let advice = "look for a room that is barely warmer than its water";
        findings.push(Finding::new(Severity::Stop, "not-settled", "design", message, advice));
    }
    findings
}
