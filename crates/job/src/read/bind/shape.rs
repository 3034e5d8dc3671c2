//! Slopes, dormers, ground against walls, holes in floors, faces known better.

use super::lines::{self, Lines};
use super::rooms::outline;
use super::walls;
use crate::decision::Stated;
use crate::finding::{Finding, Severity};
use crate::model::{Dormer, FaceRule, Grade, Room, Slope, Void};
use crate::read::Context;
use crate::read::sheet::{Group, Sheet};

/// What other tables can name a part of a room by.
pub(super) struct Parts<'a> {
    pub(super) rooms: &'a [Room],
    pub(super) slopes: &'a [Slope],
    pub(super) dormers: &'a [Dormer],
}

impl Parts<'_> {
    pub(super) fn slope(&self, key: &str) -> Option<&Slope> {
        self.slopes.iter().find(|slope| slope.key == key)
    }

    pub(super) fn dormer(&self, key: &str) -> Option<&Dormer> {
        self.dormers.iter().find(|dormer| dormer.key == key)
    }
}

/// Slopes whose room is there.
pub(super) fn slopes(sheet: &Sheet, rooms: &[Room], context: &mut Context<'_>) -> Vec<Slope> {
    let mut slopes = Vec::new();
    for group in sheet.all("slope") {
        let lines = Lines::of(group);
        let Some(room) = lines.text("room") else { continue };
        slopes.push(Slope {
            key: group.key.clone(),
            place: group.place,
            wall: wall(group, &lines, &room, rooms, context),
            room,
            low: lines.quantity("low"),
            pitch: lines.known("pitch", lines::number),
            assembly: lines.text("assembly"),
        });
    }
    slopes
}

/// The wall that a table names, in the room that it names.
fn wall(
    group: &Group,
    lines: &Lines<'_>,
    room: &Stated<String>,
    rooms: &[Room],
    context: &mut Context<'_>,
) -> Option<Stated<String>> {
    walls::named(lines.text("wall")?, &room.value, rooms, group, context)
}

/// Dormers whose slope is there.
pub(super) fn dormers(sheet: &Sheet, slopes: &[Slope], context: &mut Context<'_>) -> Vec<Dormer> {
    let mut dormers = Vec::new();
    for group in sheet.all("dormer") {
        let lines = Lines::of(group);
        let there = |key: &Stated<String>| slopes.iter().any(|slope| slope.key == key.value);
        let Some(slope) = lines.text("slope").filter(there) else { continue };
        dormers.push(Dormer {
            key: group.key.clone(),
            place: group.place,
            slope,
            width: lines.quantity("width"),
            height: lines.quantity("height"),
            set_back: lines.quantity_fact("set_back", context),
            wall: lines.text("wall"),
            roof: lines.text("roof"),
        });
    }
    dormers
}

/// Ground against walls whose room is there.
pub(super) fn grades(sheet: &Sheet, rooms: &[Room], context: &mut Context<'_>) -> Vec<Grade> {
    let mut grades = Vec::new();
    for group in sheet.all("grade") {
        let lines = Lines::of(group);
        let Some(room) = lines.text("room") else { continue };
        grades.push(Grade {
            key: group.key.clone(),
            place: group.place,
            wall: wall(group, &lines, &room, rooms, context),
            room,
            left: lines.quantity("left"),
            right: lines.quantity("right"),
        });
    }
    grades
}

/// Holes in floors whose room is there.
pub(super) fn voids(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Void> {
    let mut voids = Vec::new();
    for group in sheet.all("void") {
        let Some(room) = Lines::of(group).text("room") else { continue };
        let outline = outline(group, context);
        voids.push(Void { key: group.key.clone(), place: group.place, room, outline });
    }
    voids
}

/// Faces known better whose room is there.
pub(super) fn face_rules(
    sheet: &Sheet,
    parts: &Parts<'_>,
    context: &mut Context<'_>,
) -> Vec<FaceRule> {
    let mut rules = Vec::new();
    for group in sheet.all("face") {
        let lines = Lines::of(group);
        let Some(room) = lines.text("room") else { continue };
        let part = lines.text("part").and_then(|it| part(it, &room.value, parts, group, context));
        let (faces, assembly) = (lines.faces("faces"), lines.text("assembly"));
        if !group.mentions("faces") && !group.mentions("assembly") {
            says_nothing(group, context);
        }
        rules.push(FaceRule {
            key: group.key.clone(),
            place: group.place,
            room,
            part,
            towards: lines.faces("towards"),
            faces,
            assembly,
        });
    }
    rules
}

/// The part of a room that a word names; none, told, if the room has no such part.
fn part(
    stated: Stated<String>,
    room: &str,
    parts: &Parts<'_>,
    group: &Group,
    context: &mut Context<'_>,
) -> Option<Stated<String>> {
    let outline = parts.rooms.iter().find(|it| it.key == room).and_then(|it| it.outline.as_ref());
    let slopes: Vec<&str> = parts
        .slopes
        .iter()
        .filter(|slope| slope.room.value == room)
        .map(|slope| slope.key.as_str())
        .collect();
    let dormers =
        parts.dormers.iter().filter(|dormer| slopes.contains(&dormer.slope.value.as_str()));
    let mut names: Vec<&str> = ["ceiling", "floor"].into_iter().chain(slopes.clone()).collect();
    names.extend(dormers.map(|dormer| dormer.key.as_str()));
    let is_wall = outline.is_none_or(|outline| walls::is_wall(&stated.value, outline));
    if is_wall || names.contains(&stated.value.as_str()) {
        let value = match names.contains(&stated.value.as_str()) {
            true => stated.value,
            false => walls::spelt(&stated.value),
        };
        return Some(Stated { value, place: stated.place });
    }
    if let Some(outline) = outline {
        names.extend(walls::names(outline));
    }
    walls::unknown(group, "part", &stated, names, "part", context);
    None
}

fn says_nothing(group: &Group, context: &mut Context<'_>) {
    let subject = group.subject();
    context.findings.push(
        Finding::new(
            Severity::Warn,
            "says-nothing",
            &subject,
            format!("{subject} says neither what is behind it nor how it is made"),
            "write faces = or assembly =, or take it away",
        )
        .at(group.place),
    );
}
