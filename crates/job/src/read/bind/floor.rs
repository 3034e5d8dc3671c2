//! Joints, and what is set or fixed into a floor.

use super::lines::{self, Lines};
use crate::model::{Fixture, Joint, JointKind};
use crate::read::Context;
use crate::read::sheet::Sheet;

pub(super) fn joints(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Joint> {
    let mut joints = Vec::new();
    for group in sheet.all("joint") {
        let lines = Lines::of(group);
        joints.push(Joint {
            key: group.key.clone(),
            place: group.place,
            kind: lines.word_fact("kind", context, JointKind::Movement),
            line: lines.stated("line", lines::points),
            room: lines.text("room"),
            storey: lines.text("storey"),
            width: lines.quantity_fact("width", context),
            depth: lines.quantity("depth"),
        });
    }
    joints
}

/// Fixtures whose kind and room are known; what one lacks was told.
pub(super) fn fixtures(sheet: &Sheet) -> Vec<Fixture> {
    let fixture = |group| {
        let lines = Lines::of(group);
        Some(Fixture {
            key: group.key.clone(),
            place: group.place,
            kind: lines.word("kind")?,
            room: lines.text("room")?,
            at: lines.point("at"),
            line: lines.stated("line", lines::points),
            size: lines.quantity("size"),
            clearance: lines.quantity("clearance"),
        })
    };
    sheet.all("fixture").filter_map(fixture).collect()
}
