//! Leaders from the door to a slab, and the slab's outline opened where they come in.

use super::slabs::Slab;
use crate::chain;
use crate::point::Point;

/// Coordinates of the grid that differ by less than this are equal, metres.
const SAME_M: f64 = 1e-5;

/// A loop as a chain of corners from the door and back to it, and the length of its leaders.
pub(super) struct Chain {
    pub(super) corners: Vec<Point>,
    pub(super) leader_m: f64,
}

/// Opens the outline of the slab beside the door on its side towards the wall.
pub(super) fn beside_door(ring: &[Point], at_y: f64, beside_m: f64) -> Option<Chain> {
    let half = beside_m / 2.0;
    let edges: Vec<(Point, Point)> = chain::ring_edges(ring).collect();
    let faces = |(a, b): &(Point, Point)| {
        (a.x - b.x).abs() < SAME_M && a.y > at_y + half && b.y < at_y - half
    };
    let number = (0..edges.len())
        .filter(|i| faces(&edges[*i]))
        .min_by(|i, j| edges[*i].0.x.total_cmp(&edges[*j].0.x))?;
    let x = edges[number].0.x;
    let (supply, back) = (Point::new(x, at_y - half), Point::new(x, at_y + half));
    let mut corners = vec![Point::new(0.0, supply.y), supply];
    corners.extend(around(ring, number));
    corners.extend([back, Point::new(0.0, back.y)]);
    Some(Chain { corners, leader_m: 2.0 * x })
}

/// Opens the outline of a slab on its side towards the door, where its leaders reach it.
pub(super) fn along_wall(ring: &[Point], slab: &Slab, beside_m: f64) -> Option<Chain> {
    let (x_a, x_b) = (slab.x_m, slab.x_m + beside_m);
    // Seen so that the slab lies above its leaders.
    let up = |p: &Point| Point::new(p.x, p.y * slab.sign);
    let mut ring: Vec<Point> = ring.iter().map(up).collect();
    if slab.sign < 0.0 {
        ring.reverse();
    }
    let edges: Vec<(Point, Point)> = chain::ring_edges(&ring).collect();
    let level = ring.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let faces = |(a, b): &(Point, Point)| {
        (a.y - level).abs() < SAME_M
            && (b.y - level).abs() < SAME_M
            && a.x < x_a + SAME_M
            && b.x > x_b
    };
    let number = (0..edges.len()).find(|i| faces(&edges[*i]))?;
    let from_y = slab.door_y * slab.sign;
    let outer = if slab.from_door { beside_m / 2.0 } else { -beside_m / 2.0 };
    let (y_a, y_b) = (from_y + outer, from_y - outer);
    if level < (y_a + slab.turn_m).max(y_b + 2.0 * slab.turn_m) - 1e-9 {
        return None;
    }
    let mut corners = vec![Point::new(slab.door_x, y_b), Point::new(x_b, y_b)];
    corners.push(Point::new(x_b, level));
    let mut rest = around(&ring, number);
    if rest.last().is_some_and(|p| (p.x - x_a).abs() < SAME_M) {
        rest.pop();
    } else {
        rest.push(Point::new(x_a, level));
    }
    corners.extend(rest);
    corners.extend([Point::new(x_a, y_a), Point::new(slab.door_x, y_a)]);
    let leader_m = 2.0 * ((slab.door_x - x_a).abs() + level - from_y);
    Some(Chain { corners: corners.iter().map(up).collect(), leader_m })
}

/// Corners of a ring from the end of an edge round to its beginning.
fn around(ring: &[Point], edge: usize) -> Vec<Point> {
    let n = ring.len();
    (1..=n).map(|k| ring[(edge + k) % n]).collect()
}
