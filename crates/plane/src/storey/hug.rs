//! The way of one leader along the edge of the floor that is still free.

use super::loosen::loosened;
use super::ring::Ring;
use crate::chain;
use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// How leaders are to be laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gauge {
    /// Half the width of a strip; also the distance between its two tubes, metres.
    pub(super) half_m: f64,
    /// Distance of the first strip from the edge of the floor, metres.
    pub(super) inset_m: f64,
}

/// How much of a strip's half-width counts, so that a fit without play still fits.
pub(super) const TRIM: f64 = 0.999;

/// Overlap of strips up to which none of them crosses another, over the square of their width.
///
/// Slanting first steps from close ports overlap by some 0.15; two that cross, by 1 or more.
pub(super) const OVERLAP: f64 = 0.3;

/// How much of a strip lies on others.
pub(super) fn overlap_m2(strip: &[Region], taken: &[Region]) -> f64 {
    let near = |other: &&Region| {
        let (low, high) = other.bounds();
        strip.iter().any(|piece| {
            let (from, to) = piece.bounds();
            from.x < high.x && low.x < to.x && from.y < high.y && low.y < to.y
        })
    };
    let on = |other: &Region| clip::intersection(strip, std::slice::from_ref(other));
    taken.iter().filter(near).flat_map(on).map(|piece| piece.area_m2()).sum()
}

/// The way along the edge of the free floor from one place of it to another.
///
/// It keeps out of corners where its tube could not turn round, unless it has to pass there.
pub(super) fn way(
    free: &[Region],
    from: Point,
    to: Point,
    gauge: Gauge,
    radius_m: f64,
    ahead: bool,
) -> Option<Vec<Point>> {
    let half = gauge.half_m;
    let slack = gauge.inset_m + 0.02;
    let along = |floors: &[Region]| {
        let away = |ring: &Ring| (ring.distance_m(from) - half).max(ring.distance_m(to) - half);
        let ring = floors.iter().map(Ring::of).min_by(|a, b| away(a).total_cmp(&away(b)))?;
        let is_near =
            ring.distance_m(from) < 1.5 * half + slack && ring.distance_m(to) < 1.6 * half + slack;
        is_near.then_some(ring)
    };
    let floors = clip::erode(free, half * TRIM);
    let ring = along(&clip::opening(&floors, radius_m)).or_else(|| along(&floors))?;
    let (a, b) = (ring.position_m(from), ring.position_m(to));
    let gone = if ahead { ring.ahead_m(a, b) } else { ring.ahead_m(b, a) };
    let mut points = vec![from];
    // A place just behind is reached at once, not the long way round.
    if gone < ring.length_m - 2.0 * half {
        let mut stretch = if ahead { ring.stretch(a, b) } else { ring.stretch(b, a) };
        if !ahead {
            stretch.reverse();
        }
        stretch.into_iter().for_each(|p| chain::push_new(&mut points, p));
    } else {
        chain::push_new(&mut points, ring.point_at(a));
    }
    chain::push_new(&mut points, to);
    Some(loosened(chain::thinned(&points, 1e-3), radius_m, ahead))
}
