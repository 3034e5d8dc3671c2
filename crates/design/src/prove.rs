//! Mends are proven before they are offered: each is applied to the job and designed again.

use crate::Design;
use crate::hold;
use crate::memo::Memo;
use crate::run::draft;
use crate::state::State;
use job::{Finding, Job, Mend, Promise, Severity};

/// Designs on trial at most, for a house of a few rooms; fewer for a large one.
const TRIALS_MOST: usize = 32;
/// Rooms up to which all trials are made.
const ROOMS_FEW: usize = 12;

/// Keeps of each finding's candidate mends those that do what they say, one of each kind.
///
/// Candidates of a kind (the words before the colon) stand in the order in which a tradesman would
/// try them: the first that makes the finding go is kept, else the one that lessens it most. A
/// mend that would stop the job elsewhere is none.
pub(crate) fn prove(job: &Job, design: &mut Design, memo: &mut Memo) {
    let mut left = TRIALS_MOST * ROOMS_FEW / job.rooms.len().max(ROOMS_FEW);
    let mut findings = std::mem::take(&mut design.findings);
    let before = Before { stops: stops(&findings), floors: design.emitters.floors.len() };
    for finding in &mut findings {
        let candidates = std::mem::take(&mut finding.mends);
        let mut kinds: Vec<&str> = candidates.iter().map(kind).collect();
        kinds.dedup();
        for wanted in kinds {
            let of_kind = candidates.iter().filter(|mend| kind(mend) == wanted);
            let best = before.best(job, finding, of_kind, memo, &mut left);
            finding.mends.extend(best);
        }
    }
    design.findings = findings;
}

fn kind(mend: &Mend) -> &str {
    mend.words.split(':').next().unwrap_or("")
}

/// What a mend must not make worse.
struct Before {
    stops: usize,
    floors: usize,
}

impl Before {
    fn best<'a>(
        &self,
        job: &Job,
        finding: &Finding,
        candidates: impl Iterator<Item = &'a Mend>,
        memo: &mut Memo,
        left: &mut usize,
    ) -> Option<Mend> {
        let mut best: Option<(f64, Mend)> = None;
        for mend in candidates {
            if *left == 0 {
                break;
            }
            *left -= 1;
            let Some(changed) = hold::applied(job, &mend.edits) else { continue };
            let after = draft(&changed, &State::default(), memo);
            let worse =
                stops(&after.findings) > self.stops || after.emitters.floors.len() < self.floors;
            if worse {
                continue;
            }
            let same =
                |other: &&Finding| other.kind == finding.kind && other.subject == finding.subject;
            match after.findings.iter().find(same) {
                None => return Some(Mend { promise: Promise::Goes, ..mend.clone() }),
                Some(stayed) => {
                    let (Some(now), Some(was)) = (stayed.amount, finding.amount) else { continue };
                    let least = best.as_ref().map_or(was, |(least, _)| *least);
                    // By a hundredth at least, or it is not worth the trouble.
                    if now < least.min(0.99 * was) {
                        best = Some((now, Mend { promise: Promise::Lessens, ..mend.clone() }));
                    }
                }
            }
        }
        best.map(|(_, mend)| mend)
    }
}

fn stops(findings: &[Finding]) -> usize {
    findings.iter().filter(|finding| finding.severity == Severity::Stop).count()
}
