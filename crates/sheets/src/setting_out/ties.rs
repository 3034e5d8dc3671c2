//! Ties: distances from walls by which things are set out.

use super::ports::port_groups;
use super::walls::Wall;
use crate::drawing::Plan;
use design::loops::TubeLoop;
use plane::{Point, Region, Segment};

/// Straight tube that is long enough to be set out by, metres.
const STRAIGHT_M: f64 = 0.25;
/// How far from a bend's straight strands their corner may lie, metres.
const CORNER_M: f64 = 0.7;
/// Sine of the angle below which strand and wall run side by side.
const PARALLEL: f64 = 1e-3;
/// Sine of the angle from which two walls fix a place.
const ACROSS: f64 = 0.5;
/// What lies closer than this touches the wall and needs no tie, metres.
const TOUCHING_M: f64 = 5e-3;
/// The tape to a group of ports is drawn this far from their wall, metres.
const INTO_ROOM_M: f64 = 0.14;
/// Second corners of a loop closer to the first than this tell nothing new, metres.
const APART_M: f64 = 1.0;

/// A distance from a wall.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tie {
    /// The wall that it is measured from.
    pub(crate) wall: Wall,
    /// The place that is tied.
    pub(crate) to: Point,
    /// Other places that the same distance holds for, the first next to `to`.
    pub(crate) others: Vec<Point>,
}

impl Tie {
    /// The distance in metres.
    pub(crate) fn length_m(&self) -> f64 {
        self.wall.off_m(self.to)
    }

    /// The point of the wall that it is measured from.
    pub(crate) fn from(&self) -> Point {
        self.wall.foot(self.to)
    }
}

/// Something that is set out by its ties.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tied<'a> {
    /// What it is, as a person calls it.
    pub(crate) what: String,
    /// Its key.
    pub(crate) subject: &'a str,
    /// The room that it lies in, by key.
    pub(crate) room: &'a str,
    /// One or two ties, to walls that do not run side by side.
    pub(crate) ties: Vec<Tie>,
}

/// All that is set out on a storey: ports, corners of loops, keep-outs.
pub(crate) fn tied<'a>(plan: &Plan<'a>) -> Vec<Tied<'a>> {
    let mut all = ports(plan);
    for (tube, _) in &plan.loops {
        all.extend(loop_corners(plan, tube));
    }
    all.extend(keep_outs(plan));
    all.retain(|it| !it.ties.is_empty());
    all
}

fn ports<'a>(plan: &Plan<'a>) -> Vec<Tied<'a>> {
    let mut all = Vec::new();
    for group in port_groups(plan) {
        let place = group.middle() + group.wall.inward() * 0.01;
        let Some((room, _, region)) = plan.rooms.iter().find(|(.., region)| region.contains(place))
        else {
            continue;
        };
        let what = format!("middle of the ports, {}", group.name());
        // A step into the room, so that the tape is not drawn on the wall itself.
        let place = group.middle() + group.wall.inward() * INTO_ROOM_M;
        let ties = to_two_walls(&Wall::all(room, region), region, &[place]);
        let ties = ties.into_iter().filter(|tie| tie.wall != group.wall).collect();
        all.push(Tied { what, subject: group.manifold, room: &room.key, ties });
    }
    all
}

fn keep_outs<'a>(plan: &Plan<'a>) -> Vec<Tied<'a>> {
    let mut all = Vec::new();
    for keep_out in &plan.source.job.keep_outs {
        let room = plan.rooms.iter().find(|(room, ..)| room.key == keep_out.room.value);
        let (Some((room, _, region)), Some(outline)) = (room, &keep_out.outline) else { continue };
        let ties = to_two_walls(&Wall::all(room, region), region, &outline.corners);
        let what = format!("keep-out {}", crate::source::spoken(&keep_out.key));
        all.push(Tied { what, subject: &keep_out.key, room: &room.key, ties });
    }
    all
}

/// Ties of a shape to the nearest wall and to the nearest that runs across it.
fn to_two_walls(walls: &[Wall], region: &Region, corners: &[Point]) -> Vec<Tie> {
    let mut all: Vec<Tie> = Vec::new();
    for wall in walls {
        let facing = corners.iter().filter(|it| wall.faces(**it) && wall.off_m(**it) > -TOUCHING_M);
        let least = facing.clone().map(|it| wall.off_m(*it)).fold(f64::INFINITY, f64::min);
        // Of corners that are equally near the one that stands out most into the room.
        let equal = facing.filter(|it| wall.off_m(**it) < least + TOUCHING_M);
        let into_room = |it: &Point| region.boundary_distance_m(*it);
        let nearest = equal.min_by(|a, b| into_room(b).total_cmp(&into_room(a)));
        let Some(to) = nearest.copied() else { continue };
        let tie = Tie { wall: wall.clone(), to, others: Vec::new() };
        if is_clear(region, &tie) {
            all.push(tie);
        }
    }
    all.sort_by(|a, b| a.length_m().total_cmp(&b.length_m()));
    let Some(first) = all.first().cloned() else { return Vec::new() };
    let across = |it: &&Tie| it.wall.along().cross(first.wall.along()).abs() > ACROSS;
    let second = all.iter().find(across).cloned();
    let mut ties: Vec<Tie> = std::iter::once(first).chain(second).collect();
    ties.retain(|it| it.length_m() > TOUCHING_M);
    ties
}

/// Whether a tape can be held straight between wall and place.
fn is_clear(region: &Region, tie: &Tie) -> bool {
    let from = tie.from();
    (1..8).all(|eighth| region.contains(from.lerp(tie.to, f64::from(eighth) / 8.0)))
}

/// A corner of tube: where two straight strands would meet.
struct Corner {
    at: Point,
    ties: [Tie; 2],
}

impl Corner {
    fn off_m(&self) -> f64 {
        self.ties.iter().map(Tie::length_m).sum()
    }
}

/// The outermost corner of a loop, and the one across from it.
fn loop_corners<'a>(plan: &Plan<'a>, tube: &'a TubeLoop) -> Vec<Tied<'a>> {
    let Some((room, _, region)) = plan.rooms.iter().find(|(room, ..)| room.key == tube.room) else {
        return Vec::new();
    };
    let walls = Wall::all(room, region);
    let corners = corners(tube, &walls, region);
    let score = |corner: &Corner, first: &Corner| corner.at.distance(first.at) - corner.off_m();
    // The first of equals: `min_by` and `max_by` differ in that.
    let Some(first) = corners.iter().min_by(|a, b| a.off_m().total_cmp(&b.off_m())) else {
        return Vec::new();
    };
    let second = corners
        .iter()
        .filter(|it| it.at.distance(first.at) > APART_M && differ(it, first))
        .min_by(|a, b| score(b, first).total_cmp(&score(a, first)));
    let name = |corner: &Corner| {
        let [a, b] = &corner.ties;
        format!("loop {}, corner {} and {}", tube.key, a.wall.name, b.wall.name)
    };
    std::iter::once(first)
        .chain(second)
        .map(|corner| Tied {
            what: name(corner),
            subject: &tube.key,
            room: &tube.room,
            ties: corner.ties.to_vec(),
        })
        .collect()
}

fn differ(one: &Corner, other: &Corner) -> bool {
    one.ties.iter().any(|tie| other.ties.iter().all(|it| it.wall != tie.wall))
}

/// All corners of a loop's field whose strands run along walls.
fn corners(tube: &TubeLoop, walls: &[Wall], region: &Region) -> Vec<Corner> {
    let mut all = Vec::new();
    let straights = straights(tube);
    for pair in straights.windows(2) {
        let [one, other] = pair else { continue };
        let (d, e) = ((one[1] - one[0]).unit(), (other[1] - other[0]).unit());
        let sine = d.cross(e);
        if sine.abs() < 0.85 {
            continue;
        }
        let at = one[1] + d * ((other[0] - one[1]).cross(e) / sine);
        if at.distance(one[1]).max(at.distance(other[0])) > CORNER_M {
            continue;
        }
        let first = strand_tie(walls, region, one[1], one[0]);
        let second = strand_tie(walls, region, other[0], other[1]);
        if let (Some(first), Some(second)) = (first, second) {
            all.push(Corner { at, ties: [first, second] });
        }
    }
    all
}

/// Straight pieces of the field, in order.
fn straights(tube: &TubeLoop) -> Vec<[Point; 2]> {
    let [begin, end] = tube.field_m();
    let mut along = 0.0;
    let mut all = Vec::new();
    for segment in &tube.path.segments {
        let middle = along + segment.length_m() / 2.0;
        along += segment.length_m();
        let in_field = begin <= middle && middle <= end;
        match *segment {
            Segment::Line { from, to } if in_field && from.distance(to) >= STRAIGHT_M => {
                all.push([from, to]);
            }
            _ => {}
        }
    }
    all
}

/// The tie of a strand to the nearest wall that runs along it, near its end `near`.
fn strand_tie(walls: &[Wall], region: &Region, near: Point, far: Point) -> Option<Tie> {
    let along = (far - near).unit();
    let length = near.distance(far);
    let spots = [0.12, 0.3, 0.55, 0.8, 1.1, 1.5, 2.0].into_iter().filter(|at| *at <= length);
    let spots: Vec<Point> = spots.map(|at| near + along * at).collect();
    let mut best: Option<Tie> = None;
    for wall in walls.iter().filter(|it| it.along().cross(along).abs() < PARALLEL) {
        let mut free = spots.iter().copied().filter(|spot| wall.faces(*spot)).filter(|spot| {
            let tie = Tie { wall: wall.clone(), to: *spot, others: Vec::new() };
            tie.length_m() > TOUCHING_M && is_clear(region, &tie)
        });
        let Some(to) = free.next() else { continue };
        let tie = Tie { wall: wall.clone(), to, others: free.collect() };
        if best.as_ref().is_none_or(|it| tie.length_m() < it.length_m() - 1e-9) {
            best = Some(tie);
        }
    }
    best
}
