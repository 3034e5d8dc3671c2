//! A table as comma-separated values.

use crate::block::{Cell, Row, Table};
use design::Standing;
use quantity::System;

/// The table with a heading row: each quantity in SI, as shown in trade units and in metric.
///
/// The last column names the quantities that are only estimated.
pub fn csv(table: &Table) -> String {
    let mut out = String::new();
    line(&mut out, headings(table));
    for row in &table.rows {
        line(&mut out, cells(table, row));
    }
    out
}

/// Tables of the same columns as one: what each row's table is named, and what kind of row it is.
pub fn csv_of_all(naming: &str, tables: &[(&str, &Table)]) -> String {
    let mut out = String::new();
    let led = |one: &str, two: &str, rest: Vec<String>| {
        [one.to_owned(), two.to_owned()].into_iter().chain(rest).collect()
    };
    if let Some((_, table)) = tables.first() {
        line(&mut out, led(naming, "kind", headings(table)));
    }
    for (name, table) in tables {
        for row in &table.rows {
            line(&mut out, led(name, row.kind.word(), cells(table, row)));
        }
    }
    out
}

fn headings(table: &Table) -> Vec<String> {
    let mut out = Vec::new();
    for column in &table.columns {
        match column.units {
            Some(units) => {
                out.push(format!("{} ({})", column.key, units.si.measure.si_unit().symbol));
                if units.agree() {
                    out.push(format!("{} shown ({})", column.key, units.us.symbol));
                } else {
                    out.push(format!("{} shown ({})", column.key, units.us.symbol));
                    out.push(format!("{} shown ({})", column.key, units.si.symbol));
                }
            }
            None => out.push(column.key.to_owned()),
        }
    }
    out.push("estimated".to_owned());
    out
}

fn cells(table: &Table, row: &Row) -> Vec<String> {
    let mut out = Vec::new();
    let mut estimated = Vec::new();
    for (column, cell) in table.columns.iter().zip(&row.cells) {
        let width = match column.units {
            Some(units) if units.agree() => 2,
            Some(_) => 3,
            None => 1,
        };
        let before = out.len();
        match cell {
            Cell::Quantity(value) if column.units.is_some() => {
                out.push(value.si.to_string());
                out.push(value.bare(System::Us));
                out.push(value.bare(System::Si));
            }
            Cell::Quantity(value) => {
                let (us, si) = (value.shown(System::Us), value.shown(System::Si));
                out.push(if value.units.agree() { us } else { format!("{us} ({si})") });
            }
            other => out.push(other.shown(System::Si)),
        }
        if matches!(cell, Cell::Quantity(value) if value.standing == Standing::Estimated) {
            estimated.push(column.key);
        }
        out.resize(before + width, String::new());
    }
    out.push(estimated.join("; "));
    out
}

fn line(out: &mut String, fields: Vec<String>) {
    let fields: Vec<String> = fields.iter().map(|field| quoted(field)).collect();
    out.push_str(&fields.join(","));
    out.push_str("\r\n");
}

/// A field in quotes if it needs them; a leading sign of a formula is disarmed.
fn quoted(field: &str) -> String {
    let number = field.parse::<f64>().is_ok();
    let armed = !number && field.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let field = if armed { format!("'{field}") } else { field.to_owned() };
    if field.contains([',', '"', '\n', '\r']) || field.trim() != field {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field
    }
}
