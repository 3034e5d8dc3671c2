//! Coils of tube, and loops as they were laid.

use super::lines::{self, Lines};
use super::rooms::outline;
use crate::decision::{Fact, Origin};
use crate::model::{Coil, HeldLoop, LaidLoop};
use crate::read::Context;
use crate::read::sheet::Sheet;
use quantity::Length;

pub(super) fn coils(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Coil> {
    let mut coils = Vec::new();
    for group in sheet.all("coil") {
        let lines = Lines::of(group);
        coils.push(Coil {
            key: group.key.clone(),
            place: group.place,
            tube: lines.text("tube"),
            length: lines.quantity("length"),
            start: lines.quantity_fact("start", context),
            end: lines.quantity("end"),
            on_hand: lines.count("on_hand"),
        });
    }
    coils
}

/// Loops of which both marks were read.
pub(super) fn laid(sheet: &Sheet) -> Vec<LaidLoop> {
    let laid = |group| {
        let lines = Lines::of(group);
        Some(LaidLoop {
            key: group.key.clone(),
            place: group.place,
            start: read_off(lines.quantity("start")?),
            end: read_off(lines.quantity("end")?),
            coil: lines.text("coil"),
            date: lines.text("date"),
        })
    };
    sheet.all("laid").filter_map(laid).collect()
}

pub(super) fn held(sheet: &Sheet, context: &mut Context<'_>) -> Vec<HeldLoop> {
    let mut held = Vec::new();
    for group in sheet.all("loop") {
        held.push(HeldLoop {
            key: group.key.clone(),
            place: group.place,
            outline: outline(group, context),
            way: Lines::of(group).decision("way", lines::points),
        });
    }
    held
}

/// A mark is read off the tube, whether or not the table says so.
fn read_off(mark: Fact<Length>) -> Fact<Length> {
    let origin = match mark.origin {
        Origin::Stated(place) => Origin::Measured(place),
        other => other,
    };
    Fact { origin, ..mark }
}
