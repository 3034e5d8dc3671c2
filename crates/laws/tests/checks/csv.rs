//! Comma-separated tables with a head line, after RFC 4180.

use std::collections::BTreeMap;
use std::path::Path;

/// A line of a table: where it stands, and its cells by the name of their column.
#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) place: String,
    cells: BTreeMap<String, String>,
}

impl Line {
    /// The cell of that column; empty if the table has no such column.
    pub(crate) fn get(&self, column: &str) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}

/// All lines of the table at `path`; the error says where it breaks.
pub(crate) fn read(path: &Path) -> Result<Vec<Line>, String> {
    let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into());
    let text = std::fs::read_to_string(path).map_err(|error| format!("{name}: {error}"))?;
    let mut records = records(&text).into_iter();
    let (_, head) = records.next().ok_or_else(|| format!("{name}: no head line"))?;
    records
        .map(|(number, cells)| {
            let place = format!("{name}:{number}");
            if cells.len() != head.len() {
                return Err(format!("{place}: {} cells, not {}", cells.len(), head.len()));
            }
            Ok(Line { place, cells: head.iter().cloned().zip(cells).collect() })
        })
        .collect()
}

/// The records of a text, each with the number of its first line.
fn records(text: &str) -> Vec<(usize, Vec<String>)> {
    let (mut records, mut cells, mut cell) = (Vec::new(), Vec::new(), String::new());
    let (mut quoted, mut line, mut start) = (false, 1, 1);
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '"' if quoted && characters.peek() == Some(&'"') => {
                characters.next();
                cell.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            '\r' if !quoted => {}
            '\n' if !quoted => {
                cells.push(std::mem::take(&mut cell));
                records.push((start, std::mem::take(&mut cells)));
                line += 1;
                start = line;
            }
            '\n' => {
                line += 1;
                cell.push('\n');
            }
            other => cell.push(other),
        }
    }
    if !cell.is_empty() || !cells.is_empty() {
        cells.push(cell);
        records.push((start, cells));
    }
    records
}
