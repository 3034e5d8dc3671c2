//! Loops as they lie, leaders included, in the colour of their water.

use super::plan::Plan;
use super::ramp::{ALARM, Colour, INK, Ramp, STEPS, colour};
use super::{Mark, Shape};
use design::flow::LoopFlow;
use design::loops::TubeLoop;
use plane::{Path, Segment};
use quantity::{Measure, show_both};

/// Dash patterns that tell loops apart without colour; the gaps are short, so that colour is read.
pub(crate) const PATTERNS: [(f64, &[f64]); 6] = [
    (0.026, &[]),
    (0.026, &[0.45, 0.06]),
    (0.040, &[]),
    (0.026, &[0.24, 0.05, 0.05, 0.05]),
    (0.040, &[0.30, 0.07]),
    (0.030, &[0.12, 0.05]),
];

pub(crate) fn draw(plan: &Plan, marks: &mut Vec<Mark>) {
    for (number, (tube, flow)) in plan.loops.iter().enumerate() {
        course(plan, number, tube, *flow, marks);
    }
    for (tube, _) in &plan.loops {
        arrows(tube, marks);
        tight_bends(plan, tube, marks);
    }
}

fn course(
    plan: &Plan,
    number: usize,
    tube: &TubeLoop,
    flow: Option<&LoopFlow>,
    marks: &mut Vec<Mark>,
) {
    let (width, dash) = PATTERNS[number % PATTERNS.len()];
    let length = tube.length.work.shown(plan.source.job.units.value);
    let title = format!("loop {}, {length} from port to port", tube.key);
    let temperatures = flow.and_then(|flow| Some((plan.ramp?, flow.supply.si(), flow.back.si())));
    let pieces = match temperatures {
        Some((ramp, supply, back)) => pieces(&tube.path, ramp, supply, back),
        None => vec![(0.0, INK, tube.path.clone())],
    };
    for (along, colour, path) in pieces {
        let mark = Mark::new("tube", Shape::Tube(path))
            .stroke(colour, width)
            .dashed(dash, along)
            .about(&tube.key)
            .titled(title.clone());
        marks.push(mark);
    }
}

/// The path cut where its water passes from one colour to the next.
fn pieces(path: &Path, ramp: Ramp, supply_k: f64, back_k: f64) -> Vec<(f64, Colour, Path)> {
    let length = path.length_m();
    if !(length.is_finite() && length > 0.0) {
        return Vec::new();
    }
    // Cuts at even shares of the length; the drop along the tube is taken as even.
    let count = 2 * STEPS;
    let step_of = |share: f64| ramp.step(supply_k + (back_k - supply_k) * share);
    let mut out: Vec<(f64, usize, Path)> = Vec::new();
    let mut rest: Vec<Segment> = path.segments.iter().rev().copied().collect();
    for number in 0..count {
        let share = (number as f64 + 0.5) / count as f64;
        let piece = take(&mut rest, length / count as f64, number + 1 == count);
        match out.last_mut() {
            Some((_, step, last)) if *step == step_of(share) => last.segments.extend(piece),
            _ => {
                let along = length * number as f64 / count as f64;
                out.push((along, step_of(share), Path { segments: piece }));
            }
        }
    }
    out.retain(|(.., path)| !path.segments.is_empty());
    out.into_iter().map(|(along, step, path)| (along, colour(step), path)).collect()
}

/// Takes that much tube off the front of `rest`, whose last piece comes first.
fn take(rest: &mut Vec<Segment>, length_m: f64, all: bool) -> Vec<Segment> {
    let mut taken = Vec::new();
    let mut wanted = length_m;
    while let Some(segment) = rest.pop() {
        let own = segment.length_m();
        if all || own <= wanted {
            taken.push(segment);
            wanted -= own;
            continue;
        }
        let (head, tail) = cut(segment, wanted / own);
        taken.push(head);
        rest.push(tail);
        break;
    }
    taken
}

fn cut(segment: Segment, share: f64) -> (Segment, Segment) {
    let middle = segment.point_at(segment.length_m() * share);
    match segment {
        Segment::Line { from, to } => {
            (Segment::Line { from, to: middle }, Segment::Line { from: middle, to })
        }
        Segment::Arc { from, to, centre, radius_m, turn_rad } => {
            let arc = |from, to, turn_rad| Segment::Arc { from, to, centre, radius_m, turn_rad };
            (arc(from, middle, turn_rad * share), arc(middle, to, turn_rad * (1.0 - share)))
        }
    }
}

/// From arrow to arrow along the tube, metres.
const ARROWS_M: f64 = 6.0;

/// Arrows along the way of the water, the first at the supply end, and a ring at the return end.
fn arrows(tube: &TubeLoop, marks: &mut Vec<Mark>) {
    let first = (tube.path.length_m() * 0.02).clamp(0.1, 0.4);
    arrow(tube, first, 1.0, format!("supply end of loop {}", tube.key), marks);
    let length = tube.path.length_m();
    let count = (length / ARROWS_M).ceil().clamp(3.0, 100.0);
    for number in 1..count as usize {
        let title = format!("way of the water in loop {}", tube.key);
        arrow(tube, length * number as f64 / count, 0.55, title, marks);
    }
    if let Some(end) = tube.path.end() {
        let ring = Mark::new("return-end", Shape::Circle { at: end, radius_m: 0.05 });
        let ring = ring.fill(super::ramp::PAPER).stroke(INK, 0.018);
        marks.push(ring.about(&tube.key).titled(format!("return end of loop {}", tube.key)));
    }
}

fn arrow(tube: &TubeLoop, along_m: f64, size: f64, title: String, marks: &mut Vec<Mark>) {
    let (Some(at), Some(ahead)) = (tube.path.point_at(along_m), tube.path.point_at(along_m + 0.02))
    else {
        return;
    };
    let forward = (ahead - at).unit();
    if forward.norm() == 0.0 {
        return;
    }
    let (tip, side) = (at + forward * (0.16 * size), forward.left() * (0.065 * size));
    let mark = Mark::new("arrow", Shape::Area(vec![vec![tip, at + side, at - side]])).fill(INK);
    marks.push(mark.about(&tube.key).titled(title));
}

fn tight_bends(plan: &Plan, tube: &TubeLoop, marks: &mut Vec<Mark>) {
    for bend in &tube.tight_bends {
        let radius = show_both(bend.radius_m, Measure::Length, plan.source.job.units.value);
        let words = format!("tight bend in loop {}: radius {radius}", tube.key);
        let mark = Mark::new("tight-bend", Shape::Circle { at: bend.at, radius_m: 0.13 });
        marks.push(mark.stroke(ALARM, 0.035).about(&tube.key).titled(words));
    }
}
