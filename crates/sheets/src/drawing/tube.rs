//! Loops as they lie, in the colour of their water, and the ways to their manifolds.

use super::plan::Plan;
use super::ramp::{ALARM, Colour, FAINT, INK, Ramp, STEPS, colour};
use super::{Anchor, Mark, Shape};
use design::flow::LoopFlow;
use design::loops::TubeLoop;
use plane::{Path, Point, Segment};
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
    for (tube, _) in &plan.loops {
        leader(plan, tube, marks);
    }
    for (number, (tube, flow)) in plan.loops.iter().enumerate() {
        field(plan, number, tube, *flow, marks);
    }
    for (tube, _) in &plan.loops {
        arrow(tube, marks);
        tight_bends(plan, tube, marks);
    }
}

fn leader(plan: &Plan, tube: &TubeLoop, marks: &mut Vec<Mark>) {
    let Some(leader) = tube.leader.as_ref().filter(|it| it.points.len() > 1) else { return };
    let state = if leader.routed { "" } else { ", not yet routed: shortest way only" };
    let length = tube.leader_length.work.shown(plan.source.job.units.value);
    let mark = Mark::new("leader", Shape::Line(leader.points.clone()))
        .stroke(FAINT, 0.022)
        .dashed(&[0.10, 0.08], 0.0)
        .about(&tube.key)
        .titled(format!("leaders of {}, {length} both ways{state}", tube.key));
    marks.push(mark);
}

fn field(
    plan: &Plan,
    number: usize,
    tube: &TubeLoop,
    flow: Option<&LoopFlow>,
    marks: &mut Vec<Mark>,
) {
    let (width, dash) = PATTERNS[number % PATTERNS.len()];
    let length = tube.field_length.work.shown(plan.source.job.units.value);
    let title = format!("loop {}, {length} of tube in the field", tube.key);
    let temperatures = flow.and_then(|flow| Some((plan.ramp?, flow.supply.si(), flow.back.si())));
    let pieces = match temperatures {
        Some((ramp, supply, back)) => pieces(&tube.field, ramp, supply, back),
        None => vec![(0.0, INK, tube.field.clone())],
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

/// An arrow at the supply end, and a ring at the return end.
fn arrow(tube: &TubeLoop, marks: &mut Vec<Mark>) {
    let along = (tube.field.length_m() * 0.02).clamp(0.1, 0.4);
    let (Some(at), Some(ahead)) = (tube.field.point_at(along), tube.field.point_at(along + 0.02))
    else {
        return;
    };
    let forward = (ahead - at).unit();
    if forward.norm() == 0.0 {
        return;
    }
    let (tip, side) = (at + forward * 0.16, forward.left() * 0.065);
    let mark = Mark::new("arrow", Shape::Area(vec![vec![tip, at + side, at - side]])).fill(INK);
    marks.push(mark.about(&tube.key).titled(format!("supply end of loop {}", tube.key)));
    if let Some(end) = tube.field.end() {
        let ring = Mark::new("return-end", Shape::Circle { at: end, radius_m: 0.05 });
        let ring = ring.fill(super::ramp::PAPER).stroke(INK, 0.018);
        marks.push(ring.about(&tube.key).titled(format!("return end of loop {}", tube.key)));
    }
}

fn tight_bends(plan: &Plan, tube: &TubeLoop, marks: &mut Vec<Mark>) {
    for bend in &tube.tight_bends {
        let radius = show_both(bend.radius_m, Measure::Length, plan.source.job.units.value);
        let words = format!("tight bend in loop {}: radius {radius}", tube.key);
        let mark = Mark::new("tight-bend", Shape::Circle { at: bend.at, radius_m: 0.13 });
        marks.push(mark.stroke(ALARM, 0.035).about(&tube.key).titled(words));
    }
}

/// The leg of an unrouted leader on which a label has most room.
pub(crate) fn longest_open_leg(plan: &Plan) -> Option<(Point, Point)> {
    let open = plan.loops.iter().filter_map(|(it, _)| it.leader.as_ref()).filter(|it| !it.routed);
    let legs = open.flat_map(|it| it.points.windows(2).map(|leg| (leg[0], leg[1])));
    legs.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
}

/// A label that stands in the middle of `at`.
pub(crate) fn words(class: &'static str, at: Point, words: String, size_m: f64) -> Mark {
    let shape = Shape::Words { at, words, size_m, anchor: Anchor::Middle, bold: false };
    Mark::new(class, shape).fill(INK)
}
