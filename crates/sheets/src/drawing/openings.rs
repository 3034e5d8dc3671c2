//! Windows, doors and doorways as they sit in the walls.

use super::plan::Plan;
use super::ramp::{GLASS, INK, PAPER};
use super::{Mark, Shape};
use design::envelope::PlacedOpening;
use job::OpeningKind;
use plane::{Point, Region};

/// How deep an outside opening is drawn into the wall.
const DEEP_M: f64 = 0.15;

pub(crate) fn draw(plan: &Plan, marks: &mut Vec<Mark>) {
    for opening in &plan.source.design.envelope.openings {
        let Some(region) = opening.rooms.first().and_then(|room| plan.region(room)) else {
            continue;
        };
        match (opening.kind, opening.far_jambs) {
            (_, Some(far)) => doorway(opening, far, marks),
            (OpeningKind::Skylight, None) => {}
            (OpeningKind::Window, None) => window(opening, region, marks),
            (OpeningKind::Door, None) => door(opening, region, marks),
        }
    }
}

/// The direction through the wall, away from the room.
fn outward([a, b]: [Point; 2], region: &Region) -> Point {
    let across = (b - a).unit().left();
    let probe = a.lerp(b, 0.5) + across * 0.02;
    if region.contains(probe) { -across } else { across }
}

fn hole(class: &'static str, opening: &PlacedOpening, region: &Region) -> (Mark, Point) {
    let [a, b] = opening.jambs;
    let deep = outward(opening.jambs, region) * DEEP_M;
    let ring = vec![a, b, b + deep, a + deep];
    let mark = Mark::new(class, Shape::Area(vec![ring])).fill(PAPER).stroke(INK, 0.015);
    (mark.about(&opening.key), deep)
}

fn window(opening: &PlacedOpening, region: &Region, marks: &mut Vec<Mark>) {
    let (mark, deep) = hole("window", opening, region);
    marks.push(mark.titled(format!("window {}", opening.key)));
    let [a, b] = opening.jambs.map(|jamb| jamb + deep * 0.5);
    marks.push(Mark::new("glass", Shape::Line(vec![a, b])).stroke(GLASS, 0.035));
}

fn door(opening: &PlacedOpening, region: &Region, marks: &mut Vec<Mark>) {
    let (mark, deep) = hole("door", opening, region);
    marks.push(mark.titled(format!("outside door {}", opening.key)));
    let [a, b] = opening.jambs.map(|jamb| jamb + deep * 0.85);
    marks.push(Mark::new("leaf", Shape::Line(vec![a, b])).stroke(INK, 0.045));
}

fn doorway(opening: &PlacedOpening, [c, d]: [Point; 2], marks: &mut Vec<Mark>) {
    let [a, b] = opening.jambs;
    // The far jambs may run either way; the passage must not cross itself.
    let (c, d) = if b.distance(c) <= b.distance(d) { (c, d) } else { (d, c) };
    let mark = Mark::new("doorway", Shape::Area(vec![vec![a, b, c, d]])).fill(PAPER);
    marks.push(mark.about(&opening.key).titled(format!("doorway {}", opening.key)));
    for jamb in [vec![b, c], vec![d, a]] {
        marks.push(Mark::new("jamb", Shape::Line(jamb)).stroke(INK, 0.02));
    }
}
