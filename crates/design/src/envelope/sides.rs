//! Surfaces between two rooms that only one of the two knows of.

use super::house::House;
use super::patch::Patch;
use super::{Behind, Enclosure};
use job::{Finding, Place, Severity};

/// Tells every room that looks at another one which does not look back.
pub(super) fn judge(
    house: &House<'_>,
    enclosures: &[Enclosure],
    patches: &[Vec<Patch>],
    findings: &mut Vec<Finding>,
) {
    for (number, enclosure) in enclosures.iter().enumerate() {
        let mut told: Vec<&str> = Vec::new();
        for face in &enclosure.faces {
            let Behind::Room(key) = &face.behind else { continue };
            // A key that is no room's was told when the text was read.
            let Some(other) = house.number(key).filter(|other| *other != number) else { continue };
            let back = Behind::Room(enclosure.room.clone());
            let looks_back = enclosures[other].faces.iter().any(|face| face.behind == back);
            if looks_back || told.contains(&&**key) || found_by_geometry(number, other, patches) {
                continue;
            }
            told.push(key);
            let message = format!(
                "{} looks at room {key}, but {key} has no face towards {}: heat that leaves one \
                 does not reach the other",
                face.key, enclosure.room
            );
            let advice = format!(
                "state the same face for {key}, with `faces = \"room.{}\"`, or give both rooms \
                 outlines that meet",
                enclosure.room
            );
            let subject = format!("room.{}", enclosure.room);
            findings.push(
                Finding::new(Severity::Warn, "one-sided", subject, message, advice)
                    .at(place(house, number, key)),
            );
        }
    }
}

/// Whether the drawing, not the text, shows one room beside the other: then it also shows it to
/// the other, unless its outline is of no use, which was told, or the text says otherwise there.
fn found_by_geometry(number: usize, other: usize, patches: &[Vec<Patch>]) -> bool {
    let beside = |from: usize, to: usize, stated: bool| {
        let shown = |patch: &Patch| patch.beyond.is_some_and(|it| it.room == to);
        patches[from].iter().any(|patch| shown(patch) && patch.stated == stated)
    };
    beside(number, other, false) && !beside(other, number, true)
}

/// Where the text says that a room faces another one.
fn place(house: &House<'_>, number: usize, other: &str) -> Place {
    let (job, room) = (house.job, house.room(number));
    let names = |faces: &job::Faces| matches!(faces, job::Faces::Room(key) if key == other);
    let surface = job.surfaces_of(&room.key).find(|it| names(&it.faces.value));
    let rule = job.face_rules.iter().find_map(|rule| {
        let faces = rule.faces.as_ref().filter(|faces| names(&faces.value))?;
        (rule.room.value == room.key).then_some(faces.place)
    });
    surface.and_then(|surface| surface.faces.place()).or(rule).unwrap_or(room.place)
}
