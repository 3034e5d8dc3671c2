//! A storey laid by hand: two rooms with a door, three loops on one manifold.

use plane::storey::{Door, Held, Layout, Loop, Manifold, Pattern, Plan, Room, Tube};
use plane::{Path, Point, Region, Segment};

use crate::plans::points;

/// Spacing of the rows and rings, metres.
pub(crate) const SPACING_M: f64 = 0.2;

/// Radius of all bends, metres.
pub(crate) const RADIUS_M: f64 = 0.08;

pub(crate) fn room(key: &str, low: (f64, f64), high: (f64, f64)) -> Room {
    let corner = |(x, y)| Point::new(x, y);
    Room {
        key: key.to_string(),
        floor: Region::rectangle(corner(low), corner(high)).unwrap(),
        keep_outs: Vec::new(),
        heated: true,
        spacing_m: SPACING_M,
        wall_clearance_m: 0.1,
        pattern: Pattern::Auto,
        outside_walls: Vec::new(),
        tube: Tube { bend_radius_m: RADIUS_M, longest_loop_m: 80.0 },
        loops: None,
        least_loops: 1,
        manifold: None,
    }
}

pub(crate) fn door(rooms: [usize; 2], at: (f64, f64), width_m: f64) -> Door {
    Door { key: "door".to_string(), rooms, at: Point::new(at.0, at.1), width_m }
}

/// The rooms: the manifold hangs on the lower wall of the left one.
pub(crate) fn plan() -> Plan {
    Plan {
        rooms: vec![room("left", (0.0, 0.0), (4.0, 3.0)), room("right", (4.1, 0.0), (8.0, 3.0))],
        doors: vec![door([0, 1], (4.05, 0.5), 0.8)],
        manifolds: vec![Manifold {
            key: "manifold".to_string(),
            room: 0,
            ports: [Point::new(1.4, 0.0), Point::new(3.9, 0.0)],
            most_loops: 4,
            extra_m: 2.0,
        }],
        leader_gap_m: 0.05,
        held: Held::default(),
    }
}

/// A loop of that tube; its leaders reach that far into the path from both ends.
pub(crate) fn tube(room: usize, number: usize, path: Path, leaders_m: f64) -> Loop {
    Loop {
        room,
        number,
        manifold: 0,
        port: 0,
        supply_leader_m: leaders_m,
        return_leader_m: leaders_m,
        lengths_m: Vec::new(),
        doors: Vec::new(),
        passed: Vec::new(),
        region: Region::rectangle(Point::new(0.0, 0.0), Point::new(1.0, 1.0)).unwrap(),
        covered_fraction: 0.0,
        spacing_laid_m: SPACING_M,
        pattern: Pattern::Serpentine,
        why: String::new(),
        path,
    }
}

/// Two serpentines side by side and a counterflow spiral next door.
pub(crate) fn layout() -> Layout {
    let mut loops = vec![tube(0, 1, right_rows(), 0.0), tube(0, 2, left_rows(), 0.0)];
    for l in &mut loops {
        l.lengths_m = vec![(0, l.path.length_m())];
    }
    let mut spiral = tube(1, 1, spiral(), 0.95);
    // Up from the ports and over to the wall, one quarter turn each.
    let before_door = (0.45 + 0.12) + (0.55 + 0.22) - (4.0 - std::f64::consts::PI) * RADIUS_M;
    spiral.lengths_m = vec![(0, before_door), (1, spiral.path.length_m() - before_door)];
    loops.push(spiral);
    Layout { loops, ..Layout::default() }
}

/// Rows from the top down, the first to the left.
fn rows(left: f64, right: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    let y = |k: i32| 2.9 - 2.78 / 13.0 * f64::from(k);
    let mut corners = Vec::new();
    for k in (0..13).step_by(2) {
        corners.extend([(left, y(k)), (left, y(k + 1))]);
        if k < 12 {
            let end = right(y(k + 2));
            corners.extend([(end, y(k + 1)), (end, y(k + 2))]);
        }
    }
    corners.push((right(0.0), y(13)));
    corners
}

fn right_rows() -> Path {
    let mut corners = vec![(3.66, 0.0), (3.66, 0.75), (3.9, 0.75), (3.9, 2.9)];
    corners.extend(rows(2.0, |y| if y > 0.95 { 3.7 } else { 3.46 }));
    corners.push((3.46, 0.0));
    Path::rounded(&points(&corners), RADIUS_M)
}

fn left_rows() -> Path {
    let mut corners = vec![(1.8, 0.0), (1.8, 2.9)];
    corners.extend(rows(0.1, |_| 1.6));
    corners.push((1.6, 0.0));
    Path::rounded(&points(&corners), RADIUS_M)
}

/// Three rings of supply with three of return between them.
fn spiral() -> Path {
    let ring = |k: i32| {
        let d = SPACING_M * f64::from(k);
        let enters = if k == 0 { 0.45 } else { 0.35 + d };
        let (left, right) = (4.2 + d, 7.9 - d);
        [
            (left, enters),
            (left, 0.1 + d),
            (right, 0.1 + d),
            (right, 2.9 - d),
            (left, 2.9 - d),
            // On its way to the ring after the next.
            (left, 0.75 + d),
        ]
    };
    let mut corners = vec![(3.88, 0.0), (3.88, 0.45)];
    corners.extend([0, 2].into_iter().flat_map(ring));
    corners.extend(&ring(4)[..5]);
    corners.extend([(5.0, 1.5), (6.7, 1.5), (6.7, 1.7), (5.2, 1.7)]);
    corners.extend(ring(5)[..5].iter().rev());
    corners.extend([3, 1].into_iter().flat_map(|k| ring(k).into_iter().rev()));
    corners.extend([(3.78, 0.55), (3.78, 0.0)]);
    Path::rounded(&points(&corners), RADIUS_M)
}

/// Every point of a path moved.
pub(crate) fn moved(path: &Path, shift: Point) -> Path {
    let segments = path.segments.iter().map(|s| match *s {
        Segment::Line { from, to } => Segment::Line { from: from + shift, to: to + shift },
        Segment::Arc { from, to, centre, radius_m, turn_rad } => Segment::Arc {
            from: from + shift,
            to: to + shift,
            centre: centre + shift,
            radius_m,
            turn_rad,
        },
    });
    Path { segments: segments.collect() }
}
