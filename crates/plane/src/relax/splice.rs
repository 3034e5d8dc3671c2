//! One tight stretch laid anew.

use std::f64::consts::PI;

use super::bench::Bench;
use super::chords::{self, Chord};
use super::near::Near;
use super::table::{Leg, Table};
use super::track::{Stretch, Track};
use super::ways::{Pose, Way};
use crate::path::Segment;
use crate::point::Point;

/// Length of old tube that a leg may span at most, in radii.
const LONGEST_LEG: f64 = 8.0;

/// Times that the cheapest chain of legs is measured.
const TRIES: usize = 100;

/// Least distance of places of one strand that are compared, in half circles along it.
///
/// Any nearer along the tube they cannot touch, since no bend is tighter than allowed.
const SAME_STRAND: f64 = 1.15;

/// Where new tube may pass between old and new.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Freedom {
    /// Places of the old tube, in its direction.
    Along,
    /// The same, and the ends of the tight part, with less from one to the next.
    Closely,
    /// Also beside it, and at an angle to it.
    Aside,
}

impl Freedom {
    /// Distance between stations in radii.
    fn step(self) -> f64 {
        match self {
            Freedom::Along => 0.5,
            Freedom::Closely => 0.25,
            Freedom::Aside => 1.0,
        }
    }
}

/// A place that new tube may pass, told by the old tube.
#[derive(Clone, Copy, Debug)]
pub(super) struct Station {
    /// Distance along the old tube, metres.
    pub(super) along: f64,
    /// Distance to the left of it, metres.
    aside: f64,
    /// Angle to the left of its direction, radians.
    tilt: f64,
}

impl Station {
    fn on(along: f64) -> Station {
        Station { along, aside: 0.0, tilt: 0.0 }
    }

    fn is_on(&self) -> bool {
        self.aside == 0.0 && self.tilt == 0.0
    }

    pub(super) fn moved(self, by: f64) -> Station {
        Station { along: self.along + by, ..self }
    }
}

/// A place of the old tube and the room around it.
pub(super) struct Mark {
    pub(super) at: Point,
    /// Distance to the nearest other strand, up to the spacing.
    pub(super) gap_m: f64,
    /// Distance to the edge of every fence, up to the spacing.
    pub(super) depths_m: Vec<f64>,
}

/// A leg of the new tube: a way, or the old tube between two distances.
#[derive(Clone, Copy)]
pub(super) struct Piece {
    pub(super) from: Station,
    pub(super) to: Station,
    pub(super) way: Option<Way>,
    pub(super) cost: f64,
}

/// Everything needed to lay one stretch anew.
pub(super) struct Splice<'a> {
    pub(super) bench: &'a Bench<'a>,
    pub(super) track: &'a Track,
    pub(super) strand: usize,
    /// The tight part.
    pub(super) tight: Stretch,
    /// The part that may change.
    pub(super) window: Stretch,
    freedom: Freedom,
    pub(super) radius_m: f64,
    pub(super) spacing_m: f64,
    pub(super) near: Near<'a>,
    /// Places of the old tube, one every `step_m` of the window.
    pub(super) marks: Vec<Mark>,
    pub(super) step_m: f64,
    same_strand_m: f64,
}

impl<'a> Splice<'a> {
    pub(super) fn new(
        bench: &'a Bench<'a>,
        track: &'a Track,
        strand: usize,
        tight: Stretch,
        window: Stretch,
        freedom: Freedom,
    ) -> Splice<'a> {
        // A hair more than asked for, so that rounding never falls below it.
        let radius_m = bench.wishes.radius_m * (1.0 + 1e-9);
        let spacing_m = bench.spacing_m(strand);
        let length = window.to - window.from;
        let count = (length / (radius_m / 4.0)).ceil().clamp(1.0, 400.0);
        let step_m = length / count;
        let place = |k: usize| track.pose_at(window.from + step_m * k as f64).at;
        let places: Vec<Point> = (0..=count as usize).map(place).collect();
        let same_strand_m = SAME_STRAND * PI * radius_m;
        let reach = 2.0 * radius_m + spacing_m;
        let near = Near::gather(bench, strand, window, &places, reach, same_strand_m);
        let marks = Vec::new();
        let mut splice = Splice {
            bench,
            track,
            strand,
            tight,
            window,
            freedom,
            radius_m,
            spacing_m,
            near,
            marks,
            step_m,
            same_strand_m,
        };
        splice.marks = splice.marked(&places);
        splice
    }

    fn marked(&self, places: &[Point]) -> Vec<Mark> {
        let mut own = Vec::new();
        self.track.append_between(self.window.from, self.window.to, &mut own);
        let own = chords::of(self.strand, &own, self.window.from);
        let mark = |(k, at): (usize, &Point)| {
            let along = self.window.from + self.step_m * k as f64;
            let piece = Chord { strand: self.strand, a: *at, b: *at, along, along_back: along };
            let gap = self.near.gap_m(&piece, self.spacing_m);
            let depth = |f: usize| self.near.depth_m(f, *at, *at, self.spacing_m);
            Mark {
                at: *at,
                gap_m: chords::nearest(&own, &piece, self.strand, gap, self.same_strand_m),
                depths_m: (0..self.bench.fences.len()).map(depth).collect(),
            }
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
            let pieces = pieces(&table, &stations, &chain);
            let Some(number) = self.contact(&pieces) else {
                let refined = self.refined(pieces.clone());
                let sound = self.contact(&refined).is_none();
                return Some(self.segments(if sound { &refined } else { &pieces }));
            };
            table.strike(*chain.get(number)?, *chain.get(number + 1)?);
        }
        None
    }

    /// Places where legs may begin and end, in order, evenly about the tight part.
    fn stations(&self) -> Vec<Station> {
        let step = self.radius_m * self.freedom.step();
        let middle = (self.tight.from + self.tight.to) / 2.0;
        let back = ((middle - self.window.from) / step - 0.1).floor().clamp(0.0, 200.0) as i32;
        let ahead = ((self.window.to - middle) / step - 0.1).floor().clamp(0.0, 200.0) as i32;
        let mut stations = vec![Station::on(self.window.from)];
        for k in -back..=ahead {
            let on = Station::on(middle + f64::from(k) * step);
            stations.push(on);
            if self.freedom == Freedom::Aside {
                for side in [1.0, -1.0] {
                    stations.push(Station { aside: side * self.radius_m / 2.0, ..on });
                    stations.push(Station { tilt: side * PI / 6.0, ..on });
                }
            }
        }
        if self.freedom == Freedom::Closely {
            for end in [self.tight.from, self.tight.to] {
                let place = stations.partition_point(|s| s.along <= end);
                stations.insert(place, Station::on(end));
            }
        }
        stations.push(Station::on(self.window.to));
        stations
    }

    pub(super) fn pose(&self, station: Station) -> Pose {
        let Pose { at, heading } = self.track.pose_at(station.along);
        if station.is_on() {
            return Pose { at, heading };
        }
        let (sin, cos) = station.tilt.sin_cos();
        let turned = heading * cos + heading.left() * sin;
        Pose { at: at + heading.left() * station.aside, heading: turned }
    }

    /// All legs between stations with the least that they may cost.
    fn table(&self, stations: &[Station]) -> Table<Option<Way>> {
        let beside = if self.freedom == Freedom::Aside { 5.0 } else { 1.0 };
        let span = (beside * LONGEST_LEG / self.freedom.step()) as usize;
        let mut table = Table::new(stations.len(), span);
        let poses: Vec<Pose> = stations.iter().map(|s| self.pose(*s)).collect();
        for (i, (from, p)) in stations.iter().zip(&poses).enumerate() {
            let later = stations.iter().zip(&poses).enumerate().skip(i + 1).take(span);
            let mut kept = from.is_on();
            for (j, (to, q)) in later {
                let mut legs: Vec<Leg<Option<Way>>> = Vec::new();
                if self.tight.overlaps(from.along, to.along) || !from.is_on() || !to.is_on() {
                    self.each_leg(from.along, to.along, *p, *q, |way, cost| {
                        legs.push(Leg { cost, measured: false, what: Some(way) });
                    });
                } else if kept {
                    let cost = self.kept_cost(from.along, to.along);
                    legs.push(Leg { cost, measured: true, what: None });
                }
                kept &= !to.is_on();
                table.set(i, j, legs);
            }
        }
        table
    }

    /// Measures the legs of a chain; tells whether any cost changed.
    fn measured(
        &self,
        table: &mut Table<Option<Way>>,
        stations: &[Station],
        chain: &[usize],
    ) -> bool {
        let mut changed = false;
        for (from, to) in chain.iter().zip(chain.iter().skip(1)) {
            let Some(leg) = table.best(*from, *to) else { continue };
            if leg.measured {
                continue;
            }
            let crowding = leg.what.as_ref().and_then(|way| {
                self.crowding(stations.get(*from)?.along, stations.get(*to)?.along, way)
            });
            let cost = crowding.map(|c| leg.cost + c);
            changed |= crowding != Some(0.0);
            table.price(*from, *to, cost);
        }
        changed
    }

    /// The pieces as tube, stretches of the old tube in one.
    fn segments(&self, pieces: &[Piece]) -> Vec<Segment> {
        let mut segments = Vec::new();
        for run in pieces.chunk_by(|a, b| a.way.is_none() && b.way.is_none()) {
            match run {
                [Piece { way: Some(way), .. }] => segments.extend_from_slice(way.segments()),
                [first, .., last] => {
                    self.track.append_between(first.from.along, last.to.along, &mut segments);
                }
                [only] => {
                    self.track.append_between(only.from.along, only.to.along, &mut segments);
                }
                [] => {}
            }
        }
        segments
    }

    /// Number of a new piece that comes too near to the rest of the window.
    fn contact(&self, pieces: &[Piece]) -> Option<usize> {
        let mut all: Vec<Chord> = Vec::new();
        let mut new: Vec<(usize, f64)> = Vec::new();
        let mut along = 0.0;
        for (number, piece) in pieces.iter().enumerate() {
            let segments = self.segments(std::slice::from_ref(piece));
            let length: f64 = segments.iter().map(Segment::length_m).sum();
            for chord in chords::of(self.strand, &segments, along) {
                let share = (chord.along - along) / length;
                let place = piece.from.along + (piece.to.along - piece.from.along) * share;
                all.push(chord);
                new.push((number, place));
            }
            along += length;
        }
        let least_gap = self.bench.wishes.least_gap_m;
        let touches = |chord: &Chord, place: f64| {
            let needed = least_gap.min(self.room_at(place).0 - 1e-6);
            chords::nearest(&all, chord, self.strand, needed, self.same_strand_m) < needed
        };
        let mut of_ways = all.iter().zip(&new).filter(|(_, (number, _))| {
            pieces.get(*number).is_some_and(|piece| piece.way.is_some())
        });
        of_ways.find(|(chord, (_, place))| touches(chord, *place)).map(|(_, (number, _))| *number)
    }
}

/// The legs of a chain.
fn pieces(table: &Table<Option<Way>>, stations: &[Station], chain: &[usize]) -> Vec<Piece> {
    let legs = chain.iter().zip(chain.iter().skip(1)).filter_map(|(from, to)| {
        let leg = table.best(*from, *to)?;
        let (from, to) = (*stations.get(*from)?, *stations.get(*to)?);
        Some(Piece { from, to, way: leg.what, cost: leg.cost })
    });
    legs.collect()
}
