//! Parts of floors under another finish than the rest of their room.

use super::labels::Taken;
use super::legend::Sample;
use super::plan::Plan;
use super::ramp::INK;
use super::words::{half_width, words};
use super::{Mark, Shape, shapes};
use job::{FloorPart, Outline};

/// Dashes and gaps of a part's edge, metres.
const DASH_M: [f64; 4] = [0.14, 0.04, 0.03, 0.04];

/// The parts on a storey that have an outline.
fn here<'a>(plan: &'a Plan) -> impl Iterator<Item = (&'a FloorPart, &'a Outline)> {
    let parts = plan.source.job.floor_parts.iter();
    parts
        .filter(|part| plan.region(&part.room.value).is_some())
        .filter_map(|part| Some((part, part.outline.as_ref()?)))
}

/// Draws the edges of parts.
pub(super) fn lines(plan: &Plan, marks: &mut Vec<Mark>) {
    for (part, outline) in here(plan) {
        let edge = Mark::new("floor-part", Shape::Area(vec![outline.corners.clone()]));
        marks.push(edged(edge).about(&part.key).titled(finish(plan, part)));
    }
}

/// A mark with the edge of a part.
pub(super) fn edged(mark: Mark) -> Mark {
    mark.stroke(INK, 0.014).dashed(&DASH_M, 0.0)
}

/// Writes what lies on them.
pub(super) fn names(plan: &Plan, taken: &mut Taken, marks: &mut Vec<Mark>) {
    for (part, outline) in here(plan) {
        let (label, size) = (finish(plan, part), plan.letter_m * 0.7);
        let half = half_width(&label, size);
        let spots = shapes::spots(outline);
        let free = spots.iter().find(|at| taken.free(**at, half, size * 0.6));
        let Some(at) = free.or(spots.first()).copied() else { continue };
        taken.take(at, half, size * 0.6);
        marks.push(words("label part-label", at, label, size).about(&part.key));
    }
}

fn finish(plan: &Plan, part: &FloorPart) -> String {
    let known = plan.source.job.catalogue.finish(&part.finish.value);
    known.map_or_else(|| part.finish.value.clone(), |finish| finish.name.clone())
}

/// What the legend tells of parts, where there are some.
pub(super) fn samples(plan: &Plan) -> Vec<Sample> {
    if here(plan).next().is_some() { vec![Sample::FloorPart] } else { Vec::new() }
}
