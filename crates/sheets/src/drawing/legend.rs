//! Below the plan: scale bars, north, water temperature, and what the lines mean.

use super::plan::Plan;
use super::ramp::{ALARM, FAINT, INK, PAPER, STEPS, colour};
use super::{Anchor, Fill, Mark, Shape};
use plane::Point;
use quantity::{Measure, System, show};

const FOOT_M: f64 = 0.3048;

/// Draws the legend and tells the bounds of the whole drawing.
pub(crate) fn draw(plan: &Plan, marks: &mut Vec<Mark>) -> [Point; 2] {
    let line = plan.letter_m * 1.7;
    let left = plan.low.x;
    let mut y = plan.low.y - 0.35 - line;
    let wide = (plan.high.x - plan.low.x).max(plan.letter_m * 38.0);
    scale(plan, Point::new(left, y), marks);
    north(plan, Point::new(left + wide - plan.letter_m * 1.5, y), marks);
    y -= line * 1.7;
    if plan.ramp.is_some() {
        temperatures(plan, Point::new(left, y), marks);
        y -= line * 1.9;
    }
    meanings(plan, Point::new(left, y), marks);
    let margin = Point::new(0.35, 0.35);
    let low = Point::new(left, y - line * 1.6);
    let high = Point::new(plan.high.x.max(left + wide), plan.high.y);
    [low - margin, high + margin]
}

fn text(at: Point, words: impl Into<String>, size_m: f64, anchor: Anchor) -> Mark {
    let shape = Shape::Words { at, words: words.into(), size_m, anchor, bold: false };
    Mark::new("legend", shape).fill(INK)
}

/// A bar in feet over a bar in metres, in the order of the job.
fn scale(plan: &Plan, at: Point, marks: &mut Vec<Mark>) {
    let span = plan.high.x - plan.low.x;
    let feet = if span > 8.0 { 10.0 } else { 5.0 };
    let metres = if span > 8.0 { 3.0 } else { 1.5 };
    let mut bars = [(feet * FOOT_M, format!("{feet} ft")), (metres, format!("{metres} m"))];
    if plan.source.job.units.value == System::Si {
        bars.reverse();
    }
    for ((length, words), down) in bars.into_iter().zip([0.0, plan.letter_m * 1.25]) {
        let from = at - Point::new(0.0, down);
        bar(from, length, marks);
        let end = from + Point::new(length + plan.letter_m * 0.5, 0.035);
        marks.push(text(end, words, plan.letter_m * 0.85, Anchor::Start));
    }
}

fn bar(from: Point, length: f64, marks: &mut Vec<Mark>) {
    let high = 0.07;
    for half in 0..2 {
        let a = from + Point::new(length * 0.5 * f64::from(half), 0.0);
        let b = a + Point::new(length * 0.5, 0.0);
        let up = Point::new(0.0, high);
        let fill = if half == 0 { INK } else { PAPER };
        let ring = Shape::Area(vec![vec![a, b, b + up, a + up]]);
        marks.push(Mark::new("scale", ring).fill(fill).stroke(INK, 0.012));
    }
}

fn north(plan: &Plan, at: Point, marks: &mut Vec<Mark>) {
    let size = plan.letter_m;
    let tip = at + Point::new(0.0, size * 1.2);
    let (right, left) = (at + Point::new(size * 0.45, -size), at - Point::new(size * 0.45, size));
    let notch = at - Point::new(0.0, size * 0.6);
    let east = Mark::new("north", Shape::Area(vec![vec![tip, right, notch]])).fill(PAPER);
    marks.push(east.stroke(INK, 0.015));
    marks.push(Mark::new("north", Shape::Area(vec![vec![tip, left, notch]])).fill(INK));
    let letter = at + Point::new(-size * 0.95, 0.0);
    marks.push(text(letter, "N", size, Anchor::Middle));
}

fn temperatures(plan: &Plan, at: Point, marks: &mut Vec<Mark>) {
    let Some(ramp) = plan.ramp else { return };
    let (size, width) = (plan.letter_m * 0.85, plan.letter_m * 1.1);
    let first = plan.source.job.units.value;
    let ends = |kelvin: f64| {
        let one = show(kelvin, Measure::Temperature, first);
        format!("{one} · {}", show(kelvin, Measure::Temperature, first.other()))
    };
    marks.push(text(at, "water", size, Anchor::Start));
    let cool = at + Point::new(size * 3.4, 0.0);
    marks.push(text(cool, ends(ramp.cool_k), size, Anchor::Start));
    let start = cool + Point::new(size * 9.8, -size * 0.45);
    for step in 0..STEPS {
        let a = start + Point::new(width * step as f64 * 0.5, 0.0);
        let b = a + Point::new(width * 0.5, size * 0.9);
        let ring = vec![a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)];
        marks.push(Mark::new("ramp", Shape::Area(vec![ring])).fill(colour(step)));
    }
    let end = Point::new(start.x + width * STEPS as f64 * 0.5 + size * 0.6, at.y);
    marks.push(text(end, ends(ramp.warm_k), size, Anchor::Start));
}

/// One sample of each kind of line, with its meaning.
fn meanings(plan: &Plan, at: Point, marks: &mut Vec<Mark>) {
    let size = plan.letter_m * 0.75;
    let samples: [(&str, f64); 4] =
        [("supply end", 6.6), ("return end", 6.6), ("no tube", 5.2), ("tight bend", 6.0)];
    let mut x = at.x;
    for (place, (words, width)) in samples.into_iter().enumerate() {
        let spot = Point::new(x + size * 0.7, at.y);
        marks.push(sample(place, spot, size));
        marks.push(text(Point::new(x + size * 1.7, at.y), words, size, Anchor::Start));
        x += size * (width + 2.0);
    }
    let below = at - Point::new(0.0, plan.letter_m * 1.6);
    let words = "Each loop has its own width or dash. Walls are drawn from inside faces; their \
                 grey shows no thickness.";
    marks.push(text(below, words, size * 0.92, Anchor::Start));
}

fn sample(place: usize, at: Point, size: f64) -> Mark {
    let half = size * 0.5;
    let square = vec![
        at + Point::new(-half, -half),
        at + Point::new(half, -half),
        at + Point::new(half, half),
        at + Point::new(-half, half),
    ];
    match place {
        0 => {
            let tip = at + Point::new(half, 0.0);
            let ring =
                vec![tip, at + Point::new(-half, half * 0.8), at - Point::new(half, half * 0.8)];
            Mark::new("arrow", Shape::Area(vec![ring])).fill(INK)
        }
        1 => Mark::new("return-end", Shape::Circle { at, radius_m: half * 0.6 })
            .fill(PAPER)
            .stroke(INK, 0.02),
        2 => {
            let mut mark = Mark::new("keep-out", Shape::Area(vec![square])).stroke(FAINT, 0.015);
            mark.fill = Some(Fill::Hatch(FAINT));
            mark
        }
        _ => Mark::new("tight-bend", Shape::Circle { at, radius_m: half }).stroke(ALARM, 0.035),
    }
}
