//! What the finished design is held against, and what would mend it.

mod floors;
mod loops;
pub(crate) mod mends;
mod water;

use crate::Design;
use crate::balance::Balance;
use crate::coils::{self, LaidLength};
use crate::emitters::{Choice, Emitters};
use crate::envelope::Envelope;
use crate::figure::How;
use crate::flow::Flows;
use crate::loops::TubeLoop;
use crate::words::Words;
use job::{Finding, Job, Severity};

/// A finished design before its findings.
pub(crate) struct Case<'a> {
    pub(crate) job: &'a Job,
    pub(crate) envelope: &'a Envelope,
    pub(crate) choice: &'a Choice,
    pub(crate) emitters: &'a Emitters,
    pub(crate) loops: &'a [TubeLoop],
    pub(crate) laid: &'a [LaidLength],
    pub(crate) flows: &'a Flows,
    pub(crate) balance: Balance,
}

impl Case<'_> {
    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }
}

/// All findings of a design, in the order of the stages.
pub(crate) fn judge(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    floors::judge(case, &mut findings);
    loops::judge(case, &mut findings);
    coils::judge(case.job, case.loops, case.laid, &mut findings);
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

/// Figures whose laws were used outside the range in which they hold: each trouble once.
pub(crate) fn out_of_range(design: &Design) -> Vec<Finding> {
    let mut told: Vec<(String, Vec<String>)> = Vec::new();
    for (path, work) in design.figures() {
        let How::Law { out_of_range, .. } = &work.how else { continue };
        for words in out_of_range {
            match told.iter_mut().find(|(known, _)| known == words) {
                Some((_, paths)) => paths.push(path.clone()),
                None => told.push((words.clone(), vec![path.clone()])),
            }
        }
    }
    let finding = |(words, paths): (String, Vec<String>)| {
        let more = match paths.len() {
            1 => String::new(),
            many => format!(" and {} more", many - 1),
        };
        let (subject, name) = paths[0].rsplit_once('.').unwrap_or(("design", &paths[0]));
        let name = name.replace('_', " ");
        Finding::new(
            Severity::Warn,
            "outside-law",
            subject,
            format!("its {name}{more} is an estimate: {words}"),
            "take it with care; nothing published covers this case",
        )
    };
    told.into_iter().map(finding).collect()
}
