//! Emitters other than floors.

use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::emitters::Helper;
use job::EmitterKind;
use quantity::Measure;

/// The table of emitters other than floors; none where the job has none that can be told.
pub(crate) fn helpers(source: &Source) -> Option<Table> {
    let helpers = &source.design.emitters.helpers;
    let columns = vec![
        Column::words("emitter", "emitter"),
        Column::words("room", "room"),
        Column::words("circuit", "circuit"),
        Column::words("kind", "what it is"),
        super::column("output", "gives", Measure::Power),
        super::column("share", "of the room's loss", Measure::Ratio),
        super::column("surface", "its surface", Measure::Temperature),
        super::column("behind", "lost behind it", Measure::Power),
    ];
    let rows = helpers.iter().map(|helper| row(source, helper)).collect();
    let notes = vec![
        "At the supply of its circuit with the design drop, from its rating and exponent, or from the \
         section of a panel. The floor carries the room first; these make up the rest. What a panel \
         loses behind it is taken as if outdoors lay there, and comes on top of the house's loss."
            .to_owned(),
    ];
    let (key, title) = ("emitters".to_owned(), "Other emitters".to_owned());
    (!helpers.is_empty()).then_some(Table { key, title, columns, rows, notes })
}

fn row(source: &Source, helper: &Helper) -> Row {
    let stated = source.job.emitters.iter().find(|emitter| emitter.key == helper.key);
    let kind = match (&helper.panel, stated.map(|emitter| emitter.kind.value)) {
        (Some(panel), _) => panel.name.clone(),
        (None, kind) => kind.map_or("", kind_word).to_owned(),
    };
    let cells = vec![
        Cell::text(helper.key.replace('_', " ")),
        Cell::Text(source.room_name(&helper.room)),
        Cell::text(helper.circuit.clone().unwrap_or_else(|| "–".to_owned())),
        Cell::text(kind),
        source.cell(&helper.output),
        source.cell_if(helper.share.as_ref()),
        source.cell_if(helper.panel.as_ref().map(|panel| &panel.surface)),
        source.cell_if(helper.panel.as_ref().map(|panel| &panel.behind)),
    ];
    Row::new(helper.key.clone(), cells)
}

const fn kind_word(kind: EmitterKind) -> &'static str {
    match kind {
        EmitterKind::Radiator => "radiator",
        EmitterKind::Convector => "convector",
        EmitterKind::TowelRail => "towel rail",
        EmitterKind::WallPanel => "wall panel",
        EmitterKind::CeilingPanel => "ceiling panel",
    }
}
