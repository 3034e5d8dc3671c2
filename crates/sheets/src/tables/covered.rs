//! What other trades need to know of covered tube: doorways and walls.

use super::setting_out::distance;
use super::{SMALL, column};
use crate::block::{Cell, Column, Row, Table};
use crate::drawing::storeys;
use crate::setting_out::{Crossing, Doorway, doorways, stretches};
use crate::source::{Source, spoken};
use quantity::Measure;

/// A stretch of wall shorter than this has no row, metres.
const ROW_M: f64 = 0.5;

/// Which tube passes each doorway, and where.
pub(crate) fn doorway_table(source: &Source) -> Table {
    let columns = vec![
        Column::words("letter", "on plan"),
        Column::words("doorway", "doorway"),
        Column::words("seen", "seen from, into"),
        Column::words("loop", "loop"),
        Column::words("part", "part"),
        Column::of("left", "from left jamb", SMALL),
        Column::of("right", "from right jamb", SMALL),
        column("along", "along the tube", Measure::Length),
    ];
    let mut rows = Vec::new();
    for plan in storeys(source) {
        for doorway in doorways(&plan) {
            for (number, crossing) in doorway.crossings.iter().enumerate() {
                let key = format!("{}-{}", doorway.key, number + 1);
                rows.push(Row::new(key, passing(source, &doorway, crossing)));
            }
        }
    }
    let notes = vec![
        "From the jamb to the middle of the tube, halfway through the wall, left and right as seen \
         from the room named. Along the tube: from the supply port, on the floor; tube between port \
         and floor comes on top."
            .to_owned(),
    ];
    let title = "Tube in doorways".to_owned();
    Table { key: "doorways".to_owned(), title, columns, rows, notes }
}

fn passing(source: &Source, doorway: &Doorway, crossing: &Crossing) -> Vec<Cell> {
    let [left, right] = doorway.jambs.map(|jamb| jamb.distance(crossing.at));
    let seen = format!("{}, {}", source.room_name(doorway.from), source.room_name(doorway.into));
    vec![
        Cell::text(doorway.letter.clone()),
        Cell::Text(spoken(doorway.key)),
        Cell::Text(seen),
        Cell::text(crossing.tube.key.clone()),
        Cell::text(crossing.part.word()),
        source.stated(left, SMALL, ""),
        source.stated(right, SMALL, ""),
        source.stated(crossing.along_m, crate::block::Units::of(Measure::Length), ""),
    ]
}

/// How near tube comes to each wall, and what is free along it.
pub(crate) fn wall_table(source: &Source) -> Table {
    let columns = vec![
        Column::words("room", "room"),
        Column::words("wall", "wall"),
        Column::words("stretch", "stretch, from its left end"),
        Column::of("nearest", "nearest tube", SMALL),
        Column::of("free", "free to fix within", SMALL),
    ];
    let mut rows = Vec::new();
    for plan in storeys(source) {
        for (number, it) in stretches(&plan).into_iter().enumerate() {
            let [from, to] = it.along_m;
            if to - from < ROW_M {
                continue;
            }
            let nearest = match it.nearest_m {
                Some(nearest_m) => source.stated(nearest_m, SMALL, ""),
                None => Cell::text("none near"),
            };
            // Who faces the wall has its beginning on the right.
            let length = it.wall.length_m();
            let [left, right] = [length - to, length - from]
                .map(|at_m| distance(source, at_m).shown(source.job.units.value));
            let whole = to - from > length - 1e-6;
            let cells = vec![
                Cell::Text(source.room_name(&it.room.key)),
                Cell::Text(spoken(&it.wall.name)),
                Cell::Text(if whole {
                    "all of it".to_owned()
                } else {
                    format!("{left} to {right}")
                }),
                nearest,
                if it.free_m > 0.0 {
                    source.stated(it.free_m, SMALL, "")
                } else {
                    Cell::text("nowhere")
                },
            ];
            rows.push(Row::new(format!("{}-{number}", it.room.key), cells));
        }
    }
    let clearance = &source.job.rules.fastener_clearance;
    let notes = vec![format!(
        "Nearest tube: from the wall's face to the tube's middle. Free: that less {} ({}). Left \
             is as seen by somebody who faces the wall. Places where tube crosses a wall are left \
             out: nothing is fixed there.",
        source.stated(clearance.si(), SMALL, "").shown(source.job.units.value),
        clearance.citation()
    )];
    let title = "Tube along walls".to_owned();
    Table { key: "walls".to_owned(), title, columns, rows, notes }
}
