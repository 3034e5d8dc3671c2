//! Parts of heated floors with a surface of their own.

use super::{SMALL, column};
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::emitters::{HeatedFloor, HeatedPart};
use quantity::Measure;

/// The table of floors whose parts differ; none where every floor is all one.
pub(crate) fn floor_parts(source: &Source) -> Option<Table> {
    let columns = vec![
        Column::words("room", "room"),
        Column::words("part", "part"),
        Column::words("finish", "finish"),
        column("area", "floor with tube", Measure::Area),
        Column::of("spacing", "tube spacing", SMALL),
        column("flux", "heat upward", Measure::HeatFlux),
        column("surface", "mean surface", Measure::Temperature),
        column("surface_limit", "its limit", Measure::Temperature),
        column("warmest", "warmest spot", Measure::Temperature),
        column("peak_limit", "its limit", Measure::Temperature),
    ];
    let floors = source.design.emitters.floors.iter();
    let rows: Vec<Row> = floors
        .flat_map(|floor| floor.parts.iter().map(move |part| row(source, floor, part)))
        .collect();
    let notes = vec![
        "Each part with its own section, all of a room at the same mean water. The strip along \
         outside walls may be warmer than the floor where people stay. What the room gets is the \
         sum over its parts."
            .to_owned(),
    ];
    let (key, title) = ("floor-parts".to_owned(), "Parts of floors".to_owned());
    (!rows.is_empty()).then_some(Table { key, title, columns, rows, notes })
}

fn row(source: &Source, floor: &HeatedFloor, part: &HeatedPart) -> Row {
    let finish = source.job.catalogue.finish(&part.finish);
    let cells = vec![
        Cell::Text(source.room_name(&floor.room)),
        Cell::text(part.name.clone()),
        Cell::text(finish.map_or_else(|| part.finish.clone(), |finish| finish.name.clone())),
        source.cell(&part.area),
        source.cell_in(&part.spacing, SMALL),
        source.cell(&part.flux),
        source.cell(&part.surface),
        source.cell(&part.surface_limit),
        source.cell(&part.warmest),
        source.cell(&part.peak_limit),
    ];
    Row::new(format!("{} {}", floor.room, part.name), cells)
}
