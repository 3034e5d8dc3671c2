//! The band itself: the widened tree, and lobes for places no ring reaches.

use super::entry::{Stub, Way};
use super::lobes::{self, Gap, graded, joined, lobes_in};
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::{Region, bounds_of};

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
/// the same places as the one before gives nothing new. `turn_m` is the least distance
/// of strands between which tube turns back beside others; no lobe is narrower. The band stays one piece
/// without new holes: a lobe that would close a ring is left out.
pub(super) fn with_lobes(
    tracks: &[(f64, Vec<Vec<Point>>)],
    floor: &Region,
    (s, turn_m): (f64, f64),
    measures: &[f64],
) -> Vec<Vec<Region>> {
    let band = widened(tracks, 0.5);
    let least = measures.iter().copied().fold(f64::INFINITY, f64::min);
    // Half a spacing around the band, whose square ends reach out as well.
    let near = widened(tracks, 0.9995);
    let gaps = lobes::gaps(&near, floor, (s, turn_m), least * s * s);
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
pub(super) fn with_slots(band: Vec<Region>, place: &Region, s: f64, turn_m: f64) -> Vec<Region> {
    let mut gaps = Vec::new();
    graded(place.clone(), 0.0, (s, turn_m), &mut gaps);
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
