//! Places that a band misses, and the lobes that reach into them.

use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::Region;

/// A place that a band misses.
pub(super) struct Gap {
    pub(super) region: Region,
    /// Area over three quarters of a spacing from the tube, square metres.
    pub(super) cold: f64,
    /// Widest free width in metres.
    pub(super) width: f64,
}

/// Least area of a gap that is worth a lobe, in square spacings.
const LEAST_GAP: f64 = 4.0;

/// Places off `near`, which is half a spacing around the band, with more than `least_m2` of cold floor each.
pub(super) fn gaps(
    near: &[Region],
    floor: &Region,
    (s, turn_m): (f64, f64),
    least_m2: f64,
) -> Vec<Gap> {
    let mut rest = clip::difference(std::slice::from_ref(floor), near);
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
            graded(region, cold, (s, turn_m), &mut gaps);
        }
    }
    gaps
}

/// Times that a gap is split by width.
const GRADES: usize = 3;

/// A gap by the width of its parts, the widest first, down to what takes a lobe.
pub(super) fn graded(region: Region, cold: f64, (s, turn_m): (f64, f64), gaps: &mut Vec<Gap>) {
    // A lobe divides the gap and the spacing beside it in thirds, in which tube must turn.
    let least_m = (0.95 * s).max(3.0 * turn_m - s);
    let mut rest = vec![region];
    for _ in 0..GRADES {
        let mut narrower = Vec::new();
        for region in rest {
            let one = std::slice::from_ref(&region);
            let is_small = region.area_m2() < LEAST_GAP * s * s;
            if is_small || clip::erode(one, least_m / 2.0).is_empty() {
                continue;
            }
            let width = free_width(&region, s);
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
pub(super) fn lobes_in(gap: &Gap, s: f64) -> Vec<Region> {
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
