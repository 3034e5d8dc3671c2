//! What the text takes in hand of a layout: floors and ways of loops, entries, orders at ports.

use super::legend::Sample;
use super::plan::Plan;
use super::ramp::{ALARM, Colour, GLASS, PAPER};
use super::{Mark, Shape};
use crate::setting_out::PortGroup;
use plane::Point;

/// Half the width of the sign for an entry that is held, metres.
const SIGN_M: f64 = 0.06;
/// Floors and ways that are held are drawn in dots of this and gaps, metres.
const DOTS_M: [f64; 2] = [0.03, 0.05];
/// Width of their line, metres.
const LINE_M: f64 = 0.03;

/// Draws floors and ways that are held, below the tube.
pub(super) fn lines(plan: &Plan, marks: &mut Vec<Mark>) {
    for held in &plan.source.job.held_loops {
        if held.named().is_none_or(|(room, _)| plan.region(room).is_none()) {
            continue;
        }
        if let Some(outline) = &held.outline {
            let (colour, how) = kept(plan, &held.key, "outline");
            let ring = Mark::new("held-floor", Shape::Area(vec![outline.corners.clone()]));
            let title = format!("floor held for loop {}{how}", held.key);
            marks.push(dotted(ring, colour).about(&held.key).titled(title));
        }
        if let Some(way) = held.way.held() {
            let (colour, how) = kept(plan, &held.key, "way");
            let line = Mark::new("held-way", Shape::Line(way.value.clone()));
            let title = format!("way held for the leaders of loop {}{how}", held.key);
            marks.push(dotted(line, colour).about(&held.key).titled(title.clone()));
            for at in &way.value {
                let place = Shape::Circle { at: *at, radius_m: LINE_M };
                let place = Mark::new("held-place", place).fill(PAPER).stroke(colour, LINE_M * 0.5);
                marks.push(place.about(&held.key).titled(title.clone()));
            }
        }
    }
}

/// Draws signs at entries and ports that are held, over the tube.
pub(super) fn signs(plan: &Plan, groups: &[PortGroup], marks: &mut Vec<Mark>) {
    for (room, ..) in &plan.rooms {
        let Some((at, key)) = entry(plan, room) else { continue };
        let (colour, how) = kept(plan, &room.key, key);
        let title = format!("entry held for the loops of {}{how}", room.name.value);
        marks.push(sign("held-entry", at, SIGN_M, colour).about(&room.key).titled(title));
    }
    for group in groups {
        let manifold = plan.source.job.manifold(group.manifold);
        let order = manifold.map_or(&[][..], |manifold| manifold.order.as_slice());
        for (number, named) in order.iter().enumerate() {
            let port = group.ports.iter().find(|port| port.tube.key == named.value);
            let Some(port) = port else { continue };
            let (colour, how) = kept(plan, group.manifold, "order");
            let at = group.wall.foot(port.middle()) - group.wall.inward() * SIGN_M;
            let title = format!("{} is held as number {} here{how}", named.value, number + 1);
            let mark = sign("held-order", at, SIGN_M * 0.6, colour);
            marks.push(mark.about(&named.value).titled(title));
        }
    }
}

/// Where the loops of a room are held to come in, and the key that holds it.
fn entry(plan: &Plan, room: &job::Room) -> Option<(Point, &'static str)> {
    if let Some(at) = room.entry_at.held() {
        return Some((at.value, "entry_at"));
    }
    let key = &room.entry.held()?.value;
    let opening = plan.source.design.envelope.openings.iter().find(|it| it.key == *key);
    let middle = opening.map(|opening| {
        let near = opening.jambs[0].lerp(opening.jambs[1], 0.5);
        opening.far_jambs.map_or(near, |far| near.lerp(far[0].lerp(far[1], 0.5), 0.5))
    });
    let passage = plan.source.job.passages.iter().find(|it| it.key == *key);
    let at = middle.or_else(|| passage.and_then(|it| it.at.as_ref()).map(|at| at.value))?;
    Some((at, "entry"))
}

/// The colour of something held, and what is said where it could not be kept.
fn kept(plan: &Plan, own: &str, key: &str) -> (Colour, &'static str) {
    let is_lost = plan.source.design.findings.iter().any(|finding| {
        let path = finding.subject.strip_suffix(key).and_then(|path| path.strip_suffix('.'));
        let names = path.is_some_and(|path| path.trim_end_matches('"').ends_with(own));
        finding.kind == "not-as-held" && names
    });
    if is_lost { (ALARM, ", not kept") } else { (GLASS, "") }
}

/// A line in dots.
pub(super) fn dotted(mark: Mark, colour: Colour) -> Mark {
    mark.stroke(colour, LINE_M).dashed(&DOTS_M, 0.0)
}

/// A square on its corner.
pub(super) fn sign(class: &'static str, at: Point, half_m: f64, colour: Colour) -> Mark {
    let (across, up) = (Point::new(half_m, 0.0), Point::new(0.0, half_m));
    let ring = vec![at - across, at - up, at + across, at + up];
    Mark::new(class, Shape::Area(vec![ring])).fill(PAPER).stroke(colour, half_m * 0.4)
}

/// What the legend tells of held things, where there are some on the plan.
pub(super) fn samples(marks: &[Mark]) -> Vec<Sample> {
    let drawn = |class: &str| marks.iter().any(|mark| mark.class == class);
    let mut samples = Vec::new();
    if drawn("held-floor") || drawn("held-way") {
        samples.push(Sample::HeldLine);
    }
    if drawn("held-entry") || drawn("held-order") {
        samples.push(Sample::HeldSign);
    }
    samples
}
