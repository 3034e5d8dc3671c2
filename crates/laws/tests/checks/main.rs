//! The check rows of `checks/`, the ledger of the sources, and the report made from both.
//!
//! `--write` rewrites `docs/checks.md`; without it, a report that is stale fails.

mod csv;
mod ledger;
mod report;
mod row;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    let write = std::env::args().any(|argument| argument == "--write");
    match run(write) {
        Ok(summary) => {
            println!("{summary}");
            ExitCode::SUCCESS
        }
        Err(failures) => {
            for failure in &failures {
                eprintln!("{failure}");
            }
            eprintln!("{} failures", failures.len());
            ExitCode::FAILURE
        }
    }
}

fn run(write: bool) -> Result<String, Vec<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let one = |error: String| vec![error];
    let ledger = csv::read(&root.join("checks/ledger.csv")).map_err(one)?;
    let mut lines = Vec::new();
    for path in tables(&root.join("checks")).map_err(one)? {
        lines.extend(csv::read(&path).map_err(one)?);
    }
    let (mut outcomes, mut failures, mut ids) = (Vec::new(), Vec::new(), BTreeSet::new());
    for line in &lines {
        if !ids.insert(line.get("id")) {
            failures.push(format!("{} ({}): this id stands twice", line.get("id"), line.place));
        }
        match row::run(line) {
            Ok(outcome) => outcomes.push(outcome),
            Err(failure) => failures.push(failure),
        }
    }
    failures.extend(
        outcomes
            .iter()
            .filter_map(|outcome| Some(format!("{}: {}", outcome.id, outcome.failure.as_ref()?))),
    );
    let (counts, contradictions) = ledger::examine(&root, &ledger, &outcomes);
    failures.extend(contradictions);
    if !failures.is_empty() {
        return Err(failures);
    }
    let report = report::markdown(&outcomes, &counts);
    let path = root.join("docs/checks.md");
    if write {
        std::fs::write(&path, &report).map_err(|error| one(format!("docs/checks.md: {error}")))?;
    } else if std::fs::read_to_string(&path).unwrap_or_default() != report {
        let how = "cargo test -p laws --test checks -- --write";
        return Err(one(format!("docs/checks.md is stale: run {how} and read the difference")));
    }
    let unmet = outcomes.iter().filter(|outcome| outcome.unmet).count();
    Ok(format!(
        "{}{} rows hold, {unmet} unmet; ledger: {} checked, {} unmet, {} later",
        report::terminal(&outcomes),
        outcomes.len() - unmet,
        counts.total("checked"),
        counts.total("unmet"),
        counts.total("later"),
    ))
}

/// The tables of check rows, in the order of their names.
fn tables(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let entries = std::fs::read_dir(folder).map_err(|error| format!("checks: {error}"))?;
    let mut paths: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
        .filter(|path| path.file_name().is_some_and(|name| name != "ledger.csv"))
        .collect();
    paths.sort();
    Ok(paths)
}
