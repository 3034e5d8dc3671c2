//! Measures of tube in grooved boards.

use super::{Crossing, covered_fraction, crossings, outside_m, tight_bends};
use crate::boards::{Floor, Layout};
use crate::path::{Path, Segment};
use crate::point::Point;
use crate::region::Region;

/// Straight tube this near to a groove lies in it, metres.
const IN_GROOVE_M: f64 = 2e-3;

/// Strands side by side for less than this are not compared, metres.
const BESIDE_M: f64 = 0.1;

/// A floor place is near a strand within this share of the pitch.
const NEAR: f64 = 0.75;

/// What tube in grooved boards comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardsReport {
    /// Places where tube meets tube.
    pub crossings: Vec<Crossing>,
    /// Loops longer than allowed, the tube outside the room included.
    pub over_limit: usize,
    /// Bends tighter than the tube's radius.
    pub tight_bends: usize,
    /// Tube outside the room or in keep-outs, metres.
    pub outside_m: f64,
    /// Share of the floor without keep-outs within three quarters of the pitch of a tube.
    pub covered_fraction: f64,
    /// Least distance of two strands side by side in grooves, metres; none with less than two.
    pub closest_strands_m: Option<f64>,
    /// Straight tube in grooves, metres.
    pub in_grooves_m: f64,
}

/// Measures a layout by its lines and arcs.
pub fn boards(floor: &Floor, layout: &Layout) -> BoardsReport {
    let paths: Vec<Path> = layout.loops.iter().map(|tube| tube.path.clone()).collect();
    let open = floor.room.difference(&floor.keep_outs).unwrap_or_default();
    let near_m = NEAR * floor.board.pitch_m;
    let areas: Vec<f64> = open.iter().map(Region::area_m2).collect();
    let covered = open.iter().zip(&areas);
    let covered = covered.map(|(piece, m2)| m2 * covered_fraction(&paths, piece, near_m, 0.02));
    let in_grooves = in_grooves(floor, layout);
    BoardsReport {
        crossings: crossings(&paths),
        over_limit: layout.loops.iter().filter(|l| l.length_m > floor.longest_loop_m).count(),
        tight_bends: paths.iter().map(|p| tight_bends(p, floor.bend_radius_m - 1e-6).len()).sum(),
        outside_m: paths.iter().map(|path| least_outside_m(path, &open)).fold(0.0, |a, b| a + b),
        covered_fraction: covered.sum::<f64>() / areas.iter().sum::<f64>().max(1e-9),
        closest_strands_m: closest_m(&in_grooves),
        in_grooves_m: in_grooves.iter().map(|[a, b]| (a.x - b.x).abs()).fold(0.0, |a, b| a + b),
    }
}

/// A loop lies in one piece of floor.
fn least_outside_m(path: &Path, open: &[Region]) -> f64 {
    let least = open.iter().map(|piece| outside_m(path, piece)).fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { path.length_m() }
}

/// Straight tube in grooves: along and across them, from the middle of the first row.
fn in_grooves(floor: &Floor, layout: &Layout) -> Vec<[Point; 2]> {
    let pitch = floor.board.pitch_m;
    let on_grid = |p: Point| {
        let arm = p - layout.on;
        Point::new(arm.dot(layout.along), arm.dot(layout.along.left()))
    };
    let lines = layout.loops.iter().flat_map(|tube| &tube.path.segments);
    lines
        .filter_map(|segment| match *segment {
            Segment::Line { from, to } => Some([on_grid(from), on_grid(to)]),
            Segment::Arc { .. } => None,
        })
        .filter(|[a, b]| {
            let groove = a.y / pitch + 0.5;
            let off_m = (groove - groove.round()).abs() * pitch;
            (a.y - b.y).abs() < IN_GROOVE_M && off_m < IN_GROOVE_M
        })
        .collect()
}

fn closest_m(strands: &[[Point; 2]]) -> Option<f64> {
    let mut least: Option<f64> = None;
    for (i, [a, b]) in strands.iter().enumerate() {
        for [c, d] in &strands[i + 1..] {
            let beside = a.x.max(b.x).min(c.x.max(d.x)) - a.x.min(b.x).max(c.x.min(d.x));
            let gap = (a.y - c.y).abs();
            // Two pieces in one groove follow each other.
            if beside > BESIDE_M {
                least = Some(least.map_or(gap, |known| known.min(gap)));
            }
        }
    }
    least
}
