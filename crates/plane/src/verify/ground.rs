//! Where tube may lie: rooms less keep-outs, and the way through each door.

use crate::chain;
use crate::path::Path;
use crate::point::{Point, crossing, nearest_share, segment_distance};
use crate::storey::{Door, Plan, Room};

/// Tube this near a boundary lies on it, metres.
const TOUCH_M: f64 = 1e-6;

/// Rooms farther than this from the middle of a door are not joined by it, metres.
const THICKEST_WALL_M: f64 = 1.0;

/// What a place belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Place {
    /// Free floor of a room, by number.
    Room(usize),
    /// A keep-out of a room, by number of the room.
    KeepOut(usize),
    /// The way through a wall at a door, by number.
    Passage(usize),
    /// A wall, or beyond the storey.
    Outside,
}

/// A stretch of tube at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// Distances along the path, metres.
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    /// Where it begins.
    pub(super) at: Point,
    pub(super) place: Place,
}

impl Stretch {
    pub(super) fn length_m(&self) -> f64 {
        self.to_m - self.from_m
    }
}

/// The floor of a storey with the ways through its doors.
pub(super) struct Ground<'a> {
    rooms: &'a [Room],
    doors: &'a [Door],
    /// The strip through the wall at each door; flat where rooms touch.
    passages: Vec<Option<[Point; 4]>>,
    edges: Vec<(Point, Point)>,
}

impl<'a> Ground<'a> {
    pub(super) fn of(plan: &'a Plan) -> Ground<'a> {
        let passages: Vec<_> = plan.doors.iter().map(|d| passage(&plan.rooms, d)).collect();
        let mut edges: Vec<(Point, Point)> = Vec::new();
        for room in &plan.rooms {
            edges.extend(room.floor.edges());
            edges.extend(room.keep_outs.iter().flat_map(|ring| chain::ring_edges(ring)));
        }
        for strip in passages.iter().flatten() {
            edges.extend(chain::ring_edges(strip));
        }
        Ground { rooms: &plan.rooms, doors: &plan.doors, passages, edges }
    }

    /// What a place belongs to; a boundary belongs to what may hold tube.
    pub(super) fn place(&self, p: Point) -> Place {
        if let Some(number) = self.rooms.iter().position(|r| r.floor.encloses(p)) {
            let kept_out = self.rooms[number].keep_outs.iter().any(|ring| deep_in(ring, p));
            return if kept_out { Place::KeepOut(number) } else { Place::Room(number) };
        }
        let strips = self.passages.iter();
        let inside = |s: &Option<[Point; 4]>| s.is_some_and(|s| chain::encloses(&s, p));
        if let Some(number) = strips.clone().position(inside) {
            return Place::Passage(number);
        }
        let touches = |r: &Room| r.floor.boundary_distance_m(p) <= TOUCH_M;
        if let Some(number) = self.rooms.iter().position(touches) {
            return Place::Room(number);
        }
        Place::Outside
    }

    /// The path cut wherever it passes from one place to another.
    pub(super) fn stretches(&self, path: &Path) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut gone = 0.0;
        for segment in &path.segments {
            let chords = Path { segments: vec![*segment] }.chords(1e-4);
            // Distances are true ones, along arcs.
            let scale = segment.length_m() / chain::length(&chords);
            if scale.is_finite() {
                for (a, b) in chain::edges(&chords) {
                    self.pass(&mut stretches, a, b, [gone, gone + scale * a.distance(b)]);
                    gone += scale * a.distance(b);
                }
            }
        }
        stretches
    }

    /// Goes on from `a` to `b`, between those distances along the path.
    fn pass(&self, stretches: &mut Vec<Stretch>, a: Point, b: Point, along_m: [f64; 2]) {
        let [from, to] = along_m;
        let along = |t: f64| from + (to - from) * t;
        for pair in self.cuts(a, b).windows(2) {
            let (t, u) = (pair[0], pair[1]);
            if along(u) - along(t) < 1e-12 {
                continue;
            }
            let place = self.place(a.lerp(b, (t + u) / 2.0));
            match stretches.last_mut() {
                Some(last) if last.place == place => last.to_m = along(u),
                _ => stretches.push(Stretch {
                    from_m: along(t),
                    to_m: along(u),
                    at: a.lerp(b, t),
                    place,
                }),
            }
        }
    }

    /// Shares of the way from `a` to `b` where something may begin or end.
    fn cuts(&self, a: Point, b: Point) -> Vec<f64> {
        let (low, high) =
            (Point::new(a.x.min(b.x), a.y.min(b.y)), Point::new(a.x.max(b.x), a.y.max(b.y)));
        let mut cuts = vec![0.0, 1.0];
        for &(c, d) in &self.edges {
            let beside = c.x.max(d.x) < low.x
                || c.x.min(d.x) > high.x
                || c.y.max(d.y) < low.y
                || c.y.min(d.y) > high.y;
            if !beside {
                cuts.extend(crossing(a, b, c, d).map(|(t, _)| t));
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts
    }

    /// Whether a door lets tube through from one room to another at a place where they touch.
    pub(super) fn door_opens(&self, rooms: [usize; 2], p: Point) -> bool {
        self.doors.iter().any(|d| {
            let joins = d.rooms == rooms || d.rooms == [rooms[1], rooms[0]];
            joins && d.at.distance(p) <= d.width_m / 2.0 + TOUCH_M
        })
    }

    /// Distance to the nearest way through a door, metres.
    pub(super) fn door_distance_m(&self, p: Point) -> f64 {
        let strips = self.passages.iter().flatten();
        strips
            .map(|strip| if chain::encloses(strip, p) { 0.0 } else { ring_distance_m(strip, p) })
            .fold(f64::INFINITY, f64::min)
    }

    /// Distance from a place in a room to its walls and keep-outs, metres.
    pub(super) fn wall_distance_m(&self, room: usize, p: Point) -> f64 {
        let Some(room) = self.rooms.get(room) else { return f64::INFINITY };
        let around = room.keep_outs.iter().map(|ring| ring_distance_m(ring, p));
        around.fold(room.floor.boundary_distance_m(p), f64::min)
    }
}

fn ring_distance_m(ring: &[Point], p: Point) -> f64 {
    chain::ring_edges(ring).map(|(a, b)| segment_distance(a, b, p)).fold(f64::INFINITY, f64::min)
}

fn deep_in(ring: &[Point], p: Point) -> bool {
    chain::encloses(ring, p) && ring_distance_m(ring, p) > TOUCH_M
}

/// The strip as wide as the door from the wall of one room to that of the other.
fn passage(rooms: &[Room], door: &Door) -> Option<[Point; 4]> {
    let [one, other] = door.rooms;
    let [a, b] = jambs(rooms.get(one)?, door)?;
    let [c, d] = jambs(rooms.get(other)?, door)?;
    // Two walls that face each other run opposite ways around their rooms.
    let facing = (b - a).dot(d - c) < 0.0;
    Some(if facing { [a, b, c, d] } else { [a, b, d, c] })
}

/// The ends of the opening on the wall of one of its rooms.
fn jambs(room: &Room, door: &Door) -> Option<[Point; 2]> {
    let distance = |(a, b): &(Point, Point)| segment_distance(*a, *b, door.at);
    let nearest = room.floor.edges().min_by(|e, f| distance(e).total_cmp(&distance(f)));
    let (a, b) = nearest.filter(|edge| distance(edge) <= THICKEST_WALL_M)?;
    let middle = a.lerp(b, nearest_share(a, b, door.at));
    let half = (b - a).unit() * (door.width_m / 2.0);
    Some([middle - half, middle + half])
}
