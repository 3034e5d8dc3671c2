//! Renaming keys, and tables with all that refers to them.

use super::place::{self, Spot, all, line_start};
use super::{EditError, Splice, error, written};
use crate::decision::Place;
use crate::path;
use crate::schema::{self, FAR_SIDES, Form, Target};
use crate::tree::{Entry, Kind, Table};

/// Another name for a key or a table.
pub(super) fn key(
    text: &str,
    top: &Table,
    keys: &[String],
    to: &str,
) -> Result<Vec<Splice>, EditError> {
    let Spot::Value(entry) = place::find(top, keys) else {
        return error(format!("there is no {} to rename", path::join(keys)));
    };
    let mut renamed = keys.to_vec();
    if let Some(last) = renamed.last_mut() {
        to.clone_into(last);
    }
    check_name(to)?;
    // Two tables of one name flow together where none of their keys is written twice.
    if let Spot::Value(other) = place::find(top, &renamed)
        && (keys.len() > 1 || other.node.table().is_none() || entry.node.table().is_none())
    {
        return error(format!("{} is there already", path::join(&renamed)));
    }
    Ok(mentions(text, entry)
        .into_iter()
        .map(|place| Splice { place, with: path::quoted(to) })
        .collect())
}

/// Another key for a keyed table, in its headings and in every reference to it.
pub(super) fn table(
    text: &str,
    top: &Table,
    kind: &str,
    from: &str,
    to: &str,
) -> Result<Vec<Splice>, EditError> {
    if !schema::table(kind).is_some_and(|table| table.keyed()) {
        return error(format!("there are no tables of the kind {kind}"));
    }
    let mut splices = key(text, top, &[kind.to_owned(), from.to_owned()], to)?;
    let renamed = Renamed { kind, from, to, bare: named_bare(top, kind, from) };
    for holder in top {
        let Some(table) = schema::table(&holder.key) else { continue };
        let Kind::Table(inner) = &holder.node.kind else { continue };
        let groups: Vec<&Table> = match table.keyed() {
            false => vec![inner],
            true => inner.iter().filter_map(|entry| entry.node.table()).collect(),
        };
        for entry in groups.into_iter().flatten() {
            splices.extend(reference(table.pattern, entry, &renamed));
        }
    }
    if kind == "room" {
        splices.extend(loop_tables(text, top, from, to)?);
    }
    Ok(splices)
}

/// The headings of a room's loops, laid or held, whose keys begin with that of the room.
fn loop_tables(text: &str, top: &Table, from: &str, to: &str) -> Result<Vec<Splice>, EditError> {
    let mut splices = Vec::new();
    for kind in ["laid", "loop"] {
        let tables = top.iter().filter(|entry| entry.key == kind);
        for entry in tables.filter_map(|entry| entry.node.table()).flatten() {
            if let Some(renamed) = of_room(&entry.key, from, to) {
                splices.extend(key(text, top, &[kind.to_owned(), entry.key.clone()], &renamed)?);
            }
        }
    }
    Ok(splices)
}

/// The key of a loop with the room's new key, if it is one of that room.
fn of_room(tube_loop: &str, from: &str, to: &str) -> Option<String> {
    let number = tube_loop.strip_prefix(from)?;
    number.starts_with('/').then(|| format!("{to}{number}"))
}

fn check_name(name: &str) -> Result<(), EditError> {
    match name.trim().is_empty() || name.len() > 200 {
        true => error("a name must have some letters, and not too many"),
        false => Ok(()),
    }
}

/// A table that gets another key.
struct Renamed<'a> {
    kind: &'a str,
    from: &'a str,
    to: &'a str,
    /// Whether a far side that is its bare key means it.
    bare: bool,
}

/// Whether a bare key as a far side means this table: words come first, then rooms, then spaces.
fn named_bare(top: &Table, kind: &str, key: &str) -> bool {
    let rooms = top.iter().find(|entry| entry.key == "room").and_then(|entry| entry.node.table());
    let is_room = rooms.is_some_and(|rooms| rooms.iter().any(|entry| entry.key == key));
    !FAR_SIDES.contains(&key) && (kind == "room" || !is_room)
}

/// The splices of a key that refers to the renamed table.
fn reference(pattern: &str, entry: &Entry, renamed: &Renamed<'_>) -> Vec<Splice> {
    let Some(row) = schema::row(pattern, &entry.key) else { return Vec::new() };
    let items = match &entry.node.kind {
        Kind::List(items) => items.as_slice(),
        _ => std::slice::from_ref(&entry.node),
    };
    let splices = items.iter().filter_map(|node| {
        let Kind::Text(value) = &node.kind else { return None };
        let with = referring(row.form, value, renamed)?;
        Some(Splice { place: node.place, with: written::quoted(&with) })
    });
    splices.collect()
}

/// The value with the new key, if it names the old one.
fn referring(form: Form, value: &str, renamed: &Renamed<'_>) -> Option<String> {
    let Renamed { kind, from, to, bare } = *renamed;
    match form {
        Form::Reference(Target::Table(target)) if target == kind && value == from => {
            Some(to.to_owned())
        }
        Form::Reference(Target::Floor) if kind == "assembly" && value == from => {
            Some(to.to_owned())
        }
        Form::Named(kinds) if kinds.contains(&kind) && value == from => Some(to.to_owned()),
        Form::Faces if matches!(kind, "room" | "space") => {
            let value = value.trim();
            let dotted = value.strip_prefix(kind).and_then(|rest| rest.strip_prefix('.'));
            match dotted {
                Some(key) if key.trim_matches('"') == from => Some(format!("{kind}.{to}")),
                // Written without its kind; with it from now on, so that the new name can be any.
                None if bare && value == from => Some(format!("{kind}.{to}")),
                _ => None,
            }
        }
        Form::Floors if kind == "assembly" && value.trim() == from => Some(to.to_owned()),
        Form::Loops if kind == "room" => of_room(value.trim(), from, to),
        Form::Layers if kind == "material" => in_layer(value, from, to),
        _ => None,
    }
}

/// A layer with a material's new key, if it names the old one, with joiners or with blanks.
fn in_layer(layer: &str, from: &str, to: &str) -> Option<String> {
    let blanks = from.replace(['_', '-'], " ");
    [from, blanks.as_str()].into_iter().find_map(|name| {
        let at = layer.find(name)?;
        let (before, behind) = (&layer[..at], &layer[at + name.len()..]);
        let whole = (before.is_empty() || before.ends_with(' '))
            && (behind.is_empty() || behind.starts_with([' ', ',']));
        whole.then(|| format!("{before}{to}{behind}"))
    })
}

/// Every place where a key is written: once in most texts, more in headings and dotted keys.
fn mentions(text: &str, entry: &Entry) -> Vec<Place> {
    let mut places = vec![entry.key_place];
    if let Some(table) = entry.node.table() {
        for below in all(table) {
            places.extend(named_before(text, below.key_place.start, &entry.key));
        }
    }
    places.extend(in_heading(text, entry));
    places.sort();
    places.dedup();
    places
}

/// The key in front of a dotted key: `kitchen` of `kitchen.name`.
fn named_before(text: &str, at: usize, key: &str) -> Option<Place> {
    let line = &text[line_start(text, at)..at];
    let mut rest = line.trim_end();
    loop {
        rest = rest.strip_suffix('.')?.trim_end();
        let spelt = spellings(key);
        let whole =
            |before: &str| before.is_empty() || before.ends_with(['.', '[', ' ', '\t', '{', ',']);
        let found = spelt
            .iter()
            .filter(|spelt| rest.ends_with(spelt.as_str()))
            .find(|spelt| whole(&rest[..rest.len() - spelt.len()]));
        let end = line_start(text, at) + rest.len();
        if let Some(spelt) = found {
            return Some(Place { start: end - spelt.len(), end });
        }
        let before = rest.rfind('.')?;
        rest = &rest[..=before];
    }
}

/// The key as the last name of its own heading.
fn in_heading(text: &str, entry: &Entry) -> Option<Place> {
    let Place { start, end } = entry.node.place;
    let heading = text.get(start..end)?.strip_prefix('[')?.trim_end_matches(']').trim_end();
    let end = start + 1 + heading.len();
    let spelt =
        spellings(&entry.key).into_iter().find(|spelt| heading.ends_with(spelt.as_str()))?;
    Some(Place { start: end - spelt.len(), end })
}

/// The ways to write a key.
fn spellings(key: &str) -> [String; 3] {
    [path::text(key), format!("'{key}'"), key.to_owned()]
}
