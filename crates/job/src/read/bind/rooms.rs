//! Rooms and what bounds them.

use super::lines::{self, Lines};
use crate::decision::{Fact, Origin, Place, Stated};
use crate::finding::{Finding, Severity};
use crate::model::{
    Faces, KeepOut, Opening, OpeningKind, Outline, Room, RoomUse, Storey, Surface, Where,
};
use crate::nearest::nearest;
use crate::read::sheet::{Group, Sheet, Value};
use crate::read::tables::short;
use crate::read::value::shown;
use crate::read::{COORDINATE_MOST_M, Context};
use plane::Point;
use quantity::Measure;

pub(super) fn rooms(sheet: &Sheet, storeys: &[Storey], context: &mut Context<'_>) -> Vec<Room> {
    let mut rooms = Vec::new();
    for group in sheet.all("room") {
        rooms.push(room(group, storeys, context));
    }
    rooms
}

fn room(group: &Group, storeys: &[Storey], context: &mut Context<'_>) -> Room {
    let lines = Lines::of(group);
    let storey = lines.text("storey").map(super::fact).or_else(|| only_storey(storeys));
    let own = storey.as_ref().and_then(|own| storeys.iter().find(|it| it.key == own.value));
    let height = lines
        .quantity("height")
        .or_else(|| own.and_then(|storey| storey.height.as_ref()).map(super::inherited));
    if height.is_none() && !group.mentions("height") {
        no_height(group, storey.as_ref(), context);
    }
    Room {
        key: group.key.clone(),
        place: group.place,
        name: lines.text("name").map(super::fact).unwrap_or_else(|| Fact {
            value: group.key.replace(['_', '-'], " "),
            origin: Origin::Assumed("its key".to_owned()),
        }),
        storey,
        outline: outline(group, context),
        area: lines.quantity("area"),
        height,
        offset: lines.quantity_fact("offset", context),
        unheated: lines.fact("unheated", context, flag, || false),
        supply_air: lines.quantity("supply_air"),
        exhaust_air: lines.quantity("exhaust_air"),
        roof: lines.text("roof"),
        framing: lines.text("framing"),
        allowance: crate::model::Allowance { height: None, weight: None },
        rugs: None,
        zone: lines.text("zone"),
        indoor: lines.quantity_fact("indoor", context),
        used_as: lines.fact("use", context, used_as, RoomUse::default),
        air_changes: lines.quantity("air_changes"),
        heated: lines.fact("heated", context, flag, || true),
        wall: lines.text("wall"),
        ceiling: lines.text("ceiling"),
        above: lines.fact("above", context, faces, || Faces::Outdoors),
        below: lines.fact("below", context, faces, || Faces::Ground),
        floor: lines.text("floor"),
        finish: lines.text_fact("finish", context),
        spacing: lines.decision("spacing", lines::number),
        loops: lines.decision("loops", |value| match value {
            Value::Count(count) => Some(*count),
            _ => None,
        }),
        manifold: lines.decision("manifold", lines::text),
    }
}

/// The storey of a house that has one.
fn only_storey(storeys: &[Storey]) -> Option<Fact<String>> {
    match storeys {
        [only] => Some(Fact {
            value: only.key.clone(),
            origin: Origin::Assumed("the only storey there is".to_owned()),
        }),
        _ => None,
    }
}

fn no_height(group: &Group, storey: Option<&Fact<String>>, context: &mut Context<'_>) {
    let (message, advice) = match storey {
        Some(storey) => (
            format!("{} has no ceiling height, nor has its storey", group.subject()),
            format!("write height below [storey.{}] or below the room", storey.value),
        ),
        None => (
            format!("{} has no ceiling height", group.subject()),
            "write height below the room, or name its storey".to_owned(),
        ),
    };
    let subject = format!("{}.height", group.subject());
    context.findings.push(
        Finding::new(Severity::Stop, "missing-key", subject, message, advice).at(group.place),
    );
}

/// The outline of a table, moved to its start.
///
/// With a start that cannot be read there is no outline either: at the origin it would only lie
/// across other rooms.
fn outline(group: &Group, context: &mut Context<'_>) -> Option<Outline> {
    let (lines, subject) = (Lines::of(group), &group.subject());
    let start = lines.point("start");
    if start.is_none() && group.mentions("start") {
        return None;
    }
    let stated = lines.stated("outline", |value| match value {
        Value::Outline(outline) => Some(outline.clone()),
        _ => None,
    });
    let mut outline = stated?.value;
    let Some(start) = start else { return within(outline, subject, context) };
    if outline.closing.is_none() {
        context.findings.push(
            Finding::new(
                Severity::Warn,
                "start-of-corners",
                format!("{subject}.start"),
                "a start says nothing for an outline given by its corners; it is not used",
                "take the start away, or write the outline as taped legs",
            )
            .at(start.place),
        );
        return within(outline, subject, context);
    }
    for corner in &mut outline.corners {
        *corner = *corner + start.value;
    }
    within(outline, subject, context)
}

/// The outline, unless it leaves the plan.
fn within(outline: Outline, subject: &str, context: &mut Context<'_>) -> Option<Outline> {
    let far = |point: &Point| point.x.abs().max(point.y.abs()) > COORDINATE_MOST_M;
    if !outline.corners.iter().any(far) {
        return Some(outline);
    }
    let most = shown(COORDINATE_MOST_M, Measure::Length, context.units);
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "impossible-value",
            format!("{subject}.outline"),
            format!("the outline reaches farther than {most} from the origin"),
            "look at the units of its legs",
        )
        .at(outline.place),
    );
    None
}

fn used_as(value: &Value) -> Option<RoomUse> {
    match value {
        Value::Text(word) => Some(match word.as_str() {
            "bath" => RoomUse::Bath,
            "utility" => RoomUse::Utility,
            _ => RoomUse::Living,
        }),
        _ => None,
    }
}

fn flag(value: &Value) -> Option<bool> {
    match value {
        Value::Flag(flag) => Some(*flag),
        _ => None,
    }
}

fn faces(value: &Value) -> Option<Faces> {
    match value {
        Value::Faces(faces) => Some(faces.clone()),
        _ => None,
    }
}

/// Surfaces whose room is there; without its room a surface bounds nothing.
pub(super) fn surfaces(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Surface> {
    let mut surfaces = Vec::new();
    for group in sheet.all("surface") {
        let lines = Lines::of(group);
        let (room, space) = (lines.text("room"), lines.text("space"));
        if room.is_none() && space.is_none() {
            continue;
        }
        surfaces.push(Surface {
            key: group.key.clone(),
            place: group.place,
            room,
            space,
            faces: lines.fact("faces", context, faces, || Faces::Outdoors),
            area: lines.quantity("area"),
            assembly: lines.text("assembly"),
            exposed_edge: lines.quantity("exposed_edge"),
        });
    }
    surfaces
}

/// Keep-outs whose room is there.
pub(super) fn keep_outs(sheet: &Sheet, context: &mut Context<'_>) -> Vec<KeepOut> {
    let mut keep_outs = Vec::new();
    for group in sheet.all("keep_out") {
        let lines = Lines::of(group);
        let Some(room) = lines.text("room") else { continue };
        let outline = outline(group, context);
        keep_outs.push(KeepOut { key: group.key.clone(), place: group.place, room, outline });
    }
    keep_outs
}

pub(super) fn openings(sheet: &Sheet, rooms: &[Room], context: &mut Context<'_>) -> Vec<Opening> {
    let mut openings = Vec::new();
    for group in sheet.all("opening") {
        let lines = Lines::of(group);
        openings.push(Opening {
            key: group.key.clone(),
            place: group.place,
            kind: lines.fact("kind", context, kind, || OpeningKind::Window),
            at: sits(group, &lines, rooms, context),
            width: lines.quantity("width"),
            height: lines.quantity("height"),
            sill: lines.quantity("sill"),
            assembly: lines.text("assembly"),
        });
    }
    openings
}

fn kind(value: &Value) -> Option<OpeningKind> {
    match value {
        Value::Text(word) if word == "door" => Some(OpeningKind::Door),
        Value::Text(_) => Some(OpeningKind::Window),
        _ => None,
    }
}

/// Where an opening sits: at its point, or else in the wall it names.
fn sits(
    group: &Group,
    lines: &Lines<'_>,
    rooms: &[Room],
    context: &mut Context<'_>,
) -> Option<Stated<Where>> {
    let wall = lines.text("wall");
    if let Some(at) = lines.point("at") {
        if let Some(wall) = wall {
            two_places(group, wall.place, context);
        }
        let room = lines.text("room").map(|room| room.value);
        return Some(Stated { value: Where::Point { at: at.value, room }, place: at.place });
    }
    let wall = wall?;
    let Some(room) = lines.text("room") else {
        if !group.mentions("room") {
            no_room(group, wall.place, context);
        }
        return None;
    };
    let outline = rooms.iter().find(|it| it.key == room.value).and_then(|it| it.outline.as_ref());
    if let Some(outline) = outline
        && !names_a_wall(&wall.value, outline)
    {
        unknown_wall(group, &wall, outline, context);
        return None;
    }
    let along = lines.quantity("along").map(|fact: Fact<quantity::Length>| fact.value);
    let name = match side(&wall.value) {
        Some(side) => side.to_owned(),
        None => wall.value,
    };
    let value = Where::Wall { room: room.value, wall: name, along };
    Some(Stated { value, place: wall.place })
}

const SIDES: [&str; 4] = ["north", "east", "south", "west"];

/// The compass side of a word: `North` or `N`.
fn side(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    SIDES.into_iter().find(|side| *side == word || side[..1] == word)
}

fn names_a_wall(word: &str, outline: &Outline) -> bool {
    side(word).is_some()
        || outline.wall_names.iter().flatten().any(|name| name.eq_ignore_ascii_case(word))
}

fn unknown_wall(
    group: &Group,
    wall: &Stated<String>,
    outline: &Outline,
    context: &mut Context<'_>,
) {
    let names = || outline.wall_names.iter().flatten().map(String::as_str).chain(SIDES);
    let subject = format!("{}.wall", group.subject());
    let known = nearest(&wall.value, names());
    let mut finding = Finding::new(
        Severity::Stop,
        "unknown-reference",
        subject,
        format!("the room has no wall called `{}`", short(&wall.value)),
        format!("write {}", crate::schema::one_of(&names().take(12).collect::<Vec<_>>())),
    )
    .at(wall.place);
    if let Some(known) = known {
        let path = format!("opening.{}.wall", crate::path::quoted(&group.key));
        finding = finding.mend(crate::Mend {
            words: format!("write {known} for the wall"),
            edits: vec![crate::Edit::Set { path, value: known.to_owned() }],
            promise: crate::Promise::Goes,
        });
    }
    context.findings.push(finding);
}

fn two_places(group: &Group, place: Place, context: &mut Context<'_>) {
    context.findings.push(
        Finding::new(
            Severity::Warn,
            "two-places",
            format!("{}.wall", group.subject()),
            format!("{} has both a point and a wall; the point is taken", group.subject()),
            "keep one of the two",
        )
        .at(place),
    );
}

fn no_room(group: &Group, place: Place, context: &mut Context<'_>) {
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "missing-key",
            format!("{}.room", group.subject()),
            format!("{} names a wall but not its room", group.subject()),
            "write room = and the key of the room",
        )
        .at(place),
    );
}
