//! Feet, inches and fractions, as a tape shows them.

use crate::number::leading;
use crate::unit;

/// Reads the foot-inch forms of the trade; none if the text has another form.
///
/// Takes `12'6 1/2"`, `12'-6½`, `12' 6`, `12 ft 6-1/2 in`, `12-6 1/2` and `12-6-1/2`. In the forms
/// without signs, feet must be bare-numbered in feet, which `bare_feet` says. `text` is plain and
/// unsigned; the answer is in metres.
pub(crate) fn parse(text: &str, bare_feet: bool) -> Option<f64> {
    let (feet, rest) = signed_feet(text).or_else(|| bare_feet.then(|| dashed_feet(text))?)?;
    let rest = rest.trim_start_matches([' ', '-', ',']);
    let inches = if rest.is_empty() { 0.0 } else { inches(rest)? };
    Some(unit::FOOT.to_si(feet) + unit::INCH.to_si(inches))
}

fn signed_feet(text: &str) -> Option<(f64, &str)> {
    let (feet, rest) = leading(text)?;
    let rest = rest.trim_start();
    let word = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
    match rest[..word].to_ascii_lowercase().as_str() {
        "ft" | "feet" | "foot" => Some((feet, rest[word..].trim_start_matches('.'))),
        "" => rest.strip_prefix('\'').map(|rest| (feet, rest)),
        _ => None,
    }
}

/// `12-6`, `12-6 1/2`, `12 6`: whole feet, then at least whole inches under twelve.
fn dashed_feet(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit())?;
    let feet: f64 = text[..end].parse().ok()?;
    let rest = text[end..].strip_prefix(['-', ' '])?.trim_start();
    let (whole, tail) = leading(rest)?;
    // `12 1/2` is twelve and a half, not twelve feet and half an inch.
    let fraction_alone = whole < 1.0 && rest.contains('/');
    let ends_there = matches!(tail.trim(), "" | "\"");
    (!fraction_alone && whole < 12.0 && ends_there).then_some((feet, rest))
}

fn inches(text: &str) -> Option<f64> {
    let (inches, rest) = leading(text)?;
    let rest = rest.trim().trim_end_matches('.').to_ascii_lowercase();
    let named = matches!(rest.as_str(), "" | "\"" | "in" | "inch" | "inches");
    (named && inches < 12.0).then_some(inches)
}

/// A length in feet, inches and fractions: `12' 6 1/2"`.
///
/// Rounded to the nearest `1/denominator` inch; a denominator of 1, 2, 4, 8 or 16 is usual.
pub fn feet_inches(metres: f64, denominator: u32) -> String {
    let denominator = i64::from(denominator.clamp(1, 64));
    let parts = (unit::INCH.from_si(metres.abs()) * denominator as f64).round();
    if !parts.is_finite() || parts > 1e15 {
        return "–".to_owned();
    }
    let parts = parts as i64;
    let sign = if metres < 0.0 && parts > 0 { "-" } else { "" };
    let (feet, parts) = (parts / (12 * denominator), parts % (12 * denominator));
    let (inches, parts) = (parts / denominator, parts % denominator);
    let fraction = match parts {
        0 => String::new(),
        _ => {
            let common = common_divisor(parts, denominator);
            format!("{}/{}", parts / common, denominator / common)
        }
    };
    let inches = match (inches, fraction.is_empty()) {
        (0, false) => fraction,
        (_, false) => format!("{inches} {fraction}"),
        (_, true) => inches.to_string(),
    };
    if feet == 0 { format!("{sign}{inches}\"") } else { format!("{sign}{feet}' {inches}\"") }
}

fn common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common_divisor(b, a % b) }
}
