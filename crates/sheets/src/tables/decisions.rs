//! What was decided for each heated floor, and why.

use super::SMALL;
use super::basis::reason;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::Placement;
use design::emitters::HeatedFloor;
use job::{Place, Reason};
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
        .chain(in_hand(source))
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
    let value = format!("{} at {}", placement.manifold, self::at(source, at));
    let cells = vec![
        Cell::Text(source.room_name(room)),
        Cell::text("manifold's place"),
        Cell::Text(value),
        Cell::Text(reason(source, &placement.at.reason)),
    ];
    Row::new(format!("{}/place", placement.manifold), cells)
}

/// What the text takes in hand of a layout: floors and ways of loops, entries, orders at the ports.
fn in_hand(source: &Source) -> Vec<Row> {
    let job = &source.job;
    let row = |room: String, decision: &str, value: String, key: String, place: Place| {
        let why = Cell::Text(reason(source, &Reason::Held(place)));
        Row::new(key, vec![Cell::Text(room), Cell::text(decision), Cell::Text(value), why])
    };
    let mut rows = Vec::new();
    for room in &job.rooms {
        let name = || source.room_name(&room.key);
        let key = |what: &str| format!("{}/{what}", room.key);
        if let Some(held) = room.entry.held() {
            rows.push(row(name(), "entry", held.value.clone(), key("entry"), held.place));
        }
        if let Some(held) = room.entry_at.held() {
            let place = at(source, held.value);
            rows.push(row(name(), "place in the doorway", place, key("entry_at"), held.place));
        }
    }
    for held in &job.held_loops {
        let room = held.named().map_or(String::new(), |(room, _)| source.room_name(room));
        if let Some(outline) = &held.outline {
            let (value, key) = (format!("drawn for {}", held.key), format!("{}/floor", held.key));
            rows.push(row(room.clone(), "floor of a loop", value, key, outline.place));
        }
        if let Some(way) = held.way.held() {
            let value = format!("drawn for {}, {} places", held.key, way.value.len());
            rows.push(row(room, "way of leaders", value, format!("{}/way", held.key), way.place));
        }
    }
    for manifold in &job.manifolds {
        let Some(first) = manifold.order.first() else { continue };
        let keys: Vec<&str> = manifold.order.iter().map(|key| key.value.as_str()).collect();
        let room =
            manifold.room.as_ref().map_or(String::new(), |room| source.room_name(&room.value));
        let key = format!("{}/order", manifold.key);
        rows.push(row(room, "order at the ports", keys.join(", "), key, first.place));
    }
    rows
}

/// A place of the plan by its two distances.
fn at(source: &Source, place: plane::Point) -> String {
    let tape = |metres: f64| show(metres, Measure::Length, source.job.units.value);
    format!("{}, {}", tape(place.x), tape(place.y))
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
        if let Some(with) = &layout.shares_loop {
            let neighbour = Cell::Text(source.room_name(&with.value));
            rows.push(row("shares loop of", neighbour, &with.reason));
        }
        let pattern = Cell::text(layout.pattern.value.word());
        rows.push(row("pattern", pattern, &layout.pattern.reason));
        let manifold = Cell::text(layout.manifold.value.clone());
        rows.push(row("manifold", manifold, &layout.manifold.reason));
    }
    rows
}
