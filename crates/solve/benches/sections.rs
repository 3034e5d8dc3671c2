//! Time of a section at 0.2 %, and its error beside a solution on a far finer grid.
//!
//! With `SECTION_REFERENCE` set to a command, such as a finite element script, that command is
//! run on its own for the same floors and must print one line `id milliseconds` a floor; the
//! ratio is then printed beside each floor. Times are the least of several runs in this process,
//! since the machine may be shared.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

use solve::section::{Accuracy, Port, Section};

#[path = "../examples/section_case/case.rs"]
mod case;
#[path = "../examples/section_case/table.rs"]
mod table;

fn main() {
    let others = others();
    let rows = table::read(include_str!("../../../checks/sections/floors.csv"));
    let fine = Accuracy { relative: 2e-4, most_nodes: 120_000 };
    println!(
        "{:<12} {:>7} {:>9} {:>10} {:>8} {:>8} {:>8}",
        "floor", "cells", "us", "stated %", "off %", "max C", "ratio"
    );
    let mut all_us = Vec::new();
    for row in &rows {
        let id = row.get("id").unwrap_or("?");
        let Ok(case) = case::read(row) else { continue };
        let section = &case.section;
        let us = 1e6 * least(9, || section.solve(&Accuracy::default()).ok());
        let (Ok(solved), Ok(finer)) = (section.solve(&Accuracy::default()), section.solve(&fine))
        else {
            continue;
        };
        let off = |a: Port, b: Port| {
            (solved.conductance_w_mk(a, b) / finer.conductance_w_mk(a, b) - 1.0).abs()
        };
        let off = off(Port::Tube(0), Port::Room).max(off(Port::Tube(0), Port::Below));
        let warmest_c = solved.superpose(&case.temperatures).above.max.celsius;
        let stated = solved.error().conductance;
        let ratio =
            others.get(id).map_or_else(|| "-".to_owned(), |ms| format!("{:.0}", 1e3 * ms / us));
        println!(
            "{id:<12} {:>7} {us:>9.0} {:>10.3} {:>8.3} {warmest_c:>8.2} {ratio:>8}",
            solved.cells(),
            100.0 * stated,
            100.0 * off
        );
        all_us.push(us);
    }
    all_us.sort_by(f64::total_cmp);
    if let (Some(median), Some(most)) = (all_us.get(all_us.len() / 2), all_us.last()) {
        println!("median {median:.0} us, most {most:.0} us");
    }
    response(&rows);
}

/// Time of a whole response.
fn response(rows: &[table::Row]) {
    let Some(Ok(case)) = rows.first().map(case::read) else { return };
    let mut section: Section = case.section;
    section.layers.iter_mut().for_each(|layer| layer.material.heat_capacity_j_m3k = 2e6);
    let ms =
        1e3 * least(5, || solve::response::Response::of(&section, Port::Tube(0), Port::Room).ok());
    println!("response of the first {ms:.1} ms");
}

/// Milliseconds of another program for each floor.
fn others() -> BTreeMap<String, f64> {
    let Ok(command) = std::env::var("SECTION_REFERENCE") else { return BTreeMap::new() };
    let output = match Command::new("sh").arg("-c").arg(&command).output() {
        Ok(output) => output,
        Err(error) => {
            eprintln!("{command}: {error}");
            return BTreeMap::new();
        }
    };
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let line = |line: &str| {
        let (id, ms) = line.split_once(' ')?;
        Some((id.to_owned(), ms.trim().parse().ok()?))
    };
    text.lines().filter_map(line).collect()
}

/// Least time of a call in seconds.
fn least<T>(runs: usize, mut call: impl FnMut() -> T) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begin = Instant::now();
            black_box(call());
            begin.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[0]
}
