//! What is set or fixed into floors, and how near tube comes.

use super::SMALL;
use crate::block::{Cell, Column, Row, Table};
use crate::source::{Source, spoken};
use design::fixtures::NearFixture;

/// Every fixture that has a place; none where the job names none.
pub(crate) fn fixtures(source: &Source) -> Option<Table> {
    let columns = vec![
        Column::words("fixture", "fixture"),
        Column::words("kind", "kind"),
        Column::words("room", "room"),
        Column::of("clearance", "tube keeps", SMALL),
        Column::of("nearest", "nearest tube", SMALL),
        Column::words("loop", "of loop"),
        Column::words("crossed", "passes under it"),
    ];
    let rows: Vec<Row> = source.design.fixtures.iter().map(|it| row(source, it)).collect();
    let notes = vec![
        "From the edge of the fixture to the middle of the tube, as drawn. Sills of doors let tube \
         pass: they are glued where it does."
            .to_owned(),
    ];
    let title = "Tube at flanges, plates, pins and sills".to_owned();
    (!rows.is_empty()).then(|| Table { key: "fixtures".to_owned(), title, columns, rows, notes })
}

fn row(source: &Source, fixture: &NearFixture) -> Row {
    let (nearest, of_loop) = match &fixture.nearest {
        Some((of_loop, near)) => (source.cell_in(near, SMALL), Cell::text(of_loop.clone())),
        None => (Cell::text("none near"), Cell::Blank),
    };
    let crossed = match fixture.crossed {
        0 => Cell::text("no"),
        times => Cell::Text(format!("{times} times")),
    };
    let cells = vec![
        Cell::Text(spoken(&fixture.key)),
        Cell::text(fixture.kind.word()),
        Cell::Text(source.room_name(&fixture.room)),
        source.cell_in(&fixture.clearance, SMALL),
        nearest,
        of_loop,
        crossed,
    ];
    Row::new(fixture.key.clone(), cells)
}
