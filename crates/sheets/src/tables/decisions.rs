//! What was decided for each heated floor, and why.

use super::SMALL;
use super::basis::reason;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::Placement;
use design::emitters::HeatedFloor;
use job::Reason;
use quantity::{Measure, Quantity, show};

/// The table of decisions, floor by floor.
pub(crate) fn decisions(source: &Source) -> Table {
    let columns = vec![
        Column::words("room", "room"),
        Column::words("decision", "decision"),
        Column::words("value", "value"),
        Column::words("reason", "why"),
    ];
    let placements = source.design.placements.iter();
    let floors = source.design.emitters.floors.iter();
    let rows = placements
        .map(|placement| of_manifold(source, placement))
        .chain(floors.flat_map(|floor| of_floor(source, floor)))
        .collect();
    let title = "What was decided, and why".to_owned();
    let notes =
        vec!["To hold a decision, state it in the job; to open it again, take it out.".to_owned()];
    Table { key: "decisions".to_owned(), title, columns, rows, notes }
}

/// Where a manifold hangs.
fn of_manifold(source: &Source, placement: &Placement) -> Row {
    let room = placement.room.as_ref().map_or("", String::as_str);
    let at = placement.at.value;
    let tape = |metres: f64| show(metres, Measure::Length, source.job.units.value);
    let value = format!("{} at {}, {}", placement.manifold, tape(at.x), tape(at.y));
    let cells = vec![
        Cell::Text(source.room_name(room)),
        Cell::text("manifold's place"),
        Cell::Text(value),
        Cell::Text(reason(source, &placement.at.reason)),
    ];
    Row::new(format!("{}/place", placement.manifold), cells)
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
    let mut rows = Vec::new();
    if let Some(choice) = source.design.floor_choices.iter().find(|it| it.room == *room) {
        let built = source.design.build_ups.iter().find(|it| it.room == *room);
        let name = built.map_or(choice.floor.value.clone(), |it| it.name.clone());
        rows.push(row("floor", Cell::Text(name), &choice.floor.reason));
    }
    rows.push(row("spacing", spacing, &floor.spacing.reason));
    if let Some(layout) = source.design.layouts.iter().find(|it| it.room == *room) {
        let tube = Cell::Text(source.tube_name(&layout.tube.value));
        let count = Cell::Count(layout.count.value as usize);
        rows.push(row("tube", tube, &layout.tube.reason));
        rows.push(row("loops", count, &layout.count.reason));
        let pattern = Cell::text(layout.pattern.value.word());
        rows.push(row("pattern", pattern, &layout.pattern.reason));
        let manifold = Cell::text(layout.manifold.value.clone());
        rows.push(row("manifold", manifold, &layout.manifold.reason));
    }
    rows
}
