//! What was read, bound into a job; what is missing, assumed or told.

mod house;
mod lines;
mod room;

use super::Context;
use super::sheet::{Group, Sheet};
use crate::decision::{Fact, Origin, Stated};
use crate::finding::{Finding, Severity};
use crate::model::{Job, Library, RuleSet};
use crate::schema::{self, Absent, UNITS};
use lines::Lines;

/// The job of a sheet.
pub(crate) fn job(sheet: &Sheet, context: &mut Context<'_>) -> Job {
    missing(sheet, context);
    let job = Lines::single(sheet, "job");
    let units = units(&job, context);
    let rules_named: Fact<String> = job.text_fact("rules", context);
    let rules = rules(&rules_named.value, context.shelf);
    let storeys = house::storeys(sheet);
    let house = house::house(sheet, context);
    let rooms = room::rooms(sheet, &storeys, context);
    Job {
        name: job.text_fact("name", context),
        units,
        note: job.text("note"),
        rules,
        catalogue: context.shelf.catalogue.clone(),
        rules_named,
        outdoors: house::outdoors(sheet, context),
        heating: house::heating(sheet, context),
        assemblies: house::assemblies(sheet, context),
        surfaces: room::surfaces(sheet, context),
        openings: room::openings(sheet, &rooms, context),
        keep_outs: room::keep_outs(sheet, context),
        manifolds: house::manifolds(sheet, context),
        house,
        storeys,
        rooms,
        ventilation: crate::model::Ventilation {
            supply: None,
            exhaust: None,
            recovery: Fact {
                value: quantity::Quantity::from_si(0.0),
                origin: Origin::Assumed("none".to_owned()),
            },
        },
        fans: Vec::new(),
        fuel: None,
        spaces: Vec::new(),
        slopes: Vec::new(),
        dormers: Vec::new(),
        grades: Vec::new(),
        voids: Vec::new(),
        face_rules: Vec::new(),
        framings: Vec::new(),
        passages: Vec::new(),
        mains: Vec::new(),
        parts: Vec::new(),
        circuits: Vec::new(),
        zones: Vec::new(),
        zone_parts: Vec::new(),
        emitters: Vec::new(),
    }
}

fn units(job: &Lines<'_>, context: &mut Context<'_>) -> Fact<quantity::System> {
    let word: Fact<String> = job.text_fact("units", context);
    let units = UNITS.iter().find(|(name, _)| *name == word.value).map(|(_, units)| *units);
    Fact { value: units.unwrap_or_default(), origin: word.origin }
}

/// The rule set with that key, or the first there is.
fn rules(key: &str, library: &Library) -> RuleSet {
    let named = library.rule_sets.iter().find(|rules| rules.key == key);
    match named.or(library.rule_sets.first()) {
        Some(rules) => rules.clone(),
        None => Library::first_built_in_rules(),
    }
}

/// Tells every key that the design needs and the text lacks.
fn missing(sheet: &Sheet, context: &mut Context<'_>) {
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
        if groups.is_empty() && !table.keyed() {
            let nothing = Group {
                pattern: table.pattern,
                key: String::new(),
                place: crate::Place::default(),
                lines: Vec::new(),
                spoilt: Vec::new(),
            };
            missing_in(&nothing, context);
        }
        for group in groups {
            missing_in(group, context);
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

fn missing_in(group: &Group, context: &mut Context<'_>) {
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

/// A fact that something else of the job states.
fn inherited<T: Clone>(fact: &Fact<T>) -> Fact<T> {
    let origin = match &fact.origin {
        Origin::Stated(place) | Origin::Measured(place) => Origin::Inherited(*place),
        Origin::Supposed(place) | Origin::Inherited(place) => Origin::Inherited(*place),
        Origin::Assumed(why) => Origin::Assumed(why.clone()),
    };
    Fact { value: fact.value.clone(), origin }
}

/// The fact of a stated value.
fn fact<T>(stated: Stated<T>) -> Fact<T> {
    Fact { value: stated.value, origin: Origin::Stated(stated.place) }
}
