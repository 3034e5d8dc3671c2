//! Boards and plates, counted from the finished tube.

use super::SMALL;
use crate::block::{Cell, Column, Row, RowKind, Table, Units};
use crate::source::Source;
use design::loops::{BoardBill, RoomBoards};
use quantity::{Measure, Quantity, System};

/// The boards of each room; none where no floor has any.
pub(crate) fn boards(source: &Source) -> Option<Table> {
    let rooms = &source.design.boards;
    let columns = vec![
        Column::words("room", "room"),
        Column::words("board", "board"),
        Column::words("size", "size of a board"),
        Column::of("pitch", "groove to groove", SMALL),
        super::column("area", "floor of its loops", Measure::Area),
        Column::words("whole", "straight, whole"),
        Column::words("cut_boards", "straight, to cut"),
        Column::words("cut_pieces", "pieces from these"),
        Column::words("turns", "half turns"),
        Column::words("turn_pieces", "turn pieces"),
        super::column("leaders", "leaders", Measure::Length),
    ];
    let mut rows: Vec<Row> = rooms.iter().map(|it| row(source, it)).collect();
    if rooms.len() > 1 {
        let sum = |of: fn(&BoardBill) -> usize| {
            Cell::Count(rooms.iter().filter_map(|it| it.bill.as_ref()).map(of).sum())
        };
        let leaders_m: f64 = rooms.iter().map(|it| it.leaders.si()).sum();
        let cells = vec![
            Cell::text("total"),
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
            sum(|it| it.whole),
            sum(|it| it.cut_boards),
            sum(|it| it.cut_pieces),
            sum(|it| it.turns),
            sum(|it| it.turn_pieces),
            source.stated(leaders_m, Units::of(Measure::Length), ""),
        ];
        rows.push(Row::new("total", cells).of(RowKind::Total));
    }
    let notes = vec![
        "Counted from the tube as drawn: runs side by side in one column of boards are one piece, \
         and offcuts are used again. A turn piece holds two half turns. Leaders lie in leader boards \
         or in grooves cut on site. Order a few spare; floor without tube takes plain board of the \
         same thickness."
            .to_owned(),
    ];
    let (key, title) = ("boards".to_owned(), "Grooved boards".to_owned());
    (!rooms.is_empty()).then_some(Table { key, title, columns, rows, notes })
}

fn row(source: &Source, room: &RoomBoards) -> Row {
    let why = || {
        Cell::CannotTell(
            "the size of its boards is not told: piece_length and piece_width".to_owned(),
        )
    };
    let count = |of: fn(&BoardBill) -> usize| {
        room.bill.as_ref().map_or_else(why, |bill| Cell::Count(of(bill)))
    };
    let cells = vec![
        Cell::Text(source.room_name(&room.room)),
        Cell::text(room.board.clone()),
        room.bill.as_ref().map_or_else(why, |bill| Cell::Text(size(source, bill))),
        source.cell_in(&room.pitch, SMALL),
        source.cell(&room.area),
        count(|it| it.whole),
        count(|it| it.cut_boards),
        count(|it| it.cut_pieces),
        count(|it| it.turns),
        count(|it| it.turn_pieces),
        source.cell(&room.leaders),
    ];
    Row::new(room.room.clone(), cells)
}

fn size(source: &Source, bill: &BoardBill) -> String {
    let first = source.job.units.value;
    let shown = |system: System| {
        let [length, width] = bill.size.map(|it| quantity::show_in(it.si(), SMALL.unit(system)));
        format!("{length} × {width}")
    };
    format!("{} ({})", shown(first), shown(first.other()))
}

/// Plates on each loop below a subfloor; none without tube in joist bays.
pub(crate) fn plates(source: &Source) -> Option<Table> {
    let all: Vec<_> = source.design.joist_floors.iter().flat_map(|it| &it.plates).collect();
    let columns = vec![
        Column::words("loop", "loop"),
        Column::words("whole", "plates, whole"),
        Column::words("cut", "plates, cut"),
        super::column("length", "tube in plates", Measure::Length),
    ];
    let feet = Units::of(Measure::Length);
    let mut rows: Vec<Row> = all
        .iter()
        .map(|it| {
            let cells = vec![
                Cell::text(it.of_loop.clone()),
                Cell::Count(it.whole),
                Cell::Count(it.cut),
                source.cell(&it.length),
            ];
            Row::new(it.of_loop.clone(), cells)
        })
        .collect();
    if all.len() > 1 {
        let cells = vec![
            Cell::text("total"),
            Cell::Count(all.iter().map(|it| it.whole).sum()),
            Cell::Count(all.iter().map(|it| it.cut).sum()),
            source.stated(all.iter().map(|it| it.length.si()).sum(), feet, ""),
        ];
        rows.push(Row::new("total", cells).of(RowKind::Total));
    }
    let rule = &source.job.rules.plate_gap;
    let gap = super::shown_both(rule.si(), Measure::Length, source.job.units.value);
    let notes = vec![format!(
        "Plates on one strand stand {gap} apart ({}). They end where tube dips to a hole.",
        rule.citation()
    )];
    let (key, title) = ("plates".to_owned(), "Plates under the subfloor".to_owned());
    (!all.is_empty()).then_some(Table { key, title, columns, rows, notes })
}
