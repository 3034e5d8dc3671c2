//! Lays case files: one line of JSON each on standard output.
//!
//! `route_case [--svg DIR] CASE…`; notes go to standard error. A case that
//! cannot be read or laid says so in its line.
//!
//! What the measures mean where tube is not embedded: *joist bays*, `crossings` are places where
//! tube touches tube in space, `over_limit` counts true lengths from manifold to manifold
//! (`true_length_m`; `length_m` is that in plan), `outside_m` is tube in plates outside all rooms or
//! tube in what is blocked, `coverage_075` is floor without blocks near a strand at the plates'
//! depth. *Boards*, `true_length_m` has the tube outside the room. In both `min_gap_ratio` is the
//! least distance of strands side by side as a share of half the joists' pitch, or of the grooves'.

mod bays_case;
mod bays_run;
mod boards_case;
mod boards_run;
mod case;
mod case_run;
mod drawing;
mod record;
mod sketch;
mod storey_case;
mod storey_run;

use std::path::{Path, PathBuf};

use case::Kind;
use case_run::Run;

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
    let Run { line, drawing } = match &case.kind {
        Kind::Storey(plan) => storey_run::run(&case.name, plan),
        Kind::Bays(floor) => bays_run::run(&case.name, floor),
        Kind::Boards(floors) => boards_run::run(&case.name, floors),
    };
    if let (Some(folder), Some(drawing)) = (pictures, drawing) {
        let svg = drawing::file(&drawing);
        let written = std::fs::create_dir_all(folder)
            .and_then(|()| std::fs::write(folder.join(format!("{stem}.svg")), svg));
        if let Err(error) = written {
            eprintln!("{}: {error}", folder.display());
        }
    }
    line
}
