//! Strands of a loop that come too close to each other.

use std::f64::consts::PI;

use crate::point::{Point, segments_distance};

/// Smallest distance between strands of a chain, at most `reach`.
///
/// Edges nearer than `same_strand` along the chain are one strand or one bend
/// and are not compared.
pub(super) fn least_gap(chain: &[Point], reach: f64, same_strand: f64) -> f64 {
    let mut along = vec![0.0];
    for w in chain.windows(2) {
        along.push(along[along.len() - 1] + w[0].distance(w[1]));
    }
    let mut least = reach;
    for i in 1..chain.len() {
        let (a, b) = (chain[i - 1], chain[i]);
        let (low_x, high_x) = (a.x.min(b.x) - reach, a.x.max(b.x) + reach);
        let (low_y, high_y) = (a.y.min(b.y) - reach, a.y.max(b.y) + reach);
        for j in i + 2..chain.len() {
            let (c, d) = (chain[j - 1], chain[j]);
            let apart = c.x.max(d.x) < low_x
                || c.x.min(d.x) > high_x
                || c.y.max(d.y) < low_y
                || c.y.min(d.y) > high_y;
            if !apart && along[j - 1] - along[i] > same_strand {
                least = least.min(segments_distance(a, b, c, d));
            }
        }
    }
    least
}

/// Corners of a chain that turn by more than an angle in radians.
pub(super) fn sharp_corners(chain: &[Point], angle: f64) -> usize {
    let turn = |w: &[Point]| (w[1] - w[0]).angle_to(w[2] - w[1]).abs();
    chain.windows(3).filter(|w| turn(w) > angle).count()
}

/// A chain whose corners that turn by more than an angle are cut off where their sides are
/// `width` apart, as far as the sides reach.
pub(super) fn blunted(chain: Vec<Point>, angle: f64, width: f64) -> Vec<Point> {
    if sharp_corners(&chain, angle) == 0 {
        return chain;
    }
    let mut blunt: Vec<Point> = chain.first().copied().into_iter().collect();
    for w in chain.windows(3) {
        let (back, ahead) = (w[0] - w[1], w[2] - w[1]);
        let wedge = ahead.angle_to(back).abs();
        let leg = width / 2.0 / (wedge / 2.0).sin().max(1e-9);
        if PI - wedge > angle && leg < LONGEST_LEG * back.norm().min(ahead.norm()) {
            blunt.extend([w[1] + back.unit() * leg, w[1] + ahead.unit() * leg]);
        } else {
            blunt.push(w[1]);
        }
    }
    blunt.extend(chain.last());
    blunt
}

/// Most of a side that is cut off with its corner; its other end may be cut too.
const LONGEST_LEG: f64 = 0.9;

/// Whether an open chain never meets itself, nor folds back over an edge.
pub(super) fn is_simple(chain: &[Point]) -> bool {
    sharp_corners(chain, 3.0) == 0
        && (1..chain.len()).all(|i| {
            let (a, b) = (chain[i - 1], chain[i]);
            (i + 2..chain.len()).all(|j| {
                let (c, d) = (chain[j - 1], chain[j]);
                let apart = c.x.max(d.x) < a.x.min(b.x)
                    || c.x.min(d.x) > a.x.max(b.x)
                    || c.y.max(d.y) < a.y.min(b.y)
                    || c.y.min(d.y) > a.y.max(b.y);
                apart || segments_distance(a, b, c, d) > 0.0
            })
        })
}
