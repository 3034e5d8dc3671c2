//! Heat losses of storeys, zones and the house.

use super::column;
use crate::block::{Cell, Column, Row, RowKind, Table};
use crate::source::Source;
use design::loads::{GroupLoss, Split};
use quantity::{Measure, Quantity};

fn parts<Q: Quantity>(source: &Source, split: &Split<Q>) -> [Cell; 6] {
    [
        source.cell(&split.outdoors),
        source.cell(&split.unheated),
        source.cell(&split.ground),
        source.cell(&split.neighbours),
        source.cell(&split.air),
        source.cell(&split.total),
    ]
}

fn part_columns(measure: Measure) -> [Column; 6] {
    [
        column("outdoors", "to outdoors", measure),
        column("unheated", "to unheated spaces", measure),
        column("ground", "into the ground", measure),
        column("neighbours", "to neighbours", measure),
        column("air", "outdoor air", measure),
        column("total", "in all", measure),
    ]
}

/// Heat on the design day: storeys, zones, rooms one by one, the house.
pub(crate) fn groups(source: &Source) -> Table {
    let loads = &source.design.loads;
    let mut columns = vec![
        Column::words("name", "part of the house"),
        Column::words("rooms", "rooms"),
        column("area", "floor area", Measure::Area),
    ];
    columns.extend(part_columns(Measure::Power));
    columns.push(column("per_area", "per floor area", Measure::HeatFlux));
    let has_reheat = loads.house.as_ref().is_some_and(|house| house.reheat.is_some());
    if has_reheat {
        columns.push(column("reheat", "warming up, on top", Measure::Power));
    }
    let row = |group: &GroupLoss| {
        let mut cells = vec![
            Cell::Text(group.name.clone()),
            Cell::Count(group.rooms.len()),
            source.cell(&group.area),
        ];
        cells.extend(parts(source, &group.heat));
        cells.push(source.cell_if(group.per_area.as_ref()));
        if has_reheat {
            cells.push(source.cell_if(group.reheat.as_ref()));
        }
        cells
    };
    let mut rows = Vec::new();
    rows.extend(titled("storey", &loads.storeys, columns.len(), row));
    rows.extend(titled("zone", &loads.zones, columns.len(), row));
    if loads.rooms.len() > 1 {
        rows.push(one_by_one(source, columns.len()));
    }
    if let Some(house) = &loads.house {
        rows.push(Row::new("house", row(house)).of(RowKind::Total));
    }
    let title = "Heat loss on the design day".to_owned();
    Table { key: "groups".to_owned(), title, columns, rows, notes: notes(source) }
}

/// Groups of one kind under a heading; nothing for a house with one storey or zone.
fn titled(
    kind: &str,
    groups: &[GroupLoss],
    width: usize,
    row: impl Fn(&GroupLoss) -> Vec<Cell>,
) -> Vec<Row> {
    if groups.len() < 2 {
        return Vec::new();
    }
    let mut heading = vec![Cell::Text(format!("each {kind} by itself"))];
    heading.resize(width, Cell::Blank);
    let heading = Row::new(format!("each {kind}"), heading).of(RowKind::Heading);
    let rows = groups.iter().map(|group| Row::new(format!("{kind} {}", group.key), row(group)));
    [heading].into_iter().chain(rows).collect()
}

fn one_by_one(source: &Source, width: usize) -> Row {
    let totals = &source.design.totals;
    let mut cells = vec![
        Cell::text("rooms one by one"),
        Cell::Count(source.design.loads.rooms.len()),
        Cell::Blank,
        source.cell_if(totals.outdoors.as_ref()),
        source.cell_if(totals.unheated.as_ref()),
        source.cell_if(totals.ground.as_ref()),
        source.cell_if(totals.neighbours.as_ref()),
        source.cell_if(totals.air.as_ref()),
        source.cell_if(source.design.loads.total.as_ref()),
    ];
    cells.resize(width, Cell::Blank);
    Row::new("rooms", cells).of(RowKind::Aside)
}

fn notes(source: &Source) -> Vec<String> {
    let loads = &source.design.loads;
    if loads.house.is_none() {
        return vec!["The heat loss of the house could not be worked out.".to_owned()];
    }
    let mut notes = Vec::new();
    if loads.rooms.len() > 1 {
        notes.push(
            "The house is not the sum of its rooms. Heat from room to room leaves no house, and \
             wind does not blow into all rooms at once. Each room's emitter must give the room's \
             own loss; the source needs to make that of the house. So it is with storeys and zones."
                .to_owned(),
        );
    }
    if source.design.totals.lost_below.as_ref().is_some_and(|lost| lost.si() > 0.0) {
        notes.push(
            "Heated floor is left out of the losses above; what it sends down to ground, outdoors \
             and unheated spaces comes on top, and the source must make both."
                .to_owned(),
        );
    }
    notes
}

/// Heat per degree, from which the loss at any outdoor temperature follows.
pub(crate) fn per_degree(source: &Source) -> Table {
    let loads = &source.design.loads;
    let mut columns = vec![Column::words("name", "part of the house")];
    columns.extend(part_columns(Measure::HeatLossCoefficient));
    let row = |group: &GroupLoss| {
        let cells = [Cell::Text(group.name.clone())].into_iter();
        cells.chain(parts(source, &group.per_degree)).collect()
    };
    let mut rows = Vec::new();
    rows.extend(titled("storey", &loads.storeys, columns.len(), row));
    rows.extend(titled("zone", &loads.zones, columns.len(), row));
    if let Some(house) = &loads.house {
        rows.push(Row::new("house", row(house)).of(RowKind::Total));
    }
    let notes = loads.house.as_ref().map(|house| other_days(source, house)).unwrap_or_default();
    let title = "Heat per degree".to_owned();
    Table { key: "per_degree".to_owned(), title, columns, rows, notes }
}

/// How the loss on any other day follows, with an example.
fn other_days(source: &Source, house: &GroupLoss) -> Vec<String> {
    let first = source.job.units.value;
    let mut notes = vec![
        "Each number goes with its own cold side. On a day with another outdoor temperature: to \
         outdoors and for outdoor air, heat per degree times (indoor less outdoor). To unheated \
         spaces, times (indoor less the space), which follows outdoors by the factor of the space. \
         Into the ground, what it is on the design day: it hardly changes from day to day. To \
         neighbours, what it is on the design day."
            .to_owned(),
    ];
    let (outdoors, air) = (&house.per_degree.outdoors, &house.per_degree.air);
    let mut example = format!(
        "Example: each degree that it is warmer outdoors takes {} off through surfaces and {} off \
         for air",
        outdoors.work.shown(first),
        air.work.shown(first)
    );
    if house.heat.unheated.si() > 0.0 {
        example.push_str(", and a little more to unheated spaces");
    }
    example.push('.');
    notes.push(example);
    notes
}
