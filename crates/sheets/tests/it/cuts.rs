//! The coil-cut card, and loops as laid beside loops as drawn.

use crate::CABIN;
use design::{Design, Memo};
use job::Library;
use sheets::{Cell, Sheet, Table, csv, design_sheet, text_table};

fn designed(text: &str) -> (Design, Sheet) {
    let job = job::read(text, &Library::built_in()).0;
    let design = design::design(&job, &mut Memo::new());
    let sheet = design_sheet(&job, &design, &design.findings, text);
    (design, sheet)
}

fn metres(table: &Table, row: &str, column: &str) -> f64 {
    match table.cell(row, column) {
        Some(Cell::Quantity(value)) => value.si,
        other => panic!("{row}, {column}: {other:?}"),
    }
}

#[test]
fn the_card_has_each_loop_once_with_marks_in_both_systems() {
    let (design, sheet) = designed(CABIN);
    let card = sheet.table("cuts").expect("the card");
    assert_eq!(card.rows.len(), design.loops.len() + 1);
    for tube_loop in &design.loops {
        let (start, end) =
            (metres(card, &tube_loop.key, "start_mark"), metres(card, &tube_loop.key, "end_mark"));
        assert!((end - start - metres(card, &tube_loop.key, "cut")).abs() < 1e-9);
        assert!(metres(card, &tube_loop.key, "left") > -1e-9);
    }
    let lines = csv(card);
    assert!(lines.contains("start_mark"), "{lines}");
    let printed = text_table(card, quantity::System::Si, 120);
    assert!(printed.contains("m (ft)"), "{printed}");
    let notes = card.notes.join(" ");
    for words in ["To buy", "one piece of one coil", "practice", "The longest loop"] {
        assert!(notes.contains(words), "no `{words}` in {notes}");
    }
}

#[test]
fn sizes_that_nobody_stated_are_told_as_assumed() {
    let silent = &CABIN[..CABIN.find("[coil.long]").expect("its coils")];
    let (_, sheet) = designed(silent);
    let card = sheet.table("cuts").expect("the card");
    assert!(card.notes.iter().any(|note| note.contains("names no coils")));
    let assumed = sheet.table("assumptions").expect("assumptions");
    let told = assumed.rows.iter().any(|row| {
        row.cells.iter().any(|cell| match cell {
            Cell::Text(words) => words.contains("names no coils"),
            _ => false,
        })
    });
    assert!(told);
}

#[test]
fn laid_lengths_stand_beside_drawn_ones_once_marks_are_read() {
    let (before, plain) = designed(CABIN);
    assert!(plain.table("laid").is_none());
    let loops = plain.table("loops").expect("the schedule");
    assert!(loops.columns.iter().all(|column| column.key != "laid_length"));
    let read = "[laid.\"bath/1\"]\nstart = 12\nend = 262\ncoil = \"short\"\ndate = \"3 May\"\n";
    let (_, sheet) = designed(&format!("{CABIN}{read}"));
    let (loops, laid) = (sheet.table("loops").expect("it"), sheet.table("laid").expect("it"));
    let drawn_m = before.loops.iter().find(|it| it.key == "bath/1").expect("it").length.si();
    assert!((metres(loops, "bath/1", "drawn_length") - drawn_m).abs() < 1e-9);
    for column in ["laid_length", "total_length"] {
        assert!((metres(loops, "bath/1", column) - 250.0 * 0.3048).abs() < 1e-9);
    }
    assert_eq!(loops.cell("bath/1", "status"), Some(&Cell::text("laid")));
    assert_eq!(loops.cell("hall/1", "status"), Some(&Cell::text("planned")));
    for row in &loops.rows {
        assert_eq!(row.cells.len(), loops.columns.len());
    }
    let difference_m = 250.0 * 0.3048 - drawn_m;
    assert!((metres(laid, "bath/1", "difference") - difference_m).abs() < 1e-9);
    assert_eq!(laid.cell("bath/1", "date"), Some(&Cell::text("3 May")));
    let card = sheet.table("cuts").expect("the card");
    assert!(card.rows.iter().all(|row| row.key != "bath/1"), "it is cut already");
}
