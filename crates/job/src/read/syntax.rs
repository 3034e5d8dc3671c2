//! Troubles with the spelling of the text, in a contractor's words.

use crate::finding::{Finding, Severity};
use crate::tree::{self, Trouble};

/// Part of the parser's words, what is wrong, what to do.
const WORDS: &[(&str, &str, &str)] = &[
    (
        tree::LEFT_OPEN,
        "what begins here is not closed",
        "close it with ] or }, and put commas between its parts",
    ),
    (
        "inline table",
        "the keys in braces are not written as they should be",
        "write { key = value, key = value }, or give them a heading of their own",
    ),
    (
        "string values must be quoted",
        "words stand here without quotes",
        "put them in quotes, as in \"Kitchen\"",
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
    let line = line_at(text, trouble.place.start);
    let (message, advice) = by_line(line, &trouble.message).unwrap_or_else(|| {
        let known = WORDS.iter().find(|(part, _, _)| trouble.message.contains(part));
        known.map_or_else(
            || (trouble.message.clone(), "write key = value on one line".to_owned()),
            |(_, message, advice)| ((*message).to_owned(), (*advice).to_owned()),
        )
    });
    Finding::new(Severity::Stop, "unreadable-line", "", message, advice).at(trouble.place)
}

/// What the line itself shows to be wrong.
fn by_line(line: &str, message: &str) -> Option<(String, String)> {
    if line.starts_with('[') && message.contains("duplicate key") {
        return Some((
            "this heading was given above already".to_owned(),
            "keep one of the two; the lines below this one are not read until then".to_owned(),
        ));
    }
    let (key, value) = line.split_once('=')?;
    let value = value.split('#').next().unwrap_or_default().trim();
    if value.is_empty() {
        return Some((
            "nothing is written for this key".to_owned(),
            "write its value, or take the key away".to_owned(),
        ));
    }
    if inch_mark_inside(value) {
        return Some((
            "an inch mark ends the quotes too early".to_owned(),
            "leave the last inch mark away, as in \"12'6 1/2\"".to_owned(),
        ));
    }
    let plain = value.len() < 40 && !value.contains(['"', '[', '{', '\\']);
    (message.contains("must be quoted") && plain).then(|| {
        (
            format!("`{value}` stands here without quotes"),
            format!("put it in quotes: {} = \"{value}\"", key.trim()),
        )
    })
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
