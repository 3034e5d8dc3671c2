//! All measures of the tube of a whole storey.

use super::cover::{Cover, cover};
use super::gaps::{Gaps, gaps};
use super::ground::{Ground, Place, Stretch};
use super::strands::strands;
use super::turns::tight;
use super::{Crossing, crossings};
use crate::path::Path;
use crate::point::{Point, segment_distance};
use crate::storey::{Layout, Loop, Plan};

/// A bend that the tube does not allow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TightBend {
    /// Number of the loop in the layout.
    pub loop_number: usize,
    /// Where.
    pub at: Point,
    /// Radius there in metres; 0 for kinks, jumps and contradictory arcs.
    pub radius_m: f64,
}

/// Measures of one loop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LoopReport {
    /// Length of its tube on the floor, metres.
    pub length_m: f64,
    /// Length beyond the longest allowed, the manifold's tube included; 0 within it, metres.
    pub over_m: f64,
    /// Length by room in the order of first entry, metres; passages count to the room behind.
    pub lengths_m: Vec<(usize, f64)>,
    /// Largest difference between that and what the layout says, metres.
    pub misstated_m: f64,
    /// Distance of the farther end from the manifold's stretch of wall, metres.
    pub off_manifold_m: f64,
}

/// All measures of a storey.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StoreyReport {
    /// Places where tube meets tube; paths are numbers of loops.
    pub crossings: Vec<Crossing>,
    /// Length of tube neither on a floor nor in a door, metres.
    pub outside_m: f64,
    /// Length of tube in keep-outs, metres.
    pub kept_out_m: f64,
    /// Places where tube passes from room to touching room beside their doors.
    pub through_walls: Vec<Point>,
    /// Bends that the tube does not allow.
    pub tight_bends: Vec<TightBend>,
    /// Closest places.
    pub gaps: Gaps,
    /// Cover of every heated room.
    pub cover: Vec<Cover>,
    /// The loops, as in the layout.
    pub loops: Vec<LoopReport>,
    /// Difference between longest and shortest as a share of the longest, by room with several loops.
    pub spreads: Vec<(usize, f64)>,
    /// Heated rooms with neither a loop nor a reason why not, by number.
    pub forgotten: Vec<usize>,
}

impl StoreyReport {
    /// Share of the heated floor near tube, 0 to 1; 1 where there is no floor.
    pub fn covered_fraction(&self) -> f64 {
        let sum = |of: fn(&Cover) -> f64| self.cover.iter().map(of).sum::<f64>();
        let whole = Cover {
            floor_m2: sum(|c| c.floor_m2),
            covered_m2: sum(|c| c.covered_m2),
            ..Cover::default()
        };
        whole.fraction()
    }

    /// Number of loops beyond the longest length.
    pub fn over_limit(&self) -> usize {
        self.loops.iter().filter(|l| l.over_m > 0.0).count()
    }
}

/// Measures the tube of a storey by its lines and arcs, the plan beside it.
///
/// Of what else the layout says, only the loops' rooms and manifolds, where
/// their fields begin and end, and the dead floor are taken over.
pub fn storey(plan: &Plan, layout: &Layout) -> StoreyReport {
    let ground = Ground::of(plan);
    let paths: Vec<Path> = layout.loops.iter().map(|l| l.path.clone()).collect();
    let stretches: Vec<Vec<Stretch>> = paths.iter().map(|p| ground.stretches(p)).collect();
    let strands = strands(plan, layout, &paths, &stretches);
    let of_place = |place: fn(Place) -> bool| -> f64 {
        let all = stretches.iter().flatten();
        // From 0.0, since an empty sum of floats is -0.0.
        all.filter(|s| place(s.place)).map(Stretch::length_m).fold(0.0, |sum, m| sum + m)
    };
    let loops: Vec<LoopReport> =
        layout.loops.iter().zip(&stretches).map(|(l, s)| loop_report(plan, l, s)).collect();
    StoreyReport {
        crossings: crossings(&paths),
        outside_m: of_place(|p| p == Place::Outside),
        kept_out_m: of_place(|p| matches!(p, Place::KeepOut(_))),
        through_walls: stretches.iter().flat_map(|s| through_walls(&ground, s)).collect(),
        tight_bends: tight_bends(plan, layout),
        gaps: gaps(plan, layout, &ground, &strands),
        cover: cover(plan, layout, &strands),
        spreads: spreads(plan, layout, &loops),
        loops,
        forgotten: forgotten(plan, layout),
    }
}

fn loop_report(plan: &Plan, tube: &Loop, stretches: &[Stretch]) -> LoopReport {
    let length_m = tube.path.length_m();
    let manifold = plan.manifolds.get(tube.manifold);
    let whole_m = length_m + manifold.map_or(0.0, |m| m.extra_m);
    let most_m = plan.rooms.get(tube.room).map_or(f64::INFINITY, |r| r.tube.longest_loop_m);
    let over_m = if whole_m > most_m + 1e-9 { whole_m - most_m } else { 0.0 };
    let off_manifold_m = [tube.path.start(), tube.path.end()]
        .iter()
        .flatten()
        .filter_map(|end| manifold.map(|m| segment_distance(m.ports[0], m.ports[1], *end)))
        .fold(0.0, f64::max);
    let lengths_m = lengths_by_room(plan, stretches, length_m);
    let misstated_m = largest_difference_m(&lengths_m, &tube.lengths_m);
    LoopReport { length_m, over_m, lengths_m, misstated_m, off_manifold_m }
}

/// Length by room; the way through a door counts to the room farther along the leaders, or to
/// the one that shares the loop of the other.
fn lengths_by_room(plan: &Plan, stretches: &[Stretch], whole_m: f64) -> Vec<(usize, f64)> {
    let sharing = |door: usize| {
        let [a, b] = plan.doors.get(door)?.rooms;
        let shares = |one, other| plan.held.shared_with(one) == Some(other);
        if shares(a, b) { Some(a) } else { shares(b, a).then_some(b) }
    };
    let room_of = |s: &Stretch| match s.place {
        Place::Room(room) | Place::KeepOut(room) => Some(room),
        Place::Passage(door) => sharing(door),
        Place::Outside => None,
    };
    let mut lengths: Vec<(usize, f64)> = Vec::new();
    for (i, stretch) in stretches.iter().enumerate() {
        let behind = || {
            let outbound = stretch.from_m + stretch.to_m < whole_m;
            let after = || stretches[i..].iter().find_map(room_of);
            let before = || stretches[..i].iter().rev().find_map(room_of);
            if outbound { after().or_else(before) } else { before().or_else(after) }
        };
        let Some(room) = room_of(stretch).or_else(behind) else { continue };
        match lengths.iter_mut().find(|(r, _)| *r == room) {
            Some((_, length)) => *length += stretch.length_m(),
            None => lengths.push((room, stretch.length_m())),
        }
    }
    lengths
}

fn largest_difference_m(one: &[(usize, f64)], other: &[(usize, f64)]) -> f64 {
    let total = |of: &[(usize, f64)], room| -> f64 {
        of.iter().filter(|(r, _)| *r == room).map(|(_, m)| m).sum()
    };
    let rooms = one.iter().chain(other).map(|(room, _)| *room);
    rooms.map(|room| (total(one, room) - total(other, room)).abs()).fold(0.0, f64::max)
}

fn through_walls(ground: &Ground, stretches: &[Stretch]) -> Vec<Point> {
    let passes = |pair: &[Stretch]| match (pair[0].place, pair[1].place) {
        (Place::Room(a), Place::Room(b)) if !ground.door_opens([a, b], pair[1].at) => {
            Some(pair[1].at)
        }
        _ => None,
    };
    stretches.windows(2).filter_map(passes).collect()
}

fn tight_bends(plan: &Plan, layout: &Layout) -> Vec<TightBend> {
    let mut bends = Vec::new();
    for (loop_number, tube) in layout.loops.iter().enumerate() {
        let limit_m = plan.rooms.get(tube.room).map_or(0.0, |r| r.tube.bend_radius_m);
        let tight = tight(&tube.path, limit_m).into_iter();
        bends.extend(tight.map(|(at, radius_m)| TightBend { loop_number, at, radius_m }));
    }
    bends
}

fn spreads(plan: &Plan, layout: &Layout, loops: &[LoopReport]) -> Vec<(usize, f64)> {
    let mut spreads = Vec::new();
    for room in 0..plan.rooms.len() {
        let of_room = layout.loops.iter().zip(loops).filter(|(l, _)| l.room == room);
        let lengths: Vec<f64> = of_room.map(|(_, report)| report.length_m).collect();
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        if lengths.len() > 1 && longest > 0.0 {
            spreads.push((room, (longest - shortest) / longest));
        }
    }
    spreads
}

fn forgotten(plan: &Plan, layout: &Layout) -> Vec<usize> {
    let told = |room: usize| {
        layout.loops.iter().any(|l| l.room == room && !l.path.segments.is_empty())
            || layout.refusals.iter().any(|r| r.room == room)
            || plan.held.shared_with(room).is_some_and(|with| {
                layout.loops.iter().any(|l| l.room == with && !l.path.segments.is_empty())
            })
    };
    let heated = plan.rooms.iter().enumerate().filter(|(_, room)| room.heated);
    heated.map(|(number, _)| number).filter(|room| !told(*room)).collect()
}
