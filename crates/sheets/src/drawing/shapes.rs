//! What the height of rooms shows on the plan: feet of slopes, holes in the floor.

use super::plan::Plan;
use super::ramp::FAINT;
use super::{Mark, Shape};
use job::Outline;
use plane::Point;

/// How far inside the wall the foot of a slope is drawn.
const INSIDE_M: f64 = 0.14;

/// Draws the edges of holes in floors; labels name them.
pub(crate) fn voids(plan: &Plan, marks: &mut Vec<Mark>) {
    for void in &plan.source.job.voids {
        let here = plan.region(&void.room.value).is_some();
        let (true, Some(outline)) = (here, &void.outline) else { continue };
        let edge = Shape::Area(vec![outline.corners.clone()]);
        let title = format!("{}: open to the room below", void.key);
        let mark = Mark::new("void", edge).stroke(FAINT, 0.025).dashed(&[0.12, 0.08], 0.0);
        marks.push(mark.about(&void.key).titled(title));
    }
}

/// Draws a light line inside the wall from which each slope rises.
pub(crate) fn slopes(plan: &Plan, marks: &mut Vec<Mark>) {
    for slope in &plan.source.job.slopes {
        let room = plan.rooms.iter().find(|(room, ..)| room.key == slope.room.value);
        let (Some((room, ..)), Some(wall)) = (room, &slope.wall) else { continue };
        let Some(outline) = &room.outline else { continue };
        for [from, to] in walls(outline, &wall.value) {
            let inward = inward(outline, from, to) * INSIDE_M;
            let line = Shape::Line(vec![from + inward, to + inward]);
            let mark = Mark::new("slope", line).stroke(FAINT, 0.02).dashed(&[0.04, 0.06], 0.0);
            let title = format!("foot of slope {}: the ceiling rises from here", slope.key);
            marks.push(mark.about(&slope.key).titled(title));
        }
    }
}

/// Walls of that name, or that look to that compass side.
fn walls(outline: &Outline, wall: &str) -> Vec<[Point; 2]> {
    let corners = &outline.corners;
    let next = corners.iter().cycle().skip(1);
    let legs = corners.iter().zip(next).map(|(from, to)| [*from, *to]);
    let named = legs.clone().zip(&outline.wall_names);
    let named: Vec<_> =
        named.filter(|(_, name)| name.as_deref() == Some(wall)).map(|(leg, _)| leg).collect();
    if !named.is_empty() {
        return named;
    }
    let side = match wall {
        "north" => Point::new(0.0, 1.0),
        "south" => Point::new(0.0, -1.0),
        "east" => Point::new(1.0, 0.0),
        "west" => Point::new(-1.0, 0.0),
        _ => return Vec::new(),
    };
    let looks = |[from, to]: &[Point; 2]| {
        let out = -inward(outline, *from, *to);
        out.x * side.x + out.y * side.y > 0.7
    };
    legs.filter(looks).collect()
}

/// The direction from a wall into its room, whichever way the outline runs.
fn inward(outline: &Outline, from: Point, to: Point) -> Point {
    let corners = &outline.corners;
    let next = corners.iter().cycle().skip(1);
    let twice: f64 = corners.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    let left = (to - from).unit().left();
    if twice >= 0.0 { left } else { -left }
}

/// Where the name of a hole may stand: its middle, then towards its corners.
pub(crate) fn spots(outline: &Outline) -> Vec<Point> {
    let corners = &outline.corners;
    let Some(sum) = corners.iter().copied().reduce(|a, b| a + b) else { return Vec::new() };
    let middle = sum * (1.0 / corners.len() as f64);
    [middle].into_iter().chain(corners.iter().map(|corner| middle.lerp(*corner, 0.55))).collect()
}
