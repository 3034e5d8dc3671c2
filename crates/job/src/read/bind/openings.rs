//! Windows, doors, doorways and skylights.

use super::lines::{self, Lines};
use super::shape::Parts;
use super::walls;
use crate::decision::{Fact, Origin, Place, Stated};
use crate::finding::{Finding, Severity};
use crate::model::{Opening, OpeningKind, Where};
use crate::read::Context;
use crate::read::sheet::{Group, Sheet};
use quantity::Length;

pub(super) fn openings(
    sheet: &Sheet,
    parts: &Parts<'_>,
    context: &mut Context<'_>,
) -> Vec<Opening> {
    let mut openings = Vec::new();
    for group in sheet.all("opening") {
        let lines = Lines::of(group);
        let kind = kind(&lines, context);
        let at = match kind.value {
            OpeningKind::Skylight => overhead(group, &lines, parts, context),
            _ => upright(group, &lines, parts, context),
        };
        openings.push(Opening {
            key: group.key.clone(),
            place: group.place,
            kind,
            at,
            width: lines.quantity("width"),
            height: lines.quantity("height"),
            sill: lines.quantity("sill"),
            assembly: lines.text("assembly"),
        });
    }
    openings
}

/// What sits in an opening; in a slope, a skylight unless the text says otherwise.
fn kind(lines: &Lines<'_>, context: &mut Context<'_>) -> Fact<OpeningKind> {
    let kind = lines.word_fact("kind", context, OpeningKind::Window);
    match (kind.place(), lines.text("slope")) {
        (None, Some(_)) => Fact {
            value: OpeningKind::Skylight,
            origin: Origin::Assumed("it sits in a slope".to_owned()),
        },
        _ => kind,
    }
}

/// Where a skylight sits: in its slope, or in the level ceiling of its room.
fn overhead(
    group: &Group,
    lines: &Lines<'_>,
    parts: &Parts<'_>,
    context: &mut Context<'_>,
) -> Option<Stated<Where>> {
    for key in ["wall", "at", "along", "dormer"] {
        if let Some(line) = group.line(key) {
            let message = format!("{} is a skylight; its {key} is not used", group.subject());
            let advice = "name its slope, or the room whose level ceiling it sits in";
            tell(group, key, "wrong-place", message, advice, line.stated.place, context);
        }
    }
    if let Some(slope) = lines.text("slope") {
        let room = parts.slope(&slope.value).map(|slope| slope.room.value.as_str())?;
        if let Some(named) = lines.text("room").filter(|named| named.value != room) {
            let message =
                format!("{} sits in a slope of {room}, not of {}", group.subject(), named.value);
            tell(group, "room", "wrong-place", message, "take the room away", named.place, context);
        }
        return Some(Stated { value: Where::Slope(slope.value), place: slope.place });
    }
    if let Some(room) = lines.text("room") {
        return Some(Stated { value: Where::Ceiling(room.value), place: room.place });
    }
    nowhere(
        group,
        "write slope = and the key of its slope, or room = for a level ceiling",
        context,
    );
    None
}

/// Where a window or door sits: at its point, in the front of its dormer, or in the wall it names.
fn upright(
    group: &Group,
    lines: &Lines<'_>,
    parts: &Parts<'_>,
    context: &mut Context<'_>,
) -> Option<Stated<Where>> {
    if let Some(slope) = group.line("slope") {
        let message = format!("{} sits in a slope, but is no skylight", group.subject());
        let advice = "write kind = \"skylight\", or name the wall or dormer instead of the slope";
        tell(group, "slope", "wrong-place", message, advice, slope.stated.place, context);
        return None;
    }
    two_places(group, context);
    if let Some(at) = lines.point("at") {
        let room = lines.text("room").map(|room| room.value);
        return Some(Stated { value: Where::Point { at: at.value, room }, place: at.place });
    }
    if let Some(dormer) = lines.text("dormer") {
        parts.dormer(&dormer.value)?;
        return Some(Stated { value: Where::Dormer(dormer.value), place: dormer.place });
    }
    let Some(wall) = lines.text("wall") else {
        if group.mentions("room") && !["at", "dormer", "wall"].iter().any(|it| group.mentions(it)) {
            nowhere(group, "write wall = and the wall of that room, or at = and a point", context);
        }
        return None;
    };
    let Some(room) = lines.text("room") else {
        if !group.mentions("room") {
            no_room(group, wall.place, context);
        }
        return None;
    };
    let wall = walls::named(wall, &room.value, parts.rooms, group, context)?;
    let along = lines.known("along", lines::number).map(|fact: Fact<Length>| fact.value);
    let value = Where::Wall { room: room.value, wall: wall.value, along };
    Some(Stated { value, place: wall.place })
}

/// Tells an opening that is placed twice.
fn two_places(group: &Group, context: &mut Context<'_>) {
    const WAYS: [(&str, &str); 3] = [("at", "a point"), ("dormer", "a dormer"), ("wall", "a wall")];
    let mut ways = WAYS.iter().filter_map(|(key, what)| Some((group.line(key)?, what)));
    let (Some((_, taken)), Some((second, other))) = (ways.next(), ways.next()) else { return };
    let message = format!(
        "{} has both {taken} and {other}; {} is taken",
        group.subject(),
        taken.replacen("a ", "the ", 1)
    );
    let place = second.stated.place;
    let finding = Finding::new(
        Severity::Warn,
        "two-places",
        format!("{}.{}", group.subject(), second.row.key),
        message,
        "keep one of the two",
    );
    context.findings.push(finding.at(place));
}

fn no_room(group: &Group, place: Place, context: &mut Context<'_>) {
    let message = format!("{} names a wall but not its room", group.subject());
    let advice = "write room = and the key of the room";
    tell(group, "room", "missing-key", message, advice, place, context);
}

fn nowhere(group: &Group, advice: &str, context: &mut Context<'_>) {
    if group.mentions("slope") || !group.mentions("room") && !group.mentions("wall") {
        // A bad slope, or nothing at all, has been told.
        return;
    }
    let message = format!("{} does not say where it sits", group.subject());
    tell(group, "at", "missing-key", message, advice, group.place, context);
}

fn tell(
    group: &Group,
    key: &str,
    kind: &'static str,
    message: String,
    advice: &str,
    place: Place,
    context: &mut Context<'_>,
) {
    let subject = format!("{}.{key}", group.subject());
    let finding = Finding::new(Severity::Stop, kind, subject, message, advice);
    context.findings.push(finding.at(place));
}
