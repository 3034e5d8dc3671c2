//! Tube as short straight pieces, sorted into cells to find near ones quickly.

use crate::chain;
use crate::path::{Path, Segment};
use crate::point::{Point, segments_distance};

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

    pub(super) fn length_m(&self) -> f64 {
        self.a.distance(self.b)
    }
}

/// Short chords of pieces of tube that start at a distance along their strand.
pub(super) fn of(strand: usize, segments: &[Segment], start: f64) -> Vec<Chord> {
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

/// Distance from a piece of a strand to the nearest of some chords, if below `reach`.
pub(super) fn nearest(
    chords: &[Chord],
    piece: &Chord,
    strand: usize,
    reach: f64,
    same_strand_m: f64,
) -> f64 {
    let middle = piece.a.lerp(piece.b, 0.5);
    let half = piece.length_m() / 2.0;
    let mut least = reach;
    for chord in chords {
        if chord.strand == strand && piece.along_to(chord) < same_strand_m {
            continue;
        }
        let bound = least + half + chord.length_m() / 2.0;
        let between = chord.a.lerp(chord.b, 0.5) - middle;
        if between.dot(between) < bound * bound {
            least = least.min(segments_distance(piece.a, piece.b, chord.a, chord.b));
        }
    }
    least
}

/// Chords by the cell that their middle lies in, row by row.
pub(super) struct Cells {
    low: Point,
    columns: usize,
    rows: usize,
    chords: Vec<Chord>,
    /// Number of the first chord of every cell, and of the end.
    firsts: Vec<usize>,
}

/// Size of a cell, metres.
const CELL_M: f64 = 0.1;

impl Cells {
    pub(super) fn new(mut chords: Vec<Chord>, low: Point, high: Point) -> Cells {
        let count = |extent: f64| (extent / CELL_M).ceil().clamp(1.0, 200.0) as usize;
        let (columns, rows) = (count(high.x - low.x), count(high.y - low.y));
        let mut cells = Cells { low, columns, rows, chords: Vec::new(), firsts: Vec::new() };
        let mut firsts = vec![0; columns * rows + 1];
        for chord in &chords {
            if let Some(next) = firsts.get_mut(cells.cell_of(chord) + 1) {
                *next += 1;
            }
        }
        for cell in 1..firsts.len() {
            firsts[cell] += firsts[cell - 1];
        }
        chords.sort_by_cached_key(|chord| cells.cell_of(chord));
        cells.chords = chords;
        cells.firsts = firsts;
        cells
    }

    fn cell_of(&self, chord: &Chord) -> usize {
        let middle = chord.a.lerp(chord.b, 0.5);
        self.row(middle.y) * self.columns + self.column(middle.x)
    }

    fn column(&self, x: f64) -> usize {
        (((x - self.low.x) / CELL_M).max(0.0) as usize).min(self.columns - 1)
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.low.y) / CELL_M).max(0.0) as usize).min(self.rows - 1)
    }

    /// Runs of chords that may lie within `reach` of a piece.
    pub(super) fn rows_near(&self, piece: &Chord, reach: f64) -> impl Iterator<Item = &[Chord]> {
        let far = reach + LONGEST_M / 2.0;
        let (left, right) = (piece.a.x.min(piece.b.x) - far, piece.a.x.max(piece.b.x) + far);
        let (low, high) = (piece.a.y.min(piece.b.y) - far, piece.a.y.max(piece.b.y) + far);
        let (left, right) = (self.column(left), self.column(right));
        (self.row(low)..=self.row(high)).filter_map(move |row| {
            let first = *self.firsts.get(row * self.columns + left)?;
            let end = *self.firsts.get(row * self.columns + right + 1)?;
            self.chords.get(first..end)
        })
    }
}
