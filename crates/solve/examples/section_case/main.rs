//! Solves the sections of tables: one line of JSON for each row, on standard output.
//!
//! `section_case CSV…`: columns are found by their names in the header, those that hold
//! answers are never read. A row that cannot be read or solved says so in its line.

mod case;
mod record;
mod table;

use std::time::Instant;

use case::Case;
use solve::section::{Accuracy, SectionError, Solved};

/// Each section is solved that often for the time.
const RUNS: usize = 20;

fn main() {
    for file in std::env::args_os().skip(1) {
        let rows = match std::fs::read_to_string(&file) {
            Ok(text) => table::read(&text),
            Err(error) => {
                eprintln!("{}: {error}", file.to_string_lossy());
                continue;
            }
        };
        for row in rows {
            println!("{}", run(&row));
        }
    }
}

fn run(row: &table::Row) -> serde_json::Value {
    let id = row.get("id").unwrap_or_default();
    let case = match case::read(row) {
        Ok(case) => case,
        Err(reason) => return record::failed(id, &reason),
    };
    match timed(&case) {
        Ok((solved, us)) => record::of(id, &case, &solved, us),
        Err(reason) => record::failed(id, &reason.to_string()),
    }
}

/// The solution, and the median time for it from nothing, microseconds.
fn timed(case: &Case) -> Result<(Solved, f64), SectionError> {
    let accuracy = Accuracy::default();
    let mut times = Vec::with_capacity(RUNS);
    for _ in 0..RUNS {
        let begin = Instant::now();
        let solved = std::hint::black_box(case.section.solve(&accuracy))?;
        times.push(1e6 * begin.elapsed().as_secs_f64());
        drop(solved);
    }
    times.sort_by(f64::total_cmp);
    Ok((case.section.solve(&accuracy)?, times[RUNS / 2]))
}
