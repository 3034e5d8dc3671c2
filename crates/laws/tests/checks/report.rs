//! `docs/checks.md`, and the same figures for the terminal.

use crate::ledger::Counts;
use crate::row::{Kind, Outcome};
use std::fmt::Write;

const HEAD: &str = "\
# Checks of the laws

Written by `cargo test -p laws --test checks -- --write`; do not edit.

Every row of `checks/` is worked out through `laws::calc`, as a person would type it, and compared
with its expected value. *Published* values stand in a source, *limits* follow from a closed form,
*cross* values come from an independent library or independent arithmetic. *From memory* counts the
rows whose source was not at hand. The worst error is taken over the rows that hold, those included
whose source rounds more coarsely than the law works.

A row has an `id`, a `law` and its `inputs` (`key=value` with `;` between), the `output` compared,
the `expected` number in a `unit`, a `tolerance` (in that unit, or in `%` of the expected) with its
reason, a `kind`, a `source`, `from_memory`, and a `status`. A row that a law misses stays, marked
`unmet` with a `note` that says why; the run fails if it starts to hold. A ledger row `id` of a
`source` is answered by the check rows `source/id` and `source/id:part`, or by a named test of data
and whole designs that runs with its own crate.
";

/// The whole report.
pub(crate) fn markdown(outcomes: &[Outcome], counts: &Counts) -> String {
    let mut out = String::from(HEAD);
    out.push_str("\n## Laws\n\n");
    out.push_str("| law | rows | published | limit | cross | from memory | worst error |\n");
    out.push_str("|---|--:|--:|--:|--:|--:|--:|\n");
    let mut without = Vec::new();
    for law in laws::all() {
        let rows: Vec<_> = outcomes.iter().filter(|outcome| outcome.law == law.name).collect();
        if rows.is_empty() {
            without.push(format!("`{}`", law.name));
            continue;
        }
        let of = |kind| rows.iter().filter(|row| row.kind == kind).count();
        let _ = writeln!(
            out,
            "| `{}` | {} | {} | {} | {} | {} | {} |",
            law.name,
            rows.len(),
            of(Kind::Published),
            of(Kind::Limit),
            of(Kind::Cross),
            rows.iter().filter(|row| row.from_memory).count(),
            worst(&rows)
        );
    }
    let _ = writeln!(
        out,
        "\n{} rows over {} laws. {}",
        outcomes.len(),
        laws::all().len(),
        match without.len() {
            0 => "Every law has a row.".to_owned(),
            _ => format!("Without a row: {}.", without.join(", ")),
        }
    );
    out.push_str(&unmet(outcomes));
    out.push_str(&curves());
    out.push_str(&ledger(counts));
    out
}

/// How the published curves of wet floors lie over conduction through the section.
fn curves() -> String {
    const CURVES: &str = include_str!("../../../../checks/sections/curves.csv");
    let mut out = String::from(
        "\n## Curves of EN 1264-2 over sections\n\n\
         Output per degree by the published curves (types A and C, coefficients from memory) over that by\n\
         conduction through the same floor, for 252 wet floors: spacing T 75 to 375 mm, finish R 0 to\n\
         0.15 m²K/W, cover su 35 to 65 mm, tube D 14 to 20 mm. Turbulent water; held by a test of `design`.\n\n\
         | | ratio | floor |\n|---|--:|---|\n",
    );
    for line in CURVES.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let _ = writeln!(out, "| {} |", line.split(',').collect::<Vec<_>>().join(" | "));
    }
    out.push_str(
        "\nPart of it is the surface coefficient: the base curve is worth 11.1 W/m²K at 9 K, the section has\n\
         10.8. The one floor outside 0.90 to 1.20 has thin tube far apart under little screed: the curve takes\n\
         tube of another diameter by a factor, and the wall of its reference, 20 mm with 2 mm, as if the\n\
         tube were as large; both flatter the thinnest tube.\n",
    );
    out
}

/// Rows and worst error of each law, a line each.
pub(crate) fn terminal(outcomes: &[Outcome]) -> String {
    let mut out = String::new();
    for law in laws::all() {
        let rows: Vec<_> = outcomes.iter().filter(|outcome| outcome.law == law.name).collect();
        let _ = writeln!(out, "{:>5} {:40} {}", rows.len(), law.name, worst(&rows));
    }
    out
}

fn unmet(outcomes: &[Outcome]) -> String {
    let mut out = String::from("\n## Unmet\n\n");
    let unmet: Vec<_> = outcomes.iter().filter(|outcome| outcome.unmet).collect();
    if unmet.is_empty() {
        return out + "None.\n";
    }
    out.push_str("| row | law | off by | why |\n|---|---|--:|---|\n");
    for row in unmet {
        let _ = writeln!(
            out,
            "| {} | `{}` | {} | {} |",
            row.id,
            row.law,
            size(row.error.share, row.error.difference, &row.error.unit),
            row.note
        );
    }
    out
}

fn ledger(counts: &Counts) -> String {
    let mut out = String::from(
        "\n## Ledger\n\nWhat became of every row of the sources, in `checks/ledger.csv`.\n\n\
         | source | checked | unmet | later | rows |\n|---|--:|--:|--:|--:|\n",
    );
    let statuses = ["checked", "unmet", "later"];
    for (source, by_status) in &counts.by_source {
        let of = |status: &str| by_status.get(status).copied().unwrap_or(0);
        let [checked, unmet, later] = statuses.map(of);
        let rows = checked + unmet + later;
        let _ = writeln!(out, "| {source} | {checked} | {unmet} | {later} | {rows} |");
    }
    let [checked, unmet, later] = statuses.map(|status| counts.total(status));
    let rows = checked + unmet + later;
    let _ = writeln!(out, "| all | {checked} | {unmet} | {later} | {rows} |");
    out.push_str("\n| brought by | rows |\n|---|--:|\n");
    for (step, rows) in &counts.by_step {
        let _ = writeln!(out, "| {step} | {rows} |");
    }
    out
}

/// The largest error among rows that hold, as a share where there is one.
fn worst(rows: &[&Outcome]) -> String {
    let held = || rows.iter().filter(|row| !row.unmet).map(|row| &row.error);
    let by_share = held().filter_map(|error| error.share).max_by(f64::total_cmp);
    if let Some(share) = by_share {
        return size(Some(share), 0.0, "");
    }
    held()
        .max_by(|a, b| a.difference.abs().total_cmp(&b.difference.abs()))
        .map_or_else(|| "–".to_owned(), |error| size(None, error.difference, &error.unit))
}

/// An error with two digits; what is below rounding is not told apart.
fn size(share: Option<f64>, difference: f64, unit: &str) -> String {
    let (number, unit) = match share {
        Some(share) => (100.0 * share, "%"),
        None => (difference.abs(), unit),
    };
    if number < 1e-6 {
        return format!("< 1e-6 {unit}").trim_end().to_owned();
    }
    let decimals = (1.0 - number.log10().floor()).max(0.0) as usize;
    format!("{number:.decimals$} {unit}").trim_end().to_owned()
}
