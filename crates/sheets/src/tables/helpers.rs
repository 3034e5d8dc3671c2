//! Emitters other than floors.

use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::emitters::Helper;
use quantity::Measure;

/// The table of emitters other than floors; none where the job has none that can be told.
pub(crate) fn helpers(source: &Source) -> Option<Table> {
    let helpers = &source.design.emitters.helpers;
    let columns = vec![
        Column::words("emitter", "emitter"),
        Column::words("room", "room"),
        Column::words("circuit", "circuit"),
        super::column("output", "gives", Measure::Power),
    ];
    let rows = helpers.iter().map(|helper| row(source, helper)).collect();
    let notes = vec![
        "At the supply of its circuit with the design drop, from its rating and exponent. The floor \
         carries the room first; these make up the rest."
            .to_owned(),
    ];
    let (key, title) = ("emitters".to_owned(), "Other emitters".to_owned());
    (!helpers.is_empty()).then_some(Table { key, title, columns, rows, notes })
}

fn row(source: &Source, helper: &Helper) -> Row {
    let cells = vec![
        Cell::text(helper.key.replace('_', " ")),
        Cell::Text(source.room_name(&helper.room)),
        Cell::text(helper.circuit.clone().unwrap_or_else(|| "–".to_owned())),
        source.cell(&helper.output),
    ];
    Row::new(helper.key.clone(), cells)
}
