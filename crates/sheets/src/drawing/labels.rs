//! Labels of rooms, loops and manifolds, kept off each other.

use super::plan::Plan;
use super::ramp::INK;
use super::tube::words;
use super::{Anchor, Mark, Shape, shapes};
use plane::{Point, Region};
use quantity::{Measure, show};

/// Width of an average letter as a share of its height.
const LETTER_WIDTH: f64 = 0.6;

/// Boxes already taken: middle, half width, half height.
#[derive(Default)]
struct Taken(Vec<(Point, f64, f64)>);

impl Taken {
    fn free(&self, at: Point, half_width: f64, half_height: f64) -> bool {
        self.0.iter().all(|(other, width, height)| {
            (at.x - other.x).abs() > half_width + width
                || (at.y - other.y).abs() > half_height + height
        })
    }

    fn take(&mut self, at: Point, half_width: f64, half_height: f64) {
        self.0.push((at, half_width, half_height));
    }
}

fn half_width(text: &str, size_m: f64) -> f64 {
    text.chars().count() as f64 * LETTER_WIDTH * size_m / 2.0
}

pub(crate) fn draw(plan: &Plan, marks: &mut Vec<Mark>) {
    let mut taken = Taken::default();
    for place in 0..plan.rooms.len() {
        room(plan, place, &mut taken, marks);
    }
    voids(plan, &mut taken, marks);
    for (manifold, at) in &plan.manifolds {
        let label = format!("manifold {manifold}");
        let size = plan.letter_m * 0.8;
        let half = half_width(&label, size);
        let x = at.x.clamp((plan.low.x + half).min(at.x), (plan.high.x - half).max(at.x));
        let above = Point::new(x, at.y + 0.06 + size * 0.75);
        let at = if taken.free(above, half, size / 2.0) {
            above
        } else {
            Point::new(x, at.y - 0.06 - size * 0.75)
        };
        taken.take(at, half, size / 2.0);
        marks.push(words("label manifold-label", at, label, size));
    }
    for place in 0..plan.loops.len() {
        loop_label(plan, place, &mut taken, marks);
    }
}

fn room(plan: &Plan, place: usize, taken: &mut Taken, marks: &mut Vec<Mark>) {
    let (room, enclosure, region) = plan.rooms[place];
    let first = plan.source.job.units.value;
    let other = first.other();
    let kelvin = enclosure.indoor.si();
    let below = if enclosure.unheated {
        "unheated".to_owned()
    } else {
        let both = [first, other].map(|system| show(kelvin, Measure::Temperature, system));
        both.join(" · ")
    };
    let (at, room_width) = middle(&clear_of_voids(plan, &room.key, region));
    let fit = |text: &str, size: f64| {
        let wanted = 2.0 * half_width(text, 1.0);
        size.min(room_width * 0.92 / wanted).max(size * 0.45)
    };
    let name = room.name.value.clone();
    let (size, small) = (fit(&name, plan.letter_m * 1.25), fit(&below, plan.letter_m * 0.85));
    let width = half_width(&name, size).max(half_width(&below, small));
    taken.take(at - Point::new(0.0, small * 0.5), width, (size + small) * 0.65);
    let shape = Shape::Words { at, words: name, size_m: size, anchor: Anchor::Middle, bold: true };
    marks.push(Mark::new("label room-label", shape).fill(INK).about(&room.key));
    let under = at - Point::new(0.0, size * 0.6 + small * 0.65);
    marks.push(words("label temperature-label", under, below, small).about(&room.key));
}

fn voids(plan: &Plan, taken: &mut Taken, marks: &mut Vec<Mark>) {
    for void in &plan.source.job.voids {
        let here = plan.region(&void.room.value).is_some();
        let (true, Some(outline)) = (here, &void.outline) else { continue };
        let (label, size) = ("open below".to_owned(), plan.letter_m * 0.7);
        let half = half_width(&label, size);
        let spots = shapes::spots(outline);
        let free = spots.iter().find(|at| taken.free(**at, half, size * 0.6));
        let Some(at) = free.or(spots.first()).copied() else { continue };
        taken.take(at, half, size * 0.6);
        marks.push(words("label void-label", at, label, size).about(&void.key));
    }
}

/// The largest piece of a room's floor beside the holes in it.
fn clear_of_voids(plan: &Plan, room: &str, region: &Region) -> Region {
    let own = plan.source.job.voids.iter().filter(|void| void.room.value == room);
    let holes: Vec<_> =
        own.filter_map(|void| Some(void.outline.as_ref()?.corners.clone())).collect();
    let pieces = region.difference(&holes).unwrap_or_default().into_iter();
    let largest = pieces.max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()));
    largest.unwrap_or_else(|| region.clone())
}

/// The place in a room that is farthest from its walls, and the free width there.
fn middle(region: &Region) -> (Point, f64) {
    let (low, high) = region.bounds();
    let centre = low.lerp(high, 0.5);
    let mut best = (centre, f64::MIN);
    let count = 24;
    for row in 1..count {
        for column in 1..count {
            let share = |n: i32| f64::from(n) / f64::from(count);
            let x = low.x + (high.x - low.x) * share(column);
            let at = Point::new(x, low.y + (high.y - low.y) * share(row));
            if !region.contains(at) {
                continue;
            }
            // Near the middle of the box among places that are equally far from walls.
            let room = region.boundary_distance_m(at);
            let score = room - 0.02 * at.distance(centre);
            if score > best.1 {
                best = (at, score);
            }
        }
    }
    (best.0, free_width(region, best.0))
}

/// How wide the room is at that point, the same to both sides.
fn free_width(region: &Region, at: Point) -> f64 {
    let inside = |distance: f64| {
        region.contains(at + Point::new(distance, 0.0))
            && region.contains(at - Point::new(distance, 0.0))
    };
    let steps = (1..=200).map(|n| f64::from(n) * 0.05).take_while(|distance| inside(*distance));
    2.0 * steps.last().unwrap_or(0.3)
}

fn loop_label(plan: &Plan, place: usize, taken: &mut Taken, marks: &mut Vec<Mark>) {
    let (tube, _) = plan.loops[place];
    let ([from, to], size) = (tube.field_m(), plan.letter_m * 0.85);
    let half = half_width(&tube.key, size);
    let shares = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9];
    let spots: Vec<Point> =
        shares.iter().filter_map(|share| tube.path.point_at(from + (to - from) * share)).collect();
    let inside = |at: &Point| {
        plan.region(&tube.room).is_none_or(|region| {
            region.contains(*at + Point::new(half, 0.0))
                && region.contains(*at - Point::new(half, 0.0))
        })
    };
    let free = |at: &&Point| taken.free(**at, half, size * 0.6);
    let at = spots.iter().filter(|at| inside(at)).find(free).or_else(|| spots.iter().find(free));
    let Some(at) = at.or(spots.first()).copied() else { return };
    taken.take(at, half, size * 0.6);
    let shape = Shape::Words {
        at,
        words: tube.key.clone(),
        size_m: size,
        anchor: Anchor::Middle,
        bold: true,
    };
    marks.push(Mark::new("label loop-label", shape).fill(INK).about(&tube.key));
}
