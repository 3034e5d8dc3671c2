//! The ground line along outside walls.

use super::house::House;
use super::trapezoid::Trapezoid;
use super::walls::named;
use crate::words::Words;
use job::{Finding, Grade, Severity};
use quantity::Quantity;
use std::collections::BTreeMap;

/// Deeper than any house goes, metres.
const DEEP_M: f64 = 1e3;

/// Levels of the ground at both ends of the walls for which the text states them.
pub(super) struct GroundLines(BTreeMap<(usize, usize), [f64; 2]>);

impl GroundLines {
    pub(super) fn of(house: &House<'_>, findings: &mut Vec<Finding>) -> GroundLines {
        let mut lines = BTreeMap::new();
        for grade in &house.job.grades {
            // What the text lacks was told when it was read.
            let Some(room) = house.number(&grade.room.value) else { continue };
            let Some((wall, left)) = grade.wall.as_ref().zip(grade.left.as_ref()) else {
                continue;
            };
            let right = grade.right.as_ref().unwrap_or(left);
            match named(&grade.room.value, &house.walls[room], &wall.value) {
                // Seen from inside, a wall runs from its right end to its left.
                Ok(number) => {
                    findings.extend(over_ceiling(
                        house,
                        room,
                        grade,
                        left.value.si().max(right.value.si()),
                    ));
                    let ends = [right, left].map(|end| house.level_m[room] + end.value.si());
                    lines.insert((room, number), ends);
                }
                Err((message, advice)) => findings.push(
                    Finding::new(
                        Severity::Stop,
                        "grade-nowhere",
                        format!("grade.{}", grade.key),
                        message,
                        advice,
                    )
                    .at(wall.place),
                ),
            }
        }
        GroundLines(lines)
    }

    /// The ground that stands against a wall, from far below up to the ground line.
    pub(super) fn against(&self, house: &House<'_>, room: usize, wall: usize) -> Trapezoid {
        let level = house.levels.ground_m(house.room(room));
        Trapezoid {
            span_m: [0.0, house.walls[room][wall].length_m()],
            low_m: [-DEEP_M; 2],
            high_m: self.0.get(&(room, wall)).copied().unwrap_or([level; 2]),
        }
    }
}

/// Tells ground that stands higher than the ceiling of its room, which is mostly a wrong unit.
fn over_ceiling(house: &House<'_>, room: usize, grade: &Grade, most_m: f64) -> Option<Finding> {
    let height_m = house.room(room).height.as_ref()?.value.si();
    if most_m <= height_m + 0.01 {
        return None;
    }
    let words = Words { first: house.job.units.value };
    let message = format!(
        "the ground stands {} over the floor of {}, above its ceiling at {}",
        words.tape(most_m),
        grade.room.value,
        words.tape(height_m)
    );
    let advice = "check `left` and `right`; ground over a ceiling is not counted";
    let place = grade.left.as_ref().and_then(|left| left.place());
    Some(
        Finding::new(
            Severity::Warn,
            "grade-over-ceiling",
            format!("grade.{}", grade.key),
            message,
            advice,
        )
        .at(place),
    )
}
