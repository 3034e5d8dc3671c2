//! The slope on which leaders come back to the wall once others have gone through a door.

use super::hug::{Gauge, TRIM};
use super::net::Portal;
use crate::chain;
use crate::point::Point;
use crate::region::Region;

/// Steps in an edge below this are play between strips, metres.
const STEP_M: f64 = 2e-3;

/// How far back to the wall leaders slant, over how far they come back.
const SLANT: f64 = 2.0;

/// Pieces of floor without the steps that play between strips leaves.
pub(super) fn smoothed(pieces: Vec<Region>) -> Vec<Region> {
    let smooth = |ring: &[Point]| chain::thinned_ring(ring, STEP_M);
    pieces
        .into_iter()
        .map(|p| Region::trusted(smooth(p.outer()), p.holes().iter().map(|h| smooth(h)).collect()))
        .collect()
}

/// The wedge behind served leaders along which the next ones come back to the wall.
pub(super) fn slant(way: &[Point], depth_m: f64, gauge: Gauge, next: &Portal) -> Option<Region> {
    let [.., before, corner, foot] = way else { return None };
    let along = (*corner - *before).unit();
    let inward = (*corner - *foot).unit();
    if along.dot(inward).abs() > 0.3 {
        return None;
    }
    let middle = next.ends[0].lerp(next.ends[1], 0.5);
    let to_next = (next.ends[0] - *foot).dot(along).min((next.ends[1] - *foot).dot(along));
    // Only a next opening in the same wall limits the slant.
    let same_wall = (middle - *foot).dot(inward).abs() < 0.3 && to_next > 0.0;
    let mut length = SLANT * depth_m;
    if same_wall {
        length = length.min(to_next - gauge.half_m);
    }
    if length < depth_m {
        return None;
    }
    let start = *foot + along * (gauge.half_m * TRIM);
    let below = -inward * (gauge.inset_m + 0.05);
    let ring = vec![
        start + below - along * 1e-4,
        start + along * length + below,
        start + along * length + inward * gauge.inset_m,
        start + inward * (gauge.inset_m + depth_m) - along * 1e-4,
    ];
    Region::simple(ring).ok()
}
