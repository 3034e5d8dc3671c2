//! Draws tube in joist bays as SVG on standard output.

use std::fmt::Write;

use plane::bays::{self, BlockKind, Floor, Layout, Verdict};
use plane::{Path, Point};

#[path = "../tests/it/joist_floors.rs"]
#[allow(dead_code)]
mod joist_floors;

const SCALE: f64 = 100.0;
const COLOURS: [&str; 8] = ["#c22", "#25c", "#283", "#a5a", "#c70", "#077", "#840", "#555"];

fn main() {
    let only: Option<String> = std::env::args().nth(1);
    let (mut svg, mut down) = (String::new(), 40.0);
    for (name, floor) in joist_floors::all() {
        if only.as_ref().is_some_and(|o| !name.contains(o.as_str())) {
            continue;
        }
        let (low, high) = bounds(&floor);
        let (x, y) = (40.0 - low.x * SCALE, down + high.y * SCALE);
        let title = match bays::lay(&floor) {
            Ok(layout) => {
                let _ = write!(svg, "<g transform='translate({x:.1} {y:.1}) scale(1 -1)'>");
                drawing(&mut svg, &floor, &layout);
                svg.push_str("</g>");
                words(name, &layout)
            }
            Err(reason) => format!("{name}: {reason:?}"),
        };
        let _ = write!(svg, "<text x='40' y='{:.1}'>{title}</text>", down - 12.0);
        down += (high.y - low.y) * SCALE + 70.0;
    }
    println!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1800' height='{down:.0}' \
         font-family='sans-serif' font-size='14'><rect width='100%' height='100%' \
         fill='white'/>{svg}</svg>"
    );
}

fn words(name: &str, layout: &Layout) -> String {
    let lengths: Vec<String> = layout.loops.iter().map(|l| format!("{:.1}", l.length_m)).collect();
    let whole: usize = layout.plates.iter().map(|p| p.whole).sum();
    let broken = layout.holes.iter().filter(|h| h.verdict != Verdict::Keeps).count();
    let lost: f64 = layout.unreached.iter().map(|u| u.length_m).sum();
    format!(
        "{name}: loops {} m; {whole} plates and {} cut; {} holes, {broken} break a rule; {lost:.1} m \
         of bay unreached",
        lengths.join(", "),
        layout.plates.iter().filter(|p| p.cut_m > 0.0).count(),
        layout.holes.len(),
    )
}

fn bounds(floor: &Floor) -> (Point, Point) {
    let mut low = floor.manifold.at;
    let mut high = low;
    for room in &floor.rooms {
        let (a, b) = room.floor.bounds();
        low = Point::new(low.x.min(a.x), low.y.min(a.y));
        high = Point::new(high.x.max(b.x), high.y.max(b.y));
    }
    (low, high)
}

fn drawing(svg: &mut String, floor: &Floor, layout: &Layout) {
    for room in &floor.rooms {
        ring(svg, room.floor.outer(), "fill='#f4f1ea' stroke='#000'");
    }
    for block in &floor.blocks {
        let fill = if block.kind == BlockKind::Full { "#999" } else { "#ddd" };
        ring(svg, &block.outline, &format!("fill='{fill}' stroke='#444'"));
    }
    joists(svg, floor);
    for run in &layout.plates {
        let [a, b] = run.ends.map(at);
        let _ = write!(svg, "<path d='M{a}L{b}' stroke='#fc6' stroke-width='9' opacity='.5'/>");
    }
    for (number, tube) in layout.loops.iter().enumerate() {
        path(svg, &tube.path, COLOURS[number % COLOURS.len()]);
    }
    let along = floor.joists.along.unit();
    for hole in &layout.holes {
        let across = -along.left() * (hole.joist as f64 * floor.joists.pitch_m);
        let [b0, b1] = floor.joists.bearings_m;
        let y = if hole.bearing == 0 { b0 + hole.from_bearing_m } else { b1 - hole.from_bearing_m };
        let p = (floor.joists.on + across + along * y) * SCALE;
        let _ = write!(svg, "<circle cx='{:.1}' cy='{:.1}' r='2.5'/>", p.x, p.y);
    }
    let m = floor.manifold.at * SCALE;
    let _ = write!(svg, "<circle cx='{:.1}' cy='{:.1}' r='6' fill='purple'/>", m.x, m.y);
}

fn joists(svg: &mut String, floor: &Floor) {
    let (low, high) = bounds(floor);
    let along = floor.joists.along.unit();
    let [b0, b1] = floor.joists.bearings_m;
    for joist in -60..60 {
        let on = floor.joists.on - along.left() * (f64::from(joist) * floor.joists.pitch_m);
        let (a, b) = (on + along * b0, on + along * b1);
        let middle = a.lerp(b, 0.5);
        if middle.x > low.x - 0.3 && middle.x < high.x + 0.3 {
            let width = floor.joists.width_m * SCALE;
            let _ = write!(
                svg,
                "<path d='M{}L{}' stroke='#c9a' stroke-width='{width:.1}' opacity='.5'/>",
                at(a),
                at(b)
            );
        }
    }
}

fn ring(svg: &mut String, ring: &[Point], style: &str) {
    let points: Vec<String> = ring.iter().map(|p| at(*p)).collect();
    let _ = write!(svg, "<path d='M{}Z' {style}/>", points.join("L"));
}

fn path(svg: &mut String, path: &Path, colour: &str) {
    let points: Vec<String> = path.chords(1e-3).into_iter().map(at).collect();
    let _ = write!(
        svg,
        "<path d='M{}' fill='none' stroke='{colour}' stroke-width='1.6'/>",
        points.join("L")
    );
}

fn at(p: Point) -> String {
    format!("{:.2} {:.2}", p.x * SCALE, p.y * SCALE)
}
