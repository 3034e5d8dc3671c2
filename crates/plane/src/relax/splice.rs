//! One tight stretch laid anew.

use std::cmp::Ordering;

use super::near::{self, Chord, Near};
use super::table::{Leg, Table};
use super::track::{Stretch, Track};
use super::ways::{Pose, Way, each_way};
use super::{Fence, Wishes};
use crate::path::Segment;
use crate::point::{Point, segment_distance};

/// Cost of turning by a radian; total turning tells wiggles from bends.
const TURNING: f64 = 0.1;

/// Cost of one more piece.
const PIECE: f64 = 0.02;

/// Cost of a gap that is wholly missing, over the length of a radius.
const CROWDED: f64 = 6.0;

/// Stations that a leg may pass at most.
const SPAN: usize = 16;

/// Times that the cheapest chain is measured.
const TRIES: usize = 150;

/// A place of the old tube and the room around it.
struct Mark {
    at: Point,
    gap_m: f64,
    depths_m: Vec<f64>,
}

/// A leg of the new tube: the old tube between two distances, or a way.
#[derive(Clone, Copy)]
pub(super) struct Piece {
    from: f64,
    to: f64,
    way: Option<Way>,
    cost: f64,
}

/// Everything needed to lay one stretch anew.
pub(super) struct Splice<'a> {
    track: &'a Track,
    fences: &'a [Fence<'a>],
    wishes: &'a Wishes,
    spacing_m: f64,
    strand: usize,
    /// The tight part.
    tight: Stretch,
    /// The part that may change.
    window: Stretch,
    near: Near<'a>,
    marks: Vec<Mark>,
    step_m: f64,
    radius_m: f64,
    same_strand_m: f64,
}

impl<'a> Splice<'a> {
    #[expect(clippy::too_many_arguments)]
    pub(super) fn new(
        track: &'a Track,
        chords: &[Vec<Chord>],
        fences: &'a [Fence<'a>],
        wishes: &'a Wishes,
        spacing_m: f64,
        strand: usize,
        tight: Stretch,
        window: Stretch,
    ) -> Splice<'a> {
        // A hair more than asked for, so that rounding never falls below it.
        let radius_m = wishes.radius_m * (1.0 + 1e-9);
        let count = ((window.to - window.from) / (radius_m / 4.0)).ceil().clamp(1.0, 400.0);
        let step_m = (window.to - window.from) / count;
        let places: Vec<Point> = (0..=count as usize)
            .map(|k| track.pose_at(window.from + step_m * k as f64).at)
            .collect();
        let same_strand_m = 1.15 * std::f64::consts::PI * radius_m;
        let reach = 2.0 * radius_m + spacing_m;
        let near = Near::gather(chords, fences, strand, window, &places, reach, same_strand_m);
        let mut splice = Splice {
            track,
            fences,
            wishes,
            spacing_m,
            strand,
            tight,
            window,
            near,
            marks: Vec::new(),
            step_m,
            radius_m,
            same_strand_m,
        };
        splice.marks = splice.marked(&places);
        splice
    }

    fn marked(&self, places: &[Point]) -> Vec<Mark> {
        let mut own = Vec::new();
        self.track.append_between(self.window.from, self.window.to, &mut own);
        let own = near::chords_of(self.strand, &own, self.window.from);
        let mark = |(k, at): (usize, &Point)| {
            let along = self.window.from + self.step_m * k as f64;
            let piece = Chord { strand: self.strand, a: *at, b: *at, along, along_back: along };
            let gap = self.near.gap_m(&piece, self.spacing_m);
            let own = near::nearest(&own, &piece, self.strand, gap, self.same_strand_m);
            let depth = |f: usize| self.near.depth_m(f, *at, *at, self.spacing_m);
            let depths_m = (0..self.near.fence_count()).map(depth).collect();
            Mark { at: *at, gap_m: gap.min(own), depths_m }
        };
        places.iter().enumerate().map(mark).collect()
    }

    /// The window laid anew, if there is a way.
    pub(super) fn laid(&self) -> Option<Vec<Segment>> {
        let stations = self.stations();
        let mut table = self.table(&stations);
        for _ in 0..TRIES {
            let chain = table.cheapest()?;
            if self.measured(&mut table, &stations, &chain) {
                continue;
            }
            let pieces = self.pieces(&table, &stations, &chain);
            match self.contact(&pieces) {
                None => {
                    let refined = self.refined(pieces.clone());
                    let pieces = if self.contact(&refined).is_none() { refined } else { pieces };
                    return Some(self.segments(&pieces));
                }
                Some(number) => table.strike(*chain.get(number)?, *chain.get(number + 1)?),
            }
        }
        None
    }

    /// Distances along the strand where legs may begin and end.
    fn stations(&self) -> Vec<f64> {
        let step = self.radius_m / 2.0;
        let middle = (self.tight.from + self.tight.to) / 2.0;
        let back = ((middle - self.window.from) / step).floor();
        let ahead = ((self.window.to - middle) / step).floor();
        let mut stations = vec![self.window.from];
        let mut k = -back;
        while k <= ahead {
            let along = middle + k * step;
            if along > self.window.from + 0.1 * step && along < self.window.to - 0.1 * step {
                stations.push(along);
            }
            k += 1.0;
        }
        stations.push(self.window.to);
        stations
    }

    fn table(&self, stations: &[f64]) -> Table<Option<Way>> {
        let mut table = Table::new(stations.len(), SPAN);
        let poses: Vec<Pose> = stations.iter().map(|s| self.track.pose_at(*s)).collect();
        for (i, from) in stations.iter().enumerate() {
            for (j, to) in stations.iter().enumerate().skip(i + 1).take(SPAN) {
                let mut legs: Vec<Leg<Option<Way>>> = Vec::new();
                if self.tight.overlaps(*from, *to) {
                    self.each_leg(*from, *to, poses[i], poses[j], |way, cost| {
                        legs.push(Leg { cost, measured: false, what: Some(way) });
                    });
                } else if j == i + 1 {
                    let cost = self.kept_cost(*from, *to);
                    legs.push(Leg { cost, measured: true, what: None });
                }
                table.set(i, j, legs);
            }
        }
        table
    }

    /// Cost of the old tube between two distances.
    fn kept_cost(&self, from: f64, to: f64) -> f64 {
        let mut kept = Vec::new();
        self.track.append_between(from, to, &mut kept);
        let turning = kept.iter().map(|s| match s {
            Segment::Arc { turn_rad, .. } => turn_rad.abs(),
            Segment::Line { .. } => 0.0,
        });
        TURNING * turning.sum::<f64>()
    }

    /// Every sensible way between two poses with the least that it may cost.
    fn each_leg(&self, from: f64, to: f64, p: Pose, q: Pose, mut each: impl FnMut(Way, f64)) {
        let longest = (to - from) + 4.0 * self.radius_m;
        each_way(p, q, self.radius_m, |way| {
            if way.length_m > longest || way.turning_rad > 8.0 {
                return;
            }
            let shape = TURNING * way.turning_rad + PIECE * way.segments().len() as f64;
            each(way, shape + self.departure(from, to, &way));
        });
    }

    /// How far a way leaves the old tube: squared distance over its length, in radii.
    fn departure(&self, from: f64, to: f64, way: &Way) -> f64 {
        let first = ((from - self.window.from) / self.step_m).ceil().max(0.0) as usize;
        let last = ((to - self.window.from) / self.step_m).floor().max(0.0) as usize;
        let marks = self.marks.get(first..=last.min(self.marks.len() - 1)).unwrap_or(&[]);
        let off = |mark: &Mark| {
            let distances = way.segments().iter().map(|s| distance(s, mark.at));
            let off = distances.fold(f64::INFINITY, f64::min) / self.radius_m;
            off * off
        };
        marks.iter().map(off).sum::<f64>() * self.step_m / self.radius_m
    }

    /// Measures the legs of a chain; tells whether any cost changed.
    fn measured(&self, table: &mut Table<Option<Way>>, stations: &[f64], chain: &[usize]) -> bool {
        let mut changed = false;
        for pair in chain.windows(2) {
            let Some(leg) = table.best(pair[0], pair[1]) else { continue };
            if leg.measured {
                continue;
            }
            let crowding = leg
                .what
                .as_ref()
                .and_then(|way| self.crowding(stations[pair[0]], stations[pair[1]], way));
            let cost = crowding.map(|c| leg.cost + c);
            changed |= crowding != Some(0.0);
            table.price(pair[0], pair[1], cost);
        }
        changed
    }

    /// Cost of coming near strands and edges; nothing if a way comes too near.
    fn crowding(&self, from: f64, to: f64, way: &Way) -> Option<f64> {
        let mut gone = 0.0;
        let mut cost = 0.0;
        for mut piece in near::chords_of(self.strand, way.segments(), 0.0) {
            let length = piece.a.distance(piece.b);
            gone += length;
            let share = ((gone - length / 2.0) / way.length_m).clamp(0.0, 1.0);
            let place = from + (to - from) * share;
            piece.along = from + gone - length / 2.0;
            piece.along_back = to - (way.length_m - gone + length / 2.0);
            let weight = CROWDED * length / self.radius_m;
            cost += weight * self.crowding_of(&piece, place)?;
        }
        Some(cost)
    }

    /// Squared share of what is wanted that a piece comes too near, summed.
    fn crowding_of(&self, piece: &Chord, place: f64) -> Option<f64> {
        let mut cost = 0.0;
        let wanted = self.wishes.field_gap * self.spacing_m;
        let (gap_at_first, marks) = self.room_at(place);
        let gap = self.near.gap_m(piece, wanted.max(self.wishes.least_gap_m));
        cost += lack(gap, self.wishes.least_gap_m, wanted, gap_at_first)?;
        for (number, fence) in self.fences.iter().enumerate() {
            let reach = fence.wanted_m.max(fence.clearance_m);
            let depth = self.near.depth_m(number, piece.a, piece.b, reach);
            let depths = marks.iter().filter_map(|m| m.depths_m.get(number));
            let at_first = depths.copied().fold(f64::INFINITY, f64::min);
            cost += lack(depth, fence.clearance_m, fence.wanted_m, at_first)?;
        }
        Some(cost)
    }

    /// Least gap of the old tube near a distance, and the marks there.
    fn room_at(&self, along: f64) -> (f64, &[Mark]) {
        let place = ((along - self.window.from) / self.step_m).floor().max(0.0) as usize;
        let last = self.marks.len().min(place + 3);
        let marks = &self.marks[place.saturating_sub(1).min(last)..last];
        (marks.iter().map(|m| m.gap_m).fold(f64::INFINITY, f64::min), marks)
    }

    fn pieces(&self, table: &Table<Option<Way>>, stations: &[f64], chain: &[usize]) -> Vec<Piece> {
        let legs = chain.windows(2).filter_map(|pair| {
            let leg = table.best(pair[0], pair[1])?;
            let (from, to) = (stations[pair[0]], stations[pair[1]]);
            Some(Piece { from, to, way: leg.what, cost: leg.cost })
        });
        legs.collect()
    }

    fn segments(&self, pieces: &[Piece]) -> Vec<Segment> {
        let mut segments = Vec::new();
        let mut kept: Option<Stretch> = None;
        for piece in pieces {
            match (&piece.way, &mut kept) {
                (None, Some(kept)) => kept.to = piece.to,
                (None, None) => kept = Some(Stretch { from: piece.from, to: piece.to }),
                (Some(way), _) => {
                    if let Some(kept) = kept.take() {
                        self.track.append_between(kept.from, kept.to, &mut segments);
                    }
                    segments.extend_from_slice(way.segments());
                }
            }
        }
        if let Some(kept) = kept {
            self.track.append_between(kept.from, kept.to, &mut segments);
        }
        segments
    }

    /// Number of a new piece that comes too near to the rest of the window.
    fn contact(&self, pieces: &[Piece]) -> Option<usize> {
        let mut chords: Vec<Chord> = Vec::new();
        let mut owners = Vec::new();
        let mut along = 0.0;
        for (number, piece) in pieces.iter().enumerate() {
            let segments = self.segments(std::slice::from_ref(piece));
            let length: f64 = segments.iter().map(Segment::length_m).sum();
            let mut new = near::chords_of(self.strand, &segments, along);
            owners.resize(owners.len() + new.len(), (number, piece, along, length));
            chords.append(&mut new);
            along += length;
        }
        for (chord, (number, piece, start, length)) in chords.iter().zip(&owners) {
            if piece.way.is_none() {
                continue;
            }
            let share = if *length > 0.0 { (chord.along - start) / length } else { 0.0 };
            let (at_first, _) = self.room_at(piece.from + (piece.to - piece.from) * share);
            let needed = self.wishes.least_gap_m.min(at_first - 1e-6);
            let gap = near::nearest(&chords, chord, self.strand, needed, self.same_strand_m);
            if gap < needed {
                return Some(*number);
            }
        }
        None
    }

    /// The pieces with their ends moved along the old tube to where they cost least.
    fn refined(&self, mut pieces: Vec<Piece>) -> Vec<Piece> {
        let mut step = self.radius_m / 4.0;
        while step > self.radius_m / 50.0 {
            for number in 0..pieces.len() {
                if pieces[number].way.is_none() {
                    continue;
                }
                for (begin, end) in MOVES {
                    self.shift(&mut pieces, number, begin * step, end * step);
                }
            }
            step /= 2.0;
        }
        pieces
    }

    /// Moves both ends of a piece if that lessens the cost of it and its neighbours.
    fn shift(&self, pieces: &mut [Piece], number: usize, begin: f64, end: f64) -> Option<()> {
        let low = number.checked_sub(usize::from(begin != 0.0))?;
        let high = number + usize::from(end != 0.0);
        let old = pieces.get(low..=high)?;
        let piece = pieces.get(number)?;
        let (from, to) = (piece.from + begin, piece.to + end);
        let mut budget = old.iter().map(|p| p.cost).sum::<f64>() - 1e-9;
        let mut new = [None; 3];
        for (place, old) in new.iter_mut().zip(low..=high) {
            let moved = match old.cmp(&number) {
                Ordering::Less => self.moved(pieces.get(old)?, pieces.get(old)?.from, from, budget),
                Ordering::Equal => self.moved(piece, from, to, budget),
                Ordering::Greater => self.moved(pieces.get(old)?, to, pieces.get(old)?.to, budget),
            }?;
            budget -= moved.cost;
            *place = Some(moved);
        }
        for (place, new) in pieces.get_mut(low..=high)?.iter_mut().zip(new.into_iter().flatten()) {
            *place = new;
        }
        Some(())
    }

    /// A piece of the same kind between other distances, if one costs less than a budget.
    fn moved(&self, piece: &Piece, from: f64, to: f64, budget: f64) -> Option<Piece> {
        if from >= to {
            return None;
        }
        if piece.way.is_none() {
            let kept = !self.tight.overlaps(from, to);
            let cost = self.kept_cost(from, to);
            return (kept && cost < budget).then_some(Piece { from, to, way: None, cost });
        }
        let mut best: Option<(Way, f64)> = None;
        self.each_leg(from, to, self.track.pose_at(from), self.track.pose_at(to), |way, cost| {
            if cost < best.as_ref().map_or(budget, |b| b.1) {
                best = Some((way, cost));
            }
        });
        let (way, cost) = best?;
        let cost = cost + self.crowding(from, to, &way)?;
        (cost < budget).then_some(Piece { from, to, way: Some(way), cost })
    }
}

/// How both ends of a piece are moved in turn.
const MOVES: [(f64, f64); 8] = [
    (1.0, -1.0),
    (-1.0, 1.0),
    (1.0, 1.0),
    (-1.0, -1.0),
    (1.0, 0.0),
    (0.0, -1.0),
    (-1.0, 0.0),
    (0.0, 1.0),
];

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
            let (arm, out) = (from - centre, p - centre);
            let angle = turn_rad.signum() * arm.angle_to(out);
            let angle = if angle < 0.0 { angle + std::f64::consts::TAU } else { angle };
            if angle <= turn_rad.abs() {
                (out.norm() - radius_m).abs()
            } else {
                p.distance(from).min(p.distance(to))
            }
        }
    }
}
