//! Where strands of a storey come closest to each other and to walls.

use std::f64::consts::PI;

use super::grid::Grid;
use super::ground::{Ground, Place};
use super::nearest_places;
use super::strands::{PIECE_M, Strand, manifold_distance_m, opening_distance_m};
use crate::point::{Point, segments_distance};
use crate::storey::{Layout, Plan};

/// Around manifolds and doors all tube draws together, metres.
const OPENING_M: f64 = 0.35;

/// Leaders are compared up to this distance, metres.
const LEADER_REACH_M: f64 = 0.2;

/// The place where two strands come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Numbers of the two loops in the layout, equal within one loop.
    pub loops: [usize; 2],
    /// The nearest places, one on each strand.
    pub at: [Point; 2],
    /// Distance between centrelines, metres.
    pub gap_m: f64,
    /// The same as a share of the spacing asked for, the closer one of two rooms.
    pub ratio: f64,
}

/// The place where a strand comes closest to a wall or keep-out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallGap {
    /// Number of the loop in the layout.
    pub loop_number: usize,
    /// The place on the strand.
    pub at: Point,
    /// Distance of its centreline from the wall, metres.
    pub distance_m: f64,
    /// The same as a share of the clearance asked for.
    pub ratio: f64,
}

/// Closest places by what lies there.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gaps {
    /// Between strands of fields, bulb turns left out: the least by ratio.
    pub field: Option<Gap>,
    /// Beside or between bulb turns, which are wider than the spacing: the least in metres.
    pub bulb: Option<Gap>,
    /// Between leaders, or a leader and a field, or around a door that tube passes: the least in
    /// metres.
    pub leader: Option<Gap>,
    /// Between fields and walls: the least by ratio.
    pub field_wall: Option<WallGap>,
    /// Between leaders and walls: the least by ratio.
    pub leader_wall: Option<WallGap>,
}

/// Looks for the closest places between strands and to walls.
///
/// Gaps wider than the spacing are not looked for.
pub(super) fn gaps(plan: &Plan, layout: &Layout, ground: &Ground, strands: &[Strand]) -> Gaps {
    let mut gaps = Gaps::default();
    let apart_m: Vec<f64> = layout.loops.iter().map(|l| strand_apart_m(plan, l.room)).collect();
    let clear: Vec<bool> =
        strands.iter().map(|s| manifold_distance_m(plan, s.middle()) > OPENING_M).collect();
    let widest_m = strands.iter().map(|s| s.spacing_m).fold(LEADER_REACH_M, f64::max);
    let middles: Vec<Point> = strands.iter().map(Strand::middle).collect();
    // Behind a door tube still lies as it came through, until it has room to part.
    let passings = passings(strands);
    let through = Grid::of(&passings, OPENING_M);
    let leads = |number: usize| {
        let near = |p: usize| passings[p].distance(middles[number]) <= OPENING_M;
        strands[number].leader || through.around(middles[number], OPENING_M).any(near)
    };
    let leads: Vec<bool> = (0..strands.len()).map(leads).collect();
    let grid = Grid::of(&middles, (widest_m / 2.0).clamp(0.05, 0.5));
    for (i, one) in strands.iter().enumerate().filter(|(i, _)| clear[*i]) {
        let reach_m = (one.spacing_m.max(LEADER_REACH_M) + PIECE_M).min(1.0);
        for j in grid.around(middles[i], reach_m) {
            let other = &strands[j];
            // Each pair once, from the piece with the wider reach.
            let first = (one.spacing_m, j) > (other.spacing_m, i);
            if !first || i == j || !clear[j] || !far_along(one, other, &apart_m) {
                continue;
            }
            let at_least_m = middles[i].distance(middles[j]) - PIECE_M;
            gaps.compare(one, other, leads[i] || leads[j], at_least_m);
        }
    }
    for strand in strands {
        gaps.compare_with_walls(plan, ground, strand);
    }
    gaps
}

/// Places where tube passes from room to room.
fn passings(strands: &[Strand]) -> Vec<Point> {
    let passes = |pair: &[Strand]| {
        pair[0].piece.path == pair[1].piece.path && pair[0].place != pair[1].place
    };
    strands.windows(2).filter(|pair| passes(pair)).map(|pair| pair[1].piece.a).collect()
}

/// Strands of one loop closer along the tube than this are one strand or one bend, metres.
fn strand_apart_m(plan: &Plan, room: usize) -> f64 {
    let least =
        |r: &crate::storey::Room| f64::max(1.15 * PI * r.tube.bend_radius_m, 2.6 * r.spacing_m);
    plan.rooms.get(room).map_or(0.0, least)
}

fn far_along(one: &Strand, other: &Strand, apart_m: &[f64]) -> bool {
    let (p, q) = (&one.piece, &other.piece);
    let apart = apart_m.get(p.path).copied().unwrap_or(0.0);
    p.path != q.path || (p.along - q.along).abs() > apart
}

impl Gaps {
    fn compare(&mut self, one: &Strand, other: &Strand, leads: bool, at_least_m: f64) {
        let spacing_m = one.spacing_m.min(other.spacing_m);
        let in_field = !leads;
        let kind = match (in_field, one.bulb || other.bulb) {
            (false, _) => &mut self.leader,
            (true, true) => &mut self.bulb,
            (true, false) => &mut self.field,
        };
        let by_ratio = in_field && !(one.bulb || other.bulb);
        let scale = if by_ratio && spacing_m > 0.0 { spacing_m } else { 1.0 };
        let least = |g: &Gap| if by_ratio { g.ratio } else { g.gap_m };
        let best = kind.as_ref().map_or(f64::INFINITY, least);
        if at_least_m / scale >= best {
            return;
        }
        let (p, q) = (&one.piece, &other.piece);
        let gap_m = segments_distance(p.a, p.b, q.a, q.b);
        let reach_m = if in_field { spacing_m } else { LEADER_REACH_M };
        if gap_m / scale < best && gap_m <= reach_m {
            let ratio = if spacing_m > 0.0 { gap_m / spacing_m } else { f64::INFINITY };
            let at = nearest_places(p, q);
            *kind = Some(Gap { loops: [p.path, q.path], at, gap_m, ratio });
        }
    }

    fn compare_with_walls(&mut self, plan: &Plan, ground: &Ground, strand: &Strand) {
        let Place::Room(number) = strand.place else { return };
        let Some(room) = plan.rooms.get(number) else { return };
        let asked_m = room.wall_clearance_m;
        let kind = if strand.leader { &mut self.leader_wall } else { &mut self.field_wall };
        for at in [strand.piece.a, strand.middle()] {
            let distance_m = ground.wall_distance_m(number, at);
            let ratio = if asked_m > 0.0 { distance_m / asked_m } else { f64::INFINITY };
            let closer = kind.is_none_or(|w| ratio < w.ratio);
            if closer && opening_distance_m(plan, ground, at) > OPENING_M {
                *kind = Some(WallGap { loop_number: strand.piece.path, at, distance_m, ratio });
            }
        }
    }
}
