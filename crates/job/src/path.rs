//! Dotted paths of keys: `room.kitchen.spacing`, `room."big room".spacing`.

/// The path as it stands in a heading or an edit.
pub(crate) fn join(keys: &[String]) -> String {
    keys.iter().map(|key| quoted(key)).collect::<Vec<_>>().join(".")
}

/// A key, in quotes if it needs them.
pub(crate) fn quoted(key: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    if !key.is_empty() && key.chars().all(bare) { key.to_owned() } else { text(key) }
}

/// A text between double quotes.
pub(crate) fn text(words: &str) -> String {
    let mut out = String::with_capacity(words.len() + 2);
    out.push('"');
    for character in words.chars() {
        match character {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", c as u32)),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// The keys of a path; none if it is no path.
pub(crate) fn split(path: &str) -> Option<Vec<String>> {
    let (table, troubles) = crate::tree::parse(&format!("{path} = 0"));
    if !troubles.is_empty() || path.contains(['\n', '\r', '=', '#']) && !path.contains('"') {
        return None;
    }
    let mut keys = Vec::new();
    let mut table = table;
    loop {
        let [entry] = <[crate::tree::Entry; 1]>::try_from(table).ok()?;
        keys.push(entry.key);
        match entry.node.kind {
            crate::tree::Kind::Table(inner) => table = inner,
            crate::tree::Kind::Bare(_) => return Some(keys),
            _ => return None,
        }
    }
}
