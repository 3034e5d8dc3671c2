//! What lies near a stretch of tube: other strands, and the edges of the floor.

use super::Fence;
use super::track::Stretch;
use crate::chain;
use crate::path::{Path, Segment};
use crate::point::{Point, segment_distance, segments_distance};
use crate::region::{Region, bounds_of};

/// How far chords stay from arcs, metres.
const SAGITTA_M: f64 = 3e-4;

/// Length of the longest chords, short beside the stretch that is not compared, metres.
const LONGEST_M: f64 = 0.1;

/// A short straight piece of a strand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chord {
    pub(super) strand: usize,
    pub(super) a: Point,
    pub(super) b: Point,
    /// Distance of its middle from the start of its strand, metres.
    pub(super) along: f64,
    /// The same counted back from the end of the strand as it was: differs in longer ways.
    pub(super) along_back: f64,
}

impl Chord {
    /// Distance along their strand to another piece of it, metres.
    fn along_to(&self, other: &Chord) -> f64 {
        (self.along - other.along).max(other.along - self.along_back)
    }

    fn half(&self) -> f64 {
        self.a.distance(self.b) / 2.0
    }
}

/// Short chords of pieces of tube that start at a distance along their strand.
pub(super) fn chords_of(strand: usize, segments: &[Segment], start: f64) -> Vec<Chord> {
    let mut short = Vec::new();
    let mut along = start;
    for (a, b) in chain::edges(&Path { segments: segments.to_vec() }.chords(SAGITTA_M)) {
        let length = a.distance(b);
        let count = (length / LONGEST_M).ceil().clamp(1.0, 1e4);
        for k in 0..count as usize {
            let (from, to) = (k as f64 / count, (k + 1) as f64 / count);
            let middle = along + length * (from + to) / 2.0;
            let (a, b) = (a.lerp(b, from), a.lerp(b, to));
            short.push(Chord { strand, a, b, along: middle, along_back: middle });
        }
        along += length;
    }
    short
}

/// Edges of one fence near a stretch.
struct NearFence<'a> {
    ground: &'a [Region],
    edges: Vec<(Point, Point)>,
}

/// Everything within reach of a stretch of tube.
pub(super) struct Near<'a> {
    strand: usize,
    chords: Vec<Chord>,
    fences: Vec<NearFence<'a>>,
    /// Places of one strand closer than this along it are not compared, metres.
    same_strand_m: f64,
}

impl<'a> Near<'a> {
    /// Gathers what is within `reach` of places of a strand, leaving out the stretch itself.
    pub(super) fn gather(
        strands: &[Vec<Chord>],
        fences: &[Fence<'a>],
        strand: usize,
        stretch: Stretch,
        places: &[Point],
        reach: f64,
        same_strand_m: f64,
    ) -> Near<'a> {
        let (low, high) = bounds_of(places);
        let grow = Point::new(reach, reach);
        let (low, high) = (low - grow, high + grow);
        let is_near = |a: Point, b: Point| {
            a.x.min(b.x) <= high.x
                && a.x.max(b.x) >= low.x
                && a.y.min(b.y) <= high.y
                && a.y.max(b.y) >= low.y
        };
        let inside =
            |c: &Chord| c.strand == strand && stretch.overlaps(c.along - 1e-9, c.along + 1e-9);
        let chords = strands.iter().flatten();
        let chords = chords.filter(|c| is_near(c.a, c.b) && !inside(c)).copied().collect();
        let fences = fences.iter().map(|fence| NearFence {
            ground: fence.ground,
            edges: fence
                .ground
                .iter()
                .flat_map(Region::edges)
                .filter(|(a, b)| is_near(*a, *b))
                .collect(),
        });
        Near { strand, chords, fences: fences.collect(), same_strand_m }
    }

    pub(super) fn fence_count(&self) -> usize {
        self.fences.len()
    }

    /// Distance from a piece to the nearest other strand, if below `reach`.
    pub(super) fn gap_m(&self, piece: &Chord, reach: f64) -> f64 {
        nearest(&self.chords, piece, self.strand, reach, self.same_strand_m)
    }

    /// Distance from a piece to the boundary of a fence, negative outside it.
    pub(super) fn depth_m(&self, fence: usize, a: Point, b: Point, reach: f64) -> f64 {
        let Some(fence) = self.fences.get(fence) else { return reach };
        let middle = a.lerp(b, 0.5);
        let half = a.distance(b) / 2.0;
        let mut least = reach;
        for (c, d) in &fence.edges {
            if segment_distance(*c, *d, middle) < least + half {
                least = least.min(segments_distance(a, b, *c, *d));
            }
        }
        // Only at the boundary itself is it a question on which side a piece lies.
        let outside = || !fence.ground.iter().any(|g| g.contains(middle));
        if least < 1e-3 && outside() { -1.0 } else { least }
    }
}

/// Distance from a piece of a strand to the nearest of some chords, if below `reach`.
pub(super) fn nearest(
    chords: &[Chord],
    piece: &Chord,
    strand: usize,
    reach: f64,
    same_strand_m: f64,
) -> f64 {
    let middle = piece.a.lerp(piece.b, 0.5);
    let half = piece.half();
    let mut least = reach;
    for chord in chords {
        if chord.strand == strand && piece.along_to(chord) < same_strand_m {
            continue;
        }
        let bound = least + half + chord.half();
        let between = chord.a.lerp(chord.b, 0.5) - middle;
        if between.dot(between) < bound * bound {
            least = least.min(segments_distance(piece.a, piece.b, chord.a, chord.b));
        }
    }
    least
}
