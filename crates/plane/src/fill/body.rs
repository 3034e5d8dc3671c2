//! The band itself: the widened tree, and lobes for places no ring reaches.

use super::entry::{Stub, Way};
use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::{Region, bounds_of};

/// A place the band misses, as `lobes` finds them.
struct Gap {
    region: Region,
    /// Area over three quarters of a spacing from the tube, square metres.
    cold: f64,
    /// Widest free width in metres.
    width: f64,
}

/// Least area of a gap that is worth a lobe, in square spacings.
const LEAST_GAP: f64 = 4.0;

/// The band when no ring fits: a single turn along the walls.
pub(super) fn single_turn(floor: &Region, spacing: f64) -> Vec<Region> {
    let reached = clip::erode(std::slice::from_ref(floor), 0.4999 * spacing);
    clip::opening(&reached, 0.3 * spacing)
}

/// The band along the tree, with lobes that reach into the places it misses, once
/// per measure. Tracks come with the distance of their two strands.
///
/// A place is used if more than a measure of square spacings of it lies over
/// three quarters of a spacing from the tube. Measures ascend; one that selects
/// the same places as the one before gives nothing new. The band stays one piece
/// without new holes: a lobe that would close a ring is left out.
pub(super) fn with_lobes(
    tracks: &[(f64, Vec<Vec<Point>>)],
    floor: &Region,
    s: f64,
    measures: &[f64],
) -> Vec<Vec<Region>> {
    let band = widened(tracks, 0.5);
    let least = measures.iter().copied().fold(f64::INFINITY, f64::min);
    let gaps = gaps(tracks, floor, s, least * s * s);
    let closest = tracks.iter().map(|(s, _)| *s).fold(s, f64::min);
    let mut bands = Vec::new();
    let mut before: Option<usize> = None;
    for measure in measures {
        let used: Vec<&Gap> = gaps.iter().filter(|g| g.cold > measure * s * s).collect();
        if before == Some(used.len()) {
            continue;
        }
        before = Some(used.len());
        let mut whole = band.clone();
        for lobe in used.into_iter().flat_map(|gap| lobes_in(gap, s)) {
            if let Some(joined) = joined(&whole, &lobe, s) {
                whole = joined;
            }
        }
        bands.push(kept_inside(whole, floor, closest));
    }
    bands
}

/// A band cut open where a place in it is too wide: lobes of what is not band reach in.
pub(super) fn with_slots(band: Vec<Region>, place: &Region, s: f64) -> Vec<Region> {
    let mut gaps = Vec::new();
    graded(place.clone(), 0.0, s, &mut gaps);
    if gaps.is_empty() {
        return band;
    }
    let (low, high) = bounds(&band);
    let margin = Point::new(s, s);
    let Ok(frame) = Region::rectangle(low - margin, high + margin) else { return band };
    let frame = [frame];
    let mut outside = clip::difference(&frame, &band);
    for lobe in gaps.iter().flat_map(|gap| lobes_in(gap, s)) {
        if let Some(joined) = joined(&outside, &lobe, s) {
            outside = joined;
        }
    }
    clip::difference(&frame, &outside)
}

fn bounds(regions: &[Region]) -> (Point, Point) {
    let corners: Vec<Point> = regions.iter().flat_map(|r| r.outer().iter().copied()).collect();
    bounds_of(&corners)
}

/// Adds the double strand from the wall and takes the piece that it leads to.
///
/// The outer ring of the piece, holes filled, is the tube. `flush` is the beginning
/// of the band where it may lie as near to a wall as the double strand.
pub(super) fn outline(
    band: &[Region],
    stub: &Stub,
    way: &Way,
    flush: Option<[Point; 2]>,
    spacing: f64,
) -> Option<Vec<Point>> {
    let mut joint = Vec::new();
    let mut line = way.line.clone();
    if let [.., before, end] = *way.line {
        // Well into the band, so that both unite.
        line.pop();
        line.push(end + (end - before).unit() * (0.45 * spacing));
        if end.distance(way.meets) > 1e-3 {
            joint.push(vec![end, way.meets]);
        }
    }
    let mut added = clip::thick(&[line], stub.gap / 2.0, Cap::Flat);
    added.extend(clip::thick(&joint, stub.gap / 2.0, Cap::Square));
    if let Some(flush) = flush {
        added.extend(clip::thick(&[flush.to_vec()], spacing / 2.0, Cap::Flat));
    }
    let whole = clip::union(band, &united(added));
    let piece = whole
        .iter()
        .filter(|r| r.boundary_distance_m(stub.foot) < 1e-3)
        .max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))?;
    cut_at(piece.outer(), stub.ends())
}

/// Regions that may overlap as regions that do not.
fn united(regions: impl IntoIterator<Item = Region>) -> Vec<Region> {
    regions.into_iter().fold(Vec::new(), |whole, one| {
        if whole.is_empty() { vec![one] } else { clip::union(&whole, &[one]) }
    })
}

/// The part of the band half a spacing inside the floor, usually all of it.
fn kept_inside(band: Vec<Region>, floor: &Region, s: f64) -> Vec<Region> {
    let mut corners = band.iter().flat_map(|r| r.outer());
    if corners.all(|p| floor.encloses(*p) && floor.boundary_distance_m(*p) > 0.49 * s) {
        return band;
    }
    clip::intersection(&band, &clip::erode(std::slice::from_ref(floor), 0.49 * s))
}

/// A ring cut open between two of its places, the short stretch taken out.
fn cut_at(ring: &[Point], (start, end): (Point, Point)) -> Option<Vec<Point>> {
    let nearest = |p: Point| {
        (0..ring.len()).min_by(|&i, &j| ring[i].distance(p).total_cmp(&ring[j].distance(p)))
    };
    let (i, j) = (nearest(start)?, nearest(end)?);
    if ring[i].distance(start) > 1e-3 || ring[j].distance(end) > 1e-3 || i == j {
        return None;
    }
    let mut open: Vec<Point> = Vec::with_capacity(ring.len());
    let mut k = i;
    while k != j {
        open.push(ring[k]);
        k = (k + 1) % ring.len();
    }
    open.push(ring[j]);
    // The other way round only the end of the double strand may lie.
    (ring.len() - open.len() < 3).then_some(open)
}

/// The tracks widened by a share of their own spacing.
fn widened(tracks: &[(f64, Vec<Vec<Point>>)], share: f64) -> Vec<Region> {
    united(tracks.iter().flat_map(|(s, chains)| clip::thick(chains, share * s, Cap::Square)))
}

/// Places that the band misses, with more than `least_m2` of cold floor each.
fn gaps(tracks: &[(f64, Vec<Vec<Point>>)], floor: &Region, s: f64, least_m2: f64) -> Vec<Gap> {
    // Half a spacing around the band, whose square ends reach out as well.
    let near = widened(tracks, 0.9995);
    let mut rest = clip::difference(std::slice::from_ref(floor), &near);
    // Most of the rest are slivers along the seams.
    rest.retain(|piece| piece.area_m2() >= LEAST_GAP * s * s);
    let mut gaps = Vec::new();
    for region in clip::opening(&rest, 0.4 * s) {
        if region.area_m2() < LEAST_GAP * s * s {
            continue;
        }
        // Hair-thin edges along curves make offsets slow and change nothing.
        let thin = |ring: &[Point]| chain::thinned_ring(ring, 0.02 * s);
        let holes = region.holes().iter().map(|h| thin(h)).collect();
        let region = Region::trusted(thin(region.outer()), holes);
        let one = std::slice::from_ref(&region);
        let cold: f64 = clip::erode(one, 0.25 * s).iter().map(Region::area_m2).sum();
        if cold > least_m2 {
            graded(region, cold, s, &mut gaps);
        }
    }
    gaps
}

/// Times that a gap is split by width.
const GRADES: usize = 3;

/// A gap by the width of its parts, the widest first, down to what takes a lobe.
fn graded(region: Region, cold: f64, s: f64, gaps: &mut Vec<Gap>) {
    let mut rest = vec![region];
    for _ in 0..GRADES {
        let mut narrower = Vec::new();
        for region in rest {
            let width = free_width(&region, s);
            if region.area_m2() < LEAST_GAP * s * s || width < 0.95 * s {
                continue;
            }
            let one = std::slice::from_ref(&region);
            let wide = clip::opening(one, 0.4 * width);
            narrower.extend(clip::opening(&clip::difference(one, &wide), 0.4 * s));
            gaps.extend(wide.into_iter().map(|region| Gap { region, cold, width }));
        }
        rest = narrower;
    }
}

/// Width of the widest arm, to a fortieth of a spacing.
///
/// Less than the largest disc where arms meet: the erosion has square inner
/// corners, and nothing is left of a bent arm when it is as deep as half of it.
fn free_width(region: &Region, s: f64) -> f64 {
    let one = std::slice::from_ref(region);
    // Half the width of a long strip is its area over its rim, or little more.
    let (mut fits, mut stuck) = (0.4 * s, 1.1 * region.area_m2() / region.perimeter_m());
    stuck = stuck.max(0.5 * s);
    while !clip::erode(one, stuck).is_empty() {
        fits = stuck;
        stuck *= 1.25;
    }
    while stuck - fits > 0.0125 * s {
        let middle = (fits + stuck) / 2.0;
        if clip::erode(one, middle).is_empty() {
            stuck = middle;
        } else {
            fits = middle;
        }
    }
    2.0 * fits
}

/// Rounded cores of a gap, so placed that strands divide it in equal thirds.
fn lobes_in(gap: &Gap, s: f64) -> Vec<Region> {
    let third = (gap.width + s) / 3.0;
    let core =
        clip::erode(std::slice::from_ref(&gap.region), (gap.width / 3.0 - s / 6.0).max(0.1 * s));
    let mut lobes = clip::round_opening(&core, 0.4 * third);
    lobes.retain(|lobe| lobe.area_m2() > 1.2 * s * s);
    lobes
}

/// A place where a lobe may be tied to the band: on the band, on the lobe.
struct Tie {
    from: Point,
    to: Point,
    cost: f64,
}

/// The band with a lobe tied to it, if there is a way that makes no new hole.
pub(super) fn joined(band: &[Region], lobe: &Region, s: f64) -> Option<Vec<Region>> {
    let holes = |rs: &[Region]| rs.iter().map(|r| r.holes().len()).sum::<usize>();
    // The lobe lies in a gap well off the band, so both make no new hole.
    let mut with_lobe = band.to_vec();
    with_lobe.push(lobe.clone());
    let free = |tie: &&Tie| is_free(band, lobe, tie.from, tie.to, s);
    for tie in ties(band, lobe, s).iter().filter(free).take(3) {
        let along = (tie.to - tie.from).unit() * (0.3 * s);
        let line = vec![tie.from - along, tie.to + along];
        for half in [0.48, 0.4] {
            let bridge = clip::thick(std::slice::from_ref(&line), half * s, Cap::Flat);
            let whole = clip::union(&with_lobe, &bridge);
            if whole.len() == band.len() && holes(&whole) == holes(&with_lobe) {
                return Some(whole);
            }
        }
    }
    None
}

/// Possible ties, the best first: short ones at the far end of the lobe.
fn ties(band: &[Region], lobe: &Region, s: f64) -> Vec<Tie> {
    let rim = chain::opened(lobe.outer());
    let total = chain::length(&rim);
    let middle = centre_of(lobe);
    let reach = lobe.outer().iter().map(|p| p.distance(middle)).fold(1e-9, f64::max);
    let mut ties = Vec::new();
    for k in 0..48 {
        let to = chain::at(&rim, total * f64::from(k) / 48.0);
        let mut from = (to, f64::INFINITY);
        for r in band {
            let p = r.nearest_boundary(to);
            if p.distance(to) < from.1 - 1e-9 {
                from = (p, p.distance(to));
            }
        }
        let (from, length) = from;
        if !(1e-6..=2.0 * s).contains(&length) {
            continue;
        }
        // A tie at the end of a lobe costs one reversal, in its middle two.
        let cost = length - 0.5 * s * middle.distance(to) / reach;
        ties.push(Tie { from, to, cost });
    }
    ties.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    ties
}

/// Whether the sides of a tie run free and end on the lobe, not beside it.
fn is_free(band: &[Region], lobe: &Region, from: Point, to: Point, s: f64) -> bool {
    let along = (to - from).unit();
    let side = along.left() * (0.4 * s);
    [side, -side].into_iter().all(|offset| {
        let free = [0.15, 0.5, 0.85].into_iter().all(|t| {
            let p = from.lerp(to, t) + offset;
            !band.iter().any(|r| r.encloses(p))
        });
        let root = from - along * (0.25 * s) + offset;
        let tip = to + along * (0.3 * s) + offset * 0.9;
        free && lobe.encloses(tip) && band.iter().any(|r| r.encloses(root))
    })
}

fn centre_of(region: &Region) -> Point {
    let corners = region.outer();
    let sum = corners.iter().fold(Point::default(), |sum, p| sum + *p);
    sum * (1.0 / corners.len().max(1) as f64)
}
