//! Floors as they were marched: each room's spots, with room for readings, and each loop's water.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::warmth::{RoomWarmth, Warmth};
use quantity::{Measure, show_in, unit};

/// Difference to the balance that is worth a word, as a share.
const LARGE: f64 = 0.05;

/// Rooms with their spots; the last columns are for readings.
pub(crate) fn warm_rooms(source: &Source, warmth: &Warmth, (kind, what): (&str, &str)) -> Table {
    let columns = vec![
        Column::words("room", "room"),
        column("hottest", "hottest spot", Measure::Temperature),
        column("coolest", "coolest spot", Measure::Temperature),
        column("mean", "mean", Measure::Temperature),
        column("swing", "over tube to between", Measure::TemperatureDifference),
        column("limit", "hottest allowed", Measure::Temperature),
        column("over", "floor over that", Measure::Area),
        Column::words("read_hottest", "read: hottest"),
        Column::words("read_coolest", "read: coolest"),
        Column::words("read_mean", "read: mean"),
    ];
    let row = |room: &RoomWarmth| {
        let swing = room.swing.as_ref();
        let cells = vec![
            Cell::Text(source.room_name(&room.room)),
            source.cell(&room.hottest.surface),
            source.cell(&room.coolest.surface),
            source.cell(&room.mean),
            source.cell_or(swing, "no two tubes lie side by side"),
            source.cell(&room.limit),
            source.cell(&room.over),
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
        ];
        Row::new(room.room.clone(), cells)
    };
    let notes = vec![
        "Coolest and mean are those of floor near tube; what no tube is near to is not known. \
         The last columns are for what a camera or a surface thermometer reads."
            .to_owned(),
    ];
    Table {
        key: format!("floor-{kind}-rooms"),
        title: format!("Floor temperatures {what}"),
        columns,
        rows: warmth.rooms.iter().map(row).collect(),
        notes,
    }
}

/// Loops with their water, along the tube and by the balance.
pub(crate) fn warm_loops(source: &Source, warmth: &Warmth, (kind, what): (&str, &str)) -> Table {
    let columns = vec![
        Column::words("loop", "loop"),
        column("supply", "supply", Measure::Temperature),
        column("return", "return, along the tube", Measure::Temperature),
        column("balanced_return", "return, by the design", Measure::Temperature),
        column("heat", "heat, along the tube", Measure::Power),
        column("balanced_heat", "heat, by the design", Measure::Power),
        column("difference", "difference", Measure::Ratio),
    ];
    let rows = warmth.loops.iter().map(|own| {
        let cells = vec![
            Cell::text(own.key.clone()),
            source.cell(&own.supply),
            source.cell(&own.back),
            source.cell(&own.balanced_back),
            source.cell(&own.heat),
            source.cell(&own.balanced_heat),
            source.cell(&own.difference),
        ];
        Row::new(own.key.clone(), cells)
    });
    let large = warmth.loops.iter().filter(|own| own.difference.si().abs() > LARGE);
    let large: Vec<&str> = large.map(|own| own.key.as_str()).collect();
    let mut notes = vec![
        "By the design a loop's floor is one, its tube evenly apart, at the mean of its water. Along \
         the tube leaders lose more on the way out than back, supply warms the return beside it, each \
         piece of tube has the floor that is nearest to it, and rows that lie unevenly or far from a \
         wall give less. Heat is up and down together."
            .to_owned(),
    ];
    notes.extend((!large.is_empty()).then(|| {
        let much = show_in(LARGE, &unit::PERCENT);
        format!("More than {much} apart: {}.", large.join(", "))
    }));
    Table {
        key: format!("floor-{kind}-loops"),
        title: format!("Water along the tube {what}"),
        columns,
        rows: rows.collect(),
        notes,
    }
}
