//! Edits that mend, each tried on paper before it is offered.

use super::Case;
use crate::emitters::{Floor, supply_for};
use crate::figure::{Figure, How};
use job::{Edit, Mend, Promise};
use quantity::{Length, Quantity, System, decimal, unit};

/// A length as it is to stand in the text: exact in one of the two systems.
pub(super) fn spacing_text(metres: f64, first: System) -> String {
    let inches = unit::INCH.from_si(metres);
    let millimetres = metres * 1000.0;
    let whole = |number: f64| (number - number.round()).abs() < 1e-6;
    let us = format!("{} in", decimal(inches, 3).trim_end_matches('0').trim_end_matches('.'));
    let si = format!("{} mm", decimal(millimetres, 3).trim_end_matches('0').trim_end_matches('.'));
    match (first, whole(inches), whole(millimetres)) {
        (_, true, false) | (System::Us, true, _) => us,
        _ => si,
    }
}

/// A closer spacing for a floor that falls short at the supply there is.
pub(super) fn closer_spacing(case: &Case<'_>, floor: &Floor) -> Option<Mend> {
    let supply_k = case.choice.supply.as_ref()?.value.si();
    let now_m = floor.spacing.value.si();
    let closer: Vec<Length> = closer_than(case, now_m);
    let serves = |spacing: &&Length| {
        supply_with(case, floor, spacing.si()).is_some_and(|needed_k| needed_k <= supply_k)
    };
    let (spacing, promise) = match closer.iter().find(serves) {
        Some(spacing) => (*spacing, Promise::Goes),
        None => (*closer.last()?, Promise::Lessens),
    };
    Some(hold_spacing(case, &floor.room, spacing, promise))
}

/// Spacings of the rule set below this one, widest first.
pub(super) fn closer_than(case: &Case<'_>, metres: f64) -> Vec<Length> {
    let spacings = &case.job.rules.spacings.value;
    spacings.iter().copied().filter(|spacing| spacing.si() < metres - 1e-6).collect()
}

/// Supply temperature that a floor would need at a spacing, leaders' heat as settled.
pub(super) fn supply_with(case: &Case<'_>, floor: &Floor, spacing_m: f64) -> Option<f64> {
    let spacing = Figure::<Length>::new("spacing", spacing_m, How::Decided(String::new()));
    let coefficient = floor.build_up.output_coefficient(&spacing).ok()?;
    let heated = case.emitters.floors.iter().find(|heated| heated.room == floor.room)?;
    let wanted = heated.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    Some(supply_for(wanted, coefficient.si(), floor.indoor.si(), case.choice.drop.si()))
}

pub(super) fn hold_spacing(case: &Case<'_>, room: &str, spacing: Length, promise: Promise) -> Mend {
    let value = spacing_text(spacing.si(), case.job.units.value);
    Mend {
        words: format!("closer spacing: {value} in {room}"),
        edits: vec![Edit::Set { path: format!("room.{room}.spacing"), value }],
        promise,
    }
}

/// Warmer supply for all floors, as warm as this one needs, if the floor's rule allows it.
pub(super) fn warmer_supply(case: &Case<'_>, needed_k: f64) -> Option<Mend> {
    let most_k = case.job.rules.supply_slab.value.si();
    if case.choice.supply.as_ref().is_some_and(|supply| needed_k <= supply.value.si()) {
        return None;
    }
    let celsius = (needed_k - 273.15 - 1e-6).ceil();
    if celsius + 273.15 > most_k + 1e-9 {
        return None;
    }
    let (shown, value) = match case.job.units.value {
        // A whole Fahrenheit degree that is no colder than needed.
        System::Us => {
            let fahrenheit = (unit::FAHRENHEIT.from_si(needed_k) - 1e-6).ceil();
            (format!("{fahrenheit} °F"), format!("{fahrenheit} F"))
        }
        System::Si => (format!("{celsius} °C"), format!("{celsius} C")),
    };
    Some(Mend {
        words: format!("warmer supply: {shown}"),
        edits: vec![Edit::Set { path: "heating.supply".to_owned(), value }],
        promise: Promise::Goes,
    })
}

/// More loops for a room.
pub(super) fn more_loops(room: &str, count: u32, promise: Promise) -> Mend {
    let words = match count {
        1 => format!("another loop: one in {room}"),
        _ => format!("another loop: {count} in {room}"),
    };
    Mend {
        words,
        edits: vec![Edit::Set { path: format!("room.{room}.loops"), value: count.to_string() }],
        promise,
    }
}
