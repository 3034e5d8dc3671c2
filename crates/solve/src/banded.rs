//! Symmetric positive definite matrices with a narrow band.
//!
//! Nodes of a grid that are numbered along its shorter side couple only to near
//! numbers, so the factor needs no more room than the matrix.

/// Pivots taken together: each row is read and written once for all of them.
const BLOCK: usize = 4;

/// A symmetric matrix of which only the diagonal and the band above it are kept.
#[derive(Debug, Clone)]
pub(crate) struct Banded {
    size: usize,
    /// Entries of a row from the diagonal on.
    width: usize,
    rows: Vec<f64>,
}

/// The factor `Lᵀ` of a matrix `L·D·Lᵀ`, with `D` on its diagonal.
#[derive(Debug, Clone)]
pub(crate) struct Factor(Banded);

impl Banded {
    /// A matrix of zeros whose entries lie at most `reach` off the diagonal.
    pub(crate) fn zeros(size: usize, reach: usize) -> Self {
        let width = reach + 1;
        Self { size, width, rows: vec![0.0; size * width] }
    }

    /// Adds to the entry of both `(a, b)` and `(b, a)`.
    pub(crate) fn add(&mut self, a: usize, b: usize, value: f64) {
        let (row, column) = (a.min(b), a.max(b));
        debug_assert!(column - row < self.width);
        self.rows[row * self.width + column - row] += value;
    }

    /// Factors the matrix; `None` where it is not positive definite.
    pub(crate) fn factor(mut self) -> Option<Factor> {
        let (size, width) = (self.size, self.width);
        let mut block = 0;
        while block < size {
            let end = (block + BLOCK).min(size);
            for pivot in block..end {
                let (above, below) = self.rows.split_at_mut((pivot + 1) * width);
                let row = &above[pivot * width..];
                if !(row[0] > 0.0 && row[0].is_finite()) {
                    return None;
                }
                for (offset, target) in below.chunks_exact_mut(width).enumerate() {
                    if pivot + 1 + offset >= end || offset + 1 >= width {
                        break;
                    }
                    subtract(target, &row[offset + 1..], row[offset + 1] / row[0]);
                }
            }
            let (above, below) = self.rows.split_at_mut(end * width);
            // Only the last block can be short, and no rows lie below it.
            if end - block == BLOCK {
                eliminate(&above[block * width..], below, width);
            }
            block = end;
        }
        for row in self.rows.chunks_exact_mut(width) {
            let pivot = row[0];
            row[1..].iter_mut().for_each(|entry| *entry /= pivot);
        }
        Some(Factor(self))
    }
}

/// Takes a block of pivot rows off the rows below it.
fn eliminate(pivots: &[f64], below: &mut [f64], width: usize) {
    let rows: [&[f64]; BLOCK] = std::array::from_fn(|i| &pivots[i * width..(i + 1) * width]);
    for (offset, target) in below.chunks_exact_mut(width).enumerate() {
        // The last pivot reaches farthest; the others end up to three entries earlier.
        let reach: [usize; BLOCK] = std::array::from_fn(|i| BLOCK - i + offset);
        if reach[BLOCK - 1] >= width {
            break;
        }
        if reach[0] >= width {
            for i in 1..BLOCK {
                if reach[i] < width {
                    let row = rows[i];
                    subtract(target, &row[reach[i]..], row[reach[i]] / row[0]);
                }
            }
            continue;
        }
        let common = width - reach[0];
        let [a, b, c, d]: [&[f64]; BLOCK] =
            std::array::from_fn(|i| &rows[i][reach[i]..reach[i] + common]);
        let [fa, fb, fc, fd]: [f64; BLOCK] =
            std::array::from_fn(|i| rows[i][reach[i]] / rows[i][0]);
        let all = target[..common].iter_mut().zip(a).zip(b).zip(c).zip(d);
        for ((((t, a), b), c), d) in all {
            *t -= fa * a + fb * b + fc * c + fd * d;
        }
        for (i, f) in [fb, fc, fd].into_iter().enumerate() {
            let rest = &rows[i + 1][reach[i + 1] + common..];
            subtract(&mut target[common..], rest, f);
        }
    }
}

/// `target -= factor · row`, as far as the row goes.
fn subtract(target: &mut [f64], row: &[f64], factor: f64) {
    if factor != 0.0 {
        target.iter_mut().zip(row).for_each(|(t, r)| *t -= factor * r);
    }
}

impl Factor {
    /// Solves for one right side, in place.
    pub(crate) fn solve(&self, x: &mut [f64]) {
        let Banded { size, width, rows } = &self.0;
        for (i, row) in rows.chunks_exact(*width).enumerate() {
            let value = x[i];
            if value != 0.0 {
                subtract(&mut x[i + 1..], &row[1..], value);
            }
        }
        for i in (0..*size).rev() {
            let row = &rows[i * width..(i + 1) * width];
            let known: f64 = row[1..].iter().zip(&x[i + 1..]).map(|(r, x)| r * x).sum();
            x[i] = x[i] / row[0] - known;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A matrix of that size and reach with a heavy diagonal, and its full form.
    fn matrix(size: usize, reach: usize) -> (Banded, Vec<Vec<f64>>) {
        let mut banded = Banded::zeros(size, reach);
        let entry = |a: usize, b: usize| match a.abs_diff(b) {
            0 => 9.0,
            off if off <= reach => ((a.min(b) * 7 + a.max(b) * 3) % 5) as f64 / 4.0 - 0.5,
            _ => 0.0,
        };
        for a in 0..size {
            for b in a..size.min(a + reach + 1) {
                banded.add(a, b, entry(a, b));
            }
        }
        let full = (0..size).map(|a| (0..size).map(|b| entry(a, b)).collect()).collect();
        (banded, full)
    }

    #[test]
    fn solves_what_it_multiplies() {
        for (size, reach) in [(1, 0), (2, 1), (5, 3), (9, 8), (23, 4), (24, 7), (31, 12)] {
            let (banded, full) = matrix(size, reach);
            let truth: Vec<f64> = (0..size).map(|i| 1.0 + (i % 4) as f64).collect();
            let mut x: Vec<f64> =
                full.iter().map(|row| row.iter().zip(&truth).map(|(a, b)| a * b).sum()).collect();
            banded.factor().expect("positive definite").solve(&mut x);
            for (found, expected) in x.iter().zip(&truth) {
                assert!((found - expected).abs() < 1e-12, "{size} {reach}: {found} {expected}");
            }
        }
    }

    #[test]
    fn refuses_a_matrix_that_is_not_positive() {
        let mut banded = Banded::zeros(2, 1);
        banded.add(0, 0, 1.0);
        banded.add(1, 1, 1.0);
        banded.add(0, 1, 2.0);
        assert!(banded.factor().is_none());
    }
}
