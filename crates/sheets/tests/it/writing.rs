//! What the writers make of blocks.

use crate::{CABIN, sheet_of};
use quantity::{Measure, System};
use sheets::{Cell, Column, Row, RowKind, Table, Units, Value, csv, json, svg, text, text_table};

fn small() -> Table {
    let value = Value {
        si: 22.56,
        units: Units::of(Measure::Length),
        explain: Some("loop.a.length".to_owned()),
        standing: design::Standing::Estimated,
    };
    let row = Row {
        key: "a".to_owned(),
        cells: vec![
            Cell::text("bed, \"best\""),
            Cell::Quantity(value),
            Cell::text("=1+1"),
            Cell::CannotTell("no way was found".to_owned()),
        ],
        kind: RowKind::Plain,
    };
    let columns = vec![
        Column::words("room", "room"),
        Column::of("length", "total length", Units::of(Measure::Length)),
        Column::words("note", "note"),
        Column::of("head", "head", Units::of(Measure::Head)),
    ];
    let (key, title) = ("small".to_owned(), "Small".to_owned());
    Table { key, title, columns, rows: vec![row], notes: Vec::new() }
}

#[test]
fn csv_quotes_commas_and_quotes_and_disarms_formulas() {
    let written = csv(&small());
    let lines: Vec<&str> = written.split("\r\n").collect();
    assert_eq!(
        lines[0],
        "room,length (m),length shown (ft),length shown (m),note,head (m),head shown (ft),head shown \
         (m),estimated"
    );
    assert_eq!(lines[1], "\"bed, \"\"best\"\"\",22.56,74.0,22.56,'=1+1,cannot tell,,,length");
    assert_eq!(lines[2], "");
}

#[test]
fn csv_rows_are_all_as_wide_as_the_heading() {
    for table in sheet_of(CABIN).tables() {
        let written = csv(table);
        let widths: Vec<usize> = written.lines().map(fields).collect();
        assert!(widths.windows(2).all(|pair| pair[0] == pair[1]), "{}: {widths:?}", table.key);
        assert_eq!(widths.len(), table.rows.len() + 1);
    }
}

/// How many fields a line has, commas inside quotes left out.
fn fields(line: &str) -> usize {
    let mut quoted = false;
    let commas = line.chars().filter(|letter| {
        quoted ^= *letter == '"';
        *letter == ',' && !quoted
    });
    commas.count() + 1
}

#[test]
fn text_shows_both_systems_and_lines_up() {
    let written = text_table(&small(), System::Us, 120);
    assert!(written.contains("74.0 (22.56)"), "{written}");
    let written = text_table(&small(), System::Si, 120);
    assert!(written.contains("22.56 (74.0)"), "{written}");
}

#[test]
fn text_tables_keep_to_the_width() {
    let sheet = sheet_of(CABIN);
    for table in
        sheet.tables().filter(|table| ["rooms", "loops", "manifolds"].contains(&&*table.key))
    {
        for line in text_table(table, sheet.first, 100).lines() {
            assert!(line.chars().count() <= 100, "{}: {line}", table.key);
        }
    }
    assert!(text(&sheet, 100).contains("Loop schedule"));
}

#[test]
fn json_escapes_and_balances() {
    let hostile = CABIN.replace("Cabin on the lake", "Cabin \\\"by\\\" the \\\\ lake\\t<b>");
    let written = json(&sheet_of(&hostile));
    assert!(written.contains(r#"Cabin \"by\" the \\ lake\t<b>"#), "{}", &written[..300]);
    let (mut depth, mut quoted, mut escaped) = (0i32, false, false);
    for letter in written.chars() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '{' | '[' if !quoted => depth += 1,
            '}' | ']' if !quoted => depth -= 1,
            _ => {}
        }
        assert!(depth >= 0 && (!quoted || letter >= ' '), "broken near {letter:?}");
    }
    assert_eq!((depth, quoted), (0, false));
    assert!(!written.contains("NaN") && !written.contains("inf"));
}

#[test]
fn svg_is_well_formed_whatever_the_names_are() {
    let hostile = CABIN.replace("\"Bath\"", "\"<script>alert('1 & 2')</script>\\u0001\"");
    for drawing in sheet_of(&hostile).drawings() {
        let written = svg(drawing);
        let document = roxmltree::Document::parse(&written).expect("well-formed");
        let nodes = || document.descendants();
        assert!(!nodes().any(|node| node.has_tag_name("script")));
        let name = "<script>alert('1 & 2')</script>\u{fffd}";
        assert!(nodes().any(|node| node.text() == Some(name)), "the name is shown as it is");
        assert!(!nodes().any(|node| node.has_attribute("style")), "a strict policy forbids style");
        assert!(!written.contains("NaN"));
    }
}
