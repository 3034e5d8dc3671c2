//! The manifold table, with blanks for the readings on site.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::flow::ManifoldFlow;
use job::Manifold;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("manifold", "manifold"),
        Column::words("room", "in room"),
        Column::words("ports", "loops"),
        Column::words("loops", "loop on each port, in order"),
        column("flow", "flow", Measure::Flow),
        column("head", "head", Measure::Head),
        Column::words("worst", "loop that needs most"),
        column("heat", "heat", Measure::Power),
        column("return", "mixed return", Measure::Temperature),
        Column::words("reading", "read on site"),
    ]
}

/// The manifold table.
pub(crate) fn manifolds(source: &Source) -> Table {
    let rows = source.job.manifolds.iter().map(|it| row(source, it)).collect();
    let notes = vec![
        "Heat is all that the water gives: up, down and on the way. Head is that of the loop that \
         needs most; manifold, valves and mains come on top."
            .to_owned(),
    ];
    let title = "Manifolds".to_owned();
    Table { key: "manifolds".to_owned(), title, columns: columns(), rows, notes }
}

fn row(source: &Source, manifold: &Manifold) -> Row {
    let flow = source.design.flows.manifolds.iter().find(|it| it.key == manifold.key);
    let room = manifold.room.as_ref().map(|room| source.room_name(&room.value));
    let mut cells = vec![
        Cell::text(manifold.key.clone()),
        room.map_or_else(|| Cell::CannotTell("no room is stated".to_owned()), Cell::Text),
    ];
    cells.extend(water(source, flow));
    cells.push(Cell::Blank);
    Row::new(manifold.key.clone(), cells)
}

fn water(source: &Source, flow: Option<&ManifoldFlow>) -> [Cell; 7] {
    let why = "no loop hangs on it";
    [
        Cell::Count(flow.map_or(0, |it| it.loops.len())),
        flow.map_or(Cell::Blank, |it| Cell::Text(it.loops.join(", "))),
        source.cell_or(flow.map(|it| &it.flow), why),
        source.cell_or(flow.map(|it| &it.head), why),
        flow.map_or(Cell::Blank, |it| Cell::text(it.worst.clone())),
        source.cell_or(flow.map(|it| &it.heat), why),
        source.cell_or(flow.map(|it| &it.back), why),
    ]
}
