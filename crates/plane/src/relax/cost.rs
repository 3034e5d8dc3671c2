//! What new tube costs: leaving the old one, turning, and crowding others.

use std::f64::consts::PI;

use super::chords::{self, Chord};
use super::splice::{Mark, Splice};
use super::ways::{Pose, Way, each_way};
use crate::path::Segment;
use crate::point::{Point, segment_distance};

/// Cost of turning by a radian; total turning tells wiggles from bends.
const TURNING: f64 = 0.1;

/// Cost of one more piece.
const PIECE: f64 = 0.005;

/// Cost of a gap that is wholly missing, over the length of a radius.
const CROWDED: f64 = 6.0;

/// Ways that turn more than this are never sensible, radians.
const MOST_TURNING_RAD: f64 = 8.0;

/// Ways dearer by this than another one between the same poses are left out.
const SLACK: f64 = 1.0;

/// Ways longer than the old tube by this many radii are left out.
const MOST_DETOUR: f64 = 4.0;

impl Splice<'_> {
    /// Cost of the old tube between two distances.
    pub(super) fn kept_cost(&self, from: f64, to: f64) -> f64 {
        let mut kept = Vec::new();
        self.track.append_between(from, to, &mut kept);
        let turning = kept.iter().map(|s| match s {
            Segment::Arc { turn_rad, .. } => turn_rad.abs(),
            Segment::Line { .. } => 0.0,
        });
        TURNING * turning.sum::<f64>()
    }

    /// Every sensible way between two poses with the least that it may cost.
    pub(super) fn each_leg(
        &self,
        from: f64,
        to: f64,
        begin: Pose,
        end: Pose,
        mut each: impl FnMut(Way, f64),
    ) {
        let longest = (to - from) + MOST_DETOUR * self.radius_m;
        let mut dearest = f64::INFINITY;
        each_way(begin, end, self.radius_m, |way| {
            if way.length_m > longest || way.turning_rad > MOST_TURNING_RAD {
                return;
            }
            let shape = TURNING * way.turning_rad + PIECE * way.segments().len() as f64;
            let left = dearest - shape;
            if let Some(departure) = self.departure(from, to, &way, left) {
                let cost = shape + departure;
                dearest = dearest.min(cost + SLACK);
                each(way, cost);
            }
        });
    }

    /// How far a way leaves the old tube: squared distance over its length, in radii.
    ///
    /// Nothing once that is not below `most`.
    fn departure(&self, from: f64, to: f64, way: &Way, most: f64) -> Option<f64> {
        let first = ((from - self.window.from) / self.step_m).ceil().max(0.0) as usize;
        let end = ((to - self.window.from) / self.step_m).floor().max(0.0) as usize + 1;
        let marks = self.marks.get(first..end.min(self.marks.len())).unwrap_or(&[]);
        let scale = self.step_m / (self.radius_m * self.radius_m * self.radius_m);
        let mut sum = 0.0;
        for mark in marks {
            let distances = way.segments().iter().map(|s| distance(s, mark.at));
            let off = distances.fold(f64::INFINITY, f64::min);
            sum += off * off * scale;
            if sum >= most {
                return None;
            }
        }
        (sum < most).then_some(sum)
    }

    /// Cost of coming near strands and edges; nothing if a way comes too near.
    pub(super) fn crowding(&self, from: f64, to: f64, way: &Way) -> Option<f64> {
        let mut cost = 0.0;
        for mut piece in chords::of(self.strand, way.segments(), 0.0) {
            let gone = piece.along;
            let place = from + (to - from) * (gone / way.length_m).clamp(0.0, 1.0);
            piece.along = from + gone;
            piece.along_back = to - (way.length_m - gone);
            let weight = CROWDED * piece.length_m() / self.radius_m;
            cost += weight * self.crowding_of(&piece, place)?;
        }
        Some(cost)
    }

    /// Squared shares of what is wanted that a piece comes too near, summed.
    fn crowding_of(&self, piece: &Chord, place: f64) -> Option<f64> {
        let wishes = self.bench.wishes;
        let wanted = wishes.field_gap * self.spacing_m;
        let (gap_at_first, marks) = self.room_at(place);
        let gap = self.near.gap_m(piece, wanted.max(wishes.least_gap_m));
        let mut cost = lack(gap, wishes.least_gap_m, wanted, gap_at_first)?;
        for (number, fence) in self.bench.fences.iter().enumerate() {
            let reach = fence.wanted_m.max(fence.clearance_m);
            let depth = self.near.depth_m(number, piece.a, piece.b, reach);
            let depths = marks.iter().filter_map(|m| m.depths_m.get(number));
            let at_first = depths.copied().fold(f64::INFINITY, f64::min);
            cost += lack(depth, fence.clearance_m, fence.wanted_m, at_first)?;
        }
        Some(cost)
    }

    /// Least gap of the old tube near a distance along it, and the marks there.
    pub(super) fn room_at(&self, along: f64) -> (f64, &[Mark]) {
        let place = ((along - self.window.from) / self.step_m).floor().max(0.0) as usize;
        let end = self.marks.len().min(place + 3);
        let marks = self.marks.get(place.saturating_sub(1).min(end)..end).unwrap_or(&[]);
        (marks.iter().map(|m| m.gap_m).fold(f64::INFINITY, f64::min), marks)
    }
}

/// Squared share by which a distance falls short of what is wanted; nothing if it is too little.
///
/// What was less at first need not be more.
fn lack(distance: f64, least: f64, wanted: f64, at_first: f64) -> Option<f64> {
    if distance < least.min(at_first - 1e-6) {
        return None;
    }
    let wanted = wanted.min(at_first);
    let short = if wanted > distance { (wanted - distance) / wanted } else { 0.0 };
    Some(short * short)
}

/// Distance from a place to a piece of tube.
fn distance(segment: &Segment, p: Point) -> f64 {
    match *segment {
        Segment::Line { from, to } => segment_distance(from, to, p),
        Segment::Arc { from, to, centre, radius_m, turn_rad } => {
            let out = p - centre;
            // Cross products tell whether a place lies in the sector; angles would take longer.
            let after = (from - centre).cross(out) * turn_rad >= 0.0;
            let before = out.cross(to - centre) * turn_rad >= 0.0;
            let within = if turn_rad.abs() <= PI { after && before } else { after || before };
            if within {
                (out.norm() - radius_m).abs()
            } else {
                p.distance(from).min(p.distance(to))
            }
        }
    }
}
