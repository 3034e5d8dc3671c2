//! Labels of rooms and loops, kept off each other.

use super::plan::Plan;
use super::words::{bold, half_width, place_of, words};
use super::{Mark, floor_parts, shapes};
use plane::{Point, Region};
use quantity::{Measure, show};

/// Boxes already taken: middle, half width, half height.
#[derive(Default)]
pub(super) struct Taken(Vec<(Point, f64, f64)>);

impl Taken {
    pub(super) fn free(&self, at: Point, half_width: f64, half_height: f64) -> bool {
        self.0.iter().all(|(other, width, height)| {
            (at.x - other.x).abs() > half_width + width
                || (at.y - other.y).abs() > half_height + height
        })
    }

    pub(super) fn take(&mut self, at: Point, half_width: f64, half_height: f64) {
        self.0.push((at, half_width, half_height));
    }

    /// Whether words overlap nothing that is taken.
    pub(super) fn has_place(&self, mark: &Mark) -> bool {
        place_of(&mark.shape).is_none_or(|(at, wide, high)| self.free(at, wide, high))
    }

    /// Takes the place of words.
    pub(super) fn take_words(&mut self, mark: &Mark) {
        self.0.extend(place_of(&mark.shape));
    }
}

/// Writes the names of rooms, holes in floors and loops.
pub(super) fn draw(plan: &Plan, taken: &mut Taken, marks: &mut Vec<Mark>) {
    rooms(plan, taken, marks);
    for place in 0..plan.loops.len() {
        loop_label(plan, place, taken, marks);
    }
}

/// Writes the names of rooms and of holes in their floors.
pub(super) fn rooms(plan: &Plan, taken: &mut Taken, marks: &mut Vec<Mark>) {
    for place in 0..plan.rooms.len() {
        room(plan, place, taken, marks);
    }
    voids(plan, taken, marks);
    floor_parts::names(plan, taken, marks);
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
    marks.push(bold(words("label room-label", at, name, size)).about(&room.key));
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

/// Where along a field its label may stand, as shares; the middle first.
const SHARES: [f64; 21] = [
    0.5, 0.46, 0.54, 0.42, 0.58, 0.38, 0.62, 0.34, 0.66, 0.3, 0.7, 0.26, 0.74, 0.22, 0.78, 0.18,
    0.82, 0.14, 0.86, 0.1, 0.9,
];

/// The key of a loop on its own field, its length below; smaller where there is little room.
///
/// None where there is no room at all: the key stands at the port, the length in the schedule.
fn loop_label(plan: &Plan, place: usize, taken: &mut Taken, marks: &mut Vec<Mark>) {
    let (tube, _) = plan.loops[place];
    let length = show(tube.length.si(), Measure::Length, plan.source.job.units.value);
    let [from, to] = tube.field_m();
    let spots: Vec<Point> =
        SHARES.iter().filter_map(|share| tube.path.point_at(from + (to - from) * share)).collect();
    for size in [0.85, 0.6, 0.45].map(|share| plan.letter_m * share) {
        let small = size * 0.75;
        let half = half_width(&tube.key, size).max(half_width(&length, small));
        let half_high = (size + small) * 0.55;
        let side = Point::new(half, 0.0);
        let inside = |at: &Point| {
            plan.region(&tube.room)
                .is_none_or(|region| region.contains(*at + side) && region.contains(*at - side))
        };
        let mut fit = spots.iter().filter(|at| inside(at));
        let Some(at) = fit.find(|at| taken.free(**at, half, half_high)).copied() else { continue };
        taken.take(at, half, half_high);
        let above = at + Point::new(0.0, small * 0.5);
        let below = at - Point::new(0.0, size * 0.55);
        marks.push(bold(words("label loop-label", above, tube.key.clone(), size)).about(&tube.key));
        marks.push(words("label length-label", below, length, small).about(&tube.key));
        return;
    }
}
