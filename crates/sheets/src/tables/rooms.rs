//! Heat loss and floor output, room by room.

use super::column;
use crate::block::{Cell, Column, Row, RowKind, Table};
use crate::source::Source;
use design::StoreyTotals;
use design::emitters::HeatedFloor;
use design::envelope::Enclosure;
use design::loads::RoomLoss;
use job::Room;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("room", "room"),
        column("area", "floor area", Measure::Area),
        column("heated_area", "heated area", Measure::Area),
        column("indoor", "indoor", Measure::Temperature),
        column("outdoors", "loss: faces to outdoors", Measure::Power),
        column("unheated", "loss: unheated spaces", Measure::Power),
        column("ground", "loss: ground", Measure::Power),
        column("air", "loss: air", Measure::Power),
        column("neighbours", "loss: neighbour rooms", Measure::Power),
        column("loss", "loss: total", Measure::Power),
        column("per_area", "loss per area", Measure::HeatFlux),
        column("surface", "floor surface", Measure::Temperature),
        column("surface_limit", "surface limit", Measure::Temperature),
        column("output", "floor output", Measure::Power),
        column("short", "short by", Measure::Power),
    ]
}

/// The room table.
pub(crate) fn rooms(source: &Source) -> Table {
    let rooms: Vec<&Room> = source.job.rooms.iter().collect();
    let mut rows = if source.job.storeys.len() > 1 {
        by_storey(source, &rooms)
    } else {
        rooms.iter().map(|room| row(source, room)).collect()
    };
    if rooms.len() > 1 {
        rows.push(totals(source));
    }
    let mut notes = vec![
        "Loss of a room: what its heated floor must give. Heat that a heated floor itself sends \
         down is not in it. Floor surface: mean over the heated area on the design day."
            .to_owned(),
    ];
    for water in &source.design.emitters.waters {
        let name = source.room_name(&water.governing);
        let of_circuit = match &water.circuit {
            Some(circuit) => format!(" of circuit {circuit}"),
            None => String::new(),
        };
        let why = "no other room on it needs warmer water.";
        notes.push(format!("{name} sets the supply temperature{of_circuit}: {why}"));
    }
    let title = "Rooms: heat loss and heated floor".to_owned();
    Table { key: "rooms".to_owned(), title, columns: columns(), rows, notes }
}

/// Rooms under the name of their storey, each storey summed up; the rest at the end.
fn by_storey(source: &Source, rooms: &[&Room]) -> Vec<Row> {
    let mut rows = Vec::new();
    let on = |room: &Room, key: &str| room.storey.as_ref().is_some_and(|it| it.value == key);
    for storey in &source.job.storeys {
        let here: Vec<&&Room> = rooms.iter().filter(|room| on(room, &storey.key)).collect();
        if here.is_empty() {
            continue;
        }
        let name = source.storey_name(&storey.key);
        let mut cells = vec![Cell::Text(format!("storey {name}"))];
        cells.resize(columns().len(), Cell::Blank);
        rows.push(Row::new(format!("storey {}", storey.key), cells).of(RowKind::Heading));
        rows.extend(here.iter().map(|room| row(source, room)));
        let totals = &source.design.totals.storeys;
        if let Some(totals) = totals.iter().find(|it| it.storey == storey.key)
            && here.len() > 1
        {
            rows.push(storey_totals(source, totals, &name));
        }
    }
    let known = |room: &Room| source.job.storeys.iter().any(|storey| on(room, &storey.key));
    rows.extend(rooms.iter().filter(|room| !known(room)).map(|room| row(source, room)));
    rows
}

fn row(source: &Source, room: &Room) -> Row {
    let key = &room.key;
    let design = source.design;
    let enclosure = design.envelope.enclosures.iter().find(|it| it.room == *key);
    let loss = design.loads.rooms.iter().find(|it| it.room == *key);
    let floor = design.emitters.floors.iter().find(|it| it.room == *key);
    let mut cells = vec![Cell::text(room.name.value.clone())];
    cells.extend(geometry(source, room, enclosure, floor));
    match (room.unheated.value, loss) {
        (true, None) => cells.extend((0..7).map(|_| Cell::text("–"))),
        _ => cells.extend(losses(source, loss)),
    }
    cells.extend(heated(source, room, floor));
    Row::new(key.clone(), cells)
}

fn geometry(
    source: &Source,
    room: &Room,
    enclosure: Option<&Enclosure>,
    floor: Option<&HeatedFloor>,
) -> [Cell; 3] {
    let area = enclosure.and_then(|it| it.area.as_ref());
    let indoor = match source.settled(&room.key) {
        Some(settled) => Some(&settled.temperature),
        None => enclosure.map(|it| &it.indoor).filter(|_| !room.unheated.value),
    };
    let heated = match floor {
        Some(floor) => source.cell(&floor.area),
        None if room.heated.value => Cell::CannotTell("no heated floor was found".to_owned()),
        None => Cell::text("not heated"),
    };
    [
        source.cell_or(area, "the room has neither outline nor area"),
        heated,
        source.cell_or(indoor, "how warm the room is could not be worked out"),
    ]
}

fn losses(source: &Source, loss: Option<&RoomLoss>) -> [Cell; 7] {
    let why = "the loss of this room could not be worked out";
    let per_area = loss.and_then(|it| it.per_area.as_ref());
    [
        source.cell_or(loss.map(|it| &it.heat.outdoors), why),
        source.cell_or(loss.map(|it| &it.heat.unheated), why),
        source.cell_or(loss.map(|it| &it.heat.ground), why),
        source.cell_or(loss.map(|it| &it.heat.air), why),
        source.cell_or(loss.map(|it| &it.heat.neighbours), why),
        source.cell_or(loss.map(|it| &it.heat.total), why),
        source.cell_or(per_area, "the floor area is not known"),
    ]
}

fn heated(source: &Source, room: &Room, floor: Option<&HeatedFloor>) -> Vec<Cell> {
    let Some(floor) = floor else {
        let why = || Cell::CannotTell("no heated floor was found".to_owned());
        return (0..4).map(|_| if room.heated.value { why() } else { Cell::Blank }).collect();
    };
    // A fraction of a watt is no shortage, and would be shown as nought.
    let short = if floor.short.si() >= 0.5 { source.cell(&floor.short) } else { Cell::text("–") };
    vec![
        source.cell(&floor.surface),
        source.cell(&floor.surface_limit),
        source.cell(&floor.output),
        short,
    ]
}

fn totals(source: &Source) -> Row {
    let totals = &source.design.totals;
    let cells = vec![
        Cell::text("total"),
        source.cell_if(totals.floor_area.as_ref()),
        source.cell_if(totals.heated_area.as_ref()),
        Cell::Blank,
        source.cell_if(totals.outdoors.as_ref()),
        source.cell_if(totals.unheated.as_ref()),
        source.cell_if(totals.ground.as_ref()),
        source.cell_if(totals.air.as_ref()),
        source.cell_if(totals.neighbours.as_ref()),
        source.cell_if(source.design.loads.total.as_ref()),
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
        source.cell_if(totals.output.as_ref()),
        Cell::Blank,
    ];
    Row::new("total", cells).of(RowKind::Total)
}

fn storey_totals(source: &Source, totals: &StoreyTotals, name: &str) -> Row {
    let cells = vec![
        Cell::Text(format!("sum of {name}")),
        source.cell_if(totals.floor_area.as_ref()),
        source.cell_if(totals.heated_area.as_ref()),
        Cell::Blank,
        source.cell_if(totals.outdoors.as_ref()),
        source.cell_if(totals.unheated.as_ref()),
        source.cell_if(totals.ground.as_ref()),
        source.cell_if(totals.air.as_ref()),
        source.cell_if(totals.neighbours.as_ref()),
        source.cell_if(totals.loss.as_ref()),
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
        source.cell_if(totals.output.as_ref()),
        Cell::Blank,
    ];
    Row::new(format!("sum {}", totals.storey), cells).of(RowKind::Subtotal)
}
