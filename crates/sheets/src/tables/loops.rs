//! The loop schedule: one row for each loop of tube.

use super::{SMALL, column};
use crate::block::{Cell, Column, Row, RowKind, Table};
use crate::source::Source;
use design::flow::LoopFlow;
use design::loops::{LoopRoom, TubeLoop};
use quantity::{Measure, Quantity, show};

fn columns(source: &Source) -> Vec<Column> {
    let mut columns = vec![
        Column::words("loop", "loop"),
        Column::words("manifold", "manifold"),
        Column::words("room", "room"),
        Column::words("tube", "tube"),
        Column::of("spacing", "spacing asked", SMALL),
        Column::of("spacing_laid", "spacing laid", SMALL),
        column("area", "area", Measure::Area),
        column("field_length", "field length", Measure::Length),
        column("leader_length", "leaders, both", Measure::Length),
        column("tail_length", "risers and tails", Measure::Length),
        column("total_length", "total length", Measure::Length),
    ];
    if some_laid(source) {
        columns.push(column("drawn_length", "length drawn", Measure::Length));
        columns.push(column("laid_length", "length laid", Measure::Length));
    }
    columns.extend([
        column("volume", "volume", Measure::Volume),
        column("heat", "heat up", Measure::Power),
        column("flow", "flow", Measure::Flow),
        column("supply", "supply", Measure::Temperature),
        column("return", "return", Measure::Temperature),
        column("drop", "drop", Measure::TemperatureDifference),
        column("head", "head", Measure::Head),
        column("velocity", "velocity", Measure::Velocity),
        Column::words("tight_bends", "tight bends"),
        Column::words("status", "status"),
    ]);
    columns
}

/// Whether marks were read of some loop, so that drawn and laid lengths stand side by side.
fn some_laid(source: &Source) -> bool {
    !source.design.coils.laid.is_empty()
}

/// The loop schedule.
pub(crate) fn loops(source: &Source) -> Table {
    let mut rows: Vec<Row> = source.design.loops.iter().map(|it| row(source, it)).collect();
    if !rows.is_empty() {
        rows.push(totals(source));
    }
    let mut notes = vec![
        "Total length runs from port to port: field, both leaders, risers and tails. Head is \
         friction in the tube only; manifold and valves come on top. The total of heads is the \
         worst one."
            .to_owned(),
    ];
    if some_laid(source) {
        notes.push(
            "A loop that is laid has its laid length as total length: its volume and head, and \
             the totals, rest on that. Field and leaders are as drawn."
                .to_owned(),
        );
    }
    let title = "Loop schedule".to_owned();
    Table { key: "loops".to_owned(), title, columns: columns(source), rows, notes }
}

fn row(source: &Source, tube: &TubeLoop) -> Row {
    let mut cells = vec![
        Cell::text(tube.key.clone()),
        Cell::text(tube.manifold.clone()),
        Cell::text(rooms(source, tube)),
        Cell::text(source.tube_name(&tube.tube)),
        asked(source, tube),
        laid(source, tube),
    ];
    let read = source.design.coils.laid(&tube.key);
    cells.extend(lengths(source, tube));
    if some_laid(source) {
        cells.push(source.cell(read.map_or(&tube.length, |read| &read.drawn)));
        cells.push(source.cell_if(read.map(|read| &read.laid)));
    }
    cells.push(source.cell(&tube.volume));
    cells.extend(water(source, source.design.flows.loops.iter().find(|it| it.key == tube.key)));
    cells.push(Cell::Count(tube.tight_bends.len()));
    cells.push(Cell::text(if read.is_some() { "laid" } else { "planned" }));
    Row::new(tube.key.clone(), cells)
}

/// The rooms that a loop heats; where there are several, with its tube in each.
fn rooms(source: &Source, tube: &TubeLoop) -> String {
    if tube.rooms.len() < 2 {
        return source.room_name(&tube.room);
    }
    let part = |part: &LoopRoom| {
        let length = show(part.length.si(), Measure::Length, source.job.units.value);
        format!("{} ({length})", source.room_name(&part.room))
    };
    tube.rooms.iter().map(part).collect::<Vec<_>>().join(", ")
}

fn asked(source: &Source, tube: &TubeLoop) -> Cell {
    match source.design.emitters.floors.iter().find(|it| it.room == tube.room) {
        Some(floor) => {
            let path = format!("room.{}.spacing", tube.room);
            source.stated(floor.spacing.value.si(), SMALL, &path)
        }
        None => Cell::CannotTell("the room has no heated floor".to_owned()),
    }
}

fn laid(source: &Source, tube: &TubeLoop) -> Cell {
    source.stated(tube.spacing_laid_m, SMALL, &format!("loop.{}.spacing_laid", tube.key))
}

fn lengths(source: &Source, tube: &TubeLoop) -> [Cell; 5] {
    [
        source.cell(&tube.area),
        source.cell(&tube.field_length),
        source.cell(&tube.leader_length),
        source.cell(&tube.tail_length),
        source.cell(&tube.length),
    ]
}

fn water(source: &Source, flow: Option<&LoopFlow>) -> [Cell; 7] {
    let why = "the water of this loop could not be worked out";
    [
        source.cell_or(flow.map(|it| &it.heat_up), why),
        source.cell_or(flow.map(|it| &it.flow), why),
        source.cell_or(flow.map(|it| &it.supply), why),
        source.cell_or(flow.map(|it| &it.back), why),
        source.cell_or(flow.map(|it| &it.drop), why),
        source.cell_or(flow.map(|it| &it.head), why),
        source.cell_or(flow.map(|it| &it.velocity), why),
    ]
}

fn totals(source: &Source) -> Row {
    let totals = &source.design.totals;
    let mut cells = vec![Cell::text("total")];
    cells.extend((0..5).map(|_| Cell::Blank));
    cells.extend([
        source.cell_if(totals.loop_area.as_ref()),
        source.cell_if(totals.field_length.as_ref()),
        source.cell_if(totals.leader_length.as_ref()),
        source.cell_if(totals.tail_length.as_ref()),
        source.cell_if(totals.tube.as_ref()),
    ]);
    if some_laid(source) {
        cells.extend([Cell::Blank, Cell::Blank]);
    }
    cells.extend([
        source.cell_if(totals.volume.as_ref()),
        source.cell_if(totals.heat_up.as_ref()),
        source.cell_if(totals.flow.as_ref()),
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
        source.cell_if(totals.head.as_ref()),
        Cell::Blank,
        Cell::Count(totals.tight_bends),
        Cell::Blank,
    ]);
    Row::new("total", cells).of(RowKind::Total)
}
