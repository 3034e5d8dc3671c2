//! Ways for pipe, mains, parts and zones.

use super::lines::{self, Lines};
use super::rooms::outline;
use crate::model::{Main, Part, Passage, PassageKind, Zone, ZonePart};
use crate::read::Context;
use crate::read::sheet::Sheet;

pub(super) fn passages(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Passage> {
    let mut passages = Vec::new();
    for group in sheet.all("passage") {
        let lines = Lines::of(group);
        passages.push(Passage {
            key: group.key.clone(),
            place: group.place,
            kind: lines.word_fact("kind", context, PassageKind::Doorway),
            from: lines.text("from"),
            to: lines.text("to"),
            at: lines.known("at", lines::point),
            width: lines.quantity("width"),
        });
    }
    passages
}

pub(super) fn mains(sheet: &Sheet) -> Vec<Main> {
    let main = |group| {
        let lines = Lines::of(group);
        Main {
            key: group.key.clone(),
            place: group.place,
            from: lines.text("from"),
            to: lines.text("to"),
            size: lines.text("size"),
            length: lines.quantity("length"),
            fittings: lines.text("fittings"),
        }
    };
    sheet.all("main").map(main).collect()
}

pub(super) fn parts(sheet: &Sheet) -> Vec<Part> {
    let part = |group| {
        let lines = Lines::of(group);
        Part {
            key: group.key.clone(),
            place: group.place,
            kind: lines.word("kind"),
            room: lines.text("room"),
            height: lines.quantity("height"),
            water: lines.quantity("water"),
            storage: lines.quantity("storage"),
            output: lines.quantity("output"),
        }
    };
    sheet.all("part").map(part).collect()
}

pub(super) fn zones(sheet: &Sheet) -> Vec<Zone> {
    let zone = |group| {
        let lines = Lines::of(group);
        Zone {
            key: group.key.clone(),
            place: group.place,
            name: lines.name(),
            circuit: lines.text("circuit"),
        }
    };
    sheet.all("zone").map(zone).collect()
}

/// Parts of rooms whose zone is there.
pub(super) fn zone_parts(sheet: &Sheet, context: &mut Context<'_>) -> Vec<ZonePart> {
    let mut parts = Vec::new();
    for group in sheet.all("zone_part") {
        let lines = Lines::of(group);
        let Some(zone) = lines.text("zone") else { continue };
        parts.push(ZonePart {
            key: group.key.clone(),
            place: group.place,
            zone,
            room: lines.text("room"),
            outline: outline(group, context),
        });
    }
    parts
}
