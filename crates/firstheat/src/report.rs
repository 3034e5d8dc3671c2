//! Findings for a terminal: the line, a caret below it, and what to do.

use job::{Finding, Place};
use std::fmt::Write;

/// Letters of a line that are shown at most.
const WIDEST: usize = 110;

/// All findings, and a last line that counts them.
pub(crate) fn report(name: &str, text: &str, findings: &[Finding]) -> String {
    let mut out = String::new();
    for finding in findings {
        out.push_str(&one(name, text, finding));
        out.push('\n');
    }
    out.push_str(&count(findings));
    out
}

/// How many findings of each kind there are, in words.
pub(crate) fn count(findings: &[Finding]) -> String {
    use job::Severity::{Note, Stop, Warn};
    let of = |severity| findings.iter().filter(|it| it.severity == severity).count();
    let (stops, looks, notes) = (of(Stop), of(Warn), of(Note));
    match findings.len() {
        0 => "nothing was found\n".to_owned(),
        _ => format!("{stops} to stop for, {looks} to look at, {notes} to note\n"),
    }
}

fn one(name: &str, text: &str, finding: &Finding) -> String {
    let about = sheets::about(&finding.subject).map(|it| format!("{it}: ")).unwrap_or_default();
    let mut out = format!("{}: {about}{}\n", finding.severity.word(), finding.message);
    if let Some(place) = finding.place {
        out.push_str(&quote(name, text, place));
    }
    if let Some(limit) = &finding.limit {
        let _ = writeln!(out, "  limit: {} ({})", limit.value, limit.source);
    }
    if !finding.advice.is_empty() {
        let _ = writeln!(out, "  do: {}", finding.advice);
    }
    for mend in &finding.mends {
        let _ = writeln!(out, "  mend: {}", mend.words);
    }
    out
}

/// The line of a place with carets under it.
fn quote(name: &str, text: &str, place: Place) -> String {
    let (line, column) = place.line_and_column(text);
    let whole = text.lines().nth(line - 1).unwrap_or_default();
    // A place deep in a long line is shown with what stands before it left out.
    let skip = if column > WIDEST - 20 { column - 20 } else { 0 };
    let shown: String = whole.chars().skip(skip).take(WIDEST).map(plain).collect();
    let start = column - 1 - skip.min(column - 1);
    let wanted = text
        .get(place.start..place.end)
        .map_or(1, |it| it.lines().next().map_or(1, |first| first.chars().count()));
    let room = shown.chars().count().saturating_sub(start).max(1);
    let carets = "^".repeat(wanted.clamp(1, room));
    let margin = " ".repeat(line.to_string().len());
    let cut = if skip > 0 { "… " } else { "" };
    let pad = " ".repeat(start + cut.chars().count());
    format!(
        "{margin}--> {name}:{line}:{column}\n{margin} |\n{line} | {cut}{shown}\n{margin} | {pad}{carets}\n"
    )
}

/// Letters that would move the carets become blanks.
fn plain(letter: char) -> char {
    if letter.is_control() { ' ' } else { letter }
}
