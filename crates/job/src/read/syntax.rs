//! Troubles with the spelling of the text, in a contractor's words.

use crate::finding::{Finding, Severity};
use crate::tree::Trouble;

/// Part of the parser's words, what is wrong, what to do.
const WORDS: &[(&str, &str, &str)] = &[
    (
        "string values must be quoted",
        "words stand here without quotes",
        "put the value in quotes: name = \"Kitchen\"",
    ),
    ("key with no value", "a key stands here without a value", "write key = value"),
    ("duplicate key", "this key was given above already", "keep one of the two"),
    (
        "unclosed table",
        "the heading is not closed",
        "close it with ], as in [room.kitchen]; the lines below it are not read until then",
    ),
    ("array", "the list is not written as it should be", "write [\"one\", \"two\"], with commas"),
    ("string", "the quotes are not closed", "close the text with the quote it begins with"),
    (
        "escape",
        "a backslash stands inside the quotes",
        "put the text in single quotes, or write \\\" for an inch mark",
    ),
    ("no value", "nothing is written for this key", "write its value, or take the key away"),
    ("extra", "something stands behind the value", "put the whole value in quotes"),
    ("unexpected", "something stands here that does not belong", "write key = value on one line"),
];

/// The finding of a trouble.
pub(crate) fn finding(text: &str, trouble: &Trouble) -> Finding {
    let place = trouble.place;
    let line = line_at(text, place.start);
    let value = line.split_once('=').map(|(_, value)| value.trim());
    let (message, advice) = if value.is_some_and(|value| value.is_empty() || value.starts_with('#'))
    {
        ("nothing is written for this key".to_owned(), "write its value, or take the key away")
    } else if value.is_some_and(inch_mark_inside) {
        (
            "an inch mark ends the quotes too early".to_owned(),
            "leave the last inch mark away, as in \"12'6 1/2\"",
        )
    } else {
        WORDS
            .iter()
            .find(|(part, _, _)| trouble.message.contains(part))
            .map(|(_, message, advice)| ((*message).to_owned(), *advice))
            .unwrap_or_else(|| (trouble.message.clone(), "write key = value on one line"))
    };
    Finding::new(Severity::Stop, "unreadable-line", "", message, advice).at(place)
}

/// Whether a text in double quotes goes on behind its second one: `"12'6""`.
fn inch_mark_inside(value: &str) -> bool {
    let Some(rest) = value.strip_prefix('"') else { return false };
    let measure = rest.split('"').next().unwrap_or_default();
    let after = rest[measure.len()..].trim_start_matches('"');
    rest.matches('"').count() > 1
        && measure.ends_with(|c: char| c.is_ascii_digit())
        && !after.trim_start().starts_with(',')
}

fn line_at(text: &str, at: usize) -> &str {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let start = text[..at].rfind('\n').map_or(0, |at| at + 1);
    let end = text[at..].find('\n').map_or(text.len(), |length| at + length);
    &text[start..end]
}
