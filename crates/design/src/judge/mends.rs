//! Candidate mends. Each is designed on trial before it is offered.

use super::Case;
use crate::hold::{circuit_path, room_path};
use job::{Edit, Job, Mend, Promise};
use quantity::{Length, Measure, Quantity, System, decimal, unit};

/// Degrees by which a warmer supply is tried beyond what the law asks for.
const DEGREES_MORE: [f64; 3] = [0.0, 1.0, 3.0];
/// Loops tried beyond the count that the length asks for.
const LOOPS_MORE: u32 = 4;

/// A length as it is to stand in the text: exact in one of the two systems.
fn spacing_text(metres: f64, first: System) -> String {
    let inches = unit::INCH.from_si(metres);
    let millimetres = metres * 1000.0;
    let whole = |number: f64| (number - number.round()).abs() < 1e-6;
    let trimmed = |number: f64| {
        let text = decimal(number, 3);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    match (first, whole(inches), whole(millimetres)) {
        (_, true, false) | (System::Us, true, _) => format!("{} in", trimmed(inches)),
        _ => format!("{} mm", trimmed(millimetres)),
    }
}

/// Spacings of the rule set below this one, widest first.
pub(crate) fn closer_than(job: &Job, metres: f64) -> Vec<Length> {
    let spacings = &job.rules.spacings.value;
    spacings.iter().copied().filter(|spacing| spacing.si() < metres - 1e-6).collect()
}

/// Every closer spacing, widest first.
pub(crate) fn closer_spacings(job: &Job, room: &str, metres: f64) -> Vec<Mend> {
    let closer = closer_than(job, metres);
    closer.into_iter().map(|spacing| hold_spacing(job, room, "closer", spacing)).collect()
}

/// Every wider spacing, widest first.
pub(crate) fn wider_spacings(job: &Job, room: &str, metres: f64) -> Vec<Mend> {
    let spacings = job.rules.spacings.value.iter();
    let wider = spacings.copied().filter(|spacing| spacing.si() > metres + 1e-6);
    wider.map(|spacing| hold_spacing(job, room, "wider", spacing)).collect()
}

/// One spacing, held.
pub(crate) fn hold_spacing(job: &Job, room: &str, how: &str, spacing: Length) -> Mend {
    let value = spacing_text(spacing.si(), job.units.value);
    Mend {
        words: format!("{how} spacing: {value} in {room}"),
        edits: vec![Edit::Set { path: room_path(room, "spacing"), value }],
        promise: Promise::Lessens,
    }
}

/// Warmer supply for all floors: what one floor needs, or a little more, as far as it may be.
pub(super) fn warmer_supplies(case: &Case<'_>, circuit: Option<&str>, needed_k: f64) -> Vec<Mend> {
    let scale = Measure::Temperature.shown_unit(case.job.units.value);
    let letter = scale.symbol.trim_start_matches('°');
    let now_k = case.choice.supply_k(circuit).unwrap_or(0.0);
    let most_k = case.job.rules.supply_slab.value.si();
    let least = (scale.from_si(needed_k.max(now_k)) - 1e-6).ceil();
    DEGREES_MORE
        .into_iter()
        .map(|more| least + more)
        .filter(|degrees| {
            let kelvin = scale.to_si(*degrees);
            kelvin > now_k + 1e-6 && kelvin <= most_k + 1e-9
        })
        .map(|degrees| Mend {
            words: format!("warmer supply: {degrees} {}", scale.symbol),
            edits: vec![Edit::Set {
                path: supply_path(circuit),
                value: format!("{degrees} {letter}"),
            }],
            promise: Promise::Goes,
        })
        .collect()
}

/// Where the text holds the supply of a circuit.
fn supply_path(circuit: Option<&str>) -> String {
    circuit.map_or("heating.supply".to_owned(), circuit_path)
}

/// A held supply released, so that the design chooses it; none if it is open already.
pub(super) fn released_supply(case: &Case<'_>, circuit: Option<&str>) -> Option<Mend> {
    let own = case.job.circuits.iter().find(|own| Some(own.key.as_str()) == circuit);
    let held = own.map(|own| (supply_path(circuit), &own.supply));
    let heating = ("heating.supply".to_owned(), &case.job.heating.supply);
    let held = held.into_iter().chain([heating]).find(|(_, supply)| supply.held().is_some())?;
    Some(Mend {
        words: "cooler supply: leave it to the design".to_owned(),
        edits: vec![Edit::Unset { path: held.0 }],
        promise: Promise::Goes,
    })
}

/// More loops for a room, from a count upward.
pub(crate) fn more_loops(room: &str, from: u32) -> Vec<Mend> {
    let counts = from..=from + LOOPS_MORE;
    counts
        .map(|count| Mend {
            words: format!("another loop: {count} in {room}"),
            edits: vec![Edit::Set { path: room_path(room, "loops"), value: count.to_string() }],
            promise: Promise::Goes,
        })
        .collect()
}
