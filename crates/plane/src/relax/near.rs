//! What lies near a stretch of tube: other strands, and the edges of the floor.

use super::bench::Bench;
use super::chords::{self, Cells, Chord};
use super::track::Stretch;
use crate::point::{Point, segment_distance, segments_distance};
use crate::region::{Region, bounds_of};

/// Edges of one fence near a stretch.
struct NearFence<'a> {
    ground: &'a [Region],
    edges: Vec<(Point, Point)>,
}

/// Everything within reach of a stretch of tube.
pub(super) struct Near<'a> {
    strand: usize,
    chords: Cells,
    fences: Vec<NearFence<'a>>,
    /// Places of one strand closer than this along it are not compared, metres.
    same_strand_m: f64,
}

impl<'a> Near<'a> {
    /// Gathers what is within `reach` of places of a strand, leaving out the stretch itself.
    pub(super) fn gather(
        bench: &Bench<'a>,
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
        let chords = bench.chords.iter().flatten();
        let chords = chords.filter(|c| is_near(c.a, c.b) && !inside(c)).copied().collect();
        let chords = Cells::new(chords, low, high);
        let fences = bench.fences.iter().map(|fence| NearFence {
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

    /// Distance from a piece to the nearest other strand, if below `reach`.
    pub(super) fn gap_m(&self, piece: &Chord, reach: f64) -> f64 {
        let mut least = reach;
        for row in self.chords.rows_near(piece, reach) {
            least = chords::nearest(row, piece, self.strand, least, self.same_strand_m);
        }
        least
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
