//! Offsets of regions whose edges only move, without a general polygon sweep.
//!
//! Most floors are offset by less than their narrow places: each edge moves along its normal, at
//! most a short one runs out where its neighbours meet. That is plain arithmetic, and
//! an order of magnitude faster than the sweep that [`crate::clip`] needs for all else. What comes
//! out is looked at as a whole; where it meets itself or lies too near, there is no answer here.

use crate::point::{Point, crossing, segment_distance};
use crate::region::Region;

/// Regions with more edges are left to the sweep, which grows less with their number.
const MOST_EDGES: usize = 96;

/// Edges shorter than this have run out, metres.
const RUN_OUT_M: f64 = 1e-5;

/// Corners that turn less than this stand in a straight edge, radians.
const STRAIGHT_RAD: f64 = 1e-9;

/// A corner may come so much nearer than the offset, by rounding, metres.
const ROUNDING_M: f64 = 4e-6;

/// An edge as an endless line: a place on it, its direction, and the way it moves.
#[derive(Clone, Copy, Debug)]
struct Line {
    on: Point,
    along: Point,
    moves: Point,
}

/// A region with all edges moved outwards by `d` metres, inwards if negative.
///
/// None where edges would meet others than their neighbours, all would run out, or a corner that
/// grows outwards is sharper than `sharpest_rad`.
pub(crate) fn shifted(region: &Region, d: f64, sharpest_rad: f64) -> Option<Region> {
    if region.rings().map(<[Point]>::len).sum::<usize>() > MOST_EDGES {
        return None;
    }
    let rings: Vec<Vec<Point>> =
        region.rings().map(|ring| moved(ring, d, sharpest_rad)).collect::<Option<_>>()?;
    let keeps_apart = |p: &Point| {
        region.boundary_distance_m(*p) > d.abs() - ROUNDING_M && region.encloses(*p) == (d < 0.0)
    };
    if !rings.iter().flatten().all(keeps_apart) || meet(&rings) {
        return None;
    }
    let mut rings = rings.into_iter();
    Some(Region::trusted(rings.next()?, rings.collect()))
}

/// The corners of a ring once its edges have moved.
fn moved(ring: &[Point], d: f64, sharpest_rad: f64) -> Option<Vec<Point>> {
    let mut lines = lines(ring, d.signum());
    let depth = d.abs();
    loop {
        let count = lines.len();
        if count < 3 {
            return None;
        }
        let corner = |i: usize| Corner::of(lines[i], lines[(i + 1) % count], sharpest_rad);
        let corners: Vec<Corner> = (0..count).map(corner).collect::<Option<_>>()?;
        // The first edge to run out on the way goes; its neighbours then meet.
        let mut first: Option<(f64, usize)> = None;
        for i in 0..count {
            let (from, to) = (&corners[(i + count - 1) % count], &corners[i]);
            let length = |t: f64| (to.at(t) - from.at(t)).dot(lines[i].along);
            let (now, then) = (length(0.0), length(depth));
            if then < RUN_OUT_M {
                let at = if now > then { depth * now / (now - then) } else { 0.0 };
                if first.is_none_or(|f| at < f.0) {
                    first = Some((at, i));
                }
            }
        }
        match first {
            Some((_, gone)) => drop(lines.remove(gone)),
            None => return Some(corners.iter().map(|corner| corner.at(depth)).collect()),
        }
    }
}

/// The edges of a ring as lines that move to their right (or left), straight ones joined.
fn lines(ring: &[Point], rightwards: f64) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::with_capacity(ring.len());
    for (a, b) in crate::chain::ring_edges(ring) {
        let along = (b - a).unit();
        let is_straight = |line: &Line| {
            line.along.cross(along).abs() < STRAIGHT_RAD && line.along.dot(along) > 0.0
        };
        // Where so short a piece points is chance; its neighbours meet without it.
        let is_long = a.distance(b) > RUN_OUT_M;
        if is_long && !lines.last().is_some_and(is_straight) {
            lines.push(Line { on: a, along, moves: -along.left() * rightwards });
        }
    }
    if let [first, .., last] = lines.as_slice()
        && last.along.cross(first.along).abs() < STRAIGHT_RAD
        && last.along.dot(first.along) > 0.0
    {
        lines.remove(0);
    }
    lines
}

/// Where two neighbouring lines meet, and how that place moves with each metre of offset.
#[derive(Clone, Copy, Debug)]
struct Corner {
    from: Point,
    moves: Point,
}

impl Corner {
    /// None where the lines are parallel, or the corner grows and is too sharp.
    fn of(one: Line, next: Line, sharpest_rad: f64) -> Option<Corner> {
        let turn = one.along.cross(next.along);
        let straight_on = one.along.dot(next.along);
        let grows = turn * -one.moves.dot(one.along.left()) > 0.0;
        if turn.abs() < STRAIGHT_RAD || (grows && straight_on < -sharpest_rad.cos()) {
            return None;
        }
        let from = one.on + one.along * ((next.on - one.on).cross(next.along) / turn);
        Some(Corner { from, moves: (one.moves + next.moves) * (1.0 / (1.0 + straight_on)) })
    }

    fn at(&self, depth: f64) -> Point {
        self.from + self.moves * depth
    }
}

/// Whether edges of some rings meet others than their neighbours, or rings lie within each other
/// otherwise than holes in their floor.
fn meet(rings: &[Vec<Point>]) -> bool {
    let numbered = |(ring, points): (usize, &Vec<Point>)| {
        let count = points.len();
        (0..count).map(|i| (ring, i, count, points[i], points[(i + 1) % count])).collect::<Vec<_>>()
    };
    let edges: Vec<_> = rings.iter().enumerate().flat_map(numbered).collect();
    for (number, &(ring, i, count, a, b)) in edges.iter().enumerate() {
        for &(other, j, _, c, d) in &edges[number + 1..] {
            let follows = ring == other && (j - i == 1 || (i == 0 && j == count - 1));
            let is_beside = a.x.max(b.x) < c.x.min(d.x)
                || c.x.max(d.x) < a.x.min(b.x)
                || a.y.max(b.y) < c.y.min(d.y)
                || c.y.max(d.y) < a.y.min(b.y);
            let touches = || {
                crossing(a, b, c, d).is_some()
                    || segment_distance(a, b, c) < RUN_OUT_M
                    || segment_distance(c, d, a) < RUN_OUT_M
            };
            if !follows && !is_beside && touches() {
                return true;
            }
        }
    }
    let [outer, holes @ ..] = rings else { return false };
    let inside = |ring: &[Point], other: &[Point]| crate::chain::encloses(ring, other[0]);
    holes.iter().enumerate().any(|(i, hole)| {
        !inside(outer, hole)
            || holes.iter().enumerate().any(|(j, other)| i != j && inside(other, hole))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip;

    const SHARPEST_RAD: f64 = 0.823;

    fn region(rings: &[&[[f64; 2]]]) -> Region {
        let ring = |ring: &&[[f64; 2]]| ring.iter().map(|p| Point::new(p[0], p[1])).collect();
        let mut rings: Vec<Vec<Point>> = rings.iter().map(ring).collect();
        let outer = rings.remove(0);
        Region::trusted(outer, rings)
    }

    fn area(regions: &[Region]) -> f64 {
        regions.iter().map(Region::area_m2).sum()
    }

    #[test]
    fn a_rectangle_loses_a_strip_all_round() {
        let room = region(&[&[[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]]);
        let inner = shifted(&room, -0.25, SHARPEST_RAD).map(|r| r.area_m2());
        assert!((inner.unwrap_or(0.0) - 3.5 * 2.5).abs() < 1e-12);
        let outer = shifted(&room, 0.25, SHARPEST_RAD).map(|r| r.area_m2());
        assert!((outer.unwrap_or(0.0) - 4.5 * 3.5).abs() < 1e-12);
    }

    #[test]
    fn a_corner_cut_off_runs_out_between_its_neighbours() {
        // At 45 degrees the cut of 0.1 is gone once the offset is 0.1 (1 + 1/√2) deep.
        let room = region(&[&[[0.0, 0.1], [0.1, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]]);
        let corners = |d: f64| shifted(&room, d, SHARPEST_RAD).map(|r| r.outer().len());
        assert_eq!(corners(-0.16), Some(5));
        assert_eq!(corners(-0.18), Some(4));
    }

    #[test]
    fn what_parts_or_vanishes_has_no_answer_here() {
        let waist = region(&[&[
            [0.0, 0.0],
            [2.0, 0.0],
            [2.0, 0.9],
            [3.0, 0.9],
            [3.0, 0.0],
            [5.0, 0.0],
            [5.0, 2.0],
            [3.0, 2.0],
            [3.0, 1.1],
            [2.0, 1.1],
            [2.0, 2.0],
            [0.0, 2.0],
        ]]);
        assert!(shifted(&waist, -0.05, SHARPEST_RAD).is_some());
        assert_eq!(shifted(&waist, -0.15, SHARPEST_RAD), None);
        let hole_at_wall = region(&[
            &[[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]],
            &[[0.3, 1.0], [0.3, 2.0], [1.0, 2.0], [1.0, 1.0]],
        ]);
        assert!(shifted(&hole_at_wall, -0.1, SHARPEST_RAD).is_some());
        assert_eq!(shifted(&hole_at_wall, -0.2, SHARPEST_RAD), None);
        assert_eq!(shifted(&hole_at_wall, 0.5, SHARPEST_RAD), None);
        let needle = region(&[&[[0.0, 0.0], [4.0, 0.0], [0.0, 0.5]]]);
        assert_eq!(shifted(&needle, 0.1, SHARPEST_RAD), None);
    }

    /// Against the polygon library's own offsets of the same floors.
    #[test]
    fn offsets_are_those_of_the_general_sweep() {
        let mut answered = 0;
        let mut state = 7_u64;
        let mut chance = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 33) as f64 / (1_u64 << 31) as f64
        };
        for _ in 0..400 {
            let corners = 5 + (chance() * 9.0) as usize;
            let angles = (0..corners).map(|k| k as f64 * std::f64::consts::TAU / corners as f64);
            let star: Vec<[f64; 2]> = angles
                .map(|a| (a, 1.0 + 2.0 * chance()))
                .map(|(a, r)| [r * a.cos(), r * a.sin()])
                .collect();
            let hole: &[[f64; 2]] = &[[-0.2, -0.1], [-0.2, 0.2], [0.2, 0.2], [0.1, -0.2]];
            let floor = region(&[&star, hole]);
            let d = 0.4 * (chance() - 0.6);
            let Some(ours) = shifted(&floor, d, SHARPEST_RAD) else { continue };
            answered += 1;
            let ours = [ours];
            let theirs = clip::swept(std::slice::from_ref(&floor), d);
            let apart_m2 =
                area(&clip::difference(&ours, &theirs)) + area(&clip::difference(&theirs, &ours));
            assert!(apart_m2 < 1e-4, "{d} m: {apart_m2} m² apart, {star:?}");
        }
        assert!(answered > 100, "{answered} answered");
    }
}
