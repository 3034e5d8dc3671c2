//! Draws the loops of all test rooms as one SVG on standard output.

use std::fmt::Write;

use plane::fill::{self, NoFill};
use plane::{Path, Point, Region, Segment};

#[path = "../tests/it/plans.rs"]
mod plans;

const SCALE: f64 = 62.0;
const COLUMN: f64 = 460.0;

fn main() {
    let only: Option<String> = std::env::args().nth(1);
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
    let rows = (place + 3) / 4;
    println!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{}' height='{}' \
         font-family='sans-serif' font-size='12'>{svg}</svg>",
        4.0 * COLUMN,
        f64::from(rows) * 420.0 + 40.0
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
