//! Faces between two rooms whose areas do not agree: heat that leaves one is not what the other
//! gets.

use super::case::Case;
use crate::envelope::{Behind, Enclosure};
use crate::words::Words;
use job::{Finding, Severity};
use std::collections::BTreeMap;

/// Areas that differ by less are taped alike.
const SHARE: f64 = 0.02;

/// Tells every pair of rooms whose faces towards each other differ in area.
///
/// What geometry finds is equal from both sides; what a text states by surfaces need not be.
pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let mut towards: BTreeMap<(&str, &str), f64> = BTreeMap::new();
    for enclosure in &case.envelope.enclosures {
        for face in &enclosure.faces {
            let Behind::Room(other) = &face.behind else { continue };
            *towards.entry((&enclosure.room, other)).or_default() += face.area.si();
        }
    }
    for ((one, other), area_m2) in &towards {
        let Some(back_m2) = towards.get(&(*other, *one)) else { continue };
        let uneven = (area_m2 - back_m2).abs() > SHARE * area_m2.max(*back_m2);
        if one < other && uneven {
            let enclosure = case.enclosure(one);
            findings.extend(enclosure.map(|room| told(case, room, other, *area_m2, *back_m2)));
        }
    }
}

fn told(case: &Case<'_>, one: &Enclosure, other: &str, area_m2: f64, back_m2: f64) -> Finding {
    let words = Words { first: case.job.units.value };
    let message = format!(
        "its faces towards room {other} are {}, those of {other} towards it {}: heat that leaves \
         one room is not what reaches the other",
        words.area(area_m2),
        words.area(back_m2)
    );
    let advice = "measure the wall or floor between them once, and state it alike for both rooms";
    let subject = format!("room.{}", one.room);
    Finding::new(Severity::Warn, "uneven-faces", subject, message, advice)
        .at(one.place)
        .amount((area_m2 - back_m2).abs())
}
