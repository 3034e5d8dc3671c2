//! Case files of storeys and random storeys on one sheet, to be looked at.
//!
//! `contact_sheet FOLDER [CASE…]` writes `sheet.svg`, a picture of each storey,
//! and `index.html` with all of them and their figures.

#[path = "route_case/bays_case.rs"]
mod bays_case;
#[path = "route_case/boards_case.rs"]
mod boards_case;
#[path = "route_case/case.rs"]
#[allow(dead_code)]
mod case;
#[path = "route_case/drawing.rs"]
mod drawing;
#[path = "../tests/it/houses.rs"]
mod houses;
#[path = "route_case/storey_case.rs"]
mod storey_case;

use std::fmt::Write;
use std::path::{Path, PathBuf};

use case::Kind;
use drawing::Drawing;
use plane::storey::{Kept, Plan, lay};
use plane::verify;

/// Random storeys on the sheet, by their seeds from 1.
const RANDOM: u64 = 20;

/// Width of the sheet, pixels.
const WIDTH: f64 = 2600.0;

fn main() -> std::io::Result<()> {
    let mut arguments = std::env::args_os().skip(1);
    let folder = PathBuf::from(arguments.next().unwrap_or_else(|| "out".into()));
    std::fs::create_dir_all(&folder)?;
    let mut drawings: Vec<(String, Drawing)> = Vec::new();
    for file in arguments {
        let text = std::fs::read_to_string(&file)?;
        match case::read(&text) {
            Ok(case) => match case.kind {
                Kind::Storey(plan) => drawings.push((case.name.clone(), drawn(&case.name, &plan))),
                _ => eprintln!("{}: `route_case --svg` draws bays and boards", case.name),
            },
            Err(reason) => eprintln!("{}: {reason}", Path::new(&file).display()),
        }
    }
    for seed in 1..=RANDOM {
        let name = format!("random {seed}");
        drawings.push((name.clone(), drawn(&name, &houses::house(seed))));
    }
    std::fs::write(folder.join("sheet.svg"), sheet(&drawings))?;
    std::fs::write(folder.join("index.html"), index(&drawings))
}

fn drawn(name: &str, plan: &Plan) -> Drawing {
    let layout = lay(plan, &mut Kept::default());
    drawing::storey(name, plan, &layout, &verify::storey(plan, &layout))
}

/// All drawings in rows.
fn sheet(drawings: &[(String, Drawing)]) -> String {
    let mut body = String::new();
    let (mut x, mut y, mut row_height) = (0.0, 0.0, 0.0_f64);
    for (_, drawing) in drawings {
        if x > 0.0 && x + drawing.width > WIDTH {
            (x, y, row_height) = (0.0, y + row_height, 0.0);
        }
        let _ = write!(body, "<g transform='translate({x:.0} {y:.0})'>{}</g>", drawing.svg);
        x += drawing.width;
        row_height = row_height.max(drawing.height);
    }
    drawing::file(&Drawing { svg: body, width: WIDTH, height: y + row_height })
}

fn index(drawings: &[(String, Drawing)]) -> String {
    let mut html = "<!doctype html><meta charset='utf-8'><title>Storeys</title>".to_string();
    for (name, drawing) in drawings {
        let _ = write!(html, "<figure id='{name}'>{}</figure>", drawing::file(drawing));
    }
    html
}
