//! Below the plan: scale bars, north, water temperature, and what the lines mean.

use super::plan::Plan;
use super::ramp::{ALARM, BAND, BAND_LEADERS, FAINT, GLASS, INK, PAPER, POCHE, STEPS, colour};
use super::words::{half_width, place_of, turned, wrapped};
use super::{Anchor, Mark, Shape};
use super::{floor_parts, held, joints};
use job::JointKind;
use plane::Point;
use quantity::{Measure, System, show};

const FOOT_M: f64 = 0.3048;

/// What stands below a plan.
pub(super) struct Legend<'a> {
    /// Whether the colours of the water are told.
    pub(super) water: bool,
    /// Kinds of lines that are told.
    pub(super) samples: &'a [Sample],
    /// Remarks, a line each.
    pub(super) words: &'a [&'a str],
}

/// One kind of line with its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sample {
    Supply,
    Return,
    NoTube,
    TightBend,
    Sleeve,
    Tie,
    Band,
    Leaders,
    Free,
    HeldLine,
    HeldSign,
    FloorPart,
    Fixture,
    Movement,
    SawCut,
    Joist,
    Hole,
    Unknown,
    Limit,
}

impl Sample {
    /// What it means, by the units of the job.
    const fn words(self, first: System) -> &'static str {
        match self {
            Sample::Supply => "supply end",
            Sample::Return => "return end",
            Sample::NoTube => "no tube",
            Sample::TightBend => "tight bend",
            Sample::Sleeve => "sleeve",
            Sample::Tie => match first {
                System::Us => "tape, feet and inches",
                System::Si => "tape, millimetres",
            },
            Sample::Band => "tube: no hole, no nail",
            Sample::Leaders => "leaders: the same",
            Sample::Free => "may be fixed to",
            Sample::HeldLine => "held by the job: floor or way of a loop",
            Sample::HeldSign => "held: entry, port",
            Sample::FloorPart => "edge of another finish",
            Sample::Fixture => "flange, plate, pins or sill; dashes: kept clear",
            Sample::Movement => "movement joint: leaders in sleeves only",
            Sample::SawCut => "saw cut",
            Sample::Joist => "joist",
            Sample::Hole => "hole in a joist",
            Sample::Unknown => "not known: no tube near",
            Sample::Limit => "hotter than allowed inside",
        }
    }
}

/// Draws the legend and tells the bounds of the whole drawing.
pub(super) fn draw(plan: &Plan, legend: &Legend, marks: &mut Vec<Mark>) -> [Point; 2] {
    let (drawn_low, drawn_high) = extent(plan, marks);
    let line = plan.letter_m * 1.7;
    let left = plan.low.x;
    let mut y = (plan.low.y - 0.2).min(drawn_low.y - 0.1) - line * 0.6;
    let wide = (plan.high.x - plan.low.x).max(plan.letter_m * 40.0);
    scale(plan, Point::new(left, y), marks);
    north(plan, Point::new(left + wide - plan.letter_m * 1.5, y), marks);
    y -= line * 1.4;
    if legend.water && plan.ramp.is_some() {
        temperatures(plan, Point::new(left, y), marks);
        y -= line * 0.9;
    }
    y = meanings(plan, legend.samples, Point::new(left, y), wide, marks);
    let size = plan.letter_m * 0.66;
    for line in legend.words.iter().flat_map(|words| wrapped(words, wide, size)) {
        y -= plan.letter_m * 1.1;
        marks.push(text(Point::new(left, y), line, size, Anchor::Start));
    }
    let margin = Point::new(0.35, 0.35);
    let low = Point::new(left.min(drawn_low.x + 0.3), y);
    let high = Point::new(drawn_high.x.max(left + wide), drawn_high.y.max(plan.high.y));
    [low - margin, high + margin]
}

/// Corners of all that is drawn so far, words included.
fn extent(plan: &Plan, marks: &[Mark]) -> (Point, Point) {
    let boxes = marks.iter().filter_map(|mark| place_of(&mark.shape));
    boxes.fold((plan.low, plan.high), |(low, high), (at, wide, tall)| {
        let half = Point::new(wide, tall);
        let (a, b) = (at - half, at + half);
        let low = Point::new(low.x.min(a.x), low.y.min(a.y));
        (low, Point::new(high.x.max(b.x), high.y.max(b.y)))
    })
}

fn text(at: Point, words: impl Into<String>, size_m: f64, anchor: Anchor) -> Mark {
    turned("legend", at, words.into(), size_m, anchor, 0.0)
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

/// One sample of each kind of line with its meaning, in as many rows as they need.
fn meanings(plan: &Plan, samples: &[Sample], at: Point, wide: f64, marks: &mut Vec<Mark>) -> f64 {
    let size = plan.letter_m * 0.75;
    let mut spot = at;
    for sample in samples {
        let words = sample.words(plan.source.job.units.value);
        let own = 2.0 * half_width(words, size) + size * 2.6;
        if spot.x > at.x && spot.x + own > at.x + wide {
            spot = Point::new(at.x, spot.y - size * 1.9);
        }
        draw_sample(*sample, spot + Point::new(size * 0.7, 0.0), size, marks);
        marks.push(text(spot + Point::new(size * 1.7, 0.0), words, size, Anchor::Start));
        spot = spot + Point::new(own, 0.0);
    }
    spot.y - plan.letter_m * 0.45
}

fn draw_sample(sample: Sample, at: Point, size: f64, marks: &mut Vec<Mark>) {
    let half = size * 0.5;
    let across = Point::new(half * 1.2, 0.0);
    let oblong = |high: f64| {
        let up = Point::new(0.0, high);
        Shape::Area(vec![vec![
            at - across - up,
            at + across - up,
            at + across + up,
            at - across + up,
        ]])
    };
    let line = || Shape::Line(vec![at - across, at + across]);
    match sample {
        Sample::Supply => {
            let tip = at + Point::new(half, 0.0);
            let ring =
                vec![tip, at + Point::new(-half, half * 0.8), at - Point::new(half, half * 0.8)];
            marks.push(Mark::new("arrow", Shape::Area(vec![ring])).fill(INK));
        }
        Sample::Return => {
            let ring = Mark::new("return-end", Shape::Circle { at, radius_m: half * 0.6 });
            marks.push(ring.fill(PAPER).stroke(INK, 0.02));
        }
        Sample::NoTube => {
            marks.push(Mark::new("keep-out", oblong(half)).hatched(FAINT).stroke(FAINT, 0.015));
        }
        Sample::TightBend => {
            let ring = Mark::new("tight-bend", Shape::Circle { at, radius_m: half });
            marks.push(ring.stroke(ALARM, 0.035));
        }
        Sample::Sleeve => {
            marks.push(Mark::new("sample", line()).stroke(INK, 0.026));
            marks.push(Mark::new("sleeve", oblong(half * 0.45)).stroke(INK, 0.014));
        }
        Sample::Tie => {
            marks.push(Mark::new("tie", line()).stroke(INK, 0.012));
            for end in [at - across, at + across] {
                let slant = Point::new(half, half) * 0.5;
                let tick = Shape::Line(vec![end - slant, end + slant]);
                marks.push(Mark::new("tie-end", tick).stroke(INK, 0.016));
            }
        }
        Sample::Band | Sample::Leaders => {
            let colour = if sample == Sample::Band { BAND } else { BAND_LEADERS };
            marks.push(Mark::new("band", oblong(half)).fill(colour));
            marks.push(Mark::new("centre", line()).stroke(INK, 0.016));
        }
        Sample::HeldLine => marks.push(held::dotted(Mark::new("sample", line()), GLASS)),
        Sample::HeldSign => marks.push(held::sign("sample", at, half * 0.8, GLASS)),
        Sample::Fixture => {
            let edge = Mark::new("fixture", oblong(half * 0.5)).hatched(INK).stroke(INK, 0.015);
            marks.push(edge);
        }
        Sample::Movement | Sample::SawCut | Sample::FloorPart => {
            let reach = Point::new(half * 1.4, 0.0);
            let mark = Mark::new("sample", Shape::Line(vec![at - reach, at + reach]));
            let mut mark = match sample {
                Sample::Movement => joints::stroked(mark, JointKind::Movement),
                Sample::SawCut => joints::stroked(mark, JointKind::SawCut),
                _ => floor_parts::edged(mark),
            };
            // Short as it is, the sample shows its dashes once.
            if let Some(stroke) = &mut mark.stroke {
                let whole_m: f64 = stroke.dash_m.iter().sum();
                stroke.dash_m.iter_mut().for_each(|dash| *dash *= half * 2.4 / whole_m);
            }
            marks.push(mark);
        }
        Sample::Joist => marks.push(Mark::new("joist", line()).stroke(POCHE, half * 0.5)),
        Sample::Hole => {
            let ring = Mark::new("hole", Shape::Circle { at, radius_m: half * 0.6 });
            marks.push(ring.fill(PAPER).stroke(INK, 0.014));
        }
        Sample::Unknown => {
            marks.push(Mark::new("unknown", oblong(half)).hatched(FAINT).stroke(FAINT, 0.012));
        }
        Sample::Limit => {
            marks.push(Mark::new("over-back", line()).stroke(INK, 0.05));
            marks.push(Mark::new("over", line()).stroke(PAPER, 0.02));
        }
        Sample::Free => {
            marks.push(Mark::new("free", oblong(half)).hatched(GLASS).stroke(GLASS, 0.012));
        }
    }
}
