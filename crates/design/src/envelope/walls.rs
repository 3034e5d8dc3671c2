//! Which wall of a room is whose: outdoors, or shared with a neighbour.

use super::plan::same_storey;
use job::{Job, Room};
use plane::edges::facing;
use plane::{Point, Region};

/// How far a wall looks for another room behind a room whose outline is missing, metres.
const MISSING_ROOM_M: f64 = 12.0;
/// Leftovers of an edge shorter than this are corners meeting, metres.
const LEAST_STRETCH_M: f64 = 0.01;

/// A stretch of one wall of one room with one thing behind it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stretch {
    /// Number of the edge in the room's region.
    pub(super) edge: usize,
    /// From where to where on the edge, metres from its start.
    pub(super) span_m: [f64; 2],
    /// The neighbour's number in the job; none for outdoors.
    pub(super) neighbour: Option<usize>,
    /// Distance to the neighbour's face in metres.
    pub(super) gap_m: f64,
}

impl Stretch {
    pub(super) fn length_m(&self) -> f64 {
        self.span_m[1] - self.span_m[0]
    }
}

/// One edge of a room's region: a wall, with its own name or compass side.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Wall {
    pub(super) from: Point,
    pub(super) to: Point,
    /// Its own name in the text, if it has one.
    pub(super) name: Option<String>,
    /// The compass side that it stands on.
    pub(super) side: &'static str,
}

impl Wall {
    pub(super) fn length_m(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Unit vector out of the room.
    pub(super) fn outward(&self) -> Point {
        -(self.to - self.from).unit().left()
    }

    /// The name that a paper calls it by.
    pub(super) fn called(&self) -> String {
        self.name.clone().unwrap_or_else(|| self.side.to_owned())
    }
}

/// The walls of a room, counter-clockwise, named.
pub(super) fn walls(room: &Room, floor: &Region) -> Vec<Wall> {
    let ring = floor.outer();
    let next = |index: usize| ring[(index + 1) % ring.len()];
    (0..ring.len())
        .map(|index| {
            let (from, to) = (ring[index], next(index));
            Wall { from, to, name: name_of(room, from, to), side: side(from, to) }
        })
        .collect()
}

/// The text's name of the wall between two corners, whichever way the text goes round.
fn name_of(room: &Room, from: Point, to: Point) -> Option<String> {
    let outline = room.outline.as_ref()?;
    let corners = &outline.corners;
    let near = |a: Point, b: Point| a.distance(b) < 1e-4;
    outline.wall_names.iter().enumerate().find_map(|(index, name)| {
        let (start, end) = (*corners.get(index)?, corners[(index + 1) % corners.len()]);
        let same = near(start, from) && near(end, to) || near(start, to) && near(end, from);
        if same { name.clone() } else { None }
    })
}

/// The compass side of a wall whose room is on its left; north is up the plan.
fn side(from: Point, to: Point) -> &'static str {
    let outward = -(to - from).left();
    if outward.x.abs() > outward.y.abs() {
        if outward.x > 0.0 { "east" } else { "west" }
    } else if outward.y > 0.0 {
        "north"
    } else {
        "south"
    }
}

/// All stretches of all walls of all rooms, by room.
pub(super) fn stretches(job: &Job, floors: &[Option<Region>]) -> Vec<Vec<Stretch>> {
    let largest_gap = quantity::Quantity::si(job.house.thickest_wall.value);
    let rooms = job.rooms.iter().zip(floors).enumerate();
    let mut all: Vec<Vec<Stretch>> = rooms
        .map(|(number, (room, floor))| {
            let Some(floor) = floor else { return Vec::new() };
            let mut shared = Vec::new();
            for (other_number, (other, other_floor)) in job.rooms.iter().zip(floors).enumerate() {
                let Some(other_floor) = other_floor else { continue };
                let near = bounds_within(floor, other_floor, largest_gap);
                if other_number == number || !near || !same_storey(room, other) {
                    continue;
                }
                let found = facing(floor.outer(), other_floor.outer(), largest_gap);
                shared.extend(found.into_iter().map(|facing| Stretch {
                    edge: facing.edges[0],
                    span_m: facing.on_first_m,
                    neighbour: Some(other_number),
                    gap_m: facing.gap_m,
                }));
            }
            by_edge(floor, shared, largest_gap)
        })
        .collect();
    for (number, stretches) in all.iter_mut().enumerate() {
        *stretches = across_the_missing(job, floors, number, std::mem::take(stretches));
    }
    all
}

/// Whether two floors come as near as that.
pub(super) fn bounds_within(one: &Region, other: &Region, metres: f64) -> bool {
    let ((low, high), (other_low, other_high)) = (one.bounds(), other.bounds());
    low.x < other_high.x + metres
        && other_low.x < high.x + metres
        && low.y < other_high.y + metres
        && other_low.y < high.y + metres
}

/// The room of a storey whose outline is still missing, if there is one.
///
/// A room that states its area was surveyed without an outline; it is not missing.
pub(super) fn missing<'a>(
    job: &'a Job,
    floors: &[Option<Region>],
    room: &Room,
) -> Option<(usize, &'a Room)> {
    let mut rooms = job.rooms.iter().enumerate();
    rooms.find(|(number, other)| {
        floors[*number].is_none() && other.area.is_none() && same_storey(room, other)
    })
}

/// Walls that look at another room across a gap in which a missing room may stand are taken as
/// walls to it, not as outside walls, so that one bad outline leaves the other rooms' loads alone.
fn across_the_missing(
    job: &Job,
    floors: &[Option<Region>],
    number: usize,
    stretches: Vec<Stretch>,
) -> Vec<Stretch> {
    let room = &job.rooms[number];
    let (Some(floor), Some((missing, _))) = (&floors[number], missing(job, floors, room)) else {
        return stretches;
    };
    let mut seen = Vec::new();
    for (other, other_floor) in floors.iter().enumerate() {
        if let Some(other_floor) = other_floor
            && other != number
            && same_storey(room, &job.rooms[other])
        {
            seen.extend(facing(floor.outer(), other_floor.outer(), MISSING_ROOM_M));
        }
    }
    let mut out = Vec::new();
    for stretch in stretches {
        if stretch.neighbour.is_some() {
            out.push(stretch);
            continue;
        }
        let mut open = vec![stretch.clone()];
        for facing in seen.iter().filter(|facing| facing.edges[0] == stretch.edge) {
            let [from, to] = facing.on_first_m;
            let covered = [from.max(stretch.span_m[0]), to.min(stretch.span_m[1])];
            let inner = Stretch { span_m: covered, neighbour: Some(missing), ..stretch.clone() };
            if inner.length_m() > LEAST_STRETCH_M {
                let taken: Vec<Stretch> =
                    out.iter().filter(|other| other.edge == stretch.edge).cloned().collect();
                let fresh = outside_of(&inner, &taken);
                open = open.iter().flat_map(|part| outside_of(part, &fresh)).collect();
                out.extend(fresh);
            }
        }
        out.extend(open);
    }
    out
}

/// Each edge from end to end: shared stretches, and outdoors between them.
fn by_edge(floor: &Region, shared: Vec<Stretch>, thickest_m: f64) -> Vec<Stretch> {
    let ring = floor.outer();
    let mut all = Vec::new();
    for edge in 0..ring.len() {
        let length = ring[edge].distance(ring[(edge + 1) % ring.len()]);
        let mut here: Vec<Stretch> =
            shared.iter().filter(|stretch| stretch.edge == edge).cloned().collect();
        // The nearer neighbour holds where two are behind each other.
        here.sort_by(|a, b| a.gap_m.total_cmp(&b.gap_m).then(a.neighbour.cmp(&b.neighbour)));
        let mut taken: Vec<Stretch> = Vec::new();
        for stretch in here {
            taken.extend(outside_of(&stretch, &taken));
        }
        taken.sort_by(|a, b| a.span_m[0].total_cmp(&b.span_m[0]));
        let mut at = 0.0;
        for (index, stretch) in taken.into_iter().enumerate() {
            // Between two neighbours stands the end of their partition: no outdoors, and no heat
            // to either that the other side would not see.
            let partition_end = index > 0 && stretch.span_m[0] - at <= thickest_m;
            if !partition_end {
                push_outdoors(&mut all, edge, at, stretch.span_m[0]);
            }
            at = stretch.span_m[1];
            all.push(stretch);
        }
        push_outdoors(&mut all, edge, at, length);
    }
    all
}

/// The parts of a stretch that none of the taken ones covers.
fn outside_of(stretch: &Stretch, taken: &[Stretch]) -> Vec<Stretch> {
    let mut parts = vec![stretch.clone()];
    for other in taken {
        parts = parts
            .into_iter()
            .flat_map(|part| {
                let before = [part.span_m[0], part.span_m[1].min(other.span_m[0])];
                let after = [part.span_m[0].max(other.span_m[1]), part.span_m[1]];
                [before, after].map(|span_m| Stretch { span_m, ..part.clone() })
            })
            .filter(|part| part.length_m() > LEAST_STRETCH_M)
            .collect();
    }
    parts
}

fn push_outdoors(all: &mut Vec<Stretch>, edge: usize, from_m: f64, to_m: f64) {
    if to_m - from_m > LEAST_STRETCH_M {
        all.push(Stretch { edge, span_m: [from_m, to_m], neighbour: None, gap_m: f64::INFINITY });
    }
}
