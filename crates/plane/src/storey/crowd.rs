//! Whether strands of one field, or loops, lie too near each other.

use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::ops::Range;

use super::layout::Near;
use crate::chain;
use crate::path::Path;
use crate::point::{Point, segment_distance, segments_distance};

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

/// Loops that come within a distance of each other, each pair where it is nearest, but for places
/// near some stretches.
pub(super) fn near_each_other(
    paths: &[&Path],
    gap_m: f64,
    stretches: &[[Point; 2]],
    reach_m: f64,
) -> Vec<Near> {
    let is_apart = |p: Point| stretches.iter().all(|[a, b]| segment_distance(*a, *b, p) > reach_m);
    let mut all: Vec<(usize, [Point; 2])> = Vec::new();
    for (number, path) in paths.iter().enumerate() {
        let own = chords(path, &(0.0..f64::INFINITY)).into_iter().map(|c| c.ends);
        all.extend(own.filter(|[a, b]| is_apart(a.lerp(*b, 0.5))).map(|ends| (number, ends)));
    }
    all.sort_by(|a, b| a.1[0].x.total_cmp(&b.1[0].x));
    let mut near: BTreeMap<[usize; 2], Near> = BTreeMap::new();
    for (rank, (one, [a, b])) in all.iter().enumerate() {
        let (low, high) = (a.y.min(b.y) - gap_m, a.y.max(b.y) + gap_m);
        for (other, [c, d]) in all[rank + 1..].iter().take_while(|c| c.1[0].x <= b.x + gap_m) {
            let is_beside = one != other && c.y.min(d.y) <= high && c.y.max(d.y) >= low;
            if !is_beside {
                continue;
            }
            let away_m = segments_distance(*a, *b, *c, *d);
            if away_m < gap_m {
                let loops = [*one.min(other), *one.max(other)];
                let here = Near { loops, at: a.lerp(*b, 0.5), gap_m: away_m };
                let nearest = near.entry(loops).or_insert(here);
                if away_m < nearest.gap_m {
                    *nearest = here;
                }
            }
        }
    }
    near.into_values().collect()
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
    fn loops_side_by_side_are_near_but_for_a_stretch_where_they_start() {
        let line = |y: f64, to: f64| Path::rounded(&[Point::new(0.0, y), Point::new(to, y)], 0.08);
        let (one, near, far) = (line(0.0, 1.0), line(0.04, 1.0), line(0.1, 1.0));
        let ports = [[Point::new(0.0, 0.0), Point::new(0.0, 0.1)]];
        let found = near_each_other(&[&one, &near, &far], 0.05, &ports, 0.3);
        assert_eq!(found.iter().map(|near| near.loops).collect::<Vec<_>>(), [[0, 1]]);
        assert!((found[0].gap_m - 0.04).abs() < 1e-9 && found[0].at.x > 0.3);
        assert!(near_each_other(&[&one, &far], 0.05, &ports, 0.3).is_empty());
        assert!(near_each_other(&[&one, &near], 0.05, &ports, 1.1).is_empty());
    }

    #[test]
    fn strands_are_crowded_below_the_gap_and_only_within_the_stretch() {
        assert!(is_crowded(&hairpin(0.04), &(0.0..10.0), 0.08, 0.05));
        assert!(!is_crowded(&hairpin(0.06), &(0.0..10.0), 0.08, 0.05));
        assert!(!is_crowded(&hairpin(0.04), &(1.2..10.0), 0.08, 0.05));
    }
}
