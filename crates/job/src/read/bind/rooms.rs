//! Rooms, spaces, surfaces, and floor that takes no tube.

use super::lines::{self, Lines};
use crate::decision::{Fact, Origin};
use crate::finding::{Finding, Severity};
use crate::model::{
    Allowance, Faces, FloorPart, KeepOut, Outline, Room, RoomUse, Rugs, Space, SpaceKind, Storey,
    Surface,
};
use crate::read::sheet::{Group, Sheet, Value};
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
    let storey = lines.known("storey", lines::text).or_else(|| only_storey(storeys));
    let own = storey.as_ref().and_then(|own| storeys.iter().find(|it| it.key == own.value));
    let height = lines
        .quantity("height")
        .or_else(|| own.and_then(|storey| storey.height.as_ref()).map(super::inherited));
    if height.is_none() && !group.mentions("height") {
        no_height(group, storey.as_ref(), context);
    }
    let framing = lines.text("framing").or_else(|| own.and_then(|storey| storey.framing.clone()));
    let unheated = lines.flag("unheated", context);
    Room {
        key: group.key.clone(),
        place: group.place,
        name: lines.name(),
        storey,
        outline: outline(group, context),
        area: lines.quantity("area"),
        height,
        offset: lines.quantity_fact("offset", context),
        indoor: lines.quantity_fact("indoor", context),
        heated: floor_heated(group, &lines, unheated.value, context),
        unheated,
        used_as: lines.word_fact("use", context, RoomUse::Living),
        air_changes: lines.quantity("air_changes"),
        supply_air: lines.quantity("supply_air"),
        exhaust_air: lines.quantity("exhaust_air"),
        wall: lines.text("wall"),
        ceiling: lines.text("ceiling"),
        roof: lines.text("roof"),
        above: lines.fact("above", context, lines::faces, || Faces::Outdoors),
        below: lines.fact("below", context, lines::faces, || Faces::Ground),
        floor: lines.text("floor"),
        floor_among: lines.names("floor_among"),
        framing,
        allowance: Allowance {
            height: lines.quantity("added_height"),
            weight: lines.quantity("added_weight"),
        },
        rugs: rugs(group, &lines, context),
        zone: lines.text("zone"),
        finish: lines.text_fact("finish", context),
        spacing: lines.decision("spacing", lines::number),
        loops: lines.decision("loops", lines::count),
        pattern: lines.decision("pattern", lines::word),
        edge_spacing: lines.quantity("edge_spacing"),
        edge_depth: lines.quantity_fact("edge_depth", context),
        manifold: lines.decision("manifold", lines::text),
        shares_loop: lines.decision("shares_loop", lines::text),
        entry: lines.decision("entry", lines::text),
        entry_at: lines.decision("entry_at", lines::point),
    }
}

/// Whether the floor is heated; an unheated room's is not, and what says otherwise is told.
fn floor_heated(
    group: &Group,
    lines: &Lines<'_>,
    unheated: bool,
    context: &mut Context<'_>,
) -> Fact<bool> {
    let heated = lines.flag("heated", context);
    if !unheated {
        return heated;
    }
    let subject = group.subject();
    if let (true, Some(place)) = (heated.value, heated.place()) {
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "unheated-and-heated",
                format!("{subject}.heated"),
                format!(
                    "{subject} is unheated, but its floor is to be heated; it is taken as unheated"
                ),
                "keep one of the two",
            )
            .at(place),
        );
    }
    if let Some(line) = group.line("indoor") {
        context.findings.push(
            Finding::new(
                Severity::Warn,
                "unheated-and-heated",
                format!("{subject}.indoor"),
                format!("{subject} is unheated; the indoor temperature wished for it is not used"),
                "take one of the two away; the temperature of an unheated room follows from its neighbours",
            )
            .at(line.stated.place),
        );
    }
    match heated.value {
        true => Fact { value: false, origin: Origin::Assumed("the room is unheated".to_owned()) },
        false => heated,
    }
}

/// Rugs, where the text says how much they cover.
fn rugs(group: &Group, lines: &Lines<'_>, context: &mut Context<'_>) -> Option<Rugs> {
    let resistance = lines.quantity_fact("rug_resistance", context);
    let Some(share) = lines.quantity("rugs") else {
        if let Some(place) = resistance.place().filter(|_| !group.mentions("rugs")) {
            let subject = group.subject();
            context.findings.push(
                Finding::new(
                    Severity::Warn,
                    "says-nothing",
                    format!("{subject}.rugs"),
                    format!("{subject} does not say how much of its floor rugs cover"),
                    "write rugs = and the share in per cent; without it they do not count",
                )
                .at(place),
            );
        }
        return None;
    };
    Some(Rugs { share, resistance })
}

pub(super) fn spaces(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Space> {
    let mut spaces = Vec::new();
    for group in sheet.all("space") {
        let lines = Lines::of(group);
        spaces.push(Space {
            key: group.key.clone(),
            place: group.place,
            name: lines.name(),
            kind: lines.word_fact("kind", context, SpaceKind::Attic),
            open: lines.flag("open", context),
            insulated: lines.flag("insulated", context),
            temperature: lines.quantity("temperature"),
            factor: lines.quantity("factor"),
            loss: lines.quantity("loss"),
            volume: lines.quantity("volume"),
            air_changes: lines.quantity("air_changes"),
        });
    }
    spaces
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
pub(super) fn outline(group: &Group, context: &mut Context<'_>) -> Option<Outline> {
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

/// Surfaces whose room or space is there; without it a surface bounds nothing.
pub(super) fn surfaces(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Surface> {
    let mut surfaces = Vec::new();
    for group in sheet.all("surface") {
        let lines = Lines::of(group);
        let (room, space) = (lines.text("room"), lines.text("space"));
        if room.is_none() && space.is_none() {
            continue;
        }
        if let (Some(_), Some(space)) = (&room, &space) {
            two_owners(group, space.place, context);
        }
        surfaces.push(Surface {
            key: group.key.clone(),
            place: group.place,
            space: if room.is_none() { space } else { None },
            room,
            faces: lines.fact("faces", context, lines::faces, || Faces::Outdoors),
            area: lines.quantity("area"),
            assembly: lines.text("assembly"),
            exposed_edge: lines.quantity("exposed_edge"),
        });
    }
    surfaces
}

/// Parts of floors whose room and finish are told.
pub(super) fn floor_parts(sheet: &Sheet, context: &mut Context<'_>) -> Vec<FloorPart> {
    let mut parts = Vec::new();
    for group in sheet.all("floor_part") {
        let lines = Lines::of(group);
        let (Some(room), Some(finish)) = (lines.text("room"), lines.text("finish")) else {
            continue;
        };
        let outline = outline(group, context);
        parts.push(FloorPart { key: group.key.clone(), place: group.place, room, outline, finish });
    }
    parts
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

fn two_owners(group: &Group, place: crate::Place, context: &mut Context<'_>) {
    let subject = group.subject();
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "two-places",
            format!("{subject}.space"),
            format!("{subject} bounds both a room and a space; it is taken as the room's"),
            "keep one of the two; what is on the far side belongs to faces",
        )
        .at(place),
    );
}
