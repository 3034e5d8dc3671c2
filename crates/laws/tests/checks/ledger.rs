//! The ledger: what became of every row of the sources.

use crate::csv::Line;
use crate::row::Outcome;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Ledger rows counted by source and status, and those to come by their step.
#[derive(Debug, Default)]
pub(crate) struct Counts {
    pub(crate) by_source: BTreeMap<String, BTreeMap<String, usize>>,
    pub(crate) by_step: BTreeMap<String, usize>,
}

impl Counts {
    /// How many rows of that status, over all sources.
    pub(crate) fn total(&self, status: &str) -> usize {
        self.by_source.values().filter_map(|statuses| statuses.get(status)).sum()
    }
}

/// Counts the ledger, and lists where it contradicts itself or the check rows.
pub(crate) fn examine(root: &Path, ledger: &[Line], outcomes: &[Outcome]) -> (Counts, Vec<String>) {
    let (mut counts, mut failures) = (Counts::default(), Vec::new());
    let mut seen = BTreeSet::new();
    // `source/id:part` answers for the ledger row `source/id`.
    let mut rows: BTreeMap<&str, bool> = BTreeMap::new();
    for outcome in outcomes {
        let name = outcome.id.split(':').next().unwrap_or_default();
        *rows.entry(name).or_default() |= outcome.unmet;
    }
    for line in ledger {
        let (source, id) = (line.get("source"), line.get("id"));
        let (status, by) = (line.get("status"), line.get("by"));
        let mut wrong =
            |what: &str| failures.push(format!("{source}/{id} ({}): {what}", line.place));
        if !seen.insert((source, id)) {
            wrong("stands twice in the ledger");
        }
        if let Some(test) = by.strip_prefix("test ") {
            match (status, named_test(root, test)) {
                ("checked", Ok(())) => {}
                ("checked", Err(why)) => wrong(&why),
                _ => wrong("only a row that is checked may name a test"),
            }
            count(&mut counts, source, status);
            continue;
        }
        match (status, rows.get(by)) {
            ("checked" | "unmet", None) => wrong("no check row has this id"),
            ("checked", Some(true)) => wrong("is checked, but a row is unmet"),
            ("unmet", Some(false)) => wrong("is unmet, but its rows hold"),
            ("checked", Some(false)) => {}
            ("unmet", Some(true)) if line.get("note").is_empty() => wrong("no note says why"),
            ("unmet", Some(true)) => {}
            ("later", _) if by.starts_with("step ") => {
                *counts.by_step.entry(by.to_owned()).or_default() += 1;
            }
            ("later", _) => wrong("no step will bring it"),
            _ => wrong("the status is none of checked, unmet, later"),
        }
        count(&mut counts, source, status);
    }
    (counts, failures)
}

fn count(counts: &mut Counts, source: &str, status: &str) {
    let statuses = counts.by_source.entry(source.to_owned()).or_default();
    *statuses.entry(status.to_owned()).or_default() += 1;
}

/// Whether a test of that file and name is there: `crates/design/tests/it/published.rs name`.
///
/// It runs with the tests of its own crate; here it is only held to exist.
fn named_test(root: &Path, test: &str) -> Result<(), String> {
    let (file, name) = test.split_once(' ').ok_or("a test is named by its file and its name")?;
    let text =
        std::fs::read_to_string(root.join(file)).map_err(|error| format!("{file}: {error}"))?;
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let head = format!("fn {name}()");
    let is_test = lines.windows(2).any(|pair| pair[0] == "#[test]" && pair[1].starts_with(&head));
    if is_test { Ok(()) } else { Err(format!("{file} has no test {name}")) }
}
