//! Holes, plates and boards on the papers of a house that has all of them.

use crate::sheet_of;
use design::Memo;
use job::Library;
use sheets::{Block, Cell, Mark, Table, design_sheet};

const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");

fn count(table: &Table, row: &str, column: &str) -> usize {
    match table.cell(row, column) {
        Some(Cell::Count(count)) => *count,
        other => panic!("{}/{row}/{column} is {other:?}", table.key),
    }
}

#[test]
fn a_house_without_such_floors_has_no_such_tables() {
    let sheet = sheet_of(crate::CABIN);
    for key in ["holes", "lanes", "plates", "boards"] {
        assert!(sheet.table(key).is_none(), "{key}");
    }
}

#[test]
fn every_hole_plate_and_board_of_the_design_is_on_the_paper() {
    let (job, _) = job::read(SCHOOLHOUSE, &Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    let sheet = design_sheet(&job, &design, &design.findings, SCHOOLHOUSE);
    let holes: usize = design.joist_floors.iter().map(|it| it.holes.len()).sum();
    assert!(holes > 0);
    assert_eq!(sheet.table("holes").expect("hole schedule").rows.len(), holes);
    let lanes = sheet.table("lanes").expect("lanes");
    assert_eq!(count(lanes, "total", "holes"), holes);
    let by_lane = lanes.rows.iter().filter(|row| !row.kind.sums());
    assert_eq!(by_lane.map(|row| count(lanes, &row.key, "holes")).sum::<usize>(), holes);
    let plates = sheet.table("plates").expect("plates");
    let whole: usize = design.joist_floors.iter().flat_map(|it| &it.plates).map(|p| p.whole).sum();
    assert_eq!(count(plates, "total", "whole"), whole);
    let boards = sheet.table("boards").expect("boards");
    for room in &design.boards {
        let bill = room.bill.as_ref().expect("a size of board");
        assert_eq!(count(boards, &room.room, "whole"), bill.whole);
        assert_eq!(count(boards, &room.room, "turn_pieces"), bill.turn_pieces);
    }
    for table in sheet.tables() {
        for row in &table.rows {
            assert_eq!(row.cells.len(), table.columns.len(), "{} {}", table.key, row.key);
        }
    }
    assert!(
        sheet
            .blocks
            .iter()
            .any(|block| matches!(block, Block::Prose(it) if it.key == "under-floor"))
    );
}

#[test]
fn the_plan_shows_joists_and_holes_where_tube_lies_below() {
    let (job, _) = job::read(SCHOOLHOUSE, &Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    let sheet = design_sheet(&job, &design, &[], SCHOOLHOUSE);
    let drawn = |key: &str, class: &str| {
        let drawing = sheet.drawings().find(|it| it.key == key).expect("a plan");
        let is_it = |mark: &&Mark| mark.class == class && mark.title.is_some();
        drawing.marks.iter().filter(is_it).count()
    };
    let holes: usize = design.joist_floors.iter().map(|it| it.holes.len()).sum();
    assert_eq!(drawn("plan-loft", "hole"), holes);
    assert!(drawn("plan-loft", "joist") > 20);
    assert_eq!(drawn("plan-main", "hole"), 0);
    let deepest = design.joist_floors.iter().flat_map(|it| &it.holes);
    assert!(deepest.map(|hole| hole.below_top.si()).fold(0.0, f64::max) < 11.5 * 0.0254);
}
