//! Whether strands of one field lie too near each other.

use std::f64::consts::PI;
use std::ops::Range;

use crate::chain;
use crate::path::Path;
use crate::point::{Point, segments_distance};

/// How far chords stay from arcs, metres.
const SAGITTA_M: f64 = 5e-4;

/// Longest chords, short beside the stretch that is not compared, metres.
const LONGEST_M: f64 = 0.1;

/// Places nearer along the tube, in half circles of its radius, are one strand or one bend.
const SAME_STRAND: f64 = 1.15;

/// A short straight piece of tube, its lesser end first, and how far along its middle lies.
struct Chord {
    ends: [Point; 2],
    along_m: f64,
}

/// Whether places of a stretch of tube come within a distance that are far apart along it.
///
/// The stretch is told by distances along the path.
pub(super) fn is_crowded(path: &Path, stretch: &Range<f64>, radius_m: f64, gap_m: f64) -> bool {
    let mut chords = chords(path, stretch);
    chords.sort_by(|a, b| a.ends[0].x.total_cmp(&b.ends[0].x));
    let same_strand_m = SAME_STRAND * PI * radius_m;
    chords.iter().enumerate().any(|(rank, one)| {
        let [a, b] = one.ends;
        let near = chords[rank + 1..].iter().take_while(|c| c.ends[0].x <= b.x + gap_m);
        near.filter(|c| (c.along_m - one.along_m).abs() > same_strand_m)
            .any(|c| segments_distance(a, b, c.ends[0], c.ends[1]) < gap_m)
    })
}

fn chords(path: &Path, stretch: &Range<f64>) -> Vec<Chord> {
    let mut found = Vec::new();
    let mut along_m = 0.0;
    for (a, b) in chain::edges(&path.chords(SAGITTA_M)) {
        let length_m = a.distance(b);
        let count = (length_m / LONGEST_M).ceil().clamp(1.0, 1e4);
        for k in 0..count as usize {
            let [from, to] = [k, k + 1].map(|k| k as f64 / count);
            let middle_m = along_m + length_m * (from + to) / 2.0;
            let (from, to) = (a.lerp(b, from), a.lerp(b, to));
            let ends = if from.x <= to.x { [from, to] } else { [to, from] };
            if stretch.contains(&middle_m) {
                found.push(Chord { ends, along_m: middle_m });
            }
        }
        along_m += length_m;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tube there and back, so far apart.
    fn hairpin(apart_m: f64) -> Path {
        let corners =
            [[0.0, 0.0], [2.0, 0.0], [2.0, 0.4], [1.0, 0.4], [1.0, apart_m], [0.0, apart_m]];
        let corners: Vec<Point> = corners.iter().map(|p| Point::new(p[0], p[1])).collect();
        Path::rounded(&corners, 0.08)
    }

    #[test]
    fn strands_are_crowded_below_the_gap_and_only_within_the_stretch() {
        assert!(is_crowded(&hairpin(0.04), &(0.0..10.0), 0.08, 0.05));
        assert!(!is_crowded(&hairpin(0.06), &(0.0..10.0), 0.08, 0.05));
        assert!(!is_crowded(&hairpin(0.04), &(1.2..10.0), 0.08, 0.05));
    }
}
