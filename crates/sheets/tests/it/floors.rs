//! The table of heated floors as they are built.

use design::Memo;
use quantity::Quantity;
use sheets::{Cell, design_sheet};

/// One room over outdoor air on a build-up of the catalogue.
const ROOM: &str = "[job]\nunits = \"us\"\n[outdoors]\ndesign = 0\n[house]\nfloor = \
                    \"gypsum-topping-on-joists\"\n[room.loft]\nheight = 8\nbelow = \"outdoors\"\n\
                    outline = \"E 12', N 10', W 12', S 10'\"\nfinish = \"vinyl\"\n";

#[test]
fn a_floor_has_a_row_with_its_verdict_and_what_to_know() {
    let (job, mut findings) = job::read(ROOM, &job::Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    findings.extend(design.findings.clone());
    let sheet = design_sheet(&job, &design, &findings, ROOM);
    let table = sheet.table("floors").expect("the floors");
    assert_eq!(table.rows.len(), 1);
    let Some(Cell::Quantity(height)) = table.cell("loft", "height") else { panic!() };
    // 1 1/2 in of topping and 3 mm of vinyl.
    assert!((height.si - (0.0381 + 0.003)).abs() < 1e-9, "{}", height.si);
    assert_eq!(height.explain.as_deref(), Some("room.loft.floor.height"));
    let Some(Cell::Quantity(weight)) = table.cell("loft", "added_weight") else { panic!() };
    let own = design.build_ups[0].added_weight.as_ref().unwrap();
    assert_eq!(weight.si, own.value.si());
    let Some(Cell::Text(verdict)) = table.cell("loft", "verdict") else { panic!() };
    for word in ["doors", "stair", "thresholds", "appliances", "engineer"] {
        assert!(verdict.contains(word), "{verdict}");
    }
    assert!(table.notes.iter().any(|note| note.contains("an engineer must look at the joists")));
}

#[test]
fn without_a_heated_floor_there_is_no_table() {
    let text = ROOM.replace("finish =", "heated = false\nfinish =");
    let (job, findings) = job::read(&text, &job::Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    assert!(design_sheet(&job, &design, &findings, &text).table("floors").is_none());
}

#[test]
fn limits_say_what_other_sources_say() {
    let (job, findings) = job::read(ROOM, &job::Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    let sheet = design_sheet(&job, &design, &findings, ROOM);
    let limits = sheet.table("limits").expect("the limits");
    let Some(Cell::Text(reason)) = limits.cell("floor_resilient", "reason") else { panic!() };
    assert!(reason.contains("Others: BS 8203"), "{reason}");
}
