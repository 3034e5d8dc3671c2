//! Checks of finished tube that know nothing of how it was laid.
//!
//! Everything here works on [`Path`]s alone: arcs are replaced by chords that
//! stay within a tenth of a millimetre and compared piece by piece.

mod bays;
mod boards;
mod cover;
mod gaps;
mod grid;
mod ground;
mod pieces;
mod storey;
mod strands;
mod turns;

pub use bays::{BaysReport, bays};
pub use boards::{BoardsReport, boards};
pub use cover::Cover;
pub use gaps::{Gap, Gaps, WallGap};
pub use storey::{LoopReport, StoreyReport, TightBend, storey};

use crate::chain;
use crate::path::{Bend, Path, Segment};
use crate::point::{Point, nearest_share, segments_distance};
use crate::region::Region;
use pieces::{Piece, Pieces};

/// Pieces nearer than this touch, metres.
const TOUCH_M: f64 = 1e-7;

/// A place where tube meets tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Numbers of the two paths, equal if a path meets itself.
    pub paths: [usize; 2],
    /// Where they meet.
    pub at: Point,
}

/// The place where two strands come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closest {
    /// Numbers of the two paths, equal within one path.
    pub paths: [usize; 2],
    /// The nearest places, one on each strand.
    pub at: [Point; 2],
    /// Distance between tube centrelines there in metres.
    pub gap_m: f64,
}

/// A fault in the run of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The tube changes direction without an arc.
    Kink {
        /// Where.
        at: Point,
        /// Change of direction in radians, positive.
        angle_rad: f64,
    },
    /// A piece does not begin where the one before ended.
    Jump {
        /// Beginning of the piece.
        at: Point,
        /// Distance to the end of the piece before in metres.
        distance_m: f64,
    },
    /// Ends, centre, radius and turn of an arc contradict each other.
    FalseArc {
        /// Beginning of the arc.
        at: Point,
        /// How far the end is from where it should be, metres.
        error_m: f64,
    },
    /// A coordinate or size is not an ordinary number.
    NotANumber {
        /// Number of the piece.
        segment: usize,
    },
}

/// What a layout of one region has to keep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Places of the region within this distance of a tube are covered, metres.
    pub near_m: f64,
    /// Bends below this radius are listed, metres.
    pub bend_radius_m: f64,
    /// Strands of one path closer along the tube than this are not compared, metres.
    pub same_strand_m: f64,
}

/// All checks of the loops in one region.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// Places where tube meets tube.
    pub crossings: Vec<Crossing>,
    /// Closest approach of two different loops, if closer than half a metre.
    pub between_loops: Option<Closest>,
    /// Closest approach of a loop to itself, if closer than half a metre.
    pub within_loop: Option<Closest>,
    /// Length of tube outside the region in metres.
    pub outside_m: f64,
    /// Bends below the radius, path by path.
    pub tight_bends: Vec<Bend>,
    /// Kinks, jumps and contradictions, path by path.
    pub faults: Vec<Fault>,
    /// Share of the region near a tube, 0 to 1.
    pub covered_fraction: f64,
}

/// Runs all checks on the loops of one region.
pub fn check(paths: &[Path], region: &Region, limits: &Limits) -> Report {
    Report {
        crossings: crossings(paths),
        between_loops: closest_between(paths, 0.5),
        within_loop: closest_within(paths, 0.5, limits.same_strand_m),
        outside_m: paths.iter().map(|p| outside_m(p, region)).sum(),
        tight_bends: paths.iter().flat_map(|p| tight_bends(p, limits.bend_radius_m)).collect(),
        faults: paths.iter().flat_map(faults).collect(),
        covered_fraction: covered_fraction(paths, region, limits.near_m, limits.near_m / 5.0),
    }
}

/// All places where tube meets tube, between paths or within one.
///
/// Neighbouring pieces of one path meet at their common end; that does not
/// count. Paths with coordinates that are not numbers meet nothing.
pub fn crossings(paths: &[Path]) -> Vec<Crossing> {
    let pieces = Pieces::of(paths, 0.25);
    let mut found: Vec<Crossing> = Vec::new();
    for (p, q) in pieces.pairs_within(TOUCH_M) {
        if p.path == q.path && p.order.abs_diff(q.order) <= 1 {
            continue;
        }
        if segments_distance(p.a, p.b, q.a, q.b) <= TOUCH_M {
            let at = meeting(p, q);
            let paths = [p.path, q.path];
            // Contact beside the ends of pieces is found more than once.
            if !found.iter().any(|c| c.paths == paths && c.at.distance(at) < 1e-4) {
                found.push(Crossing { paths, at });
            }
        }
    }
    found
}

fn meeting(p: &Piece, q: &Piece) -> Point {
    match crate::point::crossing(p.a, p.b, q.a, q.b) {
        Some((t, _)) => p.a.lerp(p.b, t),
        None => nearest_places(p, q)[0],
    }
}

/// Nearest places of two pieces that do not cross.
fn nearest_places(p: &Piece, q: &Piece) -> [Point; 2] {
    let on =
        |piece: &Piece, from: Point| piece.a.lerp(piece.b, nearest_share(piece.a, piece.b, from));
    let pairs = [[p.a, on(q, p.a)], [p.b, on(q, p.b)], [on(p, q.a), q.a], [on(p, q.b), q.b]];
    let mut best = pairs[0];
    for pair in pairs {
        if pair[0].distance(pair[1]) < best[0].distance(best[1]) {
            best = pair;
        }
    }
    best
}

/// Closest approach of two different paths, if within `reach_m`.
pub fn closest_between(paths: &[Path], reach_m: f64) -> Option<Closest> {
    closest(paths, reach_m, |p, q| p.path != q.path)
}

/// Closest approach of a path to itself, if within `reach_m`.
///
/// Places closer than `same_strand_m` along the tube are not compared, since
/// they belong to one strand or one bend.
pub fn closest_within(paths: &[Path], reach_m: f64, same_strand_m: f64) -> Option<Closest> {
    closest(paths, reach_m, |p, q| p.path == q.path && (p.along - q.along).abs() > same_strand_m)
}

fn closest(
    paths: &[Path],
    reach_m: f64,
    compare: impl Fn(&Piece, &Piece) -> bool,
) -> Option<Closest> {
    let pieces = Pieces::of(paths, 0.02);
    let mut best: Option<Closest> = None;
    // Near places first: most layouts need not look far.
    for reach in [reach_m / 8.0, reach_m / 4.0, reach_m / 2.0, reach_m] {
        for (p, q) in pieces.pairs_within(reach) {
            if !compare(p, q) {
                continue;
            }
            let gap_m = segments_distance(p.a, p.b, q.a, q.b);
            if gap_m <= reach && best.is_none_or(|b| gap_m < b.gap_m) {
                best = Some(Closest { paths: [p.path, q.path], at: nearest_places(p, q), gap_m });
            }
        }
        if best.is_some() {
            break;
        }
    }
    best
}

/// Length of a path outside a region in metres.
///
/// A micrometre beyond the boundary still counts as inside.
pub fn outside_m(path: &Path, region: &Region) -> f64 {
    let chords = path.chords(1e-4);
    let mut outside = 0.0;
    for (a, b) in chain::edges(&chords) {
        let mut cuts = vec![0.0, 1.0];
        for (c, d) in region.edges() {
            cuts.extend(crate::point::crossing(a, b, c, d).map(|(t, _)| t));
        }
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            let middle = a.lerp(b, (pair[0] + pair[1]) / 2.0);
            let share = pair[1] - pair[0];
            if share > 1e-12 && !(region.encloses(middle) || near_edge(region, middle)) {
                outside += share * a.distance(b);
            }
        }
    }
    outside
}

fn near_edge(region: &Region, p: Point) -> bool {
    region.boundary_distance_m(p) <= 1e-6
}

/// Bends of a path below a radius in metres, by their arcs.
pub fn tight_bends(path: &Path, radius_m: f64) -> Vec<Bend> {
    path.bends().into_iter().filter(|b| b.radius_m < radius_m - 1e-9).collect()
}

/// Smallest radius along a path in metres, from three places at a time.
///
/// Does not use the radii recorded in the arcs: the circle through places
/// `step_m` apart along the tube. Infinite for straight tube.
pub fn least_sampled_radius_m(path: &Path, step_m: f64) -> f64 {
    let radii = turns::sampled(path, step_m).into_iter().map(|(_, radius_m)| radius_m);
    radii.fold(f64::INFINITY, f64::min)
}

/// Kinks above 0.3°, jumps above a micrometre and false arcs of a path.
pub fn faults(path: &Path) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut before: Option<&Segment> = None;
    for (number, segment) in path.segments.iter().enumerate() {
        if !is_finite(segment) {
            faults.push(Fault::NotANumber { segment: number });
            before = None;
            continue;
        }
        faults.extend(false_arc(segment));
        if let Some(before) = before {
            let distance_m = before.to().distance(segment.from());
            if distance_m > 1e-6 {
                faults.push(Fault::Jump { at: segment.from(), distance_m });
            }
            let angle_rad = before.direction_to().angle_to(segment.direction_from()).abs();
            if angle_rad > 0.3_f64.to_radians() {
                faults.push(Fault::Kink { at: segment.from(), angle_rad });
            }
        }
        before = Some(segment);
    }
    faults
}

fn is_finite(segment: &Segment) -> bool {
    let ends = segment.from().is_finite() && segment.to().is_finite();
    match *segment {
        Segment::Line { .. } => ends,
        Segment::Arc { centre, radius_m, turn_rad, .. } => {
            ends && centre.is_finite() && radius_m.is_finite() && turn_rad.is_finite()
        }
    }
}

fn false_arc(segment: &Segment) -> Option<Fault> {
    let Segment::Arc { from, to, centre, radius_m, .. } = *segment else { return None };
    let off_circle = (from.distance(centre) - radius_m).abs();
    let off_end = segment.point_at(segment.length_m()).distance(to);
    let error_m = off_circle.max(off_end);
    (error_m > 1e-6).then_some(Fault::FalseArc { at: from, error_m })
}

/// Share of a region within `near_m` of any path, by a grid of `pitch_m`.
///
/// Zero for sizes that are not positive numbers. The pitch is widened if the
/// grid would have more than four million points.
pub fn covered_fraction(paths: &[Path], region: &Region, near_m: f64, pitch_m: f64) -> f64 {
    if !(near_m > 0.0 && pitch_m > 0.0) {
        return 0.0;
    }
    let (low, high) = region.bounds();
    let extent = high - low;
    let pitch = pitch_m.max((extent.x * extent.y / 4e6).sqrt());
    let pieces = Pieces::of(paths, near_m.clamp(0.02, 0.5));
    let lookup = pieces.lookup(near_m);
    let (mut inside, mut covered) = (0_u64, 0_u64);
    let (columns, rows) = ((extent.x / pitch) as usize + 1, (extent.y / pitch) as usize + 1);
    for row in 0..rows {
        for column in 0..columns {
            let step = Point::new(column as f64 + 0.5, row as f64 + 0.5) * pitch;
            let p = low + step;
            if region.encloses(p) {
                inside += 1;
                covered += u64::from(lookup.is_near(p, near_m));
            }
        }
    }
    if inside == 0 { 0.0 } else { covered as f64 / inside as f64 }
}
