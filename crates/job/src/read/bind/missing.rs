//! What the design needs and the text lacks.

use crate::finding::{Finding, Severity};
use crate::read::Context;
use crate::read::sheet::{Group, Sheet};
use crate::schema::{self, Absent};

/// Tells every key that the design needs and the text lacks.
pub(super) fn tell(sheet: &Sheet, context: &mut Context<'_>) {
    let top = sheet.single("");
    if !top.is_some_and(|top| top.mentions("firstheat")) {
        context.findings.push(
            Finding::new(
                Severity::Warn,
                "missing-key",
                "firstheat",
                "the file does not say which format it is in",
                "write firstheat = 1 as the first line; it is read as format 1",
            )
            .at(crate::Place::default()),
        );
    }
    for table in schema::TABLES {
        let groups: Vec<&Group> =
            sheet.groups.iter().filter(|group| group.pattern == table.pattern).collect();
        if groups.is_empty() && table.pattern == "outdoors" {
            let nothing = Group {
                pattern: table.pattern,
                key: String::new(),
                place: crate::Place::default(),
                lines: Vec::new(),
                spoilt: Vec::new(),
            };
            tell_in(&nothing, context);
        }
        for group in groups {
            tell_in(group, context);
        }
    }
    if sheet.all("room").next().is_none() {
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "missing-key",
                "room",
                "the job has no room yet",
                "add a table such as [room.kitchen] with its outline",
            )
            .at(crate::Place::default()),
        );
    }
}

fn tell_in(group: &Group, context: &mut Context<'_>) {
    let mut told: Vec<&str> = Vec::new();
    for row in schema::rows(group.pattern) {
        let Absent::Needed(instead) = row.absent else { continue };
        let there = group.mentions(row.key) || instead.iter().any(|key| group.mentions(key));
        if there || instead.iter().any(|key| told.contains(key)) {
            continue;
        }
        told.push(row.key);
        let mut names = row.words();
        for key in instead {
            names.push_str(" or ");
            names.push_str(key);
        }
        let advice = match row.example(context.units) {
            Some(example) => format!("write {} = {example}, or what was found", row.key),
            None => format!("write {} = and {}", row.key, row.kind()),
        };
        let doc = row.doc.trim_end_matches('.');
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "missing-key",
                format!("{}.{}", group.subject(), row.key),
                match instead {
                    [] => format!("{} has no {names} yet: {}", group.subject(), lower(doc)),
                    _ => format!("{} has no {names} yet", group.subject()),
                },
                advice,
            )
            .at(group.place),
        );
    }
}

/// A sentence as it stands behind a colon.
fn lower(sentence: &str) -> String {
    let mut letters = sentence.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}
