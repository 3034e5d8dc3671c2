//! Rooms that should touch and do not, and floors that nothing carries.

use super::Behind;
use super::house::{House, SLIP_WALLS};
use super::patch::{Part, Patch};
use super::stack::Stack;
use crate::words::Words;
use job::{Finding, Room, Severity};
use plane::edges::facing;

/// A floor that hangs by this share of it hangs as a whole.
const WHOLE_SHARE: f64 = 0.9;
/// Walls that face each other for less than this are corners, metres.
const LEAST_LENGTH_M: f64 = 0.3;

/// Tells rooms that touch nothing, and walls that stand a little too far apart.
pub(super) fn judge(
    house: &House<'_>,
    stack: &Stack,
    patches: &[Vec<Patch>],
    findings: &mut Vec<Finding>,
) {
    let mut apart = vec![false; patches.len()];
    let mut company = vec![false; patches.len()];
    for [one, other] in &house.near {
        if house.same_storey(*one, *other) && gap(house, [*one, *other], patches, findings) {
            apart[*one] = true;
            apart[*other] = true;
        }
    }
    let outlined = house.floors.iter().filter(|floor| floor.is_some()).count();
    company.iter_mut().for_each(|company| *company = outlined > 1);
    let mut seen = vec![false; patches.len()];
    for beyond in patches.iter().flatten().filter_map(|patch| patch.beyond) {
        seen[beyond.room] = true;
    }
    for (number, room) in house.job.rooms.iter().enumerate() {
        if house.floors[number].is_none() {
            if seen[number] {
                findings.push(without_outline(room));
            }
            continue;
        }
        let beside = patches[number].iter().any(|patch| patch.beyond.is_some());
        let touches = beside || stack.touches(number) || apart[number];
        if company[number] && !touches {
            findings.push(alone(room));
        }
    }
}

/// Tells floors that hang over the open air although the text does not say so.
pub(super) fn overhangs(house: &House<'_>, patches: &[Vec<Patch>], findings: &mut Vec<Finding>) {
    let words = Words { first: house.job.units.value };
    for (room, patches) in house.job.rooms.iter().zip(patches) {
        let hangs = patches.iter().find(|patch| {
            patch.part == Part::Floor && patch.behind == Behind::Outdoors && !patch.stated
        });
        let Some(patch) = hangs.filter(|_| room.below.place().is_none()) else { continue };
        // A whole room in the air is more often a slab whose storey lacks its ground line.
        let floor_m2 = house.number(&room.key).and_then(|number| house.floors[number].as_ref());
        let whole = floor_m2.is_some_and(|floor| patch.area_m2 > WHOLE_SHARE * floor.area_m2());
        let (severity, how_much) = match whole {
            true => (Severity::Warn, "all of its floor lies".to_owned()),
            false => (Severity::Note, format!("{} of its floor lie", words.area(patch.area_m2))),
        };
        let message = format!("{how_much} over no other room; outdoors is taken to be below");
        let advice = "if something else is below, write `below` in the room, such as \"ground\"";
        let subject = format!("room.{}", room.key);
        findings.push(
            Finding::new(severity, "overhang", subject, message, advice)
                .at(room.outline.as_ref().map_or(room.place, |outline| outline.place))
                .amount(patch.area_m2),
        );
    }
}

fn without_outline(room: &Room) -> Finding {
    Finding::new(
        Severity::Warn,
        "no-outline",
        format!("room.{}", room.key),
        "has no outline that can be used; walls that face each other across its likely place are \
         taken as walls to it",
        "mend the outline: until then its neighbours' loads are an estimate",
    )
    .at(room.place)
}

fn alone(room: &Room) -> Finding {
    Finding::new(
        Severity::Warn,
        "room-alone",
        format!("room.{}", room.key),
        "touches no other room beside, above or below it; all its walls are taken as outside walls",
        "check `start` and the outline, if it should stand beside another room",
    )
    .at(room.outline.as_ref().map_or(room.place, |outline| outline.place))
}

/// Whether two rooms face each other across a gap wider than a wall; tells the widest stretch.
fn gap(
    house: &House<'_>,
    [one, other]: [usize; 2],
    patches: &[Vec<Patch>],
    findings: &mut Vec<Finding>,
) -> bool {
    let (Some(first), Some(second)) = (&house.floors[one], &house.floors[other]) else {
        return false;
    };
    let thickest_m = house.thickest_wall_m();
    let outside = |facing: &plane::edges::Facing| {
        patches[one].iter().any(|patch| {
            let overlap = patch.shape.map_or(0.0, |shape| {
                let [from, to] = shape.span_m;
                to.min(facing.on_first_m[1]) - from.max(facing.on_first_m[0])
            });
            patch.part == Part::Wall(facing.edges[0])
                && patch.beyond.is_none()
                && overlap > LEAST_LENGTH_M
        })
    };
    let slip = facing(first.outer(), second.outer(), SLIP_WALLS * thickest_m)
        .into_iter()
        .filter(|facing| facing.gap_m > thickest_m && outside(facing))
        .max_by(|a, b| a.length_m().total_cmp(&b.length_m()));
    let Some(slip) = slip else { return false };
    let words = Words { first: house.job.units.value };
    let room = house.room(one);
    let message = format!(
        "stands {} from room {}, farther than the thickest wall ({}); both walls are taken as \
         outside walls",
        words.tape(slip.gap_m),
        house.room(other).key,
        words.tape(thickest_m)
    );
    findings.push(
        Finding::new(
            Severity::Warn,
            "wide-gap",
            format!("room.{}", room.key),
            message,
            "check `start` of both rooms, or raise `thickest_wall` in [house]",
        )
        .at(room.outline.as_ref().map_or(room.place, |outline| outline.place))
        .amount(slip.gap_m - thickest_m),
    );
    true
}
