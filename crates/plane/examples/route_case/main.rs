//! Lays the storeys of case files: one line of JSON each on standard output.
//!
//! `route_case [--svg DIR] CASE…`; notes go to standard error. A case that
//! cannot be read or laid says so in its line.

mod case;
mod drawing;
mod record;

use std::path::{Path, PathBuf};
use std::time::Instant;

use plane::storey::{Kept, lay};
use plane::verify;

/// Each storey is laid that often for the time.
const RUNS: usize = 5;

fn main() {
    let mut arguments = std::env::args_os().skip(1);
    let mut pictures: Option<PathBuf> = None;
    while let Some(argument) = arguments.next() {
        if argument == "--svg" {
            pictures = arguments.next().map(PathBuf::from);
        } else {
            println!("{}", run(Path::new(&argument), pictures.as_deref()));
        }
    }
}

fn run(file: &Path, pictures: Option<&Path>) -> serde_json::Value {
    let stem = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let text = match std::fs::read_to_string(file) {
        Ok(text) => text,
        Err(error) => return record::unread(&stem, &error.to_string()),
    };
    let case = match case::read(&text) {
        Ok(case) => case,
        Err(reason) => return record::unread(&stem, &reason),
    };
    let (layout, ms) = timed(&case.plan);
    let report = verify::storey(&case.plan, &layout);
    notes(&case.name, &report);
    if let Some(folder) = pictures {
        let drawing = drawing::storey(&case.name, &case.plan, &layout, &report);
        let svg = drawing::file(&drawing);
        let written = std::fs::create_dir_all(folder)
            .and_then(|()| std::fs::write(folder.join(format!("{stem}.svg")), svg));
        if let Err(error) = written {
            eprintln!("{}: {error}", folder.display());
        }
    }
    record::of(&case.name, &case.plan, &layout, &report, ms)
}

/// The layout, and the median time for it without anything kept, milliseconds.
fn timed(plan: &plane::storey::Plan) -> (plane::storey::Layout, f64) {
    let once = || {
        let begin = Instant::now();
        let layout = lay(plan, &mut Kept::default());
        (layout, begin.elapsed().as_secs_f64() * 1e3)
    };
    let (layout, first) = once();
    let mut times = vec![first];
    times.extend((1..RUNS).map(|_| once().1));
    times.sort_by(f64::total_cmp);
    (layout, times[RUNS / 2])
}

/// What the line has no place for.
fn notes(name: &str, report: &verify::StoreyReport) {
    let mm = |gap: Option<f64>| gap.map_or("wide".to_string(), |m| format!("{:.0} mm", m * 1e3));
    let gaps = &report.gaps;
    let worst = report.spreads.iter().map(|s| s.1).fold(0.0, f64::max);
    eprintln!(
        "{name}: {} loops, gaps: field {}, bulbs {}, leaders {}; walls: field {}, leaders {}; \
         spread {:.1} %; dead {:.2} m²; misstated {:.0} mm; through walls {}; forgotten {:?}",
        report.loops.len(),
        mm(gaps.field.map(|g| g.gap_m)),
        mm(gaps.bulb.map(|g| g.gap_m)),
        mm(gaps.leader.map(|g| g.gap_m))
            + &gaps
                .leader
                .map_or(String::new(), |g| format!(" at {:.2} {:.2}", g.at[0].x, g.at[0].y)),
        mm(gaps.field_wall.map(|w| w.distance_m)),
        mm(gaps.leader_wall.map(|w| w.distance_m)),
        worst * 100.0,
        report.cover.iter().map(|c| c.dead_m2).sum::<f64>(),
        report.loops.iter().map(|l| l.misstated_m).fold(0.0, f64::max) * 1e3,
        report.through_walls.len(),
        report.forgotten,
    );
}
