//! The text as a tree of keys and values, in the order of the text, each at its place.

use crate::decision::Place;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What a text holds under one heading.
pub(crate) type Table = Vec<Entry>;

/// One key with what it holds.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    /// The key itself, quotes included.
    pub(crate) key_place: Place,
    pub(crate) node: Node,
}

/// One value.
#[derive(Clone, Debug)]
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
#[derive(Clone, Debug)]
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

/// How many troubles are told and stepped over before reading gives up on the rest.
const TROUBLES_MOST: usize = 50;

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
            errors.iter().map(|error| trouble(error, text)).min_by_key(|trouble| trouble.place)
        else {
            return (entries(table.get_ref()), troubles);
        };
        let blank = statement(&readable, &trouble);
        if blank.end <= trouble.place.start && blank.start < blank.end {
            trouble.place = Place { start: blank.start, end: blank.end };
        }
        trouble.key = readable[blank.clone()].split_once('=').map(|(key, _)| key.trim().to_owned());
        let more = readable[blank.clone()].chars().any(|c| !c.is_whitespace());
        if !more || troubles.len() == TROUBLES_MOST {
            troubles.push(trouble);
            return (entries(table.get_ref()), troubles);
        }
        troubles.push(trouble);
        let blanks: String =
            readable[blank.clone()].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
        readable.replace_range(blank, &blanks);
    }
}

fn trouble(error: &toml::de::Error, text: &str) -> Trouble {
    let place = error.span().map_or(Place { start: text.len(), end: text.len() }, place);
    Trouble { place, message: error.message().to_owned(), key: None }
}

/// The lines to step over so that the rest can be read.
fn statement(text: &str, trouble: &Trouble) -> std::ops::Range<usize> {
    let at = floor(text, trouble.place.start.min(text.len()));
    let mut start = text[..at].rfind('\n').map_or(0, |at| at + 1);
    let mut end = text[at..].find('\n').map_or(text.len(), |length| at + length);
    let blank_line = text[start..end].trim().is_empty();
    let open_ended = ["array", "inline table", "unclosed", "multi-line", "multiline"]
        .iter()
        .any(|word| trouble.message.contains(word));
    let is_heading = |start: usize| text[start..].trim_start().starts_with('[');
    if is_heading(start) && !open_ended || trouble.message.contains("table, expected") {
        // The keys below a heading that cannot be read belong nowhere.
        return start..next_heading(text, end);
    }
    if (open_ended || blank_line)
        && let Some(opened) = opener(text, start, end)
    {
        // What was left open begins earlier; the line of the trouble is the next statement.
        if opened < start {
            end = start;
        }
        start = opened;
    }
    start..end
}

/// The last line up to `start` that begins a statement and leaves a list, table or text open.
fn opener(text: &str, start: usize, end: usize) -> Option<usize> {
    let mut line_start = start;
    let mut line_end = end;
    loop {
        let line = &text[line_start..line_end];
        if let Some((key, value)) = line.split_once('=') {
            let opens = value.trim_start().starts_with(['[', '{']) || value.contains("\"\"\"");
            if !key.contains(['"', '\'', '[']) && (opens || line_start < start) {
                return opens.then_some(line_start);
            }
        }
        line_end = line_start.checked_sub(1)?;
        line_start = text[..line_end].rfind('\n').map_or(0, |at| at + 1);
    }
}

fn next_heading(text: &str, from: usize) -> usize {
    let mut at = from;
    while let Some(step) = text[at..].find('\n') {
        at += step + 1;
        if text[at..].trim_start_matches([' ', '\t']).starts_with('[') {
            return at - 1;
        }
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

fn place(span: std::ops::Range<usize>) -> Place {
    Place { start: span.start, end: span.end }
}
