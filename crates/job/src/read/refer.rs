//! References: each leads to something that is there, or is told and left out.

use super::sheet::{Group, Line, Sheet, Value};
use super::tables::short;
use super::{Context, squeeze_name};
use crate::edit::Edit;
use crate::finding::{Finding, Mend, Promise, Severity};
use crate::model::{BuildUpKind, Faces};
use crate::nearest::nearest;
use crate::path;
use crate::schema::{FAR_SIDES, Form, Target};

/// Leaves out every line whose reference leads nowhere, told.
pub(crate) fn check(sheet: &mut Sheet, context: &mut Context<'_>) {
    let mut groups = std::mem::take(&mut sheet.groups);
    let names: Vec<(&'static str, String)> =
        groups.iter().map(|group| (group.pattern, group.key.clone())).collect();
    for group in &mut groups {
        let mut kept = Vec::with_capacity(group.lines.len());
        for mut line in std::mem::take(&mut group.lines) {
            match resolve(&line, &names, context) {
                Resolved::Same => kept.push(line),
                Resolved::Is(value) => {
                    line.stated.value = value;
                    kept.push(line);
                }
                Resolved::Nowhere { wanted, near, what, known } => {
                    group.spoilt.push(line.row.key);
                    let advice = advice(&line, &wanted, near.as_deref(), what, &known);
                    let finding = nowhere(group, &line, &wanted, near.as_deref(), what);
                    context.findings.push(Finding { advice, ..finding });
                }
            }
        }
        group.lines = kept;
    }
    sheet.groups = groups;
}

enum Resolved {
    Same,
    Is(Value),
    Nowhere { wanted: String, near: Option<String>, what: &'static str, known: String },
}

fn resolve(line: &Line, names: &[(&'static str, String)], context: &Context<'_>) -> Resolved {
    let catalogue = &context.shelf.catalogue;
    match (&line.stated.value, line.row.form) {
        (Value::Faces(Faces::Room(key)), _) => in_job(key, "room", names),
        (Value::Faces(Faces::Space(key)), _) => in_job(key, "space", names),
        (Value::FarKey(key), _) => far_side(key, names),
        (Value::Text(key), Form::Reference(Target::Table(table))) => in_job(key, table, names),
        (Value::Text(key), Form::Reference(Target::Floor)) => floor(key, names, context),
        (Value::Text(key), Form::Reference(Target::Tube)) => in_library(
            key,
            "tube of the catalogue",
            catalogue.tubes.iter().map(|it| (it.key.as_str(), it.name.as_str())),
        ),
        (Value::Text(key), Form::Reference(Target::Finish)) => in_library(
            key,
            "finish of the catalogue",
            catalogue.finishes.iter().map(|it| (it.key.as_str(), it.name.as_str())),
        ),
        (Value::Text(key), Form::Reference(Target::Rules)) => in_library(
            key,
            "rule set",
            context.shelf.rule_sets.iter().map(|it| (it.key.as_str(), it.name.as_str())),
        ),
        _ => Resolved::Same,
    }
}

fn in_job(wanted: &str, table: &'static str, names: &[(&'static str, String)]) -> Resolved {
    let keys = || {
        names
            .iter()
            .filter(|(pattern, _)| pattern.strip_suffix(".*") == Some(table))
            .map(|(_, key)| key.as_str())
    };
    if keys().any(|key| key == wanted) {
        return Resolved::Same;
    }
    let near = nearest(wanted, keys()).map(str::to_owned);
    Resolved::Nowhere { wanted: wanted.to_owned(), near, what: table, known: list(keys()) }
}

/// A far side by a bare key: that of a room, or else of a space.
fn far_side(wanted: &str, names: &[(&'static str, String)]) -> Resolved {
    let is = |pattern: &str| names.iter().any(|(it, key)| *it == pattern && key == wanted);
    if is("room.*") {
        return Resolved::Is(Value::Faces(Faces::Room(wanted.to_owned())));
    }
    if is("space.*") {
        return Resolved::Is(Value::Faces(Faces::Space(wanted.to_owned())));
    }
    let keys = || {
        let keyed = names.iter().filter(|(pattern, _)| matches!(*pattern, "room.*" | "space.*"));
        FAR_SIDES.into_iter().chain(keyed.map(|(_, key)| key.as_str()))
    };
    Resolved::Nowhere {
        wanted: wanted.to_owned(),
        near: nearest(wanted, keys()).map(str::to_owned),
        what: FAR_SIDE,
        known: list(keys()),
    }
}

/// A floor by its key: an assembly of the job, or else a build-up of the catalogue.
fn floor(wanted: &str, names: &[(&'static str, String)], context: &Context<'_>) -> Resolved {
    let own = in_job(wanted, "assembly", names);
    if matches!(own, Resolved::Same) {
        return own;
    }
    let build_ups = context.shelf.catalogue.build_ups.iter();
    let floors = build_ups.filter(|it| it.kind == BuildUpKind::Floor);
    let floors = floors.map(|it| (it.key.as_str(), it.name.as_str()));
    match (own, in_library(wanted, "assembly", floors)) {
        (
            Resolved::Nowhere { wanted, near, what, known },
            Resolved::Nowhere { near: of_catalogue, known: more, .. },
        ) => {
            let known = if known.is_empty() { more } else { format!("{known}; {more}") };
            Resolved::Nowhere { wanted, near: near.or(of_catalogue), what, known }
        }
        (_, found) => found,
    }
}

/// What a far side is called where it is neither a word nor a key.
const FAR_SIDE: &str = "room or space";

fn in_library<'a>(
    wanted: &str,
    what: &'static str,
    parts: impl Iterator<Item = (&'a str, &'a str)> + Clone,
) -> Resolved {
    let squeezed = squeeze_name(wanted);
    let found = parts
        .clone()
        .find(|(key, name)| squeeze_name(key) == squeezed || squeeze_name(name) == squeezed);
    match found {
        Some((key, _)) if key == wanted => Resolved::Same,
        Some((key, _)) => Resolved::Is(Value::Text(key.to_owned())),
        None => {
            let keys = parts.map(|(key, _)| key);
            let near = nearest(wanted, keys.clone()).map(str::to_owned);
            Resolved::Nowhere { wanted: wanted.to_owned(), near, what, known: list(keys) }
        }
    }
}

/// The first names of many.
fn list<'a>(names: impl Iterator<Item = &'a str>) -> String {
    const NAMES_MOST: usize = 14;
    let names: Vec<String> = names.take(NAMES_MOST + 1).map(short).collect();
    match names.len() > NAMES_MOST {
        true => format!("{} …", names[..NAMES_MOST].join(", ")),
        false => names.join(", "),
    }
}

fn advice(line: &Line, wanted: &str, near: Option<&str>, what: &str, known: &str) -> String {
    let in_job =
        matches!(line.row.form, Form::Faces | Form::Reference(Target::Table(_) | Target::Floor));
    match near {
        Some(near) => format!("write {near} if that is meant"),
        None if what == FAR_SIDE => {
            format!("add [space.{}], or write one of: {known}", path::quoted(&short(wanted)))
        }
        None if in_job && known.is_empty() => {
            format!("add [{what}.{}]", path::quoted(&short(wanted)))
        }
        None if in_job => {
            format!("add [{what}.{}], or write one of: {known}", path::quoted(&short(wanted)))
        }
        None => format!("write one of: {known}"),
    }
}

fn nowhere(group: &Group, line: &Line, wanted: &str, near: Option<&str>, what: &str) -> Finding {
    let subject = format!("{}.{}", path_of(group), line.row.key);
    let finding = Finding::new(
        Severity::Stop,
        "unknown-reference",
        &subject,
        format!("there is no {} called `{}`", what.replace('_', " "), short(wanted)),
        "",
    )
    .at(line.stated.place);
    let Some(near) = near else { return finding };
    let value = match &line.stated.value {
        Value::Faces(_) => format!("{what}.{near}"),
        _ => near.to_owned(),
    };
    finding.mend(Mend {
        words: format!("write {near} for the {}", line.row.words()),
        edits: vec![Edit::Set { path: subject, value }],
        promise: Promise::Goes,
    })
}

/// The dotted path of a table, as an edit takes it.
pub(crate) fn path_of(group: &Group) -> String {
    match group.pattern.strip_suffix(".*") {
        Some(name) => format!("{name}.{}", path::quoted(&group.key)),
        None => group.pattern.to_owned(),
    }
}
