//! Edits of the job text that keep its comments and order.

mod place;
mod rename;
mod written;

use crate::decision::Place;
use crate::path;
use crate::schema;
use crate::tree::{self, Table};
use place::Spot;

/// One change of the text.
///
/// ```
/// use job::Edit;
/// let text = "[room.bath]\nspacing = \"6 in\"  # promised\n";
/// let edit = Edit::Set { path: "room.bath.spacing".into(), value: "9 in".into() };
/// assert_eq!(edit.apply(text).unwrap(), "[room.bath]\nspacing = \"9 in\"  # promised\n");
/// ```
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Sets a key, making its table if there is none: `room.kitchen.spacing` to `"6 in"`.
    Set {
        /// Dotted path of the key.
        path: String,
        /// The value as it is to stand in the text, without TOML quoting.
        value: String,
    },
    /// Takes a key away, which opens a decision; or a table with all that is below it.
    Unset {
        /// Dotted path of the key.
        path: String,
    },
    /// Gives a key another name and keeps its value and its comments.
    RenameKey {
        /// Dotted path of the key or table: `room.kitchen.spacng`.
        path: String,
        /// Its last name as it shall be.
        to: String,
    },
    /// Renames a keyed table and all references to it.
    Rename {
        /// The kind of table: `room`.
        table: String,
        /// The key it has.
        from: String,
        /// The key it shall have.
        to: String,
    },
}

/// Why an edit cannot be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EditError {
    /// What is wrong and what to do, in lower case.
    pub message: String,
    /// Where in the text, if it is the text that is wrong.
    pub place: Option<Place>,
}

impl std::fmt::Display for EditError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for EditError {}

fn error<T>(message: impl Into<String>) -> Result<T, EditError> {
    Err(EditError { message: message.into(), place: None })
}

/// Applies edits to a text, one after the other.
///
/// Only the lines that an edit is about change; comments, order, blank lines and quoting of all
/// others stay as they are, byte for byte. All edits are made or none.
pub fn apply(text: &str, edits: &[Edit]) -> Result<String, EditError> {
    edits.iter().try_fold(text.to_owned(), |text, edit| edit.apply(&text))
}

impl Edit {
    /// The text with this change made.
    ///
    /// # Errors
    ///
    /// When the text cannot be read as TOML, and when there is nothing at the path to change.
    pub fn apply(&self, text: &str) -> Result<String, EditError> {
        let table = readable(text)?;
        let splices = match self {
            Edit::Set { path, value } => vec![set(text, &table, &keys(path)?, value)?],
            Edit::Unset { path } => unset(text, &table, &keys(path)?)?,
            Edit::RenameKey { path, to } => rename::key(text, &table, &keys(path)?, to)?,
            Edit::Rename { table: kind, from, to } => rename::table(text, &table, kind, from, to)?,
        };
        let edited = spliced(text, splices);
        // What cannot be read again is no edit: better no change than a broken file.
        match tree::parse(&edited).1.is_empty() {
            true => Ok(edited),
            false => error("the edit would break the file; change it by hand"),
        }
    }
}

/// The tree of a text that has no trouble at all.
fn readable(text: &str) -> Result<Table, EditError> {
    if text.len() > crate::read::TEXT_MOST {
        return error("the file is too large to be edited");
    }
    let (table, troubles) = tree::parse(text);
    match troubles.first() {
        None => Ok(table),
        Some(trouble) => {
            let finding = crate::read::syntax_finding(text, trouble);
            let message = format!("{}: {}, then edit again", finding.message, finding.advice);
            Err(EditError { message, place: Some(trouble.place) })
        }
    }
}

fn keys(path: &str) -> Result<Vec<String>, EditError> {
    match path::split(path) {
        Some(keys) => Ok(keys),
        None => error(format!("`{path}` is no path of a key, such as room.kitchen.spacing")),
    }
}

/// One stretch of the text and what takes its place.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Splice {
    place: Place,
    with: String,
}

fn spliced(text: &str, mut splices: Vec<Splice>) -> String {
    splices.sort();
    splices.dedup();
    let mut out = text.to_owned();
    for splice in splices.iter().rev() {
        out.replace_range(splice.place.start..splice.place.end, &splice.with);
    }
    out
}

fn set(text: &str, table: &Table, keys: &[String], value: &str) -> Result<Splice, EditError> {
    let row = schema::row_of_path(keys);
    let value = written::value(value, row);
    match place::find(table, keys) {
        Spot::Value(entry) if matches!(entry.node.kind, tree::Kind::Table(_)) => {
            error(format!("{} is a table, not a key with a value", path::join(keys)))
        }
        Spot::Value(entry) => Ok(Splice { place: entry.node.place, with: value }),
        Spot::Blocked(key) => error(format!("{key} has a value and cannot hold other keys")),
        Spot::Table { table, entry, missing } => {
            place::new_key(text, table, entry, keys, missing, &value)
        }
    }
}

fn unset(text: &str, table: &Table, keys: &[String]) -> Result<Vec<Splice>, EditError> {
    match place::find(table, keys) {
        Spot::Value(entry) => place::removal(text, table, entry),
        _ => error(format!("there is no {} to take away", path::join(keys))),
    }
}
