//! Tube that the text leaves open: the best of those that the job allows.

use crate::Design;
use crate::memo::Memo;
use crate::price::{Bill, shown};
use crate::run::draft;
use crate::state::State;
use crate::words::Words;
use job::{Decided, Decision, Finding, Job, Severity, Stated};
use quantity::{Length, Measure, Quantity, Temperature};
use std::borrow::Cow;
use std::cmp::Ordering;

/// Tubes tried at most: each is a whole design.
const TUBES_MOST: usize = 6;

/// How the tube of a job was chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeChoice {
    /// The tube, by catalogue key.
    pub tube: Decided<String>,
    /// What was tried, in the order of the text.
    pub tried: Vec<TubeTried>,
}

/// What the job would be with one tube.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeTried {
    /// The tube, by catalogue key.
    pub tube: String,
    /// Findings that stop the job.
    pub stops: usize,
    /// Findings that ask for a look.
    pub warnings: usize,
    /// All of it, from port to port.
    pub length: Length,
    /// Loops.
    pub loops: usize,
    /// Hottest supply.
    pub supply: Option<Temperature>,
    /// What tube and ports cost, in the job's own money; none where a rate is missing.
    pub cost: Option<f64>,
}

/// The job with its tube chosen, and how that came about; as it is where the text holds one, or
/// names none to choose among.
pub(crate) fn tubed<'a>(
    job: Cow<'a, Job>,
    memo: &mut Memo,
    findings: &mut Vec<Finding>,
) -> (Cow<'a, Job>, Option<TubeChoice>) {
    if !matches!(job.heating.tube, Decision::Open) {
        return (job, None);
    }
    let known = known(&job, findings);
    if known.is_empty() {
        return (job, None);
    }
    let with = |tube: &Stated<String>| {
        let mut trial = job.clone().into_owned();
        trial.heating.tube = Decision::Held(tube.clone());
        trial
    };
    let tried: Vec<TubeTried> = known
        .iter()
        .take(TUBES_MOST)
        .map(|tube| {
            let trial = with(tube);
            tried_with(&trial, &tube.value, &draft(&trial, &State::default(), memo))
        })
        .collect();
    let best = (0..tried.len()).min_by(|a, b| order(&tried[*a], &tried[*b])).unwrap_or(0);
    let why = why(&job, &tried, best, known.len());
    let tube = Decided::chosen(known[best].value.clone(), why);
    (Cow::Owned(with(&known[best])), Some(TubeChoice { tube, tried }))
}

/// The tubes that the text names and the catalogue has; others are told.
fn known(job: &Job, findings: &mut Vec<Finding>) -> Vec<Stated<String>> {
    let mut known = Vec::new();
    for named in &job.heating.tube_among {
        if job.catalogue.tube(&named.value).is_some() {
            known.push(named.clone());
            continue;
        }
        let message = format!("there is no tube `{}`", named.value);
        let advice = "write the key of a tube of the catalogue";
        let subject = "heating.tube_among";
        let finding = Finding::new(Severity::Warn, "unknown-reference", subject, message, advice);
        findings.push(finding.at(Some(named.place)));
    }
    known
}

fn tried_with(job: &Job, tube: &str, design: &Design) -> TubeTried {
    let count = |severity: Severity| {
        design.findings.iter().filter(|finding| finding.severity == severity).count()
    };
    let length_m = design.loops.iter().fold(0.0, |sum, own| sum + own.length.si());
    let bill = Bill { job, tube, length_m, loops: design.loops.len() };
    TubeTried {
        tube: tube.to_owned(),
        // A job without a loop is none.
        stops: count(Severity::Stop) + usize::from(design.loops.is_empty()),
        warnings: count(Severity::Warn),
        length: Length::from_si(length_m),
        loops: design.loops.len(),
        supply: design.emitters.hottest(),
        cost: bill.tube_and_ports(),
    }
}

/// Fewest stops, then warnings; then least cost where all costs are known, else least tube, loops and
/// supply.
fn order(a: &TubeTried, b: &TubeTried) -> Ordering {
    let costs = match (a.cost, b.cost) {
        (Some(a), Some(b)) => a.total_cmp(&b),
        _ => Ordering::Equal,
    };
    let supply = |it: &TubeTried| it.supply.map_or(f64::INFINITY, Quantity::si);
    (a.stops, a.warnings)
        .cmp(&(b.stops, b.warnings))
        .then(costs)
        // Tube within a metre is the same tube.
        .then_with(|| a.length.si().round().total_cmp(&b.length.si().round()))
        .then_with(|| a.loops.cmp(&b.loops))
        .then_with(|| supply(a).total_cmp(&supply(b)))
}

/// Why the best was taken, and what spoke against each other.
fn why(job: &Job, tried: &[TubeTried], best: usize, named: usize) -> String {
    let words = Words { first: job.units.value };
    let Some(taken) = tried.get(best) else { return "the first that the job names".to_owned() };
    if named == 1 {
        return "the only one that the job names".to_owned();
    }
    let others = tried.iter().enumerate().filter(|(number, _)| *number != best);
    let mut parts: Vec<String> = others
        .map(|(_, other)| format!("{} {}", other.tube, against(words, other, taken)))
        .collect();
    if named > tried.len() {
        parts.push(format!("{} more were not tried, {TUBES_MOST} are", named - tried.len()));
    }
    parts.join("; ")
}

fn against(words: Words, other: &TubeTried, taken: &TubeTried) -> String {
    if other.stops > taken.stops {
        return "would stop the job".to_owned();
    }
    if other.warnings > taken.warnings {
        return "breaks more limits".to_owned();
    }
    if let (Some(other), Some(taken)) = (other.cost, taken.cost) {
        return format!("costs {} against {} for tube and ports", shown(other), shown(taken));
    }
    let more_m = other.length.si() - taken.length.si();
    if more_m >= 1.0 {
        return format!("takes {} more tube", words.run(more_m));
    }
    if other.loops > taken.loops {
        return format!("takes {} loops against {}", other.loops, taken.loops);
    }
    let warmer = other.supply.zip(taken.supply).map(|(a, b)| a.si() - b.si());
    match warmer.filter(|kelvin| *kelvin > 0.05) {
        Some(kelvin) => {
            let warmer = words.both(kelvin, Measure::TemperatureDifference);
            format!("needs water {warmer} warmer")
        }
        None => "is no better".to_owned(),
    }
}
