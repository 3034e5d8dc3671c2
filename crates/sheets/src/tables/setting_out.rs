//! Ties from walls: what the numbers on the plan say, in both units.

use super::SMALL;
use crate::block::{Cell, Column, Row, Table, Units};
use crate::drawing::storeys;
use crate::setting_out::{Tie, tied};
use crate::source::{Source, spoken};
use quantity::Measure;

/// From this on a distance is told in feet and metres.
const LONG_M: f64 = 1.0;

/// Ties of ports, loops and keep-outs.
pub(crate) fn setting_out(source: &Source) -> Table {
    let columns = vec![
        Column::words("what", "what"),
        Column::words("room", "room"),
        Column::words("first_wall", "from wall"),
        Column::words("first", "distance"),
        Column::words("second_wall", "from wall"),
        Column::words("second", "distance"),
    ];
    let mut rows = Vec::new();
    for plan in storeys(source) {
        for (number, thing) in tied(&plan).into_iter().enumerate() {
            let mut cells = vec![Cell::Text(thing.what), Cell::Text(source.room_name(thing.room))];
            for place in 0..2 {
                cells.extend(tie(source, thing.ties.get(place)));
            }
            rows.push(Row::new(format!("{}-{number}", thing.subject), cells));
        }
    }
    let notes = vec![
        "Measured on the drawing from inside faces of walls: to the middle of the tube, the middle \
         of the ports, the edge of the keep-out. A loop that follows walls nowhere has no row."
            .to_owned(),
    ];
    let title = "Setting out: distances from walls".to_owned();
    Table { key: "setting_out".to_owned(), title, columns, rows, notes }
}

fn tie(source: &Source, tie: Option<&Tie>) -> [Cell; 2] {
    let Some(tie) = tie else { return [Cell::Blank, Cell::Blank] };
    [Cell::Text(spoken(&tie.wall.name)), distance(source, tie.length_m())]
}

/// A length on the drawing; inches and millimetres where it is short.
pub(super) fn distance(source: &Source, length_m: f64) -> Cell {
    let units = if length_m < LONG_M { SMALL } else { Units::of(Measure::Length) };
    source.stated(length_m, units, "")
}
