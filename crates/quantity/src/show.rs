//! Printing quantities in trade and SI units.

use crate::measure::{Measure, System};
use crate::unit::{FOOT, INCH, MILLIMETRE, Unit};

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

/// An SI number in that unit, without its symbol.
pub fn number_in(si: f64, unit: &Unit) -> String {
    let number = unit.from_si(si);
    let decimals = match number.abs() {
        // A bare number may be a share or a Reynolds number: four figures or so of either.
        large if unit.symbol.is_empty() && large >= 100.0 => 0,
        middling if unit.symbol.is_empty() && middling >= 10.0 => 1,
        _ => unit.decimals,
    };
    let text = decimal(number, decimals);
    if *unit == INCH || *unit == MILLIMETRE {
        // Small lengths are mostly whole: 12 in, not 12.00 in.
        let short = text.trim_end_matches('0').trim_end_matches('.');
        // A bore is rough by thousandths of a millimetre.
        let tiny = short.trim_start_matches('-') == "0" && number != 0.0;
        let fine = decimal(number, 5);
        return if tiny { fine.trim_end_matches('0').to_owned() } else { short.to_owned() };
    }
    text
}

/// An SI number in that unit, with its symbol.
pub fn show_in(si: f64, unit: &Unit) -> String {
    let number = number_in(si, unit);
    match unit.symbol {
        "" => number,
        "%" | "°" => format!("{number}{}", unit.symbol),
        symbol => format!("{number} {symbol}"),
    }
}

/// An SI number in the unit that a person of that system expects.
///
/// Lengths below a foot stand in inches and millimetres.
pub fn show(si: f64, measure: Measure, system: System) -> String {
    show_in(si, unit_for(si, measure, system))
}

/// The unit that suits a number of that size.
fn unit_for(si: f64, measure: Measure, system: System) -> &'static Unit {
    let small = measure == Measure::Length && si != 0.0 && si.abs() < FOOT.scale;
    match (small, system) {
        (true, System::Us) => &INCH,
        (true, System::Si) => &MILLIMETRE,
        (false, _) => measure.shown_unit(system),
    }
}

/// An SI number in both systems, that of the job first: `74.0 ft (22.56 m)`.
pub fn show_both(si: f64, measure: Measure, first: System) -> String {
    let [one, other] = [first, first.other()].map(|system| unit_for(si, measure, system));
    if one == other {
        return show_in(si, one);
    }
    format!("{} ({})", show_in(si, one), show_in(si, other))
}
