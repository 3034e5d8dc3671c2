//! Sharing the floor of a room between manifolds whose leaders meet in it.
//!
//! Every manifold has marks on the edge of the room: its ports, or the door that its
//! leaders come in by, and the doors that they leave by. Where the marks of one follow each
//! other, a straight cut parts its floor from that of the others, and no leader need cross.

use super::ring::{self, Ring};
use crate::chain;
use crate::clip;
use crate::point::{Point, crossing};
use crate::region::Region;

/// A stretch of a room's edge that leaders of one manifold start at or pass.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    pub(super) owner: usize,
    /// Its ends, counter-clockwise.
    pub(super) ends: [Point; 2],
}

/// Distance that cuts keep from marks where there is room, metres.
const FROM_MARK_M: f64 = 0.12;

/// Distance between places that cuts are tried from, metres.
const STEP_M: f64 = 0.1;

/// Shares smaller than this let no leader turn, square metres.
const LEAST_SHARE_M2: f64 = 0.05;

/// The part of a floor for every owner of marks; nothing where their leaders would cross.
pub(super) fn shared_out(floor: &Region, marks: &[Mark]) -> Option<Vec<(usize, Region)>> {
    let mut owners: Vec<usize> = marks.iter().map(|m| m.owner).collect();
    owners.sort_unstable();
    owners.dedup();
    if let [only] = owners.as_slice() {
        return Some(vec![(*only, floor.clone())]);
    }
    let ring = Ring::of(floor);
    let mut placed: Vec<(f64, Mark)> =
        marks.iter().map(|m| (ring.position_m(m.ends[0]), *m)).collect();
    placed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.owner.cmp(&b.1.owner)));
    for owner in &owners {
        let Some(gaps) = gaps(&placed, *owner) else { continue };
        let Some([own, rest]) = parted(floor, &ring, gaps, 1.0 / owners.len() as f64) else {
            continue;
        };
        let others: Vec<Mark> = marks.iter().filter(|m| m.owner != *owner).copied().collect();
        let Some(mut shares) = shared_out(&rest, &others) else { continue };
        shares.push((*owner, own));
        shares.sort_by_key(|(owner, _)| *owner);
        return Some(shares);
    }
    None
}

/// The gaps before and after the marks of one owner; nothing if others lie between them.
///
/// Each gap by its two ends, counter-clockwise.
fn gaps(placed: &[(f64, Mark)], owner: usize) -> Option<[[Point; 2]; 2]> {
    let n = placed.len();
    let mark = |i: usize| placed[i % n].1;
    let begins = |i: &usize| mark(*i + n - 1).owner != owner && mark(*i).owner == owner;
    let mut first = (0..n).filter(begins);
    let (from, None) = (first.next()?, first.next()) else { return None };
    let own = (0..n).take_while(|k| mark(from + k).owner == owner).count();
    let before = [mark(from + n - 1).ends[1], mark(from).ends[0]];
    let after = [mark(from + own - 1).ends[1], mark(from + own).ends[0]];
    Some([before, after])
}

/// A floor cut from one gap in its marks to the other: what lies between them, and the rest.
fn parted(floor: &Region, ring: &Ring, gaps: [[Point; 2]; 2], wanted: f64) -> Option<[Region; 2]> {
    let mut best: Option<(f64, [Region; 2])> = None;
    for [from, to] in chords(floor, ring, gaps) {
        let length = from.distance(to);
        if best.as_ref().is_some_and(|(least, _)| length >= *least) {
            continue;
        }
        let Some(halves) = cut(floor, ring, from, to) else { continue };
        let uneven = (halves[0].area_m2() / floor.area_m2() - wanted).abs();
        let cost = length * (1.0 + uneven);
        if best.as_ref().is_none_or(|(least, _)| cost < *least - 1e-9) {
            best = Some((cost, halves));
        }
    }
    best.map(|(_, halves)| halves)
}

/// Straight ways through a floor from the first gap to the second, square ones first.
fn chords(floor: &Region, ring: &Ring, gaps: [[Point; 2]; 2]) -> Vec<[Point; 2]> {
    let places = gaps.map(|gap| places(ring, gap));
    let span = |gap: [Point; 2]| {
        let from = ring.position_m(gap[0]);
        (from, ring.ahead_m(from, ring.position_m(gap[1])))
    };
    let spans = gaps.map(span);
    let is_in = |p: Point, (from, length): (f64, f64)| {
        let keep = FROM_MARK_M.min(0.25 * length);
        let ahead = ring.ahead_m(from, ring.position_m(p));
        (keep - 1e-6..=length - keep + 1e-6).contains(&ahead)
    };
    let mut found = Vec::new();
    for (side, other) in [(0, 1), (1, 0)] {
        for p in &places[side] {
            let (at, inward) = inward_at(floor, *p);
            let over = ring::hit(floor, at + inward * 1e-3, inward);
            if let Some(q) = over.filter(|q| is_in(*q, spans[other])) {
                found.push(if side == 0 { [*p, q] } else { [q, *p] });
            }
        }
    }
    if found.is_empty() {
        let pairs = places[0].iter().flat_map(|p| places[1].iter().map(|q| [*p, *q]));
        found.extend(pairs.filter(|[p, q]| runs_inside(floor, *p, *q)));
        found.sort_by(|a, b| a[0].distance(a[1]).total_cmp(&b[0].distance(b[1])));
        found.truncate(MOST_CUTS);
    }
    found
}

/// Most slanting cuts that are weighed against each other.
const MOST_CUTS: usize = 40;

/// Places in a gap that cuts are tried from.
fn places(ring: &Ring, gap: [Point; 2]) -> Vec<Point> {
    let from = ring.position_m(gap[0]);
    let length = ring.ahead_m(from, ring.position_m(gap[1]));
    let keep = FROM_MARK_M.min(0.25 * length);
    let steps = (((length - 2.0 * keep) / STEP_M / 2.0).ceil() as usize).clamp(1, 200) * 2;
    let step = (length - 2.0 * keep) / steps as f64;
    (0..=steps).map(|k| ring.point_at(from + keep + step * k as f64)).collect()
}

/// A place on the edge of a floor, and the direction square to that edge.
fn inward_at(floor: &Region, p: Point) -> (Point, Point) {
    let edges = chain::ring_edges(floor.outer());
    let nearest = edges.min_by(|a, b| {
        let away = |e: &(Point, Point)| crate::point::segment_distance(e.0, e.1, p);
        away(a).total_cmp(&away(b))
    });
    (p, nearest.map_or(Point::default(), |(a, b)| (b - a).unit().left()))
}

/// Whether the straight way between two places of the edge lies inside.
fn runs_inside(floor: &Region, p: Point, q: Point) -> bool {
    let (from, to) = (p.lerp(q, 1e-3), q.lerp(p, 1e-3));
    chain::encloses(floor.outer(), p.lerp(q, 0.5))
        && chain::ring_edges(floor.outer()).all(|(a, b)| crossing(from, to, a, b).is_none())
}

/// What lies counter-clockwise between two places of the edge, and the rest.
fn cut(floor: &Region, ring: &Ring, from: Point, to: Point) -> Option<[Region; 2]> {
    let own = ring.stretch(ring.position_m(from), ring.position_m(to));
    let own = Region::simple(own).ok()?;
    let whole = std::slice::from_ref(floor);
    let own = std::slice::from_ref(&own);
    let halves = [clip::intersection(whole, own), clip::difference(whole, own)];
    let [one, other] = halves.map(|mut pieces| {
        pieces.retain(|piece| piece.area_m2() > 1e-4);
        let is_one = pieces.len() == 1 && pieces[0].area_m2() > LEAST_SHARE_M2;
        is_one.then(|| pieces.swap_remove(0))
    });
    Some([one?, other?])
}
