//! Floors that the text leaves open: the best of those that the job allows.

use crate::Design;
use crate::memo::Memo;
use crate::price::{self, shown};
use crate::run::draft;
use crate::state::State;
use crate::words::Words;
use job::{Decided, Finding, Job, Place, Severity, Stated};
use quantity::{Length, Measure, Quantity, Temperature};
use std::borrow::Cow;
use std::cmp::Ordering;

/// Constructions tried for one floor at most.
const EACH_MOST: usize = 8;
/// Designs on trial for all floors at most.
const TRIALS_MOST: usize = 48;

/// How the construction of one room's floor was chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorChoice {
    /// The room's key.
    pub room: String,
    /// The construction, by key.
    pub floor: Decided<String>,
    /// What was tried for it, in the order of the text.
    pub tried: Vec<FloorTried>,
}

/// What the room would be with one construction.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorTried {
    /// The construction, by key.
    pub floor: String,
    /// Findings that stop the job.
    pub stops: usize,
    /// Findings about the room that ask for a look.
    pub warnings: usize,
    /// Tube that its area takes at the spacing chosen.
    pub tube: Option<Length>,
    /// How much higher the floor gets.
    pub height: Option<Length>,
    /// Water that the room needs.
    pub supply: Option<Temperature>,
    /// What floor and tube cost, in the job's own money; none where a rate is missing.
    pub cost: Option<f64>,
}

/// The job with every open floor chosen, and how that came about.
///
/// Each begins with the first that the text names, so that all are something while one is tried.
pub(crate) fn floored<'a>(
    job: Cow<'a, Job>,
    memo: &mut Memo,
    findings: &mut Vec<Finding>,
) -> (Cow<'a, Job>, Vec<FloorChoice>) {
    let mut floored = job;
    let open: Vec<usize> = (0..floored.rooms.len())
        .filter(|number| {
            let room = &floored.rooms[*number];
            room.floor.is_none() && !room.floor_among.is_empty()
        })
        .collect();
    let known: Vec<(usize, Vec<Stated<String>>)> = open
        .into_iter()
        .map(|number| (number, known(&floored, number, findings)))
        .filter(|(_, known)| !known.is_empty())
        .collect();
    for (number, known) in &known {
        floored.to_mut().rooms[*number].floor = known.first().cloned();
    }
    let mut left = TRIALS_MOST;
    let mut choices = Vec::new();
    for (number, known) in &known {
        let mut tried = Vec::new();
        for floor in known.iter().take(EACH_MOST) {
            if left == 0 {
                break;
            }
            left -= 1;
            let mut trial = floored.clone().into_owned();
            trial.rooms[*number].floor = Some(floor.clone());
            let design = draft(&trial, &State::default(), memo);
            tried.push(tried_with(&trial, *number, floor, &design));
        }
        let best = (0..tried.len()).min_by(|a, b| order(&tried[*a], &tried[*b])).unwrap_or(0);
        let chosen = known[best].clone();
        let why = why(&floored, &tried, best, known.len());
        choices.push(FloorChoice {
            room: floored.rooms[*number].key.clone(),
            floor: Decided::chosen(chosen.value.clone(), why),
            tried,
        });
        floored.to_mut().rooms[*number].floor = Some(chosen);
    }
    (floored, choices)
}

/// The constructions that a room names and the job knows; others are told.
fn known(job: &Job, number: usize, findings: &mut Vec<Finding>) -> Vec<Stated<String>> {
    let room = &job.rooms[number];
    let mut known = Vec::new();
    for named in &room.floor_among {
        if job.assembly(&named.value).is_some() {
            known.push(named.clone());
            continue;
        }
        let message = format!("there is no construction or build-up `{}`", named.value);
        let advice = "write the key of an assembly, or of a build-up in docs/build-ups.md";
        let subject = format!("room.{}.floor_among", room.key);
        let finding = Finding::new(Severity::Warn, "unknown-reference", subject, message, advice);
        findings.push(finding.at(Some(named.place)));
    }
    known
}

fn tried_with(job: &Job, number: usize, floor: &Stated<String>, design: &Design) -> FloorTried {
    let room = &job.rooms[number].key;
    let subject = format!("room.{room}");
    let heated = design.emitters.floors.iter().find(|it| it.room == *room);
    let built = design.build_ups.iter().find(|it| it.room == *room);
    let findings = design.findings.iter();
    let stops = findings.clone().filter(|finding| finding.severity == Severity::Stop);
    let warnings =
        findings.filter(|finding| finding.severity == Severity::Warn && finding.subject == subject);
    // A floor that gives nothing that can be told is no floor.
    let untold = usize::from(heated.is_none());
    let tube = heated.map(|it| Length::from_si(it.area.si() / it.spacing.value.si()));
    let cost = heated
        .zip(tube)
        .and_then(|(it, tube)| price::of_floor(job, &floor.value, &it.tube, it.area.value, tube));
    FloorTried {
        floor: floor.value.clone(),
        stops: stops.count() + untold,
        warnings: warnings.count(),
        tube,
        height: built.and_then(|it| it.height.as_ref()).map(|height| height.value),
        supply: heated.map(|it| it.supply_needed.value),
        cost,
    }
}

/// Fewest stops, then warnings, then least cost where all costs are known, else least tube, height and
/// supply.
fn order(a: &FloorTried, b: &FloorTried) -> Ordering {
    let si = |length: &Option<Length>| length.map_or(f64::INFINITY, Quantity::si);
    let supply = |it: &FloorTried| it.supply.map_or(f64::INFINITY, Quantity::si);
    let costs = match (a.cost, b.cost) {
        (Some(a), Some(b)) => a.total_cmp(&b),
        _ => Ordering::Equal,
    };
    (a.stops, a.warnings)
        .cmp(&(b.stops, b.warnings))
        .then(costs)
        // Tube within a hundredth is the same tube.
        .then_with(|| (si(&a.tube) * 20.0).round().total_cmp(&(si(&b.tube) * 20.0).round()))
        .then_with(|| si(&a.height).total_cmp(&si(&b.height)))
        .then_with(|| supply(a).total_cmp(&supply(b)))
}

/// Why the best was taken, and what spoke against each other.
fn why(job: &Job, tried: &[FloorTried], best: usize, named: usize) -> String {
    let words = Words { first: job.units.value };
    let Some(taken) = tried.get(best) else { return "the first that the job names".to_owned() };
    if named == 1 {
        return "the only one that the job names".to_owned();
    }
    let mut parts = Vec::new();
    for (_, other) in tried.iter().enumerate().filter(|(number, _)| *number != best) {
        let against = if other.stops > taken.stops {
            "would stop the job".to_owned()
        } else if other.warnings > taken.warnings {
            "breaks more limits".to_owned()
        } else {
            against(words, other, taken)
        };
        parts.push(format!("{} {against}", other.floor));
    }
    if named > tried.len() {
        let left = named - tried.len();
        parts.push(format!(
            "{left} more were not tried: {EACH_MOST} for a room, {TRIALS_MOST} for the job are"
        ));
    }
    parts.join("; ")
}

/// What one construction takes more than the one taken.
fn against(words: Words, other: &FloorTried, taken: &FloorTried) -> String {
    if let (Some(other), Some(taken)) = (other.cost, taken.cost) {
        return format!("costs {} against {} with its tube", shown(other), shown(taken));
    }
    let more = |a: Option<Length>, b: Option<Length>| {
        a.zip(b).map(|(a, b)| a.si() - b.si()).filter(|more_m| *more_m > 1e-4)
    };
    if let Some(more_m) = more(other.tube, taken.tube).filter(|more_m| *more_m > 0.05) {
        return format!("takes {} more tube", words.run(more_m));
    }
    if let Some(more_m) = more(other.height, taken.height) {
        return format!("gets {} higher", words.small(more_m));
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

/// A floor held without a place in the text.
pub(crate) fn held(key: &str) -> Option<Stated<String>> {
    Some(Stated { value: key.to_owned(), place: Place::default() })
}
