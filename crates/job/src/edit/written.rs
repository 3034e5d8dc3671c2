//! Values as they stand in the text.

use crate::path;
use crate::schema::{Form, Row};
use crate::tree::{self, Kind};

/// A value in TOML: bare where the schema wants a number, a flag or a list, else in quotes.
pub(super) fn value(value: &str, row: Option<&Row>) -> String {
    let trimmed = value.trim();
    let fits = match (bare_kind(trimmed), row.map(|row| row.form)) {
        (Some(Kind::Bare(number)), Some(Form::Quantity(_) | Form::Count(..))) => {
            number.parse::<f64>().is_ok_and(f64::is_finite)
        }
        (Some(Kind::Flag(_)), Some(Form::Flag)) => true,
        (Some(Kind::List(_)), Some(form)) => matches!(
            form,
            Form::Outline
                | Form::Point
                | Form::Points
                | Form::Layers
                | Form::Quantities(..)
                | Form::Keys
                | Form::Loops
                | Form::Any
        ),
        _ => false,
    };
    if fits { trimmed.to_owned() } else { quoted(value) }
}

/// What a value is, if it stands as TOML on its own.
fn bare_kind(value: &str) -> Option<Kind> {
    let (table, troubles) = tree::parse(&format!("x = {value}"));
    let [entry] = <[tree::Entry; 1]>::try_from(table).ok()?;
    // What reaches over the end of the value, such as a comment, is no value.
    let whole = entry.node.place.end == value.len() + 4;
    (troubles.is_empty() && whole).then_some(entry.node.kind)
}

/// A text in the quotes that need fewest backslashes.
pub(super) fn quoted(value: &str) -> String {
    let plain = !value.contains('\'') && !value.chars().any(char::is_control);
    if value.contains(['"', '\\']) && plain { format!("'{value}'") } else { path::text(value) }
}
