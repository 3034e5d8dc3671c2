//! The text as a tree of keys and values, in the order of the text, each at its place.

use crate::decision::Place;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What a text holds under one heading.
pub(crate) type Table = Vec<Entry>;

/// One key with what it holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub(crate) key: String,
    /// The key itself, quotes included.
    pub(crate) key_place: Place,
    pub(crate) node: Node,
}

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    /// The value as written; for a table under its own heading, the heading.
    pub(crate) place: Place,
    pub(crate) kind: Kind,
}

impl Node {
    /// The table that it is, if it is one.
    pub(crate) fn table(&self) -> Option<&Table> {
        match &self.kind {
            Kind::Table(table) => Some(table),
            _ => None,
        }
    }
}

/// What a value is in TOML.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Text(String),
    /// A number without a unit, as written.
    Bare(String),
    Flag(bool),
    Date,
    List(Vec<Node>),
    Table(Table),
}

impl Kind {
    /// What it is, for a person.
    pub(crate) fn words(&self) -> &'static str {
        match self {
            Kind::Text(_) => "a text",
            Kind::Bare(_) => "a bare number",
            Kind::Flag(_) => "true or false",
            Kind::Date => "a date",
            Kind::List(_) => "a list",
            Kind::Table(_) => "a table",
        }
    }
}

/// A trouble with the spelling of the text.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    pub(crate) place: Place,
    pub(crate) message: String,
    /// The key of the statement that was stepped over.
    pub(crate) key: Option<String>,
}

/// What is said of a statement that is not closed before the next one.
pub(crate) const LEFT_OPEN: &str = "left open";

/// How many troubles are told and stepped over before reading gives up on the rest.
const TROUBLES_MOST: usize = 50;

/// How many bytes are read again, in all, to step over troubles.
const REREAD_MOST: usize = 6 << 20;

/// The tree of a text, as far as it can be read, and every trouble with its spelling.
///
/// A statement that cannot be read is told and blanked out, and the rest is read again: the
/// parser's own recovery loses what follows some troubles, and a house must not vanish behind one
/// forgotten quote.
pub(crate) fn parse(text: &str) -> (Table, Vec<Trouble>) {
    let mut readable = text.to_owned();
    let mut troubles: Vec<Trouble> = Vec::new();
    loop {
        let (table, errors) = DeTable::parse_recoverable(&readable);
        let Some(mut trouble) =
            errors.iter().min_by_key(|error| start(error, text)).map(|error| trouble(error, text))
        else {
            return (entries(table.get_ref()), troubles);
        };
        let blank = statement(&readable, &trouble);
        if blank.start < line_at(&readable, floor(&readable, trouble.place.start)).start {
            trouble.place = Place { start: blank.start, end: blank.end };
            LEFT_OPEN.clone_into(&mut trouble.message);
        }
        trouble.key = readable[blank.clone()].split_once('=').map(|(key, _)| key.trim().to_owned());
        let more = readable[blank.clone()].chars().any(|c| !c.is_whitespace());
        let again = (troubles.len() + 1) * text.len() <= REREAD_MOST;
        if !more || !again || troubles.len() == TROUBLES_MOST {
            troubles.push(trouble);
            return (entries(table.get_ref()), troubles);
        }
        troubles.push(trouble);
        let blanks: String =
            readable[blank.clone()].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
        readable.replace_range(blank, &blanks);
    }
}

fn start(error: &toml::de::Error, text: &str) -> usize {
    error.span().map_or(text.len(), |span| span.start)
}

fn trouble(error: &toml::de::Error, text: &str) -> Trouble {
    let place = error.span().map_or(Place { start: text.len(), end: text.len() }, place);
    Trouble { place, message: error.message().to_owned(), key: None }
}

/// The lines to step over so that the rest can be read.
fn statement(text: &str, trouble: &Trouble) -> Range<usize> {
    let at = floor(text, trouble.place.start.min(text.len()));
    let line = line_at(text, at);
    if is_heading(&text[line.clone()]) && !trouble.message.contains("array") {
        // The keys below a heading that cannot be read belong nowhere.
        return line.start..next(text, line.end, is_heading);
    }
    match opener(text, line.clone()) {
        // What was left open begins earlier; it ends where the next statement begins.
        Some(opened) => {
            let begins = |line: &str| is_heading(line) || is_assignment(line);
            let from = if begins(&text[line.clone()]) { line.start } else { line.end };
            let end = if from == line.start { from } else { next(text, from, begins) };
            opened..end
        }
        None => line,
    }
}

fn line_at(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |at| at + 1);
    let end = text[at..].find('\n').map_or(text.len(), |length| at + length);
    start..end
}

/// Where an earlier statement begins that is still open at this line.
fn opener(text: &str, line: Range<usize>) -> Option<usize> {
    const LINES_MOST: usize = 1000;
    let mut above = line.clone();
    for _ in 0..LINES_MOST {
        above = line_at(text, above.start.checked_sub(1)?);
        let words = &text[above.clone()];
        if is_heading(words) {
            return None;
        }
        if is_assignment(words) {
            return is_open(&text[above.start..line.start]).then_some(above.start);
        }
    }
    None
}

/// Whether brackets or a text over several lines are left open.
fn is_open(text: &str) -> bool {
    let mut depth = 0i32;
    let mut quote = None;
    for character in text.chars() {
        match (character, quote) {
            ('\n', _) => quote = None,
            (_, Some(open)) if open == character => quote = None,
            (_, Some(_)) => {}
            ('"' | '\'', None) => quote = Some(character),
            ('[' | '{', None) => depth += 1,
            (']' | '}', None) => depth -= 1,
            _ => {}
        }
    }
    depth > 0 || text.matches("\"\"\"").count() % 2 == 1
}

/// Whether a line is a heading, closed or not: `[room.kitchen`.
fn is_heading(line: &str) -> bool {
    let Some(name) = line.trim_start().strip_prefix('[') else { return false };
    let name = name.trim_start_matches(['[', ' ']);
    name.starts_with(|c: char| c.is_alphabetic() || c == '_') && !name.contains(',')
}

/// Whether a line begins with a key and an equals sign.
fn is_assignment(line: &str) -> bool {
    let Some((key, _)) = line.split_once('=') else { return false };
    let part_of_key = |c: char| c.is_alphanumeric() || "_-. \t\"'".contains(c);
    !key.trim().is_empty() && key.chars().all(part_of_key) && !key.trim_start().starts_with(['-'])
}

/// The end of the last line before the next one of that kind.
fn next(text: &str, from: usize, kind: impl Fn(&str) -> bool) -> usize {
    let mut end = from;
    while end < text.len() {
        let line = line_at(text, end + 1);
        if kind(&text[line.clone()]) {
            return end;
        }
        end = line.end;
    }
    text.len()
}

/// The nearest character boundary at or before `at`.
fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn entries(table: &DeTable<'_>) -> Table {
    let mut entries: Table = table
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_place: place(key.span()),
            node: node(value),
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_place);
    entries
}

fn node(value: &Spanned<DeValue<'_>>) -> Node {
    let kind = match value.get_ref() {
        DeValue::String(text) => Kind::Text(text.to_string()),
        DeValue::Integer(number) => Kind::Bare(number.to_string()),
        DeValue::Float(number) => Kind::Bare(number.to_string()),
        DeValue::Boolean(flag) => Kind::Flag(*flag),
        DeValue::Datetime(_) => Kind::Date,
        DeValue::Array(items) => Kind::List(items.iter().map(node).collect()),
        DeValue::Table(table) => Kind::Table(entries(table)),
    };
    Node { place: place(value.span()), kind }
}

fn place(span: Range<usize>) -> Place {
    Place { start: span.start, end: span.end }
}
