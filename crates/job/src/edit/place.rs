//! Where in the text an edit goes.

use super::{EditError, Splice, error};
use crate::decision::Place;
use crate::path;
use crate::tree::{Entry, Kind, Table};

/// What stands at a path.
pub(super) enum Spot<'a> {
    /// The entry of the whole path.
    Value(&'a Entry),
    /// A key on the way that is no table.
    Blocked(String),
    /// The last table on the way, and how many keys of the path it lacks.
    Table {
        table: &'a Table,
        /// None for the top.
        entry: Option<&'a Entry>,
        missing: usize,
    },
}

pub(super) fn find<'a>(top: &'a Table, keys: &[String]) -> Spot<'a> {
    let mut table = top;
    let mut holder = None;
    for (depth, key) in keys.iter().enumerate() {
        let Some(entry) = table.iter().find(|entry| entry.key == *key) else {
            return Spot::Table { table, entry: holder, missing: keys.len() - depth };
        };
        if depth + 1 == keys.len() {
            return Spot::Value(entry);
        }
        match &entry.node.kind {
            Kind::Table(inner) => (table, holder) = (inner, Some(entry)),
            _ => return Spot::Blocked(path::join(&keys[..=depth])),
        }
    }
    Spot::Table { table, entry: holder, missing: 0 }
}

/// How a table is written.
#[derive(Clone, Copy, PartialEq)]
enum Style {
    /// `[room.kitchen]`
    Heading,
    /// `{ a = 1 }`
    Inline,
    /// Only named, in other headings or in dotted keys.
    Named,
}

fn style(text: &str, entry: &Entry) -> Style {
    match text.get(entry.node.place.start..entry.node.place.end) {
        Some(written) if written.starts_with('[') => Style::Heading,
        Some(written) if written.starts_with('{') => Style::Inline,
        _ => Style::Named,
    }
}

/// The splice that adds a key to the table it belongs to, which is made if need be.
pub(super) fn new_key(
    text: &str,
    table: &Table,
    entry: Option<&Entry>,
    keys: &[String],
    missing: usize,
    value: &str,
) -> Result<Splice, EditError> {
    let (heading, last) = keys.split_at(keys.len() - 1);
    let line = format!("{} = {value}", path::join(last));
    let end = newline(text);
    match entry {
        _ if missing == 0 => error("the path names nothing"),
        None if missing == 1 => Ok(top_line(text, table, &line)),
        Some(entry) if missing == 1 => match style(text, entry) {
            Style::Heading => Ok(below(text, entry, table, &line)),
            Style::Inline => Ok(inline(entry, table, &line)),
            Style::Named => match dotted_lines(text, table) {
                Some(last) => {
                    let prefix = dotted_prefix(text, last);
                    Ok(after_line(text, last.node.place.end, &format!("{prefix}{line}"), end))
                }
                None => Ok(new_table(text, table, heading, &line)),
            },
        },
        Some(entry) if style(text, entry) == Style::Inline => {
            let dotted = path::join(&keys[keys.len() - missing..]);
            Ok(inline(entry, table, &format!("{dotted} = {value}")))
        }
        _ => Ok(new_table(text, table, heading, &line)),
    }
}

/// The line end that the text uses.
fn newline(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// A line at the top, behind the other keys that stand there.
fn top_line(text: &str, table: &Table, line: &str) -> Splice {
    let end = newline(text);
    let first = table.iter().map(|entry| span(text, entry).start).min();
    let keys = table.iter().filter(|entry| !matches!(entry.node.kind, Kind::Table(_)));
    match keys.map(|entry| entry.node.place.end).max() {
        Some(last) => after_line(text, last, line, end),
        None => {
            let at = first.map_or(text.len(), |start| line_start(text, start));
            let before = if at > 0 && !text[..at].ends_with('\n') { end } else { "" };
            insert(at, format!("{before}{line}{end}"))
        }
    }
}

/// A line below a heading, behind the last key that stands there.
fn below(text: &str, entry: &Entry, table: &Table, line: &str) -> Splice {
    let last = own_lines(text, entry, table).map(|inner| inner.node.place.end).max();
    after_line(text, last.unwrap_or(entry.node.place.end), line, newline(text))
}

/// The keys of a table that stand below its own heading.
fn own_lines<'a>(
    text: &'a str,
    entry: &'a Entry,
    table: &'a Table,
) -> impl Iterator<Item = &'a Entry> + 'a {
    table.iter().filter(move |inner| {
        inner.node.place.start > entry.node.place.end
            && (!matches!(inner.node.kind, Kind::Table(_)) || style(text, inner) == Style::Inline)
    })
}

/// The last key of a table that is written with its path in front of it.
fn dotted_lines<'a>(text: &str, table: &'a Table) -> Option<&'a Entry> {
    let value = |entry: &&Entry| {
        !matches!(entry.node.kind, Kind::Table(_)) || style(text, entry) == Style::Inline
    };
    table.iter().filter(value).max_by_key(|entry| entry.node.place.end)
}

/// What stands in front of a dotted key on its line.
fn dotted_prefix<'a>(text: &'a str, entry: &Entry) -> &'a str {
    &text[line_start(text, entry.key_place.start)..entry.key_place.start]
}

fn inline(entry: &Entry, table: &Table, line: &str) -> Splice {
    match table.iter().map(|inner| inner.node.place.end).max() {
        Some(end) => insert(end, format!(", {line}")),
        None => insert(entry.node.place.start + 1, format!(" {line} ")),
    }
}

/// A new table, behind the last of its kind or at the end.
fn new_table(text: &str, siblings: &Table, heading: &[String], line: &str) -> Splice {
    let end = newline(text);
    let heading = format!("[{}]", path::join(heading));
    let beside = (heading.contains('.')).then(|| siblings.iter().map(last_end).max()).flatten();
    match beside {
        Some(last) => after_line(text, last, &format!("{end}{heading}{end}{line}"), end),
        None => {
            let break_before = match text {
                "" => "",
                text if text.ends_with('\n') => end,
                _ if end == "\n" => "\n\n",
                _ => "\r\n\r\n",
            };
            insert(text.len(), format!("{break_before}{heading}{end}{line}{end}"))
        }
    }
}

/// Where an entry ends, all that is below it included.
fn last_end(entry: &Entry) -> usize {
    let below = match &entry.node.kind {
        Kind::Table(table) => table.iter().map(last_end).max(),
        _ => None,
    };
    below.unwrap_or(0).max(entry.node.place.end)
}

fn insert(at: usize, with: String) -> Splice {
    Splice { place: Place { start: at, end: at }, with }
}

/// A line of its own behind the line that holds a byte.
fn after_line(text: &str, at: usize, line: &str, end: &str) -> Splice {
    match text[at..].find('\n') {
        Some(length) => insert(at + length + 1, format!("{line}{end}")),
        None => insert(text.len(), format!("{end}{line}{end}")),
    }
}

pub(super) fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |at| at + 1)
}

/// Where the line behind this byte begins.
fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |length| at + length + 1)
}

/// From the first byte of an entry to its last.
fn span(text: &str, entry: &Entry) -> Place {
    let start = match style(text, entry) {
        Style::Heading => entry.node.place.start,
        _ => entry.key_place.start,
    };
    Place { start, end: last_end(entry) }
}

/// The splices that take an entry away.
pub(super) fn removal(text: &str, top: &Table, entry: &Entry) -> Result<Vec<Splice>, EditError> {
    if matches!(entry.node.kind, Kind::Table(_)) && style(text, entry) != Style::Inline {
        return table_removal(text, top, entry);
    }
    if let Some(holder) = inline_holder(text, top, entry) {
        return Ok(vec![inline_removal(text, holder, entry)]);
    }
    let place = Place {
        start: line_start(text, entry.key_place.start),
        end: line_end(text, entry.node.place.end),
    };
    Ok(vec![Splice { place, with: String::new() }])
}

/// A table goes with its heading and its keys; only where nothing else stands between them.
fn table_removal(text: &str, top: &Table, entry: &Entry) -> Result<Vec<Splice>, EditError> {
    let place = span(text, entry);
    let foreign = all(top).into_iter().any(|other| {
        place.start <= other.key_place.start
            && other.key_place.end <= place.end
            && !holds(entry, other)
            && !holds(other, entry)
    });
    if foreign || style(text, entry) != Style::Heading {
        return error("the table is written in several places; take it away by hand");
    }
    let mut start = line_start(text, place.start);
    let end = line_end(text, place.end);
    // The blank line above goes too, so that no two are left.
    let above = text[..start].trim_end_matches([' ', '\t', '\r', '\n']);
    if text[end..].trim_start_matches([' ', '\t']).starts_with(['\n', '\r']) || end == text.len() {
        start = line_end(text, above.len()).min(start);
    }
    Ok(vec![Splice { place: Place { start, end }, with: String::new() }])
}

fn holds(entry: &Entry, other: &Entry) -> bool {
    std::ptr::eq(entry, other)
        || match &entry.node.kind {
            Kind::Table(table) => table.iter().any(|inner| holds(inner, other)),
            _ => false,
        }
}

/// Every entry of a tree.
pub(super) fn all(table: &Table) -> Vec<&Entry> {
    let mut entries = Vec::new();
    for entry in table {
        entries.push(entry);
        if let Kind::Table(inner) = &entry.node.kind {
            entries.extend(all(inner));
        }
    }
    entries
}

/// The inline table that an entry stands in.
fn inline_holder<'a>(text: &str, top: &'a Table, entry: &Entry) -> Option<&'a Entry> {
    all(top).into_iter().find(|holder| {
        style(text, holder) == Style::Inline
            && holder.node.place.start < entry.key_place.start
            && entry.node.place.end < holder.node.place.end
    })
}

/// An entry of an inline table goes with the comma behind it, or else the one before it.
fn inline_removal(text: &str, holder: &Entry, entry: &Entry) -> Splice {
    let behind = &text[entry.node.place.end..holder.node.place.end];
    let blanks = behind.len() - behind.trim_start().len();
    let (start, end) = if behind.trim_start().starts_with(',') {
        let after = &behind[blanks + 1..];
        let more = after.len() - after.trim_start().len();
        (entry.key_place.start, entry.node.place.end + blanks + 1 + more)
    } else {
        let before = text[..entry.key_place.start].trim_end().trim_end_matches(',').len();
        (before, entry.node.place.end)
    };
    Splice { place: Place { start, end }, with: String::new() }
}
