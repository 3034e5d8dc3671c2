//! A sheet as JSON: machine keys, SI numbers, units.

use crate::block::{Block, Cell, Facts, FindingItem, FindingList, Prose, Sheet, Table, Value};
use quantity::System;
use std::fmt::Write;

/// Tables, findings and words of the sheet; drawings are left to their own writer.
pub fn json(sheet: &Sheet) -> String {
    let mut fields = vec![
        field("key", &json_string(&sheet.key)),
        field("title", &json_string(&sheet.title)),
        field(
            "units_first",
            &json_string(match sheet.first {
                System::Us => "us",
                System::Si => "si",
            }),
        ),
    ];
    let tables: Vec<String> = sheet.tables().map(table).collect();
    fields.push(format!("\"tables\": {{{}}}", tables.join(", ")));
    for block in &sheet.blocks {
        match block {
            Block::Findings(list) => fields.push(findings(list)),
            Block::Prose(words) | Block::Cautions(words) => fields.push(prose(words)),
            Block::Facts(it) => fields.push(facts(it)),
            Block::Table(_) | Block::Drawing(_) | Block::Working(_) => {}
        }
    }
    format!("{{{}}}\n", fields.join(",\n"))
}

fn field(key: &str, value: &str) -> String {
    format!("{}: {value}", json_string(key))
}

fn list(items: impl Iterator<Item = String>) -> String {
    format!("[{}]", items.collect::<Vec<_>>().join(", "))
}

fn facts(facts: &Facts) -> String {
    let items: Vec<String> = facts.items.iter().map(|(name, it)| field(name, &cell(it))).collect();
    field("facts", &format!("{{{}}}", items.join(", ")))
}

fn prose(words: &Prose) -> String {
    field(&words.key, &list(words.lines.iter().map(|line| json_string(line))))
}

fn table(table: &Table) -> String {
    let rows = table.rows.iter().map(|row| {
        let cells = table.columns.iter().zip(&row.cells);
        let mut fields = vec![field("key", &json_string(&row.key))];
        fields.push(field("kind", &json_string(row.kind.word())));
        fields.push(field("total", if row.kind.sums() { "true" } else { "false" }));
        let cells: Vec<String> = cells.map(|(column, it)| field(column.key, &cell(it))).collect();
        fields.push(format!("\"cells\": {{{}}}", cells.join(", ")));
        format!("\n  {{{}}}", fields.join(", "))
    });
    let title = json_string(&table.title);
    let notes = list(table.notes.iter().map(|note| json_string(note)));
    let body = format!("{{\"title\": {title}, \"rows\": {}, \"notes\": {notes}}}", list(rows));
    format!("\n {}", field(&table.key, &body))
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(words) => json_string(words),
        Cell::Quantity(value) => quantity(value),
        Cell::Count(count) => count.to_string(),
        Cell::CannotTell(why) => format!("{{\"cannot_tell\": {}}}", json_string(why)),
        Cell::Blank => "null".to_owned(),
    }
}

fn quantity(value: &Value) -> String {
    let mut fields = vec![
        field("value", &number(value.si)),
        field("unit", &json_string(value.units.si.measure.si_unit().symbol)),
        field("standing", &json_string(value.standing.word())),
    ];
    if let Some(path) = &value.explain {
        fields.push(field("path", &json_string(path)));
    }
    format!("{{{}}}", fields.join(", "))
}

fn number(value: f64) -> String {
    if value.is_finite() { value.to_string() } else { "null".to_owned() }
}

fn findings(findings: &FindingList) -> String {
    field("findings", &list(findings.items.iter().map(finding)))
}

fn finding(item: &FindingItem) -> String {
    let mut fields = vec![
        field("severity", &json_string(item.severity.word())),
        field("kind", &json_string(item.kind)),
        field("subject", &json_string(&item.subject)),
        field("message", &json_string(&item.message)),
        field("advice", &json_string(&item.advice)),
    ];
    if let Some(spot) = item.spot {
        fields.push(format!("\"line\": {}, \"column\": {}", spot.line, spot.column));
    }
    if let Some((value, source)) = &item.limit {
        fields.push(field("limit", &json_string(value)));
        fields.push(field("limit_source", &json_string(source)));
    }
    fields.push(field("mends", &list(item.mends.iter().map(|words| json_string(words)))));
    format!("\n  {{{}}}", fields.join(", "))
}

/// A text as a JSON string, with the escapes that RFC 8259 asks for.
pub fn json_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for character in text.chars() {
        match character {
            '"' | '\\' => out.extend(['\\', character]),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if u32::from(c) < 0x20 => {
                let _ = write!(out, "\\u{:04x}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
