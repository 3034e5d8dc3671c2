//! Printing quantities in trade and SI units.

use crate::measure::{Measure, System};
use crate::unit::Unit;

/// A number with that many digits behind the point; never `-0`, a dash if not finite.
pub fn decimal(number: f64, decimals: usize) -> String {
    if !number.is_finite() {
        return "–".to_owned();
    }
    let text = format!("{number:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// An SI number in that unit, with its symbol.
pub fn show_in(si: f64, unit: &Unit) -> String {
    let number = decimal(unit.from_si(si), unit.decimals);
    match unit.symbol {
        "" => number,
        "%" | "°" => format!("{number}{}", unit.symbol),
        symbol => format!("{number} {symbol}"),
    }
}

/// An SI number in the unit that a person of that system expects.
pub fn show(si: f64, measure: Measure, system: System) -> String {
    show_in(si, measure.shown_unit(system))
}

/// An SI number in both systems, that of the job first: `74.0 ft (22.56 m)`.
pub fn show_both(si: f64, measure: Measure, first: System) -> String {
    let (one, other) = (measure.shown_unit(first), measure.shown_unit(first.other()));
    if one == other {
        return show_in(si, one);
    }
    format!("{} ({})", show_in(si, one), show_in(si, other))
}
