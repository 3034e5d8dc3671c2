//! Rooms that should touch and do not.

use super::plan::same_storey;
use super::walls::{Stretch, bounds_within};
use crate::words::Words;
use job::{Finding, Job, Room, Severity};
use plane::Region;
use plane::edges::facing;
use quantity::Quantity;

/// Gaps up to this many thickest walls are taken for a slip of the tape.
const SLIP_WALLS: f64 = 2.5;
/// Walls that face each other for less than this are corners, metres.
const LEAST_LENGTH_M: f64 = 0.3;

/// Tells rooms that touch nothing, and walls that stand a little too far apart.
pub(super) fn judge(
    job: &Job,
    floors: &[Option<Region>],
    stretches: &[Vec<Stretch>],
    findings: &mut Vec<Finding>,
) {
    for (number, room) in job.rooms.iter().enumerate() {
        if floors[number].is_none() {
            let behind = |stretch: &Stretch| stretch.neighbour == Some(number);
            if stretches.iter().flatten().any(behind) {
                findings.push(without_outline(room));
            }
            continue;
        }
        let mut apart = false;
        for other in number + 1..job.rooms.len() {
            let near = floors[number].as_ref().zip(floors[other].as_ref()).is_some_and(|(a, b)| {
                bounds_within(a, b, SLIP_WALLS * job.house.thickest_wall.value.si())
            });
            if near && same_storey(room, &job.rooms[other]) {
                apart |= gap(job, [number, other], floors, stretches, findings);
            }
        }
        let has_company = (0..job.rooms.len()).any(|other| {
            other != number && floors[other].is_some() && same_storey(room, &job.rooms[other])
        });
        let touches = stretches[number].iter().any(|stretch| stretch.neighbour.is_some());
        if has_company && !touches && !apart {
            findings.push(alone(room));
        }
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
        "touches no other room of its storey; all its walls are taken as outside walls",
        "check `start` and the outline, if it should stand beside another room",
    )
    .at(room.outline.as_ref().map_or(room.place, |outline| outline.place))
}

/// Whether two rooms face each other across a gap wider than a wall; tells the widest stretch.
fn gap(
    job: &Job,
    [one, other]: [usize; 2],
    floors: &[Option<Region>],
    stretches: &[Vec<Stretch>],
    findings: &mut Vec<Finding>,
) -> bool {
    let (Some(first), Some(second)) = (&floors[one], &floors[other]) else { return false };
    let thickest_m = job.house.thickest_wall.value.si();
    let outside = |facing: &plane::edges::Facing| {
        let [from, to] = facing.on_first_m;
        stretches[one].iter().any(|stretch| {
            let overlap = to.min(stretch.span_m[1]) - from.max(stretch.span_m[0]);
            stretch.edge == facing.edges[0]
                && stretch.neighbour.is_none()
                && overlap > LEAST_LENGTH_M
        })
    };
    let slip = facing(first.outer(), second.outer(), SLIP_WALLS * thickest_m)
        .into_iter()
        .filter(|facing| facing.gap_m > thickest_m && outside(facing))
        .max_by(|a, b| a.length_m().total_cmp(&b.length_m()));
    let Some(slip) = slip else { return false };
    let words = Words { first: job.units.value };
    let room = &job.rooms[one];
    let message = format!(
        "stands {} from room {}, farther than the thickest wall ({}); both walls are taken as \
         outside walls",
        words.tape(slip.gap_m),
        job.rooms[other].key,
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
