//! Draws tube in grooved boards as SVG on standard output.

use std::fmt::Write;

use plane::Point;
use plane::boards::{self, Layout};

#[path = "../tests/it/board_floors.rs"]
#[allow(dead_code)]
mod board_floors;

const SCALE: f64 = 80.0;
const COLOURS: [&str; 7] = ["#c22", "#25c", "#283", "#a5a", "#c70", "#077", "#840"];

fn main() {
    let only: Option<String> = std::env::args().nth(1);
    let mut svg = String::new();
    let mut place = 0;
    for (name, floor) in board_floors::all() {
        if only.as_ref().is_some_and(|o| !name.contains(o.as_str())) {
            continue;
        }
        let (column, row) = (place % 2, place / 2);
        place += 1;
        let (low, high) = floor.room.bounds();
        let x = f64::from(column) * 800.0 + 30.0 - low.x * SCALE;
        let y = f64::from(row) * 560.0 + 50.0 + high.y * SCALE;
        let _ = write!(svg, "<g transform='translate({x:.1} {y:.1}) scale(1 -1)'>");
        ring(&mut svg, floor.room.outer(), "#f4f1ea");
        for keep_out in &floor.keep_outs {
            ring(&mut svg, keep_out, "#999");
        }
        let [a, b] = floor.door.map(at);
        let _ = write!(svg, "<path d='M{a}L{b}' stroke='purple' stroke-width='6'/>");
        let title = match boards::lay(&floor) {
            Ok(layout) => {
                tubes(&mut svg, &layout);
                let lengths: Vec<String> =
                    layout.loops.iter().map(|l| format!("{:.0}", l.length_m)).collect();
                let paths: Vec<_> = layout.loops.iter().map(|l| l.path.clone()).collect();
                let near = 0.75 * floor.board.pitch_m;
                let covered = plane::verify::covered_fraction(&paths, &floor.room, near, 0.02);
                let bill = boards::bill(&floor, &layout);
                let lost = layout.lost_m;
                format!(
                    "{} m; {:.1} % covered, {lost:.1} m lost; {} whole, {} pieces from {}, {} turn and \
                     {} leader boards",
                    lengths.join(", "),
                    100.0 * covered,
                    bill.whole,
                    bill.cut_pieces,
                    bill.cut_boards,
                    bill.turn_boards,
                    bill.leader_boards
                )
            }
            Err(reason) => format!("{reason:?}"),
        };
        let top = f64::from(row) * 560.0 + 20.0;
        let left = f64::from(column) * 800.0 + 30.0;
        let _ = write!(svg, "</g><text x='{left}' y='{top}'>{name}: {title}</text>");
    }
    let height = f64::from((place + 1) / 2) * 560.0 + 40.0;
    println!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1640' height='{height}' \
         font-family='sans-serif' font-size='13'><rect width='100%' height='100%' \
         fill='white'/>{svg}</svg>"
    );
}

fn tubes(svg: &mut String, layout: &Layout) {
    for (number, tube) in layout.loops.iter().enumerate() {
        let points: Vec<String> = tube.path.chords(1e-3).into_iter().map(at).collect();
        let colour = COLOURS[number % COLOURS.len()];
        let _ = write!(
            svg,
            "<path d='M{}' fill='none' stroke='{colour}' stroke-width='1.6'/>",
            points.join("L")
        );
    }
}

fn ring(svg: &mut String, ring: &[Point], fill: &str) {
    let points: Vec<String> = ring.iter().map(|p| at(*p)).collect();
    let _ = write!(svg, "<path d='M{}Z' fill='{fill}' stroke='#000'/>", points.join("L"));
}

fn at(p: Point) -> String {
    format!("{:.2} {:.2}", p.x * SCALE, p.y * SCALE)
}
