//! How a number came about.

use super::{Done, UNUSABLE, work_out};
use crate::worked::Worked;
use quantity::System;
use std::path::Path;

pub(crate) fn explain(job: &Path, path: Option<&str>, depth: usize) -> Done {
    let worked = match work_out(job) {
        Ok(worked) => worked,
        Err(done) => return done,
    };
    let system = worked.job.units.value;
    let Some(path) = path else {
        let figures = worked.design.figures();
        let wide = figures.iter().map(|(path, _)| path.chars().count()).max().unwrap_or(0);
        let list =
            figures.iter().map(|(path, work)| format!("{path:<wide$}  {}\n", work.shown(system)));
        return Done::fine(list.collect());
    };
    let paths = worked.paths_for(path, &mut design::Memo::new());
    let section = section(&worked, path, system);
    match paths.work(path) {
        Some(work) => {
            let mut sheet = sheets::explain_sheet(work, &paths, &worked.text, system, depth);
            let section = section.into_iter().flat_map(|section| section.blocks);
            sheet.blocks.splice(0..0, section);
            Done::fine(sheets::text(&sheet, 100))
        }
        None if section.is_some() => {
            Done::fine(section.map(|sheet| sheets::text(&sheet, 100)).unwrap_or_default())
        }
        None => match held_at(&worked, path) {
            Some(sheet) => Done::fine(sheets::text(&sheet, 100)),
            None => unknown(&worked, path),
        },
    }
}

/// The section of the floor that a path is about, if it is about one.
pub(crate) fn section(worked: &Worked, path: &str, first: System) -> Option<sheets::Sheet> {
    let room = sheets::section_of(&worked.design, path)?;
    sheets::section_sheet(&worked.job, &worked.design, &worked.text, room, first)
}

/// What a decision that the text holds costs, as a sheet.
pub(crate) fn held_at(worked: &Worked, path: &str) -> Option<sheets::Sheet> {
    let cost = design::hold_cost(&worked.job, path, &mut design::Memo::new())?;
    Some(sheets::cost_sheet(&cost, worked.job.units.value))
}

fn unknown(worked: &Worked, path: &str) -> Done {
    let mut err = format!("firstheat: there is no number named {path}\n");
    let near = nearest(worked, path);
    if near.is_empty() {
        err.push_str("the job has no numbers yet: see what check says\n");
    } else {
        err.push_str("the nearest are:\n");
        near.iter().for_each(|known| err.push_str(&format!("  {known}\n")));
    }
    Done { out: String::new(), err, code: UNUSABLE }
}

/// The paths that are spelled most like this one, nearest first.
pub(crate) fn nearest(worked: &Worked, path: &str) -> Vec<String> {
    let written: Vec<char> = path.to_lowercase().chars().take(200).collect();
    let mut all: Vec<(usize, String)> = worked
        .design
        .figures()
        .into_iter()
        .map(|(known, _)| (distance(&written, &known.to_lowercase()), known))
        .collect();
    all.sort();
    all.into_iter().take(6).map(|(_, known)| known).collect()
}

/// How many letters must be changed, added or dropped (Levenshtein).
fn distance(written: &[char], known: &str) -> usize {
    let known: Vec<char> = known.chars().collect();
    let mut row: Vec<usize> = (0..=known.len()).collect();
    for (line, from) in written.iter().enumerate() {
        let mut diagonal = line;
        row[0] = line + 1;
        for (column, to) in known.iter().enumerate() {
            let change = diagonal + usize::from(from != to);
            diagonal = row[column + 1];
            row[column + 1] = change.min(diagonal + 1).min(row[column] + 1);
        }
    }
    row[known.len()]
}
