//! Measures of tube in joist bays, in space.

use super::grid::Grid;
use super::{Crossing, tight_bends};
use crate::bays::{BlockKind, Floor, Layout, Loop};
use crate::chain;
use crate::path::{Path, Segment};
use crate::point::{Point, segment_distance};

/// Distance of the places along a tube that are looked at, metres.
const STEP_M: f64 = 0.01;

/// Depths that differ by less are one, metres.
const SAME_DEPTH_M: f64 = 1e-6;

/// Strands of one loop closer along the tube than this many bend radii are one bend.
const ONE_BEND: f64 = 4.0;

/// Places of contact nearer to each other than this are one crossing, metres.
const ONE_CROSSING_M: f64 = 0.1;

/// Grid on which the floor is looked at, metres.
const PITCH_M: f64 = 0.02;

/// A floor place is near a strand within this share of the mean distance of strands.
const NEAR: f64 = 0.75;

/// What tube in joist bays comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct BaysReport {
    /// Places where tube touches tube in space: centrelines closer than its diameter.
    pub crossings: Vec<Crossing>,
    /// Loops longer than allowed, manifold to manifold in space.
    pub over_limit: usize,
    /// Bends in plan tighter than the tube's radius.
    pub tight_bends: usize,
    /// Tube in plates outside all rooms, and tube in what is blocked, metres.
    pub outside_m: f64,
    /// Share of the rooms' floor, less what is blocked, near a strand at the plates' depth: within
    /// three quarters of half the joists' pitch.
    pub covered_fraction: f64,
    /// Least distance of two plated strands side by side, metres; none with less than two.
    pub closest_strands_m: Option<f64>,
}

/// A place of a tube: in plan, its depth, and its distance along the tube.
struct Spot {
    at: Point,
    depth_m: f64,
    along_m: f64,
    of_loop: usize,
}

/// Measures a layout by its lines, arcs and depths.
pub fn bays(floor: &Floor, layout: &Layout) -> BaysReport {
    let spots: Vec<Spot> =
        layout.loops.iter().enumerate().flat_map(|(number, tube)| spots(number, tube)).collect();
    let plated = plated(floor, layout);
    let paths = layout.loops.iter().map(|tube| &tube.path);
    BaysReport {
        crossings: touches(floor, &spots),
        over_limit: layout.loops.iter().filter(|l| l.length_m > floor.tube.longest_loop_m).count(),
        tight_bends: paths.map(|path| tight_bends(path, floor.tube.bend_radius_m).len()).sum(),
        outside_m: outside_m(floor, layout, &spots),
        covered_fraction: covered_fraction(floor, &plated),
        closest_strands_m: closest_strands_m(layout),
    }
}

/// Places about a centimetre apart; between two depths half way is taken to be half way down.
fn spots(of_loop: usize, tube: &Loop) -> Vec<Spot> {
    let mut spots = Vec::new();
    let mut gone = 0.0;
    for (segment, [from, to]) in tube.path.segments.iter().zip(&tube.depths_m) {
        let length = segment.length_m();
        let count = (length / STEP_M).ceil().max(1.0);
        for k in 0..count as usize {
            let share = k as f64 / count;
            let down = (1.0 - (std::f64::consts::PI * share).cos()) / 2.0;
            let (at, along_m) = (segment.point_at(length * share), gone + length * share);
            spots.push(Spot { at, depth_m: from + (to - from) * down, along_m, of_loop });
        }
        gone += length;
    }
    spots
}

fn touches(floor: &Floor, spots: &[Spot]) -> Vec<Crossing> {
    let tube = &floor.tube;
    let places: Vec<Point> = spots.iter().map(|spot| spot.at).collect();
    let grid = Grid::of(&places, 0.05);
    let mut found: Vec<Crossing> = Vec::new();
    for (i, a) in spots.iter().enumerate() {
        for j in grid.around(a.at, tube.outside_m).filter(|j| *j > i) {
            let b = &spots[j];
            let apart = (a.along_m - b.along_m).abs() > ONE_BEND * tube.bend_radius_m;
            let gap = a.at.distance(b.at).hypot(a.depth_m - b.depth_m);
            let paths = [a.of_loop, b.of_loop];
            let is_new = |c: &Crossing| c.paths != paths || c.at.distance(a.at) > ONE_CROSSING_M;
            if (a.of_loop != b.of_loop || apart) && gap < tube.outside_m && found.iter().all(is_new)
            {
                found.push(Crossing { paths, at: a.at });
            }
        }
    }
    found
}

/// Depth of tube in plates: the least there is.
fn plate_depth_m(layout: &Layout) -> f64 {
    let depths = layout.loops.iter().flat_map(|tube| tube.depths_m.iter().flatten());
    depths.copied().fold(f64::INFINITY, f64::min)
}

/// Pieces of tube at the plates' depth below rooms.
fn plated(floor: &Floor, layout: &Layout) -> Vec<Segment> {
    let top = plate_depth_m(layout);
    let is_up = |depths: &[f64; 2]| depths.iter().all(|z| (z - top).abs() < SAME_DEPTH_M);
    let in_room = |segment: &Segment| {
        let middle = segment.point_at(segment.length_m() / 2.0);
        floor.rooms.iter().any(|room| room.floor.contains(middle))
    };
    let pieces = layout.loops.iter().flat_map(|l| l.path.segments.iter().zip(&l.depths_m));
    let up = pieces.filter(|(_, depths)| is_up(depths)).map(|(segment, _)| *segment);
    up.filter(in_room).collect()
}

fn outside_m(floor: &Floor, layout: &Layout, spots: &[Spot]) -> f64 {
    let top = plate_depth_m(layout);
    let is_out = |spot: &&Spot| {
        let is_up = spot.depth_m < top + SAME_DEPTH_M;
        floor.blocks.iter().any(|block| {
            let in_the_way = match block.kind {
                BlockKind::Full => spot.depth_m < floor.joists.depth_m,
                BlockKind::Plate => is_up,
            };
            in_the_way && chain::encloses(&block.outline, spot.at)
        })
    };
    let in_room = |p: &Point| floor.rooms.iter().any(|room| room.floor.contains(*p));
    let in_plates = layout.plates.iter().flat_map(|run| {
        let count = (run.ends[0].distance(run.ends[1]) / STEP_M).ceil().max(1.0);
        (0..count as usize).map(move |k| run.ends[0].lerp(run.ends[1], (k as f64 + 0.5) / count))
    });
    let out = spots.iter().filter(is_out).count() + in_plates.filter(|p| !in_room(p)).count();
    STEP_M * out as f64
}

fn covered_fraction(floor: &Floor, plated: &[Segment]) -> f64 {
    let near_m = NEAR * floor.joists.pitch_m / 2.0;
    let chords: Vec<(Point, Point)> = plated
        .iter()
        .flat_map(|segment| {
            let corners = Path { segments: vec![*segment] }.chords(1e-3);
            chain::edges(&corners).flat_map(|(a, b)| pieces(a, b)).collect::<Vec<_>>()
        })
        .collect();
    let middles: Vec<Point> = chords.iter().map(|(a, b)| a.lerp(*b, 0.5)).collect();
    let grid = Grid::of(&middles, 0.1);
    let is_near = |p: Point| {
        let mut around = grid.around(p, near_m + PIECE_M / 2.0);
        around.any(|i| segment_distance(chords[i].0, chords[i].1, p) <= near_m)
    };
    let (mut all, mut near) = (0_u64, 0_u64);
    for room in &floor.rooms {
        let (low, high) = room.floor.bounds();
        let pitch = PITCH_M.max(((high - low).x * (high - low).y / 4e6).sqrt());
        let (columns, rows) =
            (((high - low).x / pitch) as usize + 1, ((high - low).y / pitch) as usize + 1);
        for place in 0..columns * rows {
            let (column, row) = ((place % columns) as f64 + 0.5, (place / columns) as f64 + 0.5);
            let p = low + Point::new(column, row) * pitch;
            let blocked = || floor.blocks.iter().any(|b| chain::encloses(&b.outline, p));
            if room.floor.encloses(p) && !blocked() {
                all += 1;
                near += u64::from(is_near(p));
            }
        }
    }
    if all == 0 { 0.0 } else { near as f64 / all as f64 }
}

/// Longest piece that is looked up by its middle, metres.
const PIECE_M: f64 = 0.2;

fn pieces(a: Point, b: Point) -> Vec<(Point, Point)> {
    let count = (a.distance(b) / PIECE_M).ceil().max(1.0);
    let at = |k: usize| a.lerp(b, k as f64 / count);
    (0..count as usize).map(|k| (at(k), at(k + 1))).collect()
}

/// Least distance of two plated strands that run side by side for a while.
fn closest_strands_m(layout: &Layout) -> Option<f64> {
    let strands: Vec<[Point; 2]> = layout.plates.iter().map(|run| run.ends).collect();
    let mut least: Option<f64> = None;
    for (i, [a, b]) in strands.iter().enumerate() {
        let along = (*b - *a).unit();
        for [c, d] in &strands[i + 1..] {
            let (from, to) = ((*c - *a).dot(along), (*d - *a).dot(along));
            let beside = from.max(to).min(a.distance(*b)) - from.min(to).max(0.0);
            let gap = (*c - *a).cross(along).abs();
            if beside > 0.1 && gap > SAME_DEPTH_M {
                least = Some(least.map_or(gap, |known| known.min(gap)));
            }
        }
    }
    least
}
