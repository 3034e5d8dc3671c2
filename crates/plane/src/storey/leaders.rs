//! Leaders bent round their corners, bundle by bundle.

use super::curve;
use crate::chain;
use crate::clip::{self, Cap};
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

/// Strips wider than this on one side are bent each by itself, metres.
///
/// A wide bundle bent about one centre would leave a cold corner outside it.
const TIGHT_BUNDLE_M: f64 = 0.085;

/// Corners that turn less are no part of a bundle's bend, radians.
///
/// Tracks whose corners all have one radius come no nearer there; only a wide turn takes less
/// floor about one centre.
const LEAST_TURN_RAD: f64 = 0.9;

/// Chords of strips stay this near their arcs, metres.
///
/// Coarse, for every corner of a floor costs time when its loop is sought.
const STRIP_SAGITTA_M: f64 = 4e-3;

/// Corners that lie off a straight piece by less are none, metres.
const STRAIGHT_M: f64 = 3e-4;

/// A corner of a leader.
struct Corner {
    leader: usize,
    number: usize,
    at: Point,
    /// Unit direction to the inner side of the bend.
    inward: Point,
    turn_rad: f64,
    /// The corner of the strip next inside this one in the same bend.
    inner: Option<usize>,
    /// Strips inside this one in the same bend, once counted.
    depth: Option<usize>,
}

/// Centrelines with every corner bent, tracks of one bundle about one centre.
///
/// A corner has the radius of its tube, or what its edges leave; one outside others has
/// theirs and their widths, so that strips which did not meet do not meet when bent.
pub(super) fn bent(leaders: &[Vec<Point>], half_m: f64, radius_m: &[f64]) -> Vec<Path> {
    let least: Vec<f64> = (0..leaders.len())
        .map(|leader| radius_m.get(leader).copied().unwrap_or(0.0) + half_m / 2.0)
        .collect();
    // Places on a straight piece, as at doors, would leave the bends before and after them less.
    let straight = |points: &Vec<Point>| chain::thinned(points, STRAIGHT_M);
    let eased = |(points, radius): (&Vec<Point>, &f64)| curve::eased(&straight(points), *radius);
    let leaders: Vec<Vec<Point>> = leaders.iter().zip(&least).map(eased).collect();
    let corners = corners(&leaders, half_m);
    let mut wanted: Vec<Vec<f64>> =
        leaders.iter().zip(&least).map(|(points, least)| vec![*least; points.len()]).collect();
    for corner in &corners {
        let depth = corner.depth.unwrap_or(0) as f64;
        wanted[corner.leader][corner.number] += 2.0 * half_m * depth;
    }
    let deepest = corners.iter().filter_map(|c| c.depth).max().unwrap_or(0);
    let mut radii: Vec<Vec<f64>> = Vec::new();
    // What is cut short inside cuts short what lies outside it, one strip a round.
    for _ in 0..=deepest {
        let all = leaders.iter().zip(&wanted).zip(&least);
        radii = all.map(|((points, radii), l)| curve::fitting(points, radii, *l)).collect();
        let mut is_cut = false;
        for corner in &corners {
            let Some(inner) = corner.inner.map(|i| &corners[i]) else { continue };
            let most = radii[inner.leader][inner.number] + 2.0 * half_m;
            let own = &mut wanted[corner.leader][corner.number];
            if *own > most + 1e-9 && radii[corner.leader][corner.number] > most + 1e-9 {
                *own = most;
                is_cut = true;
            }
        }
        if !is_cut {
            break;
        }
    }
    leaders.iter().zip(&radii).map(|(points, radii)| curve::rounded(points, radii)).collect()
}

/// The corners of all leaders; in tight bundles each knows what lies inside it.
fn corners(leaders: &[Vec<Point>], half_m: f64) -> Vec<Corner> {
    let mut corners = Vec::new();
    for (leader, points) in leaders.iter().enumerate() {
        let turns = curve::turns(points);
        for number in 1..points.len().saturating_sub(1) {
            let (at, turn_rad) = (points[number], turns[number]);
            if turn_rad.abs() >= LEAST_TURN_RAD {
                let inward = (points[number + 1] - at).unit() - (at - points[number - 1]).unit();
                let inward = inward.unit();
                corners.push(Corner {
                    leader,
                    number,
                    at,
                    inward,
                    turn_rad,
                    inner: None,
                    depth: None,
                });
            }
        }
    }
    if half_m < TIGHT_BUNDLE_M {
        for i in 0..corners.len() {
            depth(&mut corners, i, half_m, 0);
        }
    }
    corners
}

/// Number of strips that lie inside a corner in the same bend.
fn depth(corners: &mut [Corner], i: usize, half_m: f64, level: usize) -> usize {
    if let Some(known) = corners[i].depth {
        return known;
    }
    let pitch = 2.0 * half_m / (corners[i].turn_rad / 2.0).cos().max(0.2);
    let mut best: Option<(usize, usize)> = None;
    for j in 0..corners.len() {
        let (here, other) = (&corners[i], &corners[j]);
        let step = other.at - here.at;
        let away = step.norm();
        let nested = other.leader != here.leader
            && (other.turn_rad - here.turn_rad).abs() < 0.2
            && (1e-6..1.25 * pitch).contains(&away)
            && step.dot(here.inward) > 0.9 * away;
        if nested && level < 100 {
            let depth = 1 + depth(corners, j, half_m, level + 1);
            if best.is_none_or(|(most, _)| depth > most) {
                best = Some((depth, j));
            }
        }
    }
    corners[i].inner = best.map(|(_, j)| j);
    let depth = best.map_or(0, |(depth, _)| depth);
    corners[i].depth = Some(depth);
    depth
}

/// The floor that a leader takes up on the way.
pub(super) fn strip(centreline: &Path, half_m: f64) -> Vec<Region> {
    clip::thick(&[centreline.chords(STRIP_SAGITTA_M)], half_m, Cap::Flat)
}

/// The same, reaching a little beyond both ends.
pub(super) fn overlapping_strip(centreline: &Path, half_m: f64) -> Vec<Region> {
    clip::thick(&[centreline.chords(STRIP_SAGITTA_M)], half_m, Cap::Square)
}
