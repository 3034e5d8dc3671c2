//! Another finish on a floor whose tube already lies: what it does.

use crate::Design;
use crate::emitters::HeatedFloor;
use crate::hold;
use crate::memo::Memo;
use crate::run::{draft, held_at};
use crate::state::State;
use job::{Finding, Job, Severity};
use quantity::Temperature;
use std::fmt;

/// What another finish does to a floor whose tube stays as it was designed.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishLater {
    /// The room's key.
    pub room: String,
    /// Finishes by catalogue key: the one of the text, and the other.
    pub finishes: [String; 2],
    /// The floor as designed.
    pub now: Underfoot,
    /// The other finish, with the water as it was.
    pub same_water: Underfoot,
    /// The other finish, with water as warm as the circuit then needs; the same where the text
    /// holds its supply.
    pub warmer_water: Underfoot,
    /// Whether the text holds the supply, so that it cannot follow.
    pub is_held: bool,
    /// What is to stop for or to look at then, and was not before.
    pub comes: Vec<Finding>,
    /// What was, and is no longer.
    pub goes: Vec<Finding>,
}

/// A floor under one finish and one water.
#[derive(Clone, Debug, PartialEq)]
pub struct Underfoot {
    /// Supply temperature of its circuit.
    pub supply: Option<Temperature>,
    /// The room's floor.
    pub floor: HeatedFloor,
}

/// Why nothing can be told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoFinish {
    /// There is no such room; the keys of those there are.
    Room(Vec<String>),
    /// The room has no heated floor that could be told.
    Floor,
    /// The catalogue has no such finish; the keys of those it has.
    Finish(Vec<String>),
    /// The room has that finish already.
    Same,
}

impl fmt::Display for NoFinish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoFinish::Room(known) => {
                write!(f, "there is no such room; the job has {}", known.join(", "))
            }
            NoFinish::Floor => {
                write!(f, "its floor has no heat that can be told: see what check says")
            }
            NoFinish::Finish(known) => {
                write!(f, "no such finish is known; there are {}", known.join(", "))
            }
            NoFinish::Same => write!(f, "the room has that finish already"),
        }
    }
}

impl std::error::Error for NoFinish {}

/// What another finish would do on the floor of a room, its tube as `day` laid it.
///
/// `day` is the design of the job. Spacing, loops and patterns are held as they were decided; only
/// water may move. Parts of the floor that have a finish of their own keep it.
///
/// # Errors
/// A [`NoFinish`] with what there is.
pub fn finish_later(
    job: &Job,
    day: &Design,
    room: &str,
    finish: &str,
    memo: &mut Memo,
) -> Result<FinishLater, NoFinish> {
    let number = job.rooms.iter().position(|own| own.key == room);
    let number = number
        .ok_or_else(|| NoFinish::Room(job.rooms.iter().map(|own| own.key.clone()).collect()))?;
    if job.catalogue.finish(finish).is_none() {
        let known = job.catalogue.finishes.iter().map(|own| own.key.clone());
        return Err(NoFinish::Finish(known.collect()));
    }
    let was = job.rooms[number].finish.value.clone();
    if was == finish {
        return Err(NoFinish::Same);
    }
    memo.begin();
    let mut following = held_at(job, day);
    let mut all_held = hold::applied(job, &day.hold_all(job)).unwrap_or_else(|| job.clone());
    let before = draft(&all_held, &State::default(), memo);
    for changed in [&mut following, &mut all_held] {
        changed.rooms[number].finish.value = finish.to_owned();
    }
    let same = draft(&all_held, &State::default(), memo);
    let warmer = draft(&following, &State::default(), memo);
    let underfoot = |design: &Design| {
        let floor = design.emitters.floors.iter().find(|floor| floor.room == *room)?;
        Some(Underfoot { supply: design.emitters.supply_of(floor), floor: floor.clone() })
    };
    let told = |design: &Design| underfoot(design).ok_or(NoFinish::Floor);
    let now = told(day)?;
    let circuit = now.floor.circuit.as_deref();
    Ok(FinishLater {
        room: room.to_owned(),
        finishes: [was, finish.to_owned()],
        is_held: day
            .emitters
            .waters
            .iter()
            .any(|water| water.circuit.as_deref() == circuit && water.supply.is_held()),
        comes: only_in(&warmer, &before),
        goes: only_in(&before, &warmer),
        same_water: told(&same)?,
        warmer_water: told(&warmer)?,
        now,
    })
}

/// Findings to stop for or to look at that another design does not have.
fn only_in(design: &Design, other: &Design) -> Vec<Finding> {
    let counts = |finding: &&Finding| finding.severity != Severity::Note;
    let has = |finding: &Finding| {
        other
            .findings
            .iter()
            .filter(counts)
            .any(|own| own.kind == finding.kind && own.subject == finding.subject)
    };
    let own = design.findings.iter().filter(counts).filter(|own| !has(own));
    // Places and mends are those of a text in which all is held, which nobody wrote.
    own.map(|own| Finding { place: None, mends: Vec::new(), ..own.clone() }).collect()
}
