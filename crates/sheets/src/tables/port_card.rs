//! A card for each manifold: its ports as somebody sees them who stands before it.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::drawing::storeys;
use crate::setting_out::port_groups;
use crate::source::Source;
use design::loops::TubeLoop;
use job::Manifold;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("port", "port"),
        Column::words("loop", "loop"),
        Column::words("room", "room"),
        column("length", "length", Measure::Length),
        column("flow", "flow", Measure::Flow),
        Column::words("set", "set on site"),
        Column::words("read", "flow read"),
        Column::words("back", "return read"),
        Column::words("mark", "remark"),
    ]
}

/// One card for each manifold that has loops.
pub(crate) fn port_cards(source: &Source) -> Vec<Table> {
    let cards = source.job.manifolds.iter().map(|manifold| card(source, manifold));
    cards.filter(|card| !card.rows.is_empty()).collect()
}

fn card(source: &Source, manifold: &Manifold) -> Table {
    let loops = in_order(source, &manifold.key);
    let rows = loops.iter().enumerate();
    let rows = rows.map(|(number, tube)| row(source, number + 1, tube)).collect();
    let mut notes = vec![
        "Ports count from left to right as seen by somebody who faces the manifold: the order in \
         which the tubes stand at the wall."
            .to_owned(),
    ];
    if loops.iter().any(|tube| tube.leader.through.is_some()) {
        let words = "Loops that come through a riser stand last: hang them where the riser comes.";
        notes.push(words.to_owned());
    }
    let title = format!("Port card: manifold {}", manifold.key);
    Table { key: format!("ports-{}", manifold.key), title, columns: columns(), rows, notes }
}

/// The loops of a manifold in the order of its ports, those through risers last.
fn in_order<'a>(source: &'a Source<'a>, manifold: &str) -> Vec<&'a TubeLoop> {
    let mut direct = Vec::new();
    let mut through = Vec::new();
    for plan in storeys(source) {
        for group in port_groups(&plan).into_iter().filter(|it| it.manifold == manifold) {
            let tubes = group.ports.iter().map(|port| port.tube);
            match group.through {
                None => direct.extend(tubes),
                Some(_) => through.extend(tubes),
            }
        }
    }
    direct.extend(through);
    // Loops without a drawn tube have no place in the order.
    let rest = source.design.loops.iter().filter(|it| it.manifold == manifold);
    let rest: Vec<&TubeLoop> =
        rest.filter(|it| direct.iter().all(|known| known.key != it.key)).collect();
    direct.extend(rest);
    direct
}

fn row(source: &Source, number: usize, tube: &TubeLoop) -> Row {
    let flow = source.design.flows.loops.iter().find(|it| it.key == tube.key);
    let why = "the water of this loop could not be worked out";
    let mut cells = vec![
        Cell::Count(number),
        Cell::text(tube.key.clone()),
        Cell::Text(source.room_name(&tube.room)),
        source.cell(&tube.length),
        source.cell_or(flow.map(|it| &it.flow), why),
    ];
    cells.extend((0..4).map(|_| Cell::Blank));
    Row::new(tube.key.clone(), cells)
}
