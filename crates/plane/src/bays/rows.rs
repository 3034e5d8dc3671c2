//! Bays: which stretches of each lie under which room, and what is in their way.

use super::fit::Fit;
use super::frame::Frame;
use super::{BlockKind, Floor};
use crate::chain;
use crate::half::{self, Affine};
use crate::point::Point;

/// Distance kept from anything that is in the way, metres.
const BLOCK_MARGIN_M: f64 = 0.05;

/// Distance of the ends of rows from walls and blocks, metres.
const END_M: f64 = 0.10;

/// Shorter stretches of bay get no plate, metres.
const SHORTEST_M: f64 = 0.5;

/// Lines along a bay by which it is told what lies over it.
const LINES: usize = 5;

/// Lines that must lie under a room for the bay to be its own there.
const MAJORITY: usize = 3;

/// A stretch of a bay: from and to, metres along the joists.
pub(super) type Span = [f64; 2];

/// All bays below the rooms.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Bays {
    pub(super) frame: Frame,
    pub(super) pitch_m: f64,
    /// Where rows and lanes begin and end along the joists: the bearings, or where rooms do.
    pub(super) bearings_m: Span,
    /// The bays in order; their numbers follow each other.
    pub(super) all: Vec<Bay>,
}

/// One bay.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Bay {
    /// Number of the joist before it.
    pub(super) number: i64,
    /// Middle of the bay across the joists.
    pub(super) middle_m: f64,
    /// Stretches to be plated, by room.
    pub(super) pieces: Vec<Vec<Span>>,
    /// Where the strands before and behind the middle lie under each room.
    pub(super) strands: Vec<[Vec<Span>; 2]>,
    /// Stretches where nothing passes.
    pub(super) full: Vec<Span>,
}

impl Bays {
    pub(super) fn of(floor: &Floor, fit: &Fit) -> Bays {
        let joists = &floor.joists;
        let frame = Frame::of(joists.on, joists.along);
        let rooms: Vec<Vec<Vec<Point>>> = floor
            .rooms
            .iter()
            .map(|room| room.floor.rings().map(|ring| inward(&frame, ring)).collect())
            .collect();
        let blocks: Vec<(Vec<Point>, BlockKind)> = floor
            .blocks
            .iter()
            .filter(|block| block.outline.iter().all(|p| p.is_finite()))
            .map(|block| (inward(&frame, &block.outline), block.kind))
            .collect();
        let (low, high) = extent(&rooms, frame.inward(floor.manifold.at).x);
        let first = (low / joists.pitch_m).floor() as i64 - 1;
        let last = (high / joists.pitch_m).ceil() as i64;
        let bay = |number: i64| {
            let middle_m = (number as f64 + 0.5) * joists.pitch_m;
            let full = blocked(&blocks, middle_m, fit.clear_m, |kind| kind == BlockKind::Full);
            let any = blocked(&blocks, middle_m, fit.clear_m, |_| true);
            let pieces = rooms
                .iter()
                .map(|rings| pieces(rings, middle_m, fit.clear_m, &any, fit.reach_m))
                .collect();
            let strand = |rings: &Vec<Vec<Point>>, side| under(rings, middle_m + side * fit.half_m);
            let strands = rooms.iter().map(|r| [strand(r, -1.0), strand(r, 1.0)]).collect();
            Bay { number, middle_m, pieces, strands, full }
        };
        // A building has no more bays than this; a mistaken pitch could ask for millions.
        let count = (last - first).clamp(0, 2000);
        let all = (first..first + count).map(bay).collect();
        Bays { frame, pitch_m: joists.pitch_m, bearings_m: fit.reach_m, all }
    }

    /// From where rows and lanes begin to where they end, metres.
    pub(super) fn span_m(&self) -> f64 {
        self.bearings_m[1] - self.bearings_m[0]
    }
}

impl Bay {
    /// Length of all stretches to be plated, metres.
    pub(super) fn heated_m(&self) -> f64 {
        self.pieces.iter().flatten().map(length).sum()
    }
}

/// Length of a stretch, metres.
pub(super) fn length(span: &Span) -> f64 {
    span[1] - span[0]
}

fn inward(frame: &Frame, ring: &[Point]) -> Vec<Point> {
    ring.iter().map(|p| frame.inward(*p)).collect()
}

fn extent(rooms: &[Vec<Vec<Point>>], manifold_x: f64) -> (f64, f64) {
    let xs = rooms.iter().flatten().flatten().map(|p| p.x);
    xs.fold((manifold_x, manifold_x), |(low, high), x| (low.min(x), high.max(x)))
}

/// Stretches of a bay under a room, less what is in the way.
fn pieces(
    rings: &[Vec<Point>],
    middle_m: f64,
    clear_m: f64,
    any: &[Span],
    bearings: Span,
) -> Vec<Span> {
    let mut events: Vec<(f64, i32)> = Vec::new();
    for k in 0..LINES {
        let share = k as f64 / (LINES - 1) as f64 - 0.5;
        let x = middle_m + 0.9 * clear_m * share;
        for [from, to] in under(rings, x) {
            events.extend([(from, 1), (to, -1)]);
        }
    }
    events.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    let mut found = Vec::new();
    let (mut under, mut since) = (0, f64::NAN);
    for (y, step) in events {
        let before = under;
        under += step;
        if before < MAJORITY as i32 && under >= MAJORITY as i32 {
            since = y;
        } else if before >= MAJORITY as i32 && under < MAJORITY as i32 {
            found.extend(without([since, y], any));
        }
    }
    let inner = |s: Span| [s[0].max(bearings[0]) + END_M, s[1].min(bearings[1]) - END_M];
    found.into_iter().map(inner).filter(|s| length(s) >= SHORTEST_M - END_M).collect()
}

/// Stretches of an upright line under a room.
fn under(rings: &[Vec<Point>], x: f64) -> Vec<Span> {
    let mut cuts: Vec<f64> = rings.iter().flat_map(|ring| crossings(ring, x)).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// What two lists of stretches have in common.
pub(super) fn common(one: &[Span], other: &[Span]) -> Vec<Span> {
    let pairs = one.iter().flat_map(|a| other.iter().map(|b| [a[0].max(b[0]), a[1].min(b[1])]));
    pairs.filter(|span| length(span) > 0.0).collect()
}

/// Where a ring crosses an upright line.
fn crossings(ring: &[Point], x: f64) -> Vec<f64> {
    let crosses = |(a, b): &(Point, Point)| (a.x > x) != (b.x > x);
    chain::ring_edges(ring)
        .filter(crosses)
        .map(|(a, b)| a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y))
        .collect()
}

/// Stretches of a bay taken by blocks of some kind, merged and in order.
fn blocked(
    blocks: &[(Vec<Point>, BlockKind)],
    middle_m: f64,
    clear_m: f64,
    counts: impl Fn(BlockKind) -> bool,
) -> Vec<Span> {
    // What lies beyond a joist is not in the way.
    let half = clear_m / 2.0;
    let left =
        Affine { at: Point::new(middle_m - half, 0.0), value: 0.0, slope: Point::new(1.0, 0.0) };
    let right =
        Affine { at: Point::new(middle_m + half, 0.0), value: 0.0, slope: Point::new(-1.0, 0.0) };
    let mut spans: Vec<Span> = Vec::new();
    for (outline, kind) in blocks {
        let inside = half::part_above(&half::part_above(outline, &left), &right);
        if counts(*kind) && inside.len() > 2 && half::area_m2(&inside).abs() > 1e-6 {
            let (low, high) = crate::region::bounds_of(&inside);
            spans.push([low.y - BLOCK_MARGIN_M, high.y + BLOCK_MARGIN_M]);
        }
    }
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut merged: Vec<Span> = Vec::new();
    for span in spans {
        match merged.last_mut() {
            Some(last) if last[1] >= span[0] => last[1] = last[1].max(span[1]),
            _ => merged.push(span),
        }
    }
    merged
}

/// What is left of a stretch without others; these are in order and apart.
fn without(span: Span, others: &[Span]) -> Vec<Span> {
    let mut left = Vec::new();
    let mut from = span[0];
    for other in others {
        if other[1] <= from || other[0] >= span[1] {
            continue;
        }
        if other[0] > from {
            left.push([from, other[0]]);
        }
        from = from.max(other[1]);
    }
    if from < span[1] {
        left.push([from, span[1]]);
    }
    left
}
