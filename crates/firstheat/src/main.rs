//! The program: commands and pages.

mod commands;
mod job_file;
mod report;
mod web;
mod worked;

use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let done = commands::run();
    // A reader that went away, such as `head`, is no error of ours.
    let _ = std::io::stdout().lock().write_all(done.out.as_bytes());
    let _ = std::io::stderr().lock().write_all(done.err.as_bytes());
    ExitCode::from(done.code)
}
