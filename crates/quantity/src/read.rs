//! Reading what a person writes.

use crate::feet_inches;
use crate::measure::Measure;
use crate::number::{leading, plain};
use crate::types::Quantity;
use crate::unit::{self, Unit};

/// Why a text is no quantity of the kind asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// Nothing was written.
    Empty {
        /// What was asked for.
        measure: Measure,
    },
    /// No number at the start.
    NoNumber {
        /// What was asked for.
        measure: Measure,
        /// What was written.
        text: String,
    },
    /// A comma where a point is meant.
    DecimalComma {
        /// What was written.
        text: String,
    },
    /// The unit is none of this measure.
    UnknownUnit {
        /// What was asked for.
        measure: Measure,
        /// The unit as written.
        unit: String,
    },
}

impl std::fmt::Display for ReadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let examples = |measure: Measure| match measure {
            Measure::Length => "12'6 1/2, 12 ft 6-1/2 in, 3.8 m or 150 mm".to_owned(),
            Measure::AreaResistance => "R-19 or 3.3 m²K/W".to_owned(),
            _ => {
                let symbols: Vec<_> = measure.units().map(|u| u.symbol).collect();
                format!("a number with {}", symbols.join(", ").trim_end_matches(", "))
            }
        };
        match self {
            ReadError::Empty { measure } => {
                write!(f, "nothing written: write {}, {}", measure.name(), examples(*measure))
            }
            ReadError::NoNumber { measure, text } => {
                let short: String = text.chars().take(40).collect();
                write!(f, "`{short}` is not {}: write {}", measure.name(), examples(*measure))
            }
            ReadError::DecimalComma { text } => {
                let short: String = text.chars().take(40).collect();
                let point = short.replacen(',', ".", 1);
                write!(f, "`{short}` has a comma in its number: write {point}, with a point")
            }
            ReadError::UnknownUnit { measure, unit } => {
                let short: String = unit.chars().take(20).collect();
                write!(
                    f,
                    "`{short}` is no unit of {}: write {}",
                    measure.name().trim_start_matches("an ").trim_start_matches("a "),
                    examples(*measure)
                )
            }
        }
    }
}

impl std::error::Error for ReadError {}

/// Reads a quantity of that type; a bare number takes the unit `bare`.
pub fn read_as<Q: Quantity>(text: &str, bare: &Unit) -> Result<Q, ReadError> {
    read(text, Q::MEASURE, bare).map(Q::from_si)
}

/// Reads a text as that measure, in SI; a bare number takes the unit `bare`.
///
/// Takes the trade's forms: `12'6 1/2`, `12 ft 6-1/2 in`, `3/4 in`, `80 psi`, `-11 F`, `R-19`,
/// `U-0.30`, `1,200 ft`, with plain or typographic marks. The answer is always finite.
pub fn read(text: &str, measure: Measure, bare: &Unit) -> Result<f64, ReadError> {
    let plain = plain(text);
    if plain.is_empty() {
        return Err(ReadError::Empty { measure });
    }
    let no_number = || ReadError::NoNumber { measure, text: text.trim().to_owned() };
    if let Some(si) = labelled(&plain, measure) {
        return si.ok_or_else(no_number);
    }
    let (sign, unsigned) = match plain.strip_prefix(['-', '+']) {
        Some(rest) => (if plain.starts_with('-') { -1.0 } else { 1.0 }, rest.trim_start()),
        None => (1.0, plain.as_str()),
    };
    if measure == Measure::Length
        && let Some(metres) = feet_inches::parse(unsigned, *bare == unit::FOOT)
    {
        return finite(sign * metres).ok_or_else(no_number);
    }
    let (number, rest) = leading(unsigned).ok_or_else(no_number)?;
    let rest = rest.trim();
    if let Some(behind) = rest.strip_prefix(',') {
        let decimals = behind.starts_with(|c: char| c.is_ascii_digit());
        let text = text.trim().to_owned();
        return Err(if decimals { ReadError::DecimalComma { text } } else { no_number() });
    }
    let unit = match rest {
        "" => bare,
        _ => find(rest, measure)
            .ok_or_else(|| ReadError::UnknownUnit { measure, unit: rest.to_owned() })?,
    };
    finite(unit.to_si(sign * number)).ok_or_else(no_number)
}

/// The unit of that measure with this symbol or spelling.
fn find(text: &str, measure: Measure) -> Option<&'static Unit> {
    let squeezed = squeeze(text);
    measure.units().find(|unit| {
        squeeze(unit.symbol) == squeezed
            || unit.spellings.iter().any(|spelling| squeeze(spelling) == squeezed)
    })
}

/// Lower case, without blanks, degree signs, raised dots and a last full stop.
///
/// `MBH` and `mBh` are the same on a label, and no two units of one measure differ by case alone.
fn squeeze(text: &str) -> String {
    let plain: String = plain(text)
        .chars()
        .filter(|c| !matches!(c, ' ' | '°' | '·' | '*' | '(' | ')'))
        .flat_map(char::to_lowercase)
        .collect();
    plain.trim_end_matches('.').to_owned()
}

/// `R-19`, `RSI 3.3`, `U-0.30`: the label comes first. Outer none: no such label.
fn labelled(plain: &str, measure: Measure) -> Option<Option<f64>> {
    let labels: &[(&str, &Unit)] = match measure {
        Measure::AreaResistance => &[("rsi", &unit::R_SI), ("r", &unit::R_US)],
        Measure::Transmittance => &[("u", &unit::U_US)],
        _ => return None,
    };
    let lower = plain.to_ascii_lowercase();
    let (rest, unit) =
        labels.iter().find_map(|(label, unit)| Some((lower.strip_prefix(label)?, *unit)))?;
    let rest = rest.trim_start_matches(['-', ' ', '=']);
    let (number, rest) = match leading(rest) {
        Some(read) => read,
        None => return Some(None),
    };
    let unit = match rest.trim() {
        "" => Some(unit),
        other => find(other, measure),
    };
    Some(unit.and_then(|unit| finite(unit.to_si(number))))
}

fn finite(si: f64) -> Option<f64> {
    si.is_finite().then_some(si)
}
