//! Bends that the tube allows.
//!
//! Tube that follows the edge of a band one spacing wide turns back in half the
//! spacing, which most tube does not allow. Here every stretch that is bent too
//! tight is laid anew with arcs of the allowed radius: a turn becomes a bulb, a
//! short jog a gentle slope. What is bent well stays exactly as it is.
//!
//! A stretch is laid anew by choosing places of the old tube that the new one
//! passes in the old direction, and the best curve of two or three arcs between
//! one such place and the next ([`ways`]). Near the old tube, clear of all other
//! tube and of the edges of the floor, and turned as little as possible is best.

mod near;
mod splice;
mod table;
mod track;
mod ways;

use crate::path::Path;
use crate::region::Region;
use near::Chord;
use splice::Splice;
use track::{Stretch, Track};

/// Where tube may lie.
#[derive(Clone, Copy, Debug)]
pub struct Fence<'a> {
    /// The floor, pieces that do not touch each other.
    pub ground: &'a [Region],
    /// Least distance of tube from the edge of the floor, metres.
    ///
    /// Where it is nearer at first it comes no nearer still.
    pub clearance_m: f64,
    /// Distance from the edge that is kept where no bend needs the room, metres.
    pub wanted_m: f64,
}

/// A run of tube to be bent, crossing neither itself nor another.
#[derive(Clone, Debug, PartialEq)]
pub struct Strand {
    /// The tube, of which place and direction of both ends stay.
    pub path: Path,
    /// Distance to neighbouring strands that is meant, metres.
    pub spacing_m: f64,
}

/// What bends and gaps should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wishes {
    /// Smallest radius of bends, metres.
    pub radius_m: f64,
    /// Least distance between strands, centre to centre, metres.
    ///
    /// Where they are nearer at first they come no nearer still.
    pub least_gap_m: f64,
    /// Share of the spacing that is kept where no bend needs the room, about 0.67.
    pub field_gap: f64,
}

/// Tube bent anew.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Relaxed {
    /// The strands in their order.
    pub paths: Vec<Path>,
    /// Stretches that could not be bent anew and are as tight as before.
    pub tight: usize,
}

/// Most times that all stretches are gone through.
const ROUNDS: usize = 3;

/// Bends every tight stretch of tube anew where there is room for it.
///
/// Figures that are not positive numbers leave the tube as it is.
pub fn relaxed(strands: &[Strand], fences: &[Fence<'_>], wishes: &Wishes) -> Relaxed {
    let radius = wishes.radius_m;
    let tracks = strands.iter().map(|s| Track::new(s.path.segments.clone())).collect();
    let mut bench = Bench { strands, fences, wishes, tracks, chords: Vec::new() };
    let usable = radius > 0.0 && radius < 10.0 && wishes.least_gap_m >= 0.0;
    if !usable || bench.tracks.iter().any(|t| !t.length_m().is_finite()) {
        return bench.finished();
    }
    bench.chords = bench
        .tracks
        .iter()
        .enumerate()
        .map(|(n, t)| near::chords_of(n, &t.segments, 0.0))
        .collect();
    for round in 0..ROUNDS {
        let mut left = 0;
        for strand in 0..strands.len() {
            left += bench.bend(strand, round);
        }
        if left == 0 {
            break;
        }
    }
    bench.finished()
}

/// All strands while they are being bent.
struct Bench<'a> {
    strands: &'a [Strand],
    fences: &'a [Fence<'a>],
    wishes: &'a Wishes,
    tracks: Vec<Track>,
    chords: Vec<Vec<Chord>>,
}

impl Bench<'_> {
    /// Bends the tight stretches of one strand; tells how many are left.
    fn bend(&mut self, strand: usize, round: usize) -> usize {
        let radius = self.wishes.radius_m;
        let mut done = 0.0;
        let mut left = 0;
        loop {
            let Some(track) = self.tracks.get(strand) else { return left };
            let tight = track.tight(radius, JOIN * radius * (1 + round) as f64);
            let Some(number) = tight.iter().position(|t| t.to > done || t.from >= done) else {
                return left;
            };
            let cluster = tight[number];
            let before = if number > 0 { tight[number - 1].to } else { 0.0 };
            let after = tight.get(number + 1).map_or(track.length_m(), |t| t.from);
            let reach = REACH * radius * (1 + round) as f64;
            let window = Stretch {
                from: (cluster.from - reach).max(before),
                to: (cluster.to + reach).min(after),
            };
            let splice = Splice::new(
                track,
                &self.chords,
                self.fences,
                self.wishes,
                self.strands[strand].spacing_m,
                strand,
                cluster,
                window,
            );
            match splice.laid() {
                Some(pieces) => {
                    let (segments, end) = spliced(track, window, pieces);
                    let track = Track::new(segments);
                    self.chords[strand] = near::chords_of(strand, &track.segments, 0.0);
                    self.tracks[strand] = track;
                    done = end;
                }
                None => {
                    left += 1;
                    done = cluster.to + 1e-6;
                }
            }
        }
    }

    fn finished(self) -> Relaxed {
        let radius = self.wishes.radius_m;
        let tight = self.tracks.iter().map(|t| t.tight(radius, JOIN * radius).len()).sum();
        Relaxed { paths: self.tracks.into_iter().map(Track::into_path).collect(), tight }
    }
}

/// Tight places within this many radii are laid anew together.
const JOIN: f64 = 1.5;

/// This many radii before and after a tight place may be laid anew with it.
const REACH: f64 = 3.0;

/// A track with a window replaced, and where the replacement ends.
fn spliced(
    track: &Track,
    window: Stretch,
    pieces: Vec<crate::path::Segment>,
) -> (Vec<crate::path::Segment>, f64) {
    let mut segments = Vec::with_capacity(track.segments.len() + pieces.len());
    track.append_between(0.0, window.from, &mut segments);
    segments.extend(pieces);
    let end = segments.iter().map(crate::path::Segment::length_m).sum();
    track.append_between(window.to, track.length_m(), &mut segments);
    (joined(segments), end)
}

/// Segments with neighbours on one line or circle made one.
fn joined(segments: Vec<crate::path::Segment>) -> Vec<crate::path::Segment> {
    use crate::path::Segment::{Arc, Line};
    let mut out: Vec<crate::path::Segment> = Vec::with_capacity(segments.len());
    for segment in segments {
        let one = match (out.last(), &segment) {
            (Some(Line { from, to }), Line { to: end, .. }) => {
                let (before, after) = (*to - *from, *end - *to);
                let straight = before.cross(after).abs() <= 1e-9 * (before.norm() + after.norm())
                    && before.dot(after) > 0.0;
                straight.then_some(Line { from: *from, to: *end })
            }
            (
                Some(Arc { from, centre, radius_m, turn_rad, .. }),
                Arc { to, centre: c, radius_m: r, turn_rad: t, .. },
            ) => {
                let same = centre.distance(*c) < 1e-7
                    && (radius_m - r).abs() < 1e-7
                    && turn_rad * t > 0.0
                    && (turn_rad + t).abs() < 6.0;
                same.then_some(Arc {
                    from: *from,
                    to: *to,
                    centre: *centre,
                    radius_m: *radius_m,
                    turn_rad: turn_rad + t,
                })
            }
            _ => None,
        };
        match one {
            Some(one) => {
                out.pop();
                out.push(one);
            }
            None => out.push(segment),
        }
    }
    out
}
