//! The program: commands and pages.

mod commands;
mod job_file;
mod papers;
mod report;
mod web;
mod worked;

use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let done = commands::run();
    // A reader that went away, such as `head`, is no error of ours.
    let _ = std::io::stdout().lock().write_all(harmless(&done.out).as_bytes());
    let _ = std::io::stderr().lock().write_all(harmless(&done.err).as_bytes());
    ExitCode::from(done.code)
}

/// The text without control characters, which a job's own words could send to a terminal.
fn harmless(text: &str) -> String {
    let plain = |c: char| if c.is_control() && !matches!(c, '\n' | '\t') { '\u{fffd}' } else { c };
    text.chars().map(plain).collect()
}
