//! Which room sets the water of each circuit, and what cooler water would take.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::emitters::Governed;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("room", "room"),
        Column::words("what", "what"),
        Column::words("circuit", "circuit"),
        column("room_needs", "the room needs", Measure::Temperature),
        column("all_need", "all need", Measure::Temperature),
        column("saves", "cooler by", Measure::TemperatureDifference),
    ]
}

/// The table of what sets the water; none where no floor asks for any.
pub(crate) fn governed(source: &Source) -> Option<Table> {
    let rows: Vec<Row> =
        source.design.emitters.governed.iter().flat_map(|it| of_circuit(source, it)).collect();
    let notes = vec![
        "Supply temperatures on the design day before they are rounded up. Below each room that sets \
         the water: what would let all do with cooler water, one at a time."
            .to_owned(),
    ];
    let (key, title) = ("water".to_owned(), "What sets the water".to_owned());
    (!rows.is_empty()).then(|| Table { key, title, columns: columns(), rows, notes })
}

fn of_circuit(source: &Source, governed: &Governed) -> Vec<Row> {
    let circuit = governed.circuit.as_deref();
    let key = circuit.unwrap_or("heating");
    let named = source.job.circuits.iter().find(|own| Some(own.key.as_str()) == circuit);
    let name =
        named.map_or_else(|| circuit.unwrap_or("–").to_owned(), |own| own.name.value.clone());
    let room = source.room_name(&governed.room);
    let needs = source.cell(&governed.needs);
    let mut rows = vec![Row::new(
        format!("{key}/now"),
        vec![
            Cell::Text(room.clone()),
            Cell::text("sets the water as it is"),
            Cell::Text(name),
            needs.clone(),
            needs,
            Cell::Blank,
        ],
    )];
    if let Some((next, needs)) = &governed.next {
        let cells = vec![
            Cell::Text(source.room_name(next)),
            Cell::text("comes next"),
            Cell::Blank,
            source.cell(needs),
            Cell::Blank,
            Cell::Blank,
        ];
        rows.push(Row::new(format!("{key}/next"), cells));
    }
    for (number, way) in governed.ways.iter().enumerate() {
        let cells = vec![
            Cell::Text(room.clone()),
            Cell::text(way.what.clone()),
            Cell::Blank,
            source.cell(&way.room_needs),
            source.cell(&way.all_need),
            source.cell(&way.saves),
        ];
        rows.push(Row::new(format!("{key}/way-{}", number + 1), cells));
    }
    rows
}
