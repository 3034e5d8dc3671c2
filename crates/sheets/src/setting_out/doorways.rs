//! Where tube passes doorways, and at which of its marks.

use super::walls::Wall;
use crate::drawing::Plan;
use design::loops::TubeLoop;
use job::{Passage, PassageKind};
use plane::{Path, Point, Segment};

/// Arcs are cut into pieces of this length at most to find where they cross, metres.
const PIECE_M: f64 = 0.005;

/// A doorway or sleeve that tube passes.
pub(crate) struct Doorway<'a> {
    /// The letter that it carries on the drawing: `A`.
    pub(crate) letter: String,
    /// Its key.
    pub(crate) key: &'a str,
    /// The room that it is looked at from, by key.
    pub(crate) from: &'a str,
    /// The room behind it, by key.
    pub(crate) into: &'a str,
    /// Its jambs in the middle of the wall, left and right as seen.
    pub(crate) jambs: [Point; 2],
    /// How thick the wall is, metres.
    pub(crate) deep_m: f64,
    /// Where tube passes, from left to right as seen.
    pub(crate) crossings: Vec<Crossing<'a>>,
}

impl Doorway<'_> {
    /// Its clear width, metres.
    pub(crate) fn width_m(&self) -> f64 {
        self.jambs[0].distance(self.jambs[1])
    }
}

/// One tube in a doorway.
pub(crate) struct Crossing<'a> {
    pub(crate) tube: &'a TubeLoop,
    /// The part of the loop that passes.
    pub(crate) part: Part,
    pub(crate) at: Point,
    /// Unit direction of the water.
    pub(crate) direction: Point,
    /// Distance along the tube from the supply port, metres.
    pub(crate) along_m: f64,
}

/// A part of a loop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    Supply,
    Field,
    Return,
}

impl Part {
    /// The part in one word.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Part::Supply => "supply",
            Part::Field => "field",
            Part::Return => "return",
        }
    }

    /// The part of a loop at that distance from its supply port.
    pub(crate) fn at(tube: &TubeLoop, along_m: f64) -> Part {
        let [begin, end] = tube.field_m();
        match along_m {
            early if early < begin => Part::Supply,
            late if late > end => Part::Return,
            _ => Part::Field,
        }
    }
}

/// The doorways and sleeves of a storey that tube passes, in the order of the text.
pub(crate) fn doorways<'a>(plan: &Plan<'a>) -> Vec<Doorway<'a>> {
    let openings = plan.source.design.envelope.openings.iter().filter_map(|opening| {
        let [from, into] = opening.rooms.as_slice() else { return None };
        plan.region(from)?;
        let far = opening.far_jambs?;
        let [a, b] = opening.jambs;
        let (c, d) = if a.distance(far[0]) <= a.distance(far[1]) {
            (far[0], far[1])
        } else {
            (far[1], far[0])
        };
        let sides = [a.lerp(b, 0.5), c.lerp(d, 0.5)];
        let middle = [a.lerp(c, 0.5), b.lerp(d, 0.5)];
        Some(doorway(plan, (&opening.key, from, into), middle, sides))
    });
    let passages = plan.source.job.passages.iter().filter_map(|it| sleeve(plan, it));
    let mut all: Vec<Doorway> =
        openings.chain(passages).filter(|it| !it.crossings.is_empty()).collect();
    for (number, doorway) in all.iter_mut().enumerate() {
        doorway.letter = letter(number);
    }
    all
}

/// A sleeve through a wall that the text names.
fn sleeve<'a>(plan: &Plan<'a>, passage: &'a Passage) -> Option<Doorway<'a>> {
    let in_floor = matches!(passage.kind.value, PassageKind::Doorway | PassageKind::Sleeve);
    let (from, into) = (&passage.from.as_ref()?.value, &passage.to.as_ref()?.value);
    let (at, width_m) = (passage.at.as_ref()?.value, passage.width.as_ref()?.value);
    let (room, _, region) = plan.rooms.iter().find(|(room, ..)| room.key == *from)?;
    let sides = [region.nearest_boundary(at), plan.region(into)?.nearest_boundary(at)];
    let walls = Wall::all(room, region);
    let wall =
        walls.iter().min_by(|a, b| a.distance_m(sides[0]).total_cmp(&b.distance_m(sides[0])))?;
    let half = wall.along() * (quantity::Quantity::si(width_m) / 2.0);
    let middle = sides[0].lerp(sides[1], 0.5);
    let jambs = [middle - half, middle + half];
    in_floor.then(|| doorway(plan, (&passage.key, from, into), jambs, sides))
}

fn doorway<'a>(
    plan: &Plan<'a>,
    (key, from, into): (&'a str, &'a str, &'a str),
    [a, b]: [Point; 2],
    sides: [Point; 2],
) -> Doorway<'a> {
    // Who looks through has the far side to the left of the way from the left jamb to the right.
    let through = if sides[0].distance(sides[1]) > 1e-6 {
        sides[1] - sides[0]
    } else {
        let inside = |it: Point| plan.region(into).is_some_and(|region| region.contains(it));
        let left = (b - a).unit().left();
        if inside(a.lerp(b, 0.5) + left * 0.02) { left } else { -left }
    };
    let jambs = if (b - a).left().dot(through) >= 0.0 { [a, b] } else { [b, a] };
    let mut crossings: Vec<Crossing> =
        plan.loops.iter().flat_map(|(tube, _)| crossings(tube, jambs)).collect();
    let off = |it: &Crossing| it.at.distance(jambs[0]);
    crossings.sort_by(|a, b| off(a).total_cmp(&off(b)));
    let deep_m = sides[0].distance(sides[1]);
    Doorway { letter: String::new(), key, from, into, jambs, deep_m, crossings }
}

/// Where a tube crosses the line between two jambs.
fn crossings<'a>(tube: &'a TubeLoop, jambs: [Point; 2]) -> Vec<Crossing<'a>> {
    let all = meets(&tube.path, jambs).into_iter();
    all.map(|(along_m, at, direction)| {
        let part = Part::at(tube, along_m);
        Crossing { tube, part, at, direction, along_m }
    })
    .collect()
}

/// Distances, places and directions at which a path crosses a line.
fn meets(path: &Path, [a, b]: [Point; 2]) -> Vec<(f64, Point, Point)> {
    let mut all = Vec::new();
    let mut along = 0.0;
    for segment in &path.segments {
        let length = segment.length_m();
        let pieces = match segment {
            Segment::Line { .. } => 1,
            Segment::Arc { .. } => (length / PIECE_M).ceil().clamp(1.0, 1e4) as usize,
        };
        let step = length / pieces as f64;
        for number in 0..pieces {
            let begin = step * number as f64;
            let (from, to) = (segment.point_at(begin), segment.point_at(begin + step));
            if let Some(share) = meet([from, to], [a, b]) {
                let direction = (to - from).unit();
                all.push((along + begin + step * share, from.lerp(to, share), direction));
            }
        }
        along += length;
    }
    all
}

/// The share of the first line at which it crosses the second; its end belongs to the next.
fn meet([from, to]: [Point; 2], [a, b]: [Point; 2]) -> Option<f64> {
    let side = |it: Point| (b - a).cross(it - a);
    let (one, other) = (side(from), side(to));
    if (one >= 0.0) == (other >= 0.0) {
        return None;
    }
    let share = one / (one - other);
    let place = from.lerp(to, share);
    let along = (place - a).dot(b - a);
    (0.0 <= along && along <= (b - a).dot(b - a)).then_some(share)
}

/// `A` to `Z`, then `AA` and so on.
fn letter(number: usize) -> String {
    let last = char::from(b'A' + (number % 26) as u8);
    match number / 26 {
        0 => last.to_string(),
        before => format!("{}{last}", letter(before - 1)),
    }
}
