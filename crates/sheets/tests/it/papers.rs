//! What the blocks of a design sheet hold.

use crate::{CABIN, read, sheet_of};
use design::Standing;
use sheets::{Block, Cell, Sheet};

fn si(sheet: &Sheet, table: &str, row: &str, column: &str) -> f64 {
    match sheet.table(table).and_then(|table| table.cell(row, column)) {
        Some(Cell::Quantity(value)) => value.si,
        other => panic!("{table}/{row}/{column} is {other:?}"),
    }
}

#[test]
fn every_row_has_a_cell_for_every_column() {
    let sheet = sheet_of(CABIN);
    for table in sheet.tables() {
        for row in &table.rows {
            assert_eq!(row.cells.len(), table.columns.len(), "{} {}", table.key, row.key);
        }
    }
}

#[test]
fn rooms_and_loops_have_a_row_each_and_one_of_totals() {
    let (job, design, _) = read(CABIN);
    let sheet = sheet_of(CABIN);
    assert_eq!(job.rooms.len(), 5);
    assert_eq!(sheet.table("rooms").expect("room table").rows.len(), 6);
    let loops = sheet.table("loops").expect("loop schedule");
    assert_eq!(loops.rows.len(), design.loops.len() + 1);
    assert_eq!(loops.rows.iter().filter(|row| row.kind.sums()).count(), 1);
}

#[test]
fn totals_are_the_sums_of_their_columns() {
    let sheet = sheet_of(CABIN);
    for (table, columns) in [
        ("rooms", &["area", "loss", "output", "air"][..]),
        ("loops", &["total_length", "volume", "flow", "field_length"][..]),
    ] {
        for column in columns {
            let rows = &sheet.table(table).expect("table").rows;
            let parts = rows.iter().filter(|row| !row.kind.sums());
            let sum: f64 = parts.map(|row| si(&sheet, table, &row.key, column)).sum();
            let total = si(&sheet, table, "total", column);
            assert!((sum - total).abs() <= 1e-9 * total.abs(), "{table} {column}: {sum} {total}");
        }
    }
}

#[test]
fn a_total_is_only_as_sure_as_its_parts() {
    let sheet = sheet_of(&CABIN.replace("indoor = 72\n", ""));
    let standing = |table: &str, row: &str, column: &str| match sheet
        .table(table)
        .and_then(|table| table.cell(row, column))
    {
        Some(Cell::Quantity(value)) => value.standing,
        other => panic!("{table}/{row}/{column} is {other:?}"),
    };
    assert_eq!(standing("rooms", "bath", "indoor"), Standing::Estimated);
    assert_eq!(standing("rooms", "great", "indoor"), Standing::Designed);
    assert_eq!(standing("loops", "bath/1", "volume"), Standing::Estimated);
    assert_eq!(standing("loops", "total", "volume"), Standing::Estimated);
    assert_eq!(standing("loops", "total", "field_length"), Standing::Designed);
    assert_eq!(standing("loops", "total", "heat"), Standing::Designed);
}

#[test]
fn the_head_of_all_loops_is_the_worst_one() {
    let sheet = sheet_of(CABIN);
    let (_, design, _) = read(CABIN);
    let worst = design.flows.loops.iter().map(|it| it.head.si()).fold(0.0, f64::max);
    assert_eq!(si(&sheet, "loops", "total", "head"), worst);
}

#[test]
fn what_is_missing_says_why_and_is_no_zero() {
    let sheet = sheet_of("[room.attic_store]\nindoor = 60\n");
    let table = sheet.table("rooms").expect("room table");
    for column in ["area", "loss", "surface"] {
        let cell = table.cell("attic_store", column);
        assert!(
            matches!(cell, Some(Cell::CannotTell(why)) if !why.is_empty()),
            "{column}: {cell:?}"
        );
    }
    assert!(sheet.drawings().next().is_none(), "there is nothing to draw");
}

#[test]
fn assumptions_are_told_with_their_reasons_and_only_once() {
    let text = CABIN.replace("air_changes = 0.4", "# air_changes = 0.4");
    let sheet = sheet_of(&text);
    let table = sheet.table("assumptions").expect("assumptions");
    let air = |cell: &Cell| cell.shown(sheet.first).contains("air changes");
    let rows: Vec<_> = table.rows.iter().filter(|row| air(&row.cells[0])).collect();
    assert_eq!(rows.len(), 1);
    assert!(!rows[0].cells[2].shown(sheet.first).is_empty());
    let stated = sheet_of(CABIN);
    let table = stated.table("assumptions").expect("assumptions");
    assert!(!table.rows.iter().any(|row| air(&row.cells[0])));
}

#[test]
fn decisions_say_whether_the_text_holds_them() {
    let sheet = sheet_of(CABIN);
    let table = sheet.table("decisions").expect("decisions");
    let why = |row: &str| table.cell(row, "reason").map(|cell| cell.shown(sheet.first));
    let line = CABIN.lines().position(|line| line.starts_with("spacing = ")).expect("spacing") + 1;
    assert_eq!(why("bath/spacing"), Some(format!("held by the job, line {line}:11")));
    assert_eq!(why("great/spacing").as_deref(), Some("chosen: wide enough"));
}

#[test]
fn the_supply_says_why_and_limits_cite_their_source() {
    let sheet = sheet_of(CABIN);
    let why = sheet.table("basis").and_then(|it| it.cell("supply", "reason")).cloned();
    assert_eq!(why, Some(Cell::text("chosen: the bath needs it")));
    let limits = sheet.table("limits").expect("limits");
    for row in &limits.rows {
        assert!(!row.cells[2].shown(sheet.first).is_empty(), "{} has no source", row.key);
    }
}

#[test]
fn findings_stand_with_line_and_column_and_cautions_come_last() {
    let sheet = sheet_of(CABIN);
    let Some(Block::Findings(list)) = sheet.blocks.first() else { panic!("findings come first") };
    let item = list.items.iter().find(|it| it.kind == "floor-too-weak").expect("the finding");
    let line = CABIN.lines().position(|line| line == "[room.great]").expect("heading") + 1;
    assert_eq!(item.spot.map(|spot| spot.line), Some(line));
    assert!(matches!(sheet.blocks.last(), Some(Block::Cautions(_))));
}

#[test]
fn an_empty_text_still_gives_a_sheet() {
    let sheet = sheet_of("");
    assert!(sheet.tables().count() >= 6);
    assert_eq!(sheet.table("loops").expect("loop schedule").rows.len(), 0);
}
