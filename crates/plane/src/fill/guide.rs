//! The walls that rows run along.

use super::zone::Zone;
use crate::chain;
use crate::point::{Point, segment_distance};

/// Lines that rows may follow, the floor on their left.
pub(super) struct Guides {
    /// The lines, the best first.
    pub(super) lines: Vec<Vec<Point>>,
    /// Whether they are outside walls.
    pub(super) known: bool,
}

/// Farthest an edge of the floor may lie from the outside wall it follows, metres.
const FROM_WALL_M: f64 = 0.4;

/// Stretches between outside walls that rows follow as well, metres.
const BRIDGED_M: f64 = 0.6;

/// The outside walls of a zone in a run, or else its longest edges.
pub(super) fn guides(zone: &Zone<'_>) -> Guides {
    let edges: Vec<(Point, Point)> = chain::ring_edges(zone.floor.outer()).collect();
    let outside: Vec<bool> = edges
        .iter()
        .map(|(a, b)| zone.outside_walls.iter().any(|wall| follows([*a, *b], *wall)))
        .collect();
    if outside.contains(&true) && outside.contains(&false) {
        let line = longest_run(&edges, &outside);
        return Guides { lines: vec![line], known: true };
    }
    Guides { lines: longest_edges(edges), known: false }
}

/// Whether an edge runs along a wall, near it.
fn follows([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let parallel = (b - a).unit().cross((d - c).unit()).abs() < 0.1;
    parallel && segment_distance(c, d, a.lerp(b, 0.5)) < FROM_WALL_M
}

/// The longest run of marked edges, short ones between them included.
fn longest_run(edges: &[(Point, Point)], marked: &[bool]) -> Vec<Point> {
    let n = edges.len();
    let length = |i: usize| edges[i % n].0.distance(edges[i % n].1);
    let mut best: (f64, Vec<Point>) = (0.0, Vec::new());
    for start in (0..n).filter(|i| marked[*i]) {
        let (mut total, mut gap) = (length(start), 0.0);
        let mut line = vec![edges[start].0, edges[start].1];
        let mut ahead = Vec::new();
        for k in 1..n {
            let i = (start + k) % n;
            ahead.push(edges[i].1);
            if marked[i] {
                total += length(i);
                line.append(&mut ahead);
                gap = 0.0;
            } else {
                gap += length(i);
                if gap > BRIDGED_M {
                    break;
                }
            }
        }
        if total > best.0 + 1e-9 {
            best = (total, line);
        }
    }
    chain::thinned(&best.1, 1e-6)
}

/// The longest edges in two directions.
fn longest_edges(mut edges: Vec<(Point, Point)>) -> Vec<Vec<Point>> {
    edges.sort_by(|p, q| q.0.distance(q.1).total_cmp(&p.0.distance(p.1)));
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for (a, b) in edges {
        let is_new =
            |line: &Vec<Point>| (line[1] - line[0]).unit().cross((b - a).unit()).abs() > 0.4;
        if lines.len() < 2 && lines.iter().all(is_new) {
            lines.push(vec![a, b]);
        }
    }
    lines
}
