//! Draws the loops of all test rooms as one SVG on standard output.

use std::fmt::Write;

use plane::fill::{self, Effort, NoFill, Outline};
use plane::storey::Pattern;
use plane::{Path, Point, Region, Segment};

#[path = "../tests/it/plans.rs"]
mod plans;

const SCALE: f64 = 62.0;
const COLUMN: f64 = 460.0;

fn main() {
    let mut names = std::env::args().skip(1);
    match names.next() {
        Some(kind) if kind == "zones" => zones(names.next()),
        only => rooms(only),
    }
}

/// Every zone with its best outline, or one zone with all of its outlines.
fn zones(only: Option<String>) {
    let mut drawings: Vec<(String, &Region, Option<Outline>)> = Vec::new();
    let floors = plans::floors();
    for floor in &floors {
        if only.as_ref().is_some_and(|o| !floor.name.contains(o.as_str())) {
            continue;
        }
        match fill::outlines(&floor.zone(), Effort::Full) {
            Err(reason) => {
                drawings.push((format!("{}: {reason}", floor.name), &floor.region, None))
            }
            Ok(list) => {
                let count = if only.is_some() { list.len() } else { 1 };
                for o in list.into_iter().take(count) {
                    drawings.push((caption(&floor.name, &o), &floor.region, Some(o)));
                }
            }
        }
    }
    let mut svg = String::new();
    for (place, (title, region, outline)) in drawings.iter().enumerate() {
        let (low, high) = region.bounds();
        let x = (place % 4) as f64 * COLUMN + 20.0 - low.x * SCALE;
        let y = (place / 4) as f64 * 420.0 + 40.0 + high.y * SCALE;
        let _ = write!(svg, "<g transform='translate({x:.1} {y:.1}) scale(1 -1)'>");
        floor(&mut svg, region);
        if let Some(o) = outline {
            let radius = floors
                .iter()
                .find(|f| std::ptr::eq(&f.region, *region))
                .map_or(0.08, |f| f.bend_radius_m);
            tube(&mut svg, &Path::rounded(&o.corners, radius));
        }
        let top = y - high.y * SCALE - 8.0;
        let _ = write!(svg, "</g><text x='{x:.1}' y='{top:.1}'>{title}</text>");
    }
    print_sheet(&svg, drawings.len().div_ceil(4));
}

fn caption(name: &str, o: &Outline) -> String {
    format!(
        "{name}: {} {:.1} m at {:.0}, cold {:.1} %, {} tight, cost {:.4}",
        match o.pattern {
            Pattern::Band { .. } => "band".to_string(),
            pattern => format!("{pattern:?}").to_lowercase(),
        },
        o.length_m,
        o.spacing_m * 1000.0,
        o.uncovered * 100.0,
        o.tight,
        o.cost
    )
}

fn rooms(only: Option<String>) {
    let mut svg = String::new();
    let mut place = 0;
    for plan in plans::all() {
        if only.as_ref().is_some_and(|o| !plan.name.contains(o.as_str())) {
            continue;
        }
        let (column, row) = (place % 4, place / 4);
        place += 1;
        let (low, high) = plan.region.bounds();
        let x = f64::from(column) * COLUMN + 20.0 - low.x * SCALE;
        let y = f64::from(row) * 420.0 + 40.0 + high.y * SCALE;
        let fill = fill::counterflow(&plan.region, plan.entry, &plan.spec());
        let _ = write!(svg, "<g transform='translate({x:.1} {y:.1}) scale(1 -1)'>");
        floor(&mut svg, &plan.region);
        if let Ok(fill) = &fill {
            tube(&mut svg, &fill.path);
        }
        let _ =
            write!(svg, "</g><text x='{x:.1}' y='{:.1}'>{}</text>", y - high.y * SCALE - 8.0, {
                title(plan.name, &fill)
            });
    }
    print_sheet(&svg, (place as usize).div_ceil(4));
}

fn print_sheet(drawings: &str, rows: usize) {
    println!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{}' height='{}' \
         font-family='sans-serif' font-size='12'>{drawings}</svg>",
        4.0 * COLUMN,
        rows as f64 * 420.0 + 40.0
    );
}

fn title(name: &str, fill: &Result<fill::Fill, NoFill>) -> String {
    match fill {
        Ok(f) => format!(
            "{name}: {:.1} m at {:.0} mm, {:.1} % covered, {} of {} bends tight",
            f.path.length_m(),
            f.spacing_used_m * 1000.0,
            f.covered_fraction * 100.0,
            f.tight_bends.len(),
            f.path.bends().len()
        ),
        Err(reason) => format!("{name}: {reason}"),
    }
}

fn floor(svg: &mut String, region: &Region) {
    let _ = write!(svg, "<path fill='#f4f1ea' stroke='#000' fill-rule='evenodd' d='");
    for ring in region.rings() {
        for (i, p) in ring.iter().enumerate() {
            let _ = write!(svg, "{}{}", if i == 0 { 'M' } else { 'L' }, at(*p));
        }
        svg.push('Z');
    }
    svg.push_str("'/>");
}

/// The first half of the loop red, the second blue.
fn tube(svg: &mut String, path: &Path) {
    let half = path.length_m() / 2.0;
    let mut gone = 0.0;
    for s in &path.segments {
        let colour = if gone < half { "#c22" } else { "#25c" };
        gone += s.length_m();
        let _ = write!(svg, "<path fill='none' stroke='{colour}' d='M{}", at(s.from()));
        match *s {
            Segment::Line { to, .. } => {
                let _ = write!(svg, "L{}'/>", at(to));
            }
            Segment::Arc { to, radius_m, turn_rad, .. } => {
                let r = radius_m * SCALE;
                let large = u8::from(turn_rad.abs() > std::f64::consts::PI);
                let sweep = u8::from(turn_rad > 0.0);
                let _ = write!(svg, "A{r:.2} {r:.2} 0 {large} {sweep} {}'/>", at(to));
            }
        }
    }
}

fn at(p: Point) -> String {
    format!("{:.2} {:.2} ", p.x * SCALE, p.y * SCALE)
}
