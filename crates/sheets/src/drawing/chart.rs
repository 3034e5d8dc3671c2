//! A picture of numbers: one bar a line, its words above it.

use super::ramp::{FAINT, INK};
use super::{Anchor, Drawing, Fill, Mark, Shape};
use crate::source::Source;
use design::loads::{GroupLoss, Part};
use plane::Point;
use quantity::{show_in, unit};

/// Width of the picture; its units are of no meaning, letters are set to suit a phone.
const WIDE: f64 = 10.0;
/// Height of one line: words and bar.
const LINE: f64 = 1.02;
const LETTER: f64 = 0.36;
const BAR: f64 = 0.30;

/// Where the heat of the house goes; none where there is nothing to show.
pub(crate) fn parts(source: &Source) -> Option<Drawing> {
    let loads = &source.design.loads;
    let house = loads.house.as_ref()?;
    let all: Vec<&Part> = loads.parts.iter().filter(|part| part.loss.si().is_finite()).collect();
    let most = all.iter().map(|part| part.loss.si()).fold(0.0, f64::max);
    let least = all.iter().map(|part| part.loss.si()).fold(0.0, f64::min);
    if most - least <= 0.0 {
        return None;
    }
    let scale = WIDE / (most - least);
    let zero = -least * scale;
    let foot = -(all.len() as f64) * LINE;
    let line = vec![Point::new(zero, 0.0), Point::new(zero, foot)];
    let mut marks = vec![Mark::new("zero", Shape::Line(line)).stroke(FAINT, 0.02)];
    let mut y = 0.0;
    for part in &all {
        words(source, house, part, y, &mut marks);
        bar(part, zero, zero + part.loss.si() * scale, y, &mut marks);
        y -= LINE;
    }
    let margin = Point::new(0.1, 0.1);
    let bounds_m = [Point::new(0.0, foot) - margin, Point::new(WIDE, 0.0) + margin];
    let words = format!(
        "Bars for {}; the table below holds the same.",
        all.iter().map(|part| part.name).collect::<Vec<_>>().join(", ")
    );
    let (key, title) = ("where-heat-goes".to_owned(), "Where the heat goes".to_owned());
    Some(Drawing { key, title, bounds_m, marks, words })
}

/// The name to the left, heat and share to the right.
fn words(source: &Source, house: &GroupLoss, part: &Part, y: f64, marks: &mut Vec<Mark>) {
    let mut said = part.loss.work.shown(source.job.units.value);
    if let Some(share) = part.share(house) {
        said.push_str(&format!(" · {}", show_in(share.si(), &unit::PERCENT)));
    }
    let text = |at: Point, words: String, anchor, bold| {
        let shape = Shape::Words { at, words, size_m: LETTER, anchor, turn_rad: 0.0, bold };
        Mark::new("bar-label", shape).fill(INK)
    };
    let height = y - LETTER * 0.7;
    marks.push(text(Point::new(0.12, height), part.name.to_owned(), Anchor::Start, true));
    marks.push(text(Point::new(WIDE, height), said, Anchor::End, false));
}

/// Full for a loss, hatched for a gain, nothing for nought.
fn bar(part: &Part, from: f64, to: f64, y: f64, marks: &mut Vec<Mark>) {
    if (to - from).abs() < 0.005 {
        return;
    }
    let top = y - LETTER * 1.55;
    let foot = top - BAR;
    let corners = [(from, top), (to, top), (to, foot), (from, foot)];
    let ring = corners.map(|(x, y)| Point::new(x, y)).to_vec();
    let mut mark = Mark::new("bar", Shape::Area(vec![ring])).stroke(INK, 0.02);
    mark.fill = Some(if to > from { Fill::Plain(FAINT) } else { Fill::Hatch(FAINT) });
    marks.push(mark.titled(part.name));
}
