//! Outlines as regions, and what is wrong with them.

use crate::words::Words;
use job::{Finding, Job, KeepOut, Outline, Room, Severity};
use plane::{Flaw, Region};
use quantity::Quantity;

/// Parts of a floor may overlap by so much, as tapes differ, square metres.
const PARTS_OVERLAP_M2: f64 = 0.05;

/// The floor of a room between its inside faces; none with a finding if the outline is no floor.
pub(super) fn floor(room: &Room, findings: &mut Vec<Finding>) -> Option<Region> {
    let outline = room.outline.as_ref()?;
    match Region::simple(outline.corners.clone()) {
        Ok(region) => Some(region),
        Err(flaw) => {
            findings.push(flawed(&format!("room.{}", room.key), outline, &flaw));
            None
        }
    }
}

pub(super) fn flawed(subject: &str, outline: &Outline, flaw: &Flaw) -> Finding {
    let wall = |edge: usize| match outline.wall_names.get(edge) {
        Some(Some(name)) => format!("wall {} (`{name}`)", edge + 1),
        _ => format!("wall {}", edge + 1),
    };
    let (message, advice) = match flaw {
        Flaw::CrossesItself { edges: [one, other], .. } => (
            format!("the outline crosses itself: {} meets {}", wall(*one), wall(*other)),
            "check the direction and length of these two walls",
        ),
        Flaw::TooFewCorners { .. } => (
            "the outline has fewer than three corners".to_owned(),
            "give every wall of the room, going round once",
        ),
        Flaw::NoArea { .. } => (
            "the outline encloses no floor".to_owned(),
            "check the directions: the walls run back over each other",
        ),
        other => (format!("the outline cannot be used: {other}"), "check its corners"),
    };
    Finding::new(Severity::Stop, "outline-flaw", subject, message, advice).at(outline.place)
}

/// The pieces of a room's floor that can take tube.
pub(super) fn free(
    job: &Job,
    room: &Room,
    floor: &Region,
    holes: &[Region],
    findings: &mut Vec<Finding>,
) -> Vec<Region> {
    let mut rings: Vec<_> = holes.iter().map(|hole| hole.outer().to_vec()).collect();
    for keep_out in job.keep_outs_of(&room.key) {
        let Some(outline) = &keep_out.outline else { continue };
        match Region::simple(outline.corners.clone()) {
            Ok(region) => {
                findings.extend(strays(job, keep_out, outline, &region, floor));
                rings.push(region.outer().to_vec());
            }
            Err(flaw) => {
                findings.push(flawed(&format!("keep_out.{}", keep_out.key), outline, &flaw));
            }
        }
    }
    rings.extend(crate::fixtures::keep_clear(job, &room.key));
    floor.difference(&rings).unwrap_or_else(|_| vec![floor.clone()])
}

/// A keep-out that lies beyond the walls of its room by more than a wall.
fn strays(
    job: &Job,
    keep_out: &KeepOut,
    outline: &Outline,
    region: &Region,
    floor: &Region,
) -> Option<Finding> {
    let outside_m2 = region.area_m2() - region.overlap_area_m2(floor);
    // A cabinet drawn into its wall is no mistake.
    let into_walls_m2 = job.house.thickest_wall.value.si() * region.perimeter_m() / 2.0;
    (outside_m2 > into_walls_m2).then(|| {
        let words = Words { first: job.units.value };
        let message =
            format!("{} of it lie outside room {}", words.area(outside_m2), keep_out.room.value);
        let advice = "check its `start`, or the room it names";
        let subject = format!("keep_out.{}", keep_out.key);
        Finding::new(Severity::Stop, "keep-out-astray", subject, message, advice)
            .at(outline.place)
            .amount(outside_m2)
    })
}

/// What is wrong with the parts of a room's floor.
pub(super) fn parts(job: &Job, room: &Room, floor: &Region, findings: &mut Vec<Finding>) {
    let words = Words { first: job.units.value };
    let mut before: Vec<(&str, Region)> = Vec::new();
    for part in job.floor_parts_of(&room.key) {
        let Some(outline) = &part.outline else { continue };
        let subject = format!("floor_part.{}", part.key);
        let region = match Region::simple(outline.corners.clone()) {
            Ok(region) => region,
            Err(flaw) => {
                findings.push(flawed(&subject, outline, &flaw));
                continue;
            }
        };
        let outside_m2 = region.area_m2() - region.overlap_area_m2(floor);
        // One drawn into the walls of its room is no mistake.
        if outside_m2 > job.house.thickest_wall.value.si() * region.perimeter_m() / 2.0 {
            let message = format!("{} of it lie outside room {}", words.area(outside_m2), room.key);
            let advice =
                "check its `start`, or the room it names; only what lies in the room counts";
            let finding =
                Finding::new(Severity::Stop, "floor-part-astray", &subject, message, advice);
            findings.push(finding.at(outline.place).amount(outside_m2));
        }
        for (other, earlier) in &before {
            let both_m2 = region.overlap_area_m2(earlier);
            if both_m2 > PARTS_OVERLAP_M2 {
                let message = format!(
                    "{} of it lie on part {other}, whose finish is taken there",
                    words.area(both_m2)
                );
                let advice = "let the two outlines meet, not overlap";
                let finding =
                    Finding::new(Severity::Warn, "floor-parts-overlap", &subject, message, advice);
                findings.push(finding.at(outline.place).amount(both_m2));
            }
        }
        before.push((&part.key, region));
    }
}

fn storey(room: &Room) -> Option<&str> {
    room.storey.as_ref().map(|storey| storey.value.as_str())
}

/// Whether two rooms stand on the same storey.
pub(super) fn same_storey(one: &Room, other: &Room) -> bool {
    storey(one) == storey(other)
}
