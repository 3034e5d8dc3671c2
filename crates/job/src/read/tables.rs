//! Tables and keys of the text, held against the schema.

use super::refer::path_of;
use super::sheet::{Group, Line, Sheet};
use super::{Context, FINDINGS_MOST, TABLES_MOST, bind, value};
use crate::decision::{Place, Stated};
use crate::edit::Edit;
use crate::finding::{Finding, Mend, Promise, Severity};
use crate::nearest::nearest;
use crate::path;
use crate::schema::{self, TABLES, TableRow};
use crate::tree::{Entry, Kind, Table, Trouble};
use quantity::System;

/// The unit system that a text names, needed before any number can be read.
pub(crate) fn units(table: &Table) -> System {
    let job = table.iter().find(|entry| entry.key == "job").map(|entry| &entry.node.kind);
    let Some(Kind::Table(job)) = job else { return System::default() };
    let named = job.iter().find(|entry| entry.key == "units").map(|entry| &entry.node.kind);
    match named {
        Some(Kind::Text(word)) if word.trim().eq_ignore_ascii_case("si") => System::Si,
        _ => System::Us,
    }
}

/// Every key of the text that the schema knows, read; every other told.
pub(crate) fn read(table: Table, context: &mut Context<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let mut top = group("", String::new(), Place::default());
    // Layers name the job's own materials, so these come first.
    let (first, rest): (Table, Table) = table.into_iter().partition(|it| it.key == "material");
    for entry in first {
        if let Some(row) = schema::table(&entry.key) {
            keyed(row, entry, &mut sheet, context);
        }
    }
    context.materials = bind::materials(&sheet, context);
    for entry in rest {
        if schema::row("", &entry.key).is_some() {
            key(entry, &mut top, context);
            continue;
        }
        match schema::table(&entry.key) {
            Some(row) if row.keyed() => keyed(row, entry, &mut sheet, context),
            Some(row) => single(row, entry, &mut sheet, context),
            None => unknown_table(&entry, context),
        }
    }
    sheet.groups.push(top);
    sheet
}

fn group(pattern: &'static str, key: String, place: Place) -> Group {
    Group { pattern, key, place, lines: Vec::new(), spoilt: Vec::new() }
}

fn single(row: &TableRow, entry: Entry, sheet: &mut Sheet, context: &mut Context<'_>) {
    let Kind::Table(lines) = entry.node.kind else {
        return not_a_table(&format!("[{}]", row.name()), row.name(), &entry, context);
    };
    let mut group = group(row.pattern, String::new(), entry.node.place);
    for line in lines {
        key(line, &mut group, context);
    }
    sheet.groups.push(group);
}

fn keyed(row: &TableRow, entry: Entry, sheet: &mut Sheet, context: &mut Context<'_>) {
    let heading = format!("[{}.name]", row.name());
    let Kind::Table(tables) = entry.node.kind else {
        return not_a_table(&heading, row.name(), &entry, context);
    };
    let mut nameless = false;
    for (count, table) in tables.into_iter().enumerate() {
        if schema::row(row.pattern, &table.key).is_some() && table.node.table().is_none() {
            if !std::mem::replace(&mut nameless, true) {
                no_name(row, entry.node.place, context);
            }
            continue;
        }
        let subject = format!("{}.{}", row.name(), table.key);
        if count == TABLES_MOST {
            context.findings.push(
                Finding::new(
                    Severity::Stop,
                    "too-many",
                    subject,
                    format!("more than {TABLES_MOST} tables of the kind {}", row.name()),
                    "split the job; this one and what follows of its kind is not read",
                )
                .at(table.node.place),
            );
            return;
        }
        let Kind::Table(lines) = table.node.kind else {
            not_a_table(&heading, &subject, &table, context);
            continue;
        };
        let mut group = group(row.pattern, table.key, table.node.place);
        for line in lines {
            key(line, &mut group, context);
        }
        sheet.groups.push(group);
    }
}

/// Marks the keys of lines that could not be spelt out, so that they are not called missing too.
pub(crate) fn spoil(sheet: &mut Sheet, troubles: &[Trouble]) {
    for trouble in troubles {
        let above = |group: &&mut Group| group.place.start <= trouble.place.start;
        let group = sheet.groups.iter_mut().filter(above).max_by_key(|group| group.place.start);
        let (Some(key), Some(group)) = (&trouble.key, group) else { continue };
        if let Some(row) = schema::row(group.pattern, key) {
            group.spoilt.push(row.key);
        }
    }
}

/// One key of a table.
fn key(entry: Entry, group: &mut Group, context: &mut Context<'_>) {
    if context.findings.len() > FINDINGS_MOST {
        return;
    }
    let Some(row) = schema::row(group.pattern, &entry.key) else {
        return unknown_key(&entry, group, context);
    };
    let subject = match group.pattern {
        "" => entry.key.clone(),
        _ => format!("{}.{}", group.subject(), entry.key),
    };
    let before = context.findings.len();
    match value::read(&entry.node, row, context) {
        Some(value) => {
            group.lines.push(Line { row, stated: Stated { value, place: entry.node.place } })
        }
        None => group.spoilt.push(row.key),
    }
    let path = match group.pattern {
        "" => entry.key.clone(),
        _ => format!("{}.{}", path_of(group), path::quoted(&entry.key)),
    };
    for finding in &mut context.findings[before..] {
        finding.subject.clone_from(&subject);
        complete(&mut finding.mends, &path);
    }
}

/// Gives the edits of mends their path, which the reading of a value does not know.
fn complete(mends: &mut [Mend], whole: &str) {
    for edit in mends.iter_mut().flat_map(|mend| &mut mend.edits) {
        match edit {
            Edit::Set { path, .. } if path.is_empty() => whole.clone_into(path),
            _ => {}
        }
    }
}

/// Keys stand below `[room]`, which does not say which room.
fn no_name(row: &TableRow, place: Place, context: &mut Context<'_>) {
    let name = row.name();
    let what = name.replace('_', " ");
    let advice = format!("give it a name, as in [{name}.one]; its keys are not read until then");
    let message = format!("the heading [{name}] does not say which {what} it is");
    context
        .findings
        .push(Finding::new(Severity::Stop, "not-a-table", name, message, advice).at(place));
}

fn not_a_table(heading: &str, subject: &str, entry: &Entry, context: &mut Context<'_>) {
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "not-a-table",
            subject,
            format!(
                "{} is {}, but a heading with keys below it is needed",
                entry.key,
                entry.node.kind.words()
            ),
            format!("write {heading} on a line of its own and the keys below it"),
        )
        .at(entry.key_place),
    );
}

fn unknown_table(entry: &Entry, context: &mut Context<'_>) {
    if context.findings.len() > FINDINGS_MOST {
        return;
    }
    let known = nearest(&entry.key, TABLES.iter().map(TableRow::name));
    let what = match entry.node.kind {
        Kind::Table(_) => "table",
        _ => "key",
    };
    context
        .findings
        .push(unknown(what, std::slice::from_ref(&entry.key), known, "").at(entry.key_place));
}

fn unknown_key(entry: &Entry, group: &Group, context: &mut Context<'_>) {
    let known = nearest(
        &entry.key,
        schema::rows(group.pattern).map(|row| row.key).filter(|key| group.line(key).is_none()),
    );
    let mut path = Vec::new();
    if !group.pattern.is_empty() {
        path.push(group.pattern.trim_end_matches(".*").to_owned());
    }
    if !group.key.is_empty() {
        path.push(group.key.clone());
    }
    path.push(entry.key.clone());
    let elsewhere = schema::all().find(|row| row.key == entry.key && known.is_none());
    let hint = elsewhere.map(|row| format!("[{}]", row.table.replace(".*", ".name")));
    let hint = hint.filter(|hint| hint != "[]").unwrap_or_default();
    context.findings.push(unknown("key", &path, known, &hint).at(entry.key_place));
}

/// The finding of a name that the schema lacks.
fn unknown(what: &str, path: &[String], known: Option<&str>, elsewhere: &str) -> Finding {
    let name = path.last().map(String::as_str).unwrap_or_default();
    let message = format!("no {what} is called `{}`; it is not read", short(name));
    let advice = match known {
        Some(known) => format!("write {known} if that is meant"),
        None if !elsewhere.is_empty() => format!("it belongs below {elsewhere}"),
        None => "look it up in docs/job-file.md, or take it away".to_owned(),
    };
    let subject = path::join(path);
    let finding = Finding::new(Severity::Warn, "unknown-name", &subject, message, advice);
    let Some(known) = known else { return finding };
    finding.mend(Mend {
        words: format!("write {known} for {}", short(name)),
        edits: vec![Edit::RenameKey { path: subject, to: known.to_owned() }],
        promise: Promise::Goes,
    })
}

/// A name cut to a length that fits into a sentence.
pub(crate) fn short(name: &str) -> String {
    match name.char_indices().nth(40) {
        Some((end, _)) => format!("{}…", &name[..end]),
        None => name.to_owned(),
    }
}
