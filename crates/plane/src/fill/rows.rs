//! Rows along a wall, or along several walls in a run.

use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::Region;

/// Centreline of two strands that run along a guide.
pub(super) struct Row {
    /// How many rows lie between it and the guide.
    pub(super) level: usize,
    /// The row in the guide's direction.
    pub(super) line: Vec<Point>,
}

/// How far rows lie from their guide: dense ones first, then normal ones.
pub(super) struct Pitch {
    /// Number of dense rows.
    pub(super) dense: usize,
    /// Distance between the strands of dense rows.
    pub(super) dense_s: f64,
    /// Distance between the strands of the others.
    pub(super) s: f64,
}

impl Pitch {
    /// Distance between the strands of a row.
    pub(super) fn spacing(&self, level: usize) -> f64 {
        if level < self.dense { self.dense_s } else { self.s }
    }

    /// Distance of a row from the guide.
    fn depth(&self, level: usize) -> f64 {
        let before = level.min(self.dense);
        2.0 * (before as f64 * self.dense_s + (level - before) as f64 * self.s)
            + self.spacing(level)
    }
}

/// All rows of a floor along a guide, one spacing off its walls.
pub(super) fn rows(floor: &Region, guide: &[Point], pitch: &Pitch) -> Vec<Row> {
    let (low, high) = floor.bounds();
    let guide = prolonged(guide, low.distance(high));
    let eroded = |s: f64| clip::erode(std::slice::from_ref(floor), 0.9999 * s);
    let close = if pitch.dense > 0 { eroded(pitch.dense_s) } else { Vec::new() };
    let normal = eroded(pitch.s);
    let mut rows = Vec::new();
    for level in 0.. {
        let inside = if level < pitch.dense { &close } else { &normal };
        // A hair less, so that a row that fits exactly is there.
        let depth = 0.9998 * pitch.depth(level);
        let band = clip::thick(std::slice::from_ref(&guide), depth, Cap::Flat);
        let left = clip::difference(inside, &band);
        for ring in left.iter().flat_map(|r| r.rings()) {
            for line in runs_at(ring, &guide, depth) {
                if chain::length(&line) > 0.5 * pitch.spacing(level) {
                    rows.push(Row { level, line: directed(line, &guide) });
                }
            }
        }
        if left.is_empty() {
            break;
        }
    }
    rows
}

/// A chain with both ends drawn out straight.
fn prolonged(guide: &[Point], by: f64) -> Vec<Point> {
    let mut long = guide.to_vec();
    if let [first, second, ..] = *guide
        && let [.., before, last] = *guide
    {
        long.insert(0, first + (first - second).unit() * by);
        long.push(last + (last - before).unit() * by);
    }
    chain::thinned(&long, 1e-6)
}

/// Stretches of a ring that keep one distance from the guide.
fn runs_at(ring: &[Point], guide: &[Point], depth: f64) -> Vec<Vec<Point>> {
    let on = |p: Point| (chain::distance_to(guide, p) - depth).abs() < 2e-4;
    let edges: Vec<(Point, Point)> = chain::ring_edges(ring).collect();
    // Mitred corners lie farther out, so an edge is judged by its middle.
    let along: Vec<bool> = edges.iter().map(|(a, b)| on(a.lerp(*b, 0.5))).collect();
    let Some(start) = along.iter().position(|a| !a) else { return Vec::new() };
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for k in 1..=edges.len() {
        let i = (start + k) % edges.len();
        let (a, b) = edges[i];
        if !along[i] {
            open = false;
        } else if open && let Some(run) = runs.last_mut() {
            run.push(b);
        } else {
            runs.push(vec![a, b]);
            open = true;
        }
    }
    runs
}

/// The row turned so that it runs as the guide does.
fn directed(mut line: Vec<Point>, guide: &[Point]) -> Vec<Point> {
    let (first, last) = (line[0], line[line.len() - 1]);
    if chain::project(guide, first).2 > chain::project(guide, last).2 {
        line.reverse();
    }
    line
}
