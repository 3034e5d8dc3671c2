//! What lies beside tube: the way cut into stations, and what is met to either side of each.
//!
//! A station looks square to its own way, to the left and to the right, as far as a reach. It
//! meets another tube, the edge of the floor in which it lies, or nothing. [`raster`] tells of
//! every small square of floor which station is nearest.

pub mod raster;

use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

/// Width of the squares in which stations are looked up, metres.
const BUCKET_M: f64 = 0.25;
/// Stations no farther along the same tube are parts of one strand, not neighbours.
const SAME_STRAND: usize = 1;
/// Most squares along one side of the look-up, so that a plan of any size fits.
const BUCKETS_MOST: usize = 2048;

/// A short piece of tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Its path, by number.
    pub path: usize,
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// Its middle, in metres from the start of its path.
    pub along_m: f64,
    /// True length along line or arc, metres.
    pub length_m: f64,
    /// The region in which its middle lies, by number; the first where several do.
    pub region: Option<usize>,
    /// What it meets to its left and to its right.
    pub sides: [Side; 2],
}

/// What a station meets on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// How far it is, metres from the middle of the tube; the reach where nothing is met.
    pub gap_m: f64,
    /// What it is.
    pub meets: Meets,
}

/// What a station looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// Tube, by the number of its station.
    Tube(usize),
    /// The edge of its region.
    Edge,
    /// Nothing within reach.
    Nothing,
}

impl Station {
    /// Its middle, on the chord.
    pub fn middle(&self) -> Point {
        self.from.lerp(self.to, 0.5)
    }
}

impl Side {
    /// Floor on this side that belongs to the tube, metres: half way to the next, or up to the
    /// edge, and no farther than half the reach.
    pub fn half_m(&self, reach_m: f64) -> f64 {
        let own = if matches!(self.meets, Meets::Tube(_)) { self.gap_m / 2.0 } else { self.gap_m };
        own.min(reach_m / 2.0)
    }
}

/// Cuts paths into stations no longer than `step_m` and tells what lies beside each.
///
/// Only tube of the same region is met; tube outside all regions meets only such tube, and no
/// edge. A step below a centimetre is taken as one; nothing for a reach that is not positive.
pub fn stations(paths: &[&Path], regions: &[&Region], step_m: f64, reach_m: f64) -> Vec<Station> {
    if !(reach_m > 0.0 && reach_m.is_finite()) {
        return Vec::new();
    }
    let mut stations = cut(paths, regions, if step_m >= 0.01 { step_m } else { 0.01 }, reach_m);
    let Some(buckets) = Buckets::of(&stations) else { return stations };
    let sides: Vec<[Side; 2]> = (0..stations.len())
        .map(|own| {
            let across = (stations[own].to - stations[own].from).unit().left();
            [across, -across].map(|way| look(&stations, &buckets, regions, own, way, reach_m))
        })
        .collect();
    stations.iter_mut().zip(sides).for_each(|(station, sides)| station.sides = sides);
    stations
}

/// Paths as stations that have looked nowhere yet.
fn cut(paths: &[&Path], regions: &[&Region], step_m: f64, reach_m: f64) -> Vec<Station> {
    let unseen = Side { gap_m: reach_m, meets: Meets::Nothing };
    let mut stations = Vec::new();
    for (number, path) in paths.iter().enumerate() {
        let mut gone_m = 0.0;
        for segment in &path.segments {
            let length_m = segment.length_m();
            if !(length_m.is_finite() && length_m > 1e-9) {
                continue;
            }
            let count = (length_m / step_m).ceil().max(1.0);
            let own_m = length_m / count;
            for k in 0..count as usize {
                let begin_m = own_m * k as f64;
                let middle = segment.point_at(begin_m + own_m / 2.0);
                stations.push(Station {
                    path: number,
                    from: segment.point_at(begin_m),
                    to: segment.point_at(begin_m + own_m),
                    along_m: gone_m + begin_m + own_m / 2.0,
                    length_m: own_m,
                    region: regions.iter().position(|region| region.encloses(middle)),
                    sides: [unseen; 2],
                });
            }
            gone_m += length_m;
        }
    }
    stations
}

/// The nearest thing from a station's middle along a direction of length one.
fn look(
    stations: &[Station],
    buckets: &Buckets,
    regions: &[&Region],
    own: usize,
    way: Point,
    reach_m: f64,
) -> Side {
    let from = stations[own].middle();
    let mut best = Side { gap_m: reach_m, meets: Meets::Nothing };
    if let Some(region) = stations[own].region.and_then(|number| regions.get(number)) {
        for (a, b) in region.edges() {
            if let Some(gap_m) = meeting(from, way, a, b).filter(|gap_m| *gap_m < best.gap_m) {
                best = Side { gap_m, meets: Meets::Edge };
            }
        }
    }
    let ahead = from + way * best.gap_m;
    buckets.along(from, ahead, |other| {
        let (station, it) = (&stations[own], &stations[other]);
        let same = it.path == station.path && own.abs_diff(other) <= SAME_STRAND;
        if same || it.region != station.region {
            return;
        }
        if let Some(gap_m) = meeting(from, way, it.from, it.to).filter(|gap_m| *gap_m < best.gap_m)
        {
            best = Side { gap_m, meets: Meets::Tube(other) };
        }
    });
    best
}

/// How far along a ray of direction `way` it meets a straight piece, if it does.
fn meeting(from: Point, way: Point, a: Point, b: Point) -> Option<f64> {
    let (edge, to) = (b - a, a - from);
    let turn = way.cross(edge);
    if turn.abs() < 1e-12 {
        return None;
    }
    let (gap_m, share) = (to.cross(edge) / turn, to.cross(way) / turn);
    // A hair beyond either end, so that no ray slips between two pieces.
    (gap_m > 1e-6 && (-1e-6..=1.0 + 1e-6).contains(&share)).then_some(gap_m)
}

/// Stations by the squares of floor that their boxes touch.
struct Buckets {
    low: Point,
    width_m: f64,
    columns: usize,
    rows: usize,
    /// Where each square's stations begin among all, and where the last end.
    starts: Vec<usize>,
    all: Vec<usize>,
}

impl Buckets {
    fn of(stations: &[Station]) -> Option<Buckets> {
        let ends = || stations.iter().flat_map(|it| [it.from, it.to]);
        let low = ends().reduce(|a, b| Point::new(a.x.min(b.x), a.y.min(b.y)))?;
        let high = ends().reduce(|a, b| Point::new(a.x.max(b.x), a.y.max(b.y)))?;
        let span_m = (high.x - low.x).max(high.y - low.y);
        let width_m = BUCKET_M.max(span_m / BUCKETS_MOST as f64);
        let count = |m: f64| (m / width_m) as usize + 1;
        let (columns, rows) = (count(high.x - low.x), count(high.y - low.y));
        let mut buckets =
            Buckets { low, width_m, columns, rows, starts: Vec::new(), all: Vec::new() };
        let mut counts = vec![0; columns * rows + 1];
        for it in stations {
            buckets.squares(it.from, it.to, |square| counts[square + 1] += 1);
        }
        for square in 1..counts.len() {
            counts[square] += counts[square - 1];
        }
        let mut next = counts.clone();
        let mut all = vec![0; counts.last().copied().unwrap_or(0)];
        for (number, it) in stations.iter().enumerate() {
            buckets.squares(it.from, it.to, |square| {
                all[next[square]] = number;
                next[square] += 1;
            });
        }
        (buckets.starts, buckets.all) = (counts, all);
        Some(buckets)
    }

    /// Every square that the box of two points touches.
    fn squares(&self, a: Point, b: Point, mut each: impl FnMut(usize)) {
        let place = |m: f64, low: f64, most: usize| {
            (((m - low) / self.width_m).max(0.0) as usize).min(most - 1)
        };
        let columns = [a.x.min(b.x), a.x.max(b.x)].map(|x| place(x, self.low.x, self.columns));
        let rows = [a.y.min(b.y), a.y.max(b.y)].map(|y| place(y, self.low.y, self.rows));
        for row in rows[0]..=rows[1] {
            for column in columns[0]..=columns[1] {
                each(row * self.columns + column);
            }
        }
    }

    /// Every station in the squares that the box of two points touches, some more than once.
    fn along(&self, a: Point, b: Point, mut each: impl FnMut(usize)) {
        self.squares(a, b, |square| {
            let own = self.starts.get(square).zip(self.starts.get(square + 1));
            let own = own.and_then(|(from, to)| self.all.get(*from..*to));
            own.into_iter().flatten().for_each(|number| each(*number));
        });
    }
}
