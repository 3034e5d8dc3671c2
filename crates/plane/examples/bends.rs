//! Draws tube before and after its bends are made as wide as the tube allows, as one SVG.

use std::fmt::Write;
use std::time::Instant;

use plane::fill::{self, FillSpec};
use plane::relax::{Fence, Relaxed, Strand, Wishes, relaxed};
use plane::{Path, Point, Region, Segment, verify};

#[path = "../tests/it/plans.rs"]
mod plans;

const SCALE: f64 = 100.0;
const COLUMN: f64 = 760.0;

fn main() {
    let only: Option<String> = std::env::args().nth(1);
    let radius_m: f64 = std::env::args().nth(2).and_then(|r| r.parse().ok()).unwrap_or(0.08);
    let spacing_m: Option<f64> = std::env::args().nth(3).and_then(|r| r.parse().ok());
    let mut svg = String::new();
    let mut place = 0;
    for plan in plans::all().into_iter().chain(plans::cabin()) {
        if only.as_ref().is_some_and(|o| !plan.name.contains(o.as_str())) {
            continue;
        }
        let spec = FillSpec {
            bend_radius_m: radius_m,
            spacing_m: spacing_m.unwrap_or(plan.spacing_m),
            ..plan.spec()
        };
        let Ok(fill) = fill::counterflow(&plan.region, plan.entry, &spec) else {
            eprintln!("{}: no loop", plan.name);
            continue;
        };
        let (column, row) = (place % 3, place / 3);
        place += 1;
        let strands = [Strand { path: fill.path.clone(), spacing_m: fill.spacing_used_m }];
        let ground = [plan.region.clone()];
        let fences =
            [Fence { ground: &ground, clearance_m: 0.05, wanted_m: 0.33 * spec.spacing_m }];
        let wishes = Wishes { radius_m, least_gap_m: 0.05, field_gap: 0.67 };
        let mut took = f64::INFINITY;
        let mut out = Relaxed::default();
        for _ in 0..7 {
            let begin = Instant::now();
            out = relaxed(&strands, &fences, &wishes);
            took = took.min(begin.elapsed().as_secs_f64());
        }
        let path = &out.paths[0];
        let gap = verify::closest_within(&out.paths, 0.5, 1.2 * 3.14159 * radius_m);
        let depth = path
            .sample(0.01)
            .iter()
            .map(|p| plan.region.boundary_distance_m(*p))
            .fold(9.0, f64::min);
        let depth = if verify::outside_m(path, &plan.region) > 1e-9 { -depth } else { depth };
        let text = format!(
            "{} s {:.0}: {:.1} m, {} tight -> {} left, {} crossings, {} faults, least r {:.1}, gap {:.0}, wall {:.0}, {} -> {} pieces, {:.2} ms",
            plan.name,
            fill.spacing_used_m * 1e3,
            path.length_m(),
            fill.tight_bends.len(),
            out.tight,
            verify::crossings(&out.paths).len(),
            verify::faults(path).len(),
            verify::least_sampled_radius_m(path, 0.02) * 1e3,
            gap.map_or(999.0, |g| g.gap_m * 1e3),
            depth * 1e3,
            fill.path.segments.len(),
            path.segments.len(),
            took * 1e3
        );
        eprintln!("{text}");
        for c in verify::crossings(&out.paths) {
            eprintln!("   at {:?}", c.at);
        }
        let (low, high) = plan.region.bounds();
        let x = f64::from(column) * COLUMN + 20.0 - low.x * SCALE;
        let y = f64::from(row) * 660.0 + 40.0 + high.y * SCALE;
        let _ = write!(svg, "<g transform='translate({x:.1} {y:.1}) scale(1 -1)'>");
        floor(&mut svg, &plan.region);
        tube(&mut svg, &fill.path, "#bbb", 1.0);
        tube(&mut svg, path, "#b3361b", 1.6);
        let at = y - high.y * SCALE - 8.0;
        let _ = write!(svg, "</g><text x='{x:.1}' y='{at:.1}'>{text}</text>");
    }
    let rows = (place + 2) / 3;
    println!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{}' height='{}' \
         font-family='sans-serif' font-size='10'><rect width='100%' height='100%' fill='white'/>{svg}</svg>",
        3.0 * COLUMN,
        f64::from(rows) * 660.0 + 40.0
    );
}

fn floor(svg: &mut String, region: &Region) {
    let mut d = String::new();
    for ring in region.rings() {
        for (k, p) in ring.iter().enumerate() {
            let _ = write!(d, "{}{}", if k == 0 { "M" } else { "L" }, at(*p));
        }
        d.push('Z');
    }
    let _ = write!(svg, "<path d='{d}' fill='#f4f1ea' stroke='#444' fill-rule='evenodd'/>");
}

fn tube(svg: &mut String, path: &Path, colour: &str, width: f64) {
    let mut d = path.start().map(|p| format!("M{}", at(p))).unwrap_or_default();
    for segment in &path.segments {
        match *segment {
            Segment::Line { to, .. } => {
                let _ = write!(d, "L{}", at(to));
            }
            Segment::Arc { to, radius_m, turn_rad, .. } => {
                let r = radius_m * SCALE;
                let large = i32::from(turn_rad.abs() > std::f64::consts::PI);
                let sweep = i32::from(turn_rad > 0.0);
                let _ = write!(d, "A{r:.2} {r:.2} 0 {large} {sweep} {}", at(to));
            }
        }
    }
    let _ = write!(svg, "<path d='{d}' fill='none' stroke='{colour}' stroke-width='{width}'/>");
    if colour == "#b3361b" {
        for s in &path.segments {
            let p = s.from();
            let _ = write!(
                svg,
                "<circle cx='{:.2}' cy='{:.2}' r='1.5' fill='#135'/>",
                p.x * SCALE,
                p.y * SCALE
            );
        }
    }
}

fn at(p: Point) -> String {
    format!("{:.2} {:.2} ", p.x * SCALE, p.y * SCALE)
}
