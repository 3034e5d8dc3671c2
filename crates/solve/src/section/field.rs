//! Temperatures of a whole section, and lines of equal temperature in it.

use std::collections::BTreeMap;

/// A straight piece of a line of equal temperature.
pub type Piece = [(f64, f64); 2];

/// Temperatures of the whole section on its finer grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Lines from left to right.
    pub x_m: Vec<f64>,
    /// Lines from the bottom up.
    pub y_m: Vec<f64>,
    /// Temperatures, row by row from the bottom; within a tube that of its surface.
    pub celsius: Vec<f64>,
}

impl Field {
    /// Temperature at a place, on a straight line between the nearest lines; `None` outside.
    pub fn celsius_at(&self, x_m: f64, y_m: f64) -> Option<f64> {
        let (i, right) = between(&self.x_m, x_m)?;
        let (j, high) = between(&self.y_m, y_m)?;
        let at = |i: usize, j: usize| self.celsius.get(j * self.x_m.len() + i).copied();
        let low = at(i, j)? * (1.0 - right) + at(i + 1, j)? * right;
        let top = at(i, j + 1)? * (1.0 - right) + at(i + 1, j + 1)? * right;
        Some(low * (1.0 - high) + top * high)
    }

    /// The line of one temperature, as straight pieces in no order, metres.
    ///
    /// Each cell is cut into two triangles, so a line never branches and ends only at the edge of
    /// the section.
    pub fn isotherm(&self, celsius: f64) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for (j, y) in self.y_m.windows(2).enumerate() {
            for (i, x) in self.x_m.windows(2).enumerate() {
                let place = |right: usize, high: usize| {
                    let at = (j + high) * self.x_m.len() + i + right;
                    let above = self.celsius.get(at).map_or(0.0, |t| t - celsius);
                    ((x[right], y[high]), above)
                };
                let (a, c) = (place(0, 0), place(1, 1));
                pieces.extend(crossing([a, place(1, 0), c]));
                pieces.extend(crossing([a, c, place(0, 1)]));
            }
        }
        pieces
    }

    /// The lines of one temperature, each from end to end or closed, metres.
    pub fn isolines(&self, celsius: f64) -> Vec<Vec<(f64, f64)>> {
        let pieces = self.isotherm(celsius);
        let long = |[a, b]: &Piece| step(*a) != step(*b);
        joined(&pieces.into_iter().filter(long).collect::<Vec<_>>())
    }
}

/// Places closer than this are one when pieces are joined, metres.
const SAME_M: f64 = 1e-7;

/// A place as whole steps, to be found again.
fn step((x_m, y_m): (f64, f64)) -> (i64, i64) {
    ((x_m / SAME_M).round() as i64, (y_m / SAME_M).round() as i64)
}

/// Pieces put end to end, in the order in which each line's first piece stands.
fn joined(pieces: &[Piece]) -> Vec<Vec<(f64, f64)>> {
    let mut at: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (number, piece) in pieces.iter().enumerate() {
        for end in piece {
            at.entry(step(*end)).or_default().push(number);
        }
    }
    let mut taken = vec![false; pieces.len()];
    let mut lines = Vec::new();
    for first in 0..pieces.len() {
        if std::mem::replace(&mut taken[first], true) {
            continue;
        }
        let mut line = std::collections::VecDeque::from(pieces[first]);
        for forward in [true, false] {
            loop {
                let end = if forward { line.back() } else { line.front() };
                let Some(here) = end.map(|end| step(*end)) else { break };
                let next = at.get(&here).and_then(|all| all.iter().find(|next| !taken[**next]));
                let Some(next) = next.copied() else { break };
                taken[next] = true;
                let [a, b] = pieces[next];
                let far = if step(a) == here { b } else { a };
                if forward { line.push_back(far) } else { line.push_front(far) }
            }
        }
        lines.push(line.into());
    }
    lines
}

/// A place and how far its temperature is above that of a line.
type Corner = ((f64, f64), f64);

/// Where a line crosses a triangle.
fn crossing(corners: [Corner; 3]) -> Option<Piece> {
    let [a, b, c] = corners;
    let warm = |corner: Corner| corner.1 >= 0.0;
    // The corner that lies alone on its side of the line.
    let (alone, others) = match (warm(a), warm(b), warm(c)) {
        (a, b, c) if a == b && b == c => return None,
        (x, y, z) if y == z && x != y => (a, [b, c]),
        (x, y, z) if x == z && y != x => (b, [a, c]),
        _ => (c, [a, b]),
    };
    Some(others.map(|other| {
        let share = alone.1 / (alone.1 - other.1);
        let between = |from: f64, to: f64| from + share * (to - from);
        (between(alone.0.0, other.0.0), between(alone.0.1, other.0.1))
    }))
}

/// The cell in which a place lies, and how far along it, from zero to one.
fn between(lines_m: &[f64], at_m: f64) -> Option<(usize, f64)> {
    let (first, last) = (lines_m.first()?, lines_m.last()?);
    if !(*first..=*last).contains(&at_m) {
        return None;
    }
    let cell = lines_m.partition_point(|line| *line <= at_m).clamp(1, lines_m.len() - 1) - 1;
    let (from, to) = (lines_m.get(cell)?, lines_m.get(cell + 1)?);
    Some((cell, (at_m - from) / (to - from)))
}
