//! All strands while they are being bent.

use super::chords::{self, Chord};
use super::splice::{Freedom, Splice};
use super::track::{Stretch, Track};
use super::{Fence, Relaxed, Strand, Wishes};

/// Tight places within this many radii are laid anew together.
const JOIN: f64 = 1.5;

/// This many radii before and after a tight place may be laid anew with it.
const REACH: f64 = 3.0;

/// Radii and spacings beyond this are no floor heating, metres.
const LARGEST_M: f64 = 10.0;

/// Total lengths beyond this are no building, metres.
const LONGEST_M: f64 = 1e5;

/// Strands, their surroundings, and what is wished for.
pub(super) struct Bench<'a> {
    pub(super) fences: &'a [Fence<'a>],
    pub(super) wishes: &'a Wishes,
    strands: &'a [Strand],
    pub(super) tracks: Vec<Track>,
    pub(super) chords: Vec<Vec<Chord>>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(
        strands: &'a [Strand],
        fences: &'a [Fence<'a>],
        wishes: &'a Wishes,
    ) -> Bench<'a> {
        let tracks = strands.iter().map(|s| Track::new(s.path.segments.clone())).collect();
        Bench { fences, wishes, strands, tracks, chords: Vec::new() }
    }

    /// Whether all figures are such that tube can be bent by them.
    pub(super) fn is_usable(&self) -> bool {
        let size = |value: f64| value > 1e-3 && value < LARGEST_M;
        let wishes = self.wishes;
        let shares = wishes.least_gap_m >= 0.0 && wishes.field_gap >= 0.0;
        let total: f64 = self.tracks.iter().map(Track::length_m).sum();
        let fences = self.fences.iter().all(|f| f.clearance_m >= 0.0 && f.wanted_m >= 0.0);
        size(wishes.radius_m)
            && shares
            && fences
            && self.strands.iter().all(|s| size(s.spacing_m))
            && total < LONGEST_M
    }

    /// Bends all tight stretches, at first along the old tube, then more freely.
    pub(super) fn bend_all(&mut self) {
        let tracks = self.tracks.iter().enumerate();
        self.chords = tracks.map(|(n, t)| chords::of(n, &t.segments, 0.0)).collect();
        for freedom in [Freedom::Along, Freedom::Closely, Freedom::Aside] {
            for strand in 0..self.tracks.len() {
                self.bend(strand, freedom);
            }
        }
    }

    pub(super) fn spacing_m(&self, strand: usize) -> f64 {
        self.strands.get(strand).map_or(LARGEST_M, |s| s.spacing_m)
    }

    /// Bends the tight stretches of one strand in order.
    fn bend(&mut self, strand: usize, freedom: Freedom) {
        let mut done = 0.0;
        while let Some(track) = self.tracks.get(strand) {
            let Some((tight, window)) = self.next(track, done) else { return };
            let pieces = Splice::new(self, track, strand, tight, window, freedom).laid();
            match pieces {
                Some(pieces) => {
                    let (track, end) = track.spliced(window, pieces);
                    self.replace(strand, track);
                    done = end;
                }
                None => done = tight.to + 1e-6,
            }
        }
    }

    /// The next tight stretch beyond a distance, and what may be laid anew around it.
    fn next(&self, track: &Track, done: f64) -> Option<(Stretch, Stretch)> {
        let radius = self.wishes.radius_m;
        let all = track.tight(radius, JOIN * radius);
        let number = all.iter().position(|t| t.to > done)?;
        let tight = *all.get(number)?;
        let before = number.checked_sub(1).and_then(|n| all.get(n)).map_or(0.0, |t| t.to);
        let after = all.get(number + 1).map_or(track.length_m(), |t| t.from);
        let reach = REACH * radius;
        let window =
            Stretch { from: (tight.from - reach).max(before), to: (tight.to + reach).min(after) };
        Some((tight, window))
    }

    fn replace(&mut self, strand: usize, track: Track) {
        if let Some(chords) = self.chords.get_mut(strand) {
            *chords = chords::of(strand, &track.segments, 0.0);
        }
        if let Some(place) = self.tracks.get_mut(strand) {
            *place = track;
        }
    }

    pub(super) fn finished(self) -> Relaxed {
        let radius = self.wishes.radius_m;
        let tight = self.tracks.iter().map(|t| t.tight(radius, JOIN * radius).len()).sum();
        Relaxed { paths: self.tracks.into_iter().map(Track::into_path).collect(), tight }
    }
}
