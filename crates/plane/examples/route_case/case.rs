//! What a case file asks for: embedded tube on a storey, tube in joist bays, or grooved boards.

use crate::{bays_case, boards_case, storey_case};
use plane::{Point, bays, boards, storey};
use serde_json::Value;

/// A case file as it stands.
pub(crate) struct Case {
    pub(crate) name: String,
    pub(crate) kind: Kind,
}

/// What is to be laid.
pub(crate) enum Kind {
    Storey(storey::Plan),
    Bays(bays::Floor),
    /// Boards of every pitch that may be taken, in the order of the file.
    Boards(Vec<boards::Floor>),
}

/// Reads a case from its text.
///
/// # Errors
/// What is missing or unusable, in words.
pub(crate) fn read(text: &str) -> Result<Case, String> {
    let value: Value = serde_json::from_str(text).map_err(|e| format!("not JSON: {e}"))?;
    let name = value["name"].as_str().unwrap_or("unnamed").to_string();
    let kind = if value["joists"].is_object() {
        Kind::Bays(bays_case::floor(&value)?)
    } else if value["boards"].is_object() {
        Kind::Boards(boards_case::floors(&value)?)
    } else {
        Kind::Storey(storey_case::plan(&value)?)
    };
    Ok(Case { name, kind })
}

/// The list under a key; empty where there is none.
pub(crate) fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[][..], Vec::as_slice)
}

pub(crate) fn ring(value: &Value) -> Result<Vec<Point>, String> {
    value.as_array().ok_or("no list of corners")?.iter().map(point).collect()
}

pub(crate) fn point(value: &Value) -> Result<Point, String> {
    match (value[0].as_f64(), value[1].as_f64()) {
        (Some(x), Some(y)) => Ok(Point::new(x, y)),
        _ => Err(format!("{value} is no place")),
    }
}
