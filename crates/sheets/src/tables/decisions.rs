//! What was decided for each heated floor, and why.

use super::SMALL;
use super::basis::reason;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::emitters::HeatedFloor;
use job::Reason;
use quantity::Quantity;

/// The table of decisions, floor by floor.
pub(crate) fn decisions(source: &Source) -> Table {
    let columns = vec![
        Column::words("room", "room"),
        Column::words("decision", "decision"),
        Column::words("value", "value"),
        Column::words("reason", "why"),
    ];
    let floors = source.design.emitters.floors.iter();
    let rows = floors.flat_map(|floor| of_floor(source, floor)).collect();
    let title = "What was decided, and why".to_owned();
    let notes =
        vec!["To hold a decision, state it in the job; to open it again, take it out.".to_owned()];
    Table { key: "decisions".to_owned(), title, columns, rows, notes }
}

fn of_floor(source: &Source, floor: &HeatedFloor) -> Vec<Row> {
    let room = &floor.room;
    let path = format!("room.{room}.spacing");
    let spacing = source.stated(floor.spacing.value.si(), SMALL, &path);
    let row = |decision: &str, value: Cell, why: &Reason| {
        let name = Cell::Text(source.room_name(room));
        let cells = vec![name, Cell::text(decision), value, Cell::Text(reason(source, why))];
        Row::new(format!("{room}/{decision}"), cells)
    };
    let mut rows = vec![row("spacing", spacing, &floor.spacing.reason)];
    if let Some(layout) = source.design.layouts.iter().find(|it| it.room == *room) {
        let tube = Cell::Text(source.tube_name(&layout.tube.value));
        let count = Cell::Count(layout.count.value as usize);
        rows.push(row("tube", tube, &layout.tube.reason));
        rows.push(row("loops", count, &layout.count.reason));
        let manifold = Cell::text(layout.manifold.value.clone());
        rows.push(row("manifold", manifold, &layout.manifold.reason));
    }
    rows
}
