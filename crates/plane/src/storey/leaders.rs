//! Leaders bent round their corners, bundle by bundle.

use super::curve;
use crate::clip::{self, Cap};
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

/// Strips wider than this on one side are bent each by itself, metres.
///
/// A wide bundle bent about one centre would leave a cold corner outside it.
const TIGHT_BUNDLE_M: f64 = 0.085;

/// Corners that turn less are no part of a bundle's bend, radians.
const LEAST_TURN_RAD: f64 = 0.2;

/// Chords of strips stay this near their arcs, metres.
///
/// Coarse, for every corner of a floor costs time when its loop is sought.
const STRIP_SAGITTA_M: f64 = 4e-3;

/// A corner of a leader.
struct Corner {
    leader: usize,
    number: usize,
    at: Point,
    /// Unit direction to the inner side of the bend.
    inner: Point,
    turn_rad: f64,
    /// Widths of strips inside this one in the same bend, metres.
    depth_m: Option<f64>,
}

/// Centrelines with every corner bent, tracks of one bundle about one centre.
pub(super) fn bent(leaders: &[Vec<Point>], half_m: f64, radius_m: &[f64]) -> Vec<Path> {
    let mut corners = Vec::new();
    for (leader, points) in leaders.iter().enumerate() {
        let turns = curve::turns(points);
        for number in 1..points.len().saturating_sub(1) {
            if turns[number].abs() < LEAST_TURN_RAD {
                continue;
            }
            let at = points[number];
            let inner = (points[number + 1] - at).unit() - (at - points[number - 1]).unit();
            let turn_rad = turns[number];
            corners.push(Corner {
                leader,
                number,
                at,
                inner: inner.unit(),
                turn_rad,
                depth_m: None,
            });
        }
    }
    if half_m < TIGHT_BUNDLE_M {
        for i in 0..corners.len() {
            depth(&mut corners, i, half_m, 0);
        }
    }
    let mut radii: Vec<Vec<f64>> = leaders
        .iter()
        .enumerate()
        .map(|(leader, points)| {
            vec![radius_m.get(leader).copied().unwrap_or(0.0) + half_m / 2.0; points.len()]
        })
        .collect();
    for corner in &corners {
        radii[corner.leader][corner.number] += corner.depth_m.unwrap_or(0.0);
    }
    let least = |leader: usize| radius_m.get(leader).copied().unwrap_or(0.0) + half_m / 2.0;
    let all = leaders.iter().zip(&radii).enumerate();
    all.map(|(number, (points, radii))| curve::rounded(points, radii, least(number))).collect()
}

/// Width of the strips that lie inside a corner in the same bend.
fn depth(corners: &mut [Corner], i: usize, half_m: f64, level: usize) -> f64 {
    if let Some(known) = corners[i].depth_m {
        return known;
    }
    let pitch = 2.0 * half_m / (corners[i].turn_rad / 2.0).cos().max(0.2);
    let mut best = 0.0_f64;
    for j in 0..corners.len() {
        let (here, other) = (&corners[i], &corners[j]);
        let step = other.at - here.at;
        let away = step.norm();
        let nested = other.leader != here.leader
            && (other.turn_rad - here.turn_rad).abs() < 0.2
            && (1e-6..1.25 * pitch).contains(&away)
            && step.dot(here.inner) > 0.9 * away;
        if nested && level < 100 {
            best = best.max(2.0 * half_m + depth(corners, j, half_m, level + 1));
        }
    }
    corners[i].depth_m = Some(best);
    best
}

/// The floor that a leader takes up on the way.
pub(super) fn strip(centreline: &Path, half_m: f64) -> Vec<Region> {
    clip::thick(&[centreline.chords(STRIP_SAGITTA_M)], half_m, Cap::Flat)
}

/// The same, reaching a little beyond both ends.
pub(super) fn overlapping_strip(centreline: &Path, half_m: f64) -> Vec<Region> {
    clip::thick(&[centreline.chords(STRIP_SAGITTA_M)], half_m, Cap::Square)
}
