//! Loops as laid beside loops as drawn.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::coils::LaidLength;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("loop", "loop"),
        column("start_read", "mark at supply port", Measure::Length),
        column("end_read", "mark at return port", Measure::Length),
        column("laid", "laid", Measure::Length),
        column("drawn", "drawn", Measure::Length),
        column("difference", "laid less drawn", Measure::Length),
        column("share", "share of drawn", Measure::Ratio),
        Column::words("coil", "from coil"),
        Column::words("date", "read on"),
    ]
}

/// Every loop of which marks were read; none before the first.
pub(crate) fn laid(source: &Source) -> Option<Table> {
    let laid = &source.design.coils.laid;
    let rows: Vec<Row> = laid.iter().map(|it| row(source, it)).collect();
    let notes = vec![
        "Marks are printed on the tube and read at the two ports. Head and \
         volume rest on the laid length of the loop; heat, flow and the heat of its leaders rest \
         on field and leaders as drawn."
            .to_owned(),
    ];
    let title = "Loops as laid".to_owned();
    let key = "laid".to_owned();
    (!rows.is_empty()).then(|| Table { key, title, columns: columns(), rows, notes })
}

fn row(source: &Source, laid: &LaidLength) -> Row {
    let words = |words: &Option<String>| words.clone().map_or(Cell::Blank, Cell::Text);
    let cells = vec![
        Cell::text(laid.key.clone()),
        source.cell(&laid.start),
        source.cell(&laid.end),
        source.cell(&laid.laid),
        source.cell(&laid.drawn),
        source.cell(&laid.difference),
        source.cell(&laid.share),
        words(&laid.coil),
        words(&laid.date),
    ];
    Row::new(laid.key.clone(), cells)
}
