//! The shortest way through rooms and doorways.
//!
//! A way inside a room bends only at corners that stick into it, so the corners
//! and doorways of each room form a graph of places that see each other, and the
//! shortest way is the shortest path in it. Walls have thickness: rooms are
//! drawn by their inside faces, and a doorway is crossed straight from face to
//! face.
//!
//! This is the seam for leaders. Here a way is a thin line and knows nothing of
//! other ways; supply and return pairs that run side by side through doorways
//! without crossing will be laid in this module, with the same floor as input.

use crate::point::Point;
use crate::region::Region;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// An opening between two rooms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Door {
    /// Numbers of the two rooms.
    pub rooms: [usize; 2],
    /// The two jambs, anywhere in the thickness of the wall.
    pub at: [Point; 2],
    /// Clear width in metres.
    pub width_m: f64,
    /// Whether tube may pass.
    pub passable: bool,
}

/// Rooms and the doors between them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Floor {
    /// The rooms by their inside faces.
    pub rooms: Vec<Region>,
    /// The doors.
    pub doors: Vec<Door>,
}

/// A shortest way.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// The way as straight pieces, both ends included.
    pub points: Vec<Point>,
    /// Length of the way in metres.
    pub length_m: f64,
    /// Doors in the order passed.
    pub doors: Vec<usize>,
    /// Rooms in the order entered, each with the length inside it in metres.
    ///
    /// Half of each crossing of a wall counts to the room on either side, so
    /// the lengths add up to the whole. A room entered twice comes twice.
    pub rooms: Vec<(usize, f64)>,
}

/// Doors farther than this from a room of theirs do not open into it, metres.
const THICKEST_WALL_M: f64 = 1.5;

/// A place on the way: in which room, and through which door it leads on.
#[derive(Clone, Copy, Debug)]
struct Node {
    at: Point,
    room: usize,
    /// Door on whose face the place lies.
    door: Option<usize>,
}

/// The shortest way between two places through passable doors.
///
/// Ends outside their room by up to 1.5 m, as a manifold in a wall, are led
/// straight to its boundary first. Nothing if a room number is wrong, an end is
/// not a number or farther outside, or no way exists. Of equally short ways the
/// one through lower-numbered corners and doors is given.
pub fn shortest(floor: &Floor, from: (usize, Point), to: (usize, Point)) -> Option<Route> {
    let (start_room, goal_room) = (floor.rooms.get(from.0)?, floor.rooms.get(to.0)?);
    let start = inside(start_room, from.1)?;
    let goal = inside(goal_room, to.1)?;
    let mut nodes = vec![
        Node { at: start, room: from.0, door: None },
        Node { at: goal, room: to.0, door: None },
    ];
    nodes.extend(door_faces(floor));
    for (room, region) in floor.rooms.iter().enumerate() {
        let corners = jutting_corners(region);
        nodes.extend(corners.into_iter().map(|at| Node { at, room, door: None }));
    }
    let way = walk(floor, &nodes)?;
    Some(described(&nodes, &way, from.1, to.1))
}

/// The place itself if it lies in the room, else the nearest on its boundary.
fn inside(room: &Region, p: Point) -> Option<Point> {
    if room.contains(p) {
        return Some(p);
    }
    let foot = room.nearest_boundary(p);
    (p.is_finite() && foot.distance(p) <= THICKEST_WALL_M).then_some(foot)
}

/// Both faces of every passable door.
fn door_faces(floor: &Floor) -> Vec<Node> {
    let mut faces = Vec::new();
    for (number, door) in floor.doors.iter().enumerate() {
        let middle = door.at[0].lerp(door.at[1], 0.5);
        if !door.passable || !middle.is_finite() || door.rooms[0] == door.rooms[1] {
            continue;
        }
        let face = |room: usize| {
            let at = face_of(floor.rooms.get(room)?, door, middle)?;
            Some(Node { at, room, door: Some(number) })
        };
        if let (Some(one), Some(other)) = (face(door.rooms[0]), face(door.rooms[1])) {
            faces.extend([one, other]);
        }
    }
    faces
}

/// Where the straight way through a door meets the face of a room.
fn face_of(room: &Region, door: &Door, middle: Point) -> Option<Point> {
    let nearest = room.nearest_boundary(middle);
    // Square to the line of the jambs, if that meets the face about as near.
    let across = (door.at[1] - door.at[0]).unit().left() * THICKEST_WALL_M;
    let mut square: Option<Point> = None;
    for (a, b) in room.edges() {
        let hit = crate::point::crossing(a, b, middle - across, middle + across);
        if let Some(p) = hit.map(|(t, _)| a.lerp(b, t))
            && square.is_none_or(|s| p.distance(middle) < s.distance(middle) - 1e-9)
        {
            square = Some(p);
        }
    }
    let away = nearest.distance(middle);
    let face = match square {
        Some(p) if p.distance(middle) <= 1.2 * away + 1e-6 => p,
        _ => nearest,
    };
    (away <= THICKEST_WALL_M).then_some(face)
}

/// Corners of a room around which a shortest way may bend.
fn jutting_corners(room: &Region) -> Vec<Point> {
    let mut corners = Vec::new();
    for ring in room.rings() {
        let n = ring.len();
        for i in 0..n {
            let (before, here, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
            // The region is on the left, so a right turn juts into it.
            if (here - before).cross(after - here) < 0.0 {
                corners.push(here);
            }
        }
    }
    corners
}

/// Whether the straight way between two places stays in a room or on its edge.
pub(crate) fn sees(room: &Region, a: Point, b: Point) -> bool {
    let along = b - a;
    let length = along.norm();
    if length < 1e-9 {
        return true;
    }
    // Cut the way wherever it meets the boundary and look at every piece.
    let mut cuts = vec![0.0, 1.0];
    for (c, d) in room.edges() {
        cuts.extend(crate::point::crossing(a, b, c, d).map(|(t, _)| t));
        let on_way = (c - a).dot(along) / (length * length);
        if (0.0..=1.0).contains(&on_way) && a.lerp(b, on_way).distance(c) < 1e-6 {
            cuts.push(on_way);
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.windows(2).all(|w| {
        let middle = a.lerp(b, (w[0] + w[1]) / 2.0);
        (w[1] - w[0]) * length < 1e-6
            || room.encloses(middle)
            || room.boundary_distance_m(middle) < 1e-6
    })
}

/// A node on the edge of the search, nearest first, lower numbers first among equals.
#[derive(PartialEq)]
struct Reached(f64, usize);

impl Eq for Reached {}

impl Ord for Reached {
    fn cmp(&self, other: &Self) -> Ordering {
        other.0.total_cmp(&self.0).then(other.1.cmp(&self.1))
    }
}

impl PartialOrd for Reached {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// Node numbers of the shortest way from node 0 to node 1.
fn walk(floor: &Floor, nodes: &[Node]) -> Option<Vec<usize>> {
    let neighbours = neighbours(floor, nodes);
    let mut best = vec![f64::INFINITY; nodes.len()];
    let mut before: Vec<Option<usize>> = vec![None; nodes.len()];
    let mut done = vec![false; nodes.len()];
    best[0] = 0.0;
    let mut open = BinaryHeap::from([Reached(0.0, 0)]);
    loop {
        let Reached(_, here) = open.pop()?;
        if here == 1 {
            break;
        }
        if std::mem::replace(&mut done[here], true) {
            continue;
        }
        let beyond = |other: usize| nodes[other].room != nodes[here].room;
        for &next in &neighbours[nodes[here].room] {
            if done[next] || (beyond(next) && !same_door(nodes[here], nodes[next])) {
                continue;
            }
            let reach = best[here] + nodes[here].at.distance(nodes[next].at);
            // A hair of preference for what was found first settles ties.
            if reach < best[next] - 1e-9 && leads(floor, nodes[here], nodes[next]) {
                best[next] = reach;
                before[next] = Some(here);
                open.push(Reached(reach, next));
            }
        }
    }
    let mut way = vec![1];
    while let Some(node) = before[way[way.len() - 1]] {
        way.push(node);
    }
    way.reverse();
    Some(way)
}

/// For each room the nodes in it, and those on the far faces of its doors, in order.
fn neighbours(floor: &Floor, nodes: &[Node]) -> Vec<Vec<usize>> {
    let mut by_room = vec![Vec::new(); floor.rooms.len()];
    for (number, node) in nodes.iter().enumerate() {
        by_room[node.room].push(number);
        if let Some(door) = node.door {
            let rooms = floor.doors[door].rooms;
            by_room[if rooms[0] == node.room { rooms[1] } else { rooms[0] }].push(number);
        }
    }
    by_room
}

fn same_door(a: Node, b: Node) -> bool {
    a.door.is_some() && a.door == b.door
}

fn leads(floor: &Floor, a: Node, b: Node) -> bool {
    if a.room == b.room { sees(&floor.rooms[a.room], a.at, b.at) } else { same_door(a, b) }
}

fn described(nodes: &[Node], way: &[usize], from: Point, to: Point) -> Route {
    let first = nodes[way[0]];
    let mut points = vec![from];
    crate::chain::push_new(&mut points, first.at);
    let mut rooms = vec![(first.room, from.distance(first.at))];
    let mut doors = Vec::new();
    for pair in way.windows(2) {
        let (a, b) = (nodes[pair[0]], nodes[pair[1]]);
        let step = a.at.distance(b.at);
        if a.room == b.room {
            add(&mut rooms, step);
        } else {
            add(&mut rooms, step / 2.0);
            rooms.push((b.room, step / 2.0));
            doors.extend(b.door);
        }
        crate::chain::push_new(&mut points, b.at);
    }
    let last = points[points.len() - 1];
    add(&mut rooms, last.distance(to));
    crate::chain::push_new(&mut points, to);
    let length_m = rooms.iter().map(|(_, length)| length).sum();
    Route { points, length_m, doors, rooms }
}

fn add(rooms: &mut [(usize, f64)], length: f64) {
    if let Some(last) = rooms.last_mut() {
        last.1 += length;
    }
}
