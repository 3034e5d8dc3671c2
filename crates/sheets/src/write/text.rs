//! A sheet as plain text for a terminal or a text file.

use crate::block::{Block, Cell, Facts, FindingList, Prose, Row, RowKind, Sheet, Table, Units};
use crate::explain::Working;
use design::Standing;
use quantity::System;
use std::fmt::Write;

/// The sheet as text whose tables are no wider than `width` letters where columns allow it.
pub fn text(sheet: &Sheet, width: usize) -> String {
    let mut out = format!("{}\n{}\n\n", sheet.title, rule('=', &sheet.title));
    for line in &sheet.head {
        let value = line.value.as_deref().unwrap_or("______________");
        let _ = writeln!(out, "{:<18}{value}", line.label);
    }
    for block in &sheet.blocks {
        match block {
            Block::Facts(it) => out.push_str(&facts(it, sheet.first)),
            Block::Table(table) => out.push_str(&text_table(table, sheet.first, width)),
            Block::Prose(words) | Block::Cautions(words) => out.push_str(&prose(words, width)),
            Block::Findings(list) => out.push_str(&findings(list, width)),
            Block::Working(working) => out.push_str(&steps(working)),
            Block::Drawing(drawing) => out.push_str(&format!("\n[{}]\n", drawing.title)),
        }
    }
    out
}

fn rule(letter: char, under: &str) -> String {
    std::iter::repeat_n(letter, under.chars().count()).collect()
}

fn title(words: &str) -> String {
    format!("\n{words}\n{}\n", rule('-', words))
}

fn facts(facts: &Facts, first: System) -> String {
    let mut out = String::from("\n");
    for (name, cell) in &facts.items {
        let _ = writeln!(out, "{name:<30}{}", shown_alone(cell, first));
    }
    out
}

/// A cell with its unit, in both systems.
fn shown_alone(cell: &Cell, first: System) -> String {
    match cell {
        Cell::Quantity(value) if !value.units.agree() => {
            format!("{} ({})", value.shown(first), value.shown(first.other()))
        }
        cell => cell.shown(first),
    }
}

fn prose(words: &Prose, width: usize) -> String {
    let mut out = title(&words.title);
    for line in &words.lines {
        out.push_str(&wrapped(line, width, "- ", "  "));
    }
    out
}

fn findings(list: &FindingList, width: usize) -> String {
    let mut out = title(&list.title);
    if list.items.is_empty() {
        out.push_str("nothing was found.\n");
    }
    for item in &list.items {
        let spot = item.spot.map(|spot| format!("{spot}: ")).unwrap_or_default();
        let start = format!("{:<5} ", item.severity.word());
        let about = item.about.as_ref().map(|about| format!("{about}: ")).unwrap_or_default();
        let words = format!("{spot}{about}{}", item.message);
        out.push_str(&wrapped(&words, width, &start, "      "));
        if let Some((value, source)) = &item.limit {
            out.push_str(&wrapped(&format!("limit {value}: {source}"), width, "      ", "      "));
        }
        out.push_str(&wrapped(&item.advice, width, "      ", "      "));
        for mend in &item.mends {
            out.push_str(&wrapped(mend, width, "      mend: ", "            "));
        }
    }
    out
}

fn steps(working: &Working) -> String {
    let mut out = String::from("\n");
    for step in &working.steps {
        let pad = "  ".repeat(step.depth);
        let role = step.role.as_ref().map(|role| format!("  [{role}]")).unwrap_or_default();
        let mark = if step.standing == Standing::Estimated { "  (estimated)" } else { "" };
        let _ = writeln!(out, "{pad}{} = {}{mark}{role}", step.name, step.value);
        let _ = writeln!(out, "{pad}    {}", step.how);
        let more = step.formula.iter().chain(&step.citation).chain(&step.remarks);
        for line in more {
            let _ = writeln!(out, "{pad}    {line}");
        }
    }
    out
}

/// One table with aligned columns; those that do not fit follow below, with the first repeated.
pub fn text_table(table: &Table, first: System, width: usize) -> String {
    let mut out = title(&table.title);
    let common = table.common_standing();
    let columns: Vec<Vec<String>> = (0..table.columns.len())
        .map(|place| column(table, place, first, common.is_none()))
        .collect();
    let mut start = 0;
    while start < columns.len() {
        let mut chosen: Vec<&Vec<String>> = Vec::new();
        if start > 0 {
            chosen.push(&columns[0]);
        }
        let mut used = chosen.iter().map(|column| wide(column) + 2).sum::<usize>();
        let begin = start;
        while start < columns.len() && (start == begin || used + wide(&columns[start]) <= width) {
            used += wide(&columns[start]) + 2;
            chosen.push(&columns[start]);
            start += 1;
        }
        out.push_str(&aligned(&chosen));
        out.push('\n');
    }
    for note in &table.notes {
        out.push_str(&wrapped(note, width, "", ""));
    }
    match common {
        Some(standing) => _ = writeln!(out, "All numbers: {}.", standing.word()),
        None if table.columns.iter().any(|it| it.units.is_some()) => {
            out.push_str("~ marks an estimated number: something behind it was assumed.\n");
        }
        None => {}
    }
    out
}

fn wide(column: &[String]) -> usize {
    column.iter().map(|line| line.chars().count()).max().unwrap_or(0)
}

/// Heading, units and cells of one column, each two lines high.
fn column(table: &Table, place: usize, first: System, mark: bool) -> Vec<String> {
    let column = &table.columns[place];
    let (one, two) = heading(column.heading);
    let mut out = vec![one, two];
    match column.units {
        Some(units) if units.agree() => out.push(units.us.symbol.to_owned()),
        Some(units) => {
            out.push(format!("{} ({})", units.unit(first).symbol, units.unit(first.other()).symbol))
        }
        None => out.push(String::new()),
    }
    out.extend(table.rows.iter().map(|row| cell(row, place, column.units, first, mark)));
    out
}

/// One cell of a row; numbers of a row that counts in no total stand in brackets.
fn cell(row: &Row, place: usize, units: Option<Units>, first: System, mark: bool) -> String {
    let Some(cell) = row.cells.get(place) else { return String::new() };
    let Cell::Quantity(value) = cell else { return cell.shown(first) };
    let words = match (units, value.units.agree()) {
        (Some(_), true) => value.bare(first),
        (Some(_), false) => format!("{} ({})", value.bare(first), value.bare(first.other())),
        (None, _) => shown_alone(cell, first),
    };
    let tilde = if mark && value.standing == Standing::Estimated { "~" } else { "" };
    match row.kind {
        RowKind::Aside => format!("[{tilde}{words}]"),
        _ => format!("{tilde}{words}"),
    }
}

/// A heading over two lines, broken near its middle.
fn heading(words: &str) -> (String, String) {
    let middle = words.len() / 2;
    let gaps = words.match_indices(' ').map(|(at, _)| at);
    match gaps.min_by_key(|at| at.abs_diff(middle)) {
        Some(at) if words.len() > 9 => (words[..at].to_owned(), words[at + 1..].to_owned()),
        _ => (String::new(), words.to_owned()),
    }
}

fn aligned(columns: &[&Vec<String>]) -> String {
    let mut out = String::new();
    let lines = columns.iter().map(|column| column.len()).max().unwrap_or(0);
    for line in 0..lines {
        let mut text = String::new();
        for (place, column) in columns.iter().enumerate() {
            let cell = column.get(line).map_or("", String::as_str);
            let numeric = column.get(2).is_some_and(|units| !units.is_empty());
            let pad = wide(column) - cell.chars().count();
            let pad: String = std::iter::repeat_n(' ', pad).collect();
            let gap = if place == 0 { "" } else { "  " };
            let cell = if numeric { format!("{pad}{cell}") } else { format!("{cell}{pad}") };
            let _ = write!(text, "{gap}{cell}");
        }
        let _ = writeln!(out, "{}", text.trim_end());
    }
    out
}

/// Words broken into lines no wider than `width`.
fn wrapped(words: &str, width: usize, start: &str, indent: &str) -> String {
    let mut out = String::new();
    let mut line = start.to_owned();
    let mut empty = true;
    for word in words.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > width {
            let _ = writeln!(out, "{}", line.trim_end());
            line = indent.to_owned();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    let _ = writeln!(out, "{}", line.trim_end());
    out
}
