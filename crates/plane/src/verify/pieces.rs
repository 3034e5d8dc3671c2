//! Short straight pieces of tube, sorted into cells to find near ones quickly.

use crate::chain;
use crate::path::Path;
use crate::point::{Point, segment_distance};

/// How far chords stay from arcs, metres.
const SAGITTA_M: f64 = 1e-4;

/// Most pieces made of one layout.
const MOST_PIECES: f64 = 400_000.0;

/// A short straight piece of a path.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) path: usize,
    /// Number of the piece along its path.
    pub(super) order: usize,
    pub(super) a: Point,
    pub(super) b: Point,
    /// Distance of its middle from the start of the path, metres.
    pub(super) along: f64,
}

/// All pieces of a layout.
pub(super) struct Pieces {
    all: Vec<Piece>,
    longest: f64,
}

/// Pieces by cell; a piece is in every cell its surroundings touch.
pub(super) struct Lookup<'a> {
    pieces: &'a Pieces,
    cell: f64,
    /// Cell and piece number, sorted.
    entries: Vec<((i64, i64), usize)>,
}

impl Pieces {
    /// Cuts paths into pieces no longer than `longest`, leaving out non-numbers.
    pub(super) fn of(paths: &[Path], longest: f64) -> Pieces {
        let total: f64 = paths.iter().map(Path::length_m).filter(|l| l.is_finite()).sum();
        let longest = longest.max(total / MOST_PIECES);
        let mut all = Vec::new();
        for (path, tube) in paths.iter().enumerate() {
            let chords = tube.chords(SAGITTA_M);
            let (mut order, mut gone) = (0, 0.0);
            for (a, b) in chain::edges(&chords) {
                let length = a.distance(b);
                if !length.is_finite() || length == 0.0 {
                    continue;
                }
                let count = (length / longest).ceil().max(1.0);
                for k in 0..count as usize {
                    let (t, u) = (k as f64 / count, (k + 1) as f64 / count);
                    let along = gone + length * (t + u) / 2.0;
                    all.push(Piece { path, order, a: a.lerp(b, t), b: a.lerp(b, u), along });
                    order += 1;
                }
                gone += length;
            }
        }
        Pieces { all, longest }
    }

    /// All pieces, path after path.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Piece> {
        self.all.iter()
    }

    /// Every pair of pieces that may be within `reach`, each once, in order.
    pub(super) fn pairs_within(&self, reach: f64) -> Vec<(&Piece, &Piece)> {
        let lookup = self.lookup(reach / 2.0);
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for group in lookup.entries.chunk_by(|a, b| a.0 == b.0) {
            for (k, (_, i)) in group.iter().enumerate() {
                for (_, j) in &group[k + 1..] {
                    if self.boxes_near(*i, *j, reach) {
                        pairs.push((*i, *j));
                    }
                }
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        pairs.into_iter().map(|(i, j)| (&self.all[i], &self.all[j])).collect()
    }

    fn boxes_near(&self, i: usize, j: usize, reach: f64) -> bool {
        let (p, q) = (&self.all[i], &self.all[j]);
        let apart = |a: f64, b: f64, c: f64, d: f64| {
            a.max(b) + reach < c.min(d) || c.max(d) + reach < a.min(b)
        };
        !apart(p.a.x, p.b.x, q.a.x, q.b.x) && !apart(p.a.y, p.b.y, q.a.y, q.b.y)
    }

    /// Sorts the pieces into cells, each with `margin` around it.
    pub(super) fn lookup(&self, margin: f64) -> Lookup<'_> {
        let cell = self.longest.max(2.0 * margin).max(1e-3);
        let mut entries = Vec::with_capacity(2 * self.all.len());
        let index = |v: f64| (v / cell).floor() as i64;
        for (i, p) in self.all.iter().enumerate() {
            let xs = (index(p.a.x.min(p.b.x) - margin), index(p.a.x.max(p.b.x) + margin));
            let ys = (index(p.a.y.min(p.b.y) - margin), index(p.a.y.max(p.b.y) + margin));
            for x in xs.0..=xs.1 {
                for y in ys.0..=ys.1 {
                    entries.push(((x, y), i));
                }
            }
        }
        entries.sort_unstable();
        Lookup { pieces: self, cell, entries }
    }
}

impl Lookup<'_> {
    /// Whether a piece lies within `reach` of a place; at most the lookup's margin.
    pub(super) fn is_near(&self, p: Point, reach: f64) -> bool {
        let cell = ((p.x / self.cell).floor() as i64, (p.y / self.cell).floor() as i64);
        let first = self.entries.partition_point(|e| e.0 < cell);
        self.entries[first..].iter().take_while(|e| e.0 == cell).any(|(_, i)| {
            let piece = &self.pieces.all[*i];
            segment_distance(piece.a, piece.b, p) <= reach
        })
    }
}
