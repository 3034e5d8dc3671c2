//! A large storing net reduced to a few time constants.

/// Off-diagonal entries below this share of the diagonal are taken as none.
const SETTLED: f64 = 1e-13;

/// Sweeps of rotations; a small matrix needs about eight.
const SWEEPS: usize = 40;

/// Time constants of a net and their basis.
#[derive(Debug, Clone)]
pub(crate) struct Modes {
    /// Time constants, seconds.
    pub(crate) constants_s: Vec<f64>,
    /// The mode of each, on all nodes, of length one by stored heat.
    pub(crate) shapes: Vec<Vec<f64>>,
}

impl Modes {
    /// The modes of `settle`, the temperatures that heat stored at given temperatures would come
    /// to if it were given off steadily, that `start` excites most (Lanczos 1950).
    pub(crate) fn of(
        capacity: &[f64],
        start: Vec<f64>,
        count: usize,
        settle: impl Fn(Vec<f64>) -> Vec<f64>,
    ) -> Self {
        let inner = |a: &[f64], b: &[f64]| -> f64 {
            capacity.iter().zip(a).zip(b).map(|((c, a), b)| c * a * b).sum()
        };
        let mut basis: Vec<Vec<f64>> = Vec::new();
        let mut images: Vec<Vec<f64>> = Vec::new();
        let mut next = start;
        let first = inner(&next, &next).sqrt();
        while basis.len() < count {
            // Twice is enough for arithmetic to lose nothing.
            for _ in 0..2 {
                for known in &basis {
                    let share = inner(known, &next);
                    next.iter_mut().zip(known).for_each(|(n, k)| *n -= share * k);
                }
            }
            let length = inner(&next, &next).sqrt();
            // What is left is noise once all that the start excites is found.
            let scale = images.last().map_or(first, |image| inner(image, image).sqrt());
            if length.is_nan() || length <= 1e-12 * scale {
                break;
            }
            next.iter_mut().for_each(|n| *n /= length);
            let image = settle(next.clone());
            basis.push(next);
            next = image.clone();
            images.push(image);
        }
        let matrix = basis.iter().map(|a| images.iter().map(|b| inner(a, b)).collect()).collect();
        let (constants_s, turns) = diagonal(matrix);
        let shape = |mode: usize| {
            let mut shape = vec![0.0; capacity.len()];
            for (vector, turn) in basis.iter().zip(&turns) {
                shape.iter_mut().zip(vector).for_each(|(s, v)| *s += turn[mode] * v);
            }
            shape
        };
        Self { shapes: (0..constants_s.len()).map(shape).collect(), constants_s }
    }
}

/// Eigenvalues of a small symmetric matrix, and its eigenvectors in columns (Jacobi 1846).
fn diagonal(mut matrix: Vec<Vec<f64>>) -> (Vec<f64>, Vec<Vec<f64>>) {
    let size = matrix.len();
    let mut turns: Vec<Vec<f64>> =
        (0..size).map(|i| (0..size).map(|j| f64::from(u8::from(i == j))).collect()).collect();
    for _ in 0..SWEEPS {
        let mut turned = false;
        for p in 0..size {
            for q in p + 1..size {
                let off = matrix[p][q];
                if off.abs() <= SETTLED * (matrix[p][p].abs() + matrix[q][q].abs()) {
                    continue;
                }
                turned = true;
                let theta = (matrix[q][q] - matrix[p][p]) / (2.0 * off);
                let tangent = theta.signum() / (theta.abs() + theta.hypot(1.0));
                let cosine = 1.0 / tangent.hypot(1.0);
                let sine = tangent * cosine;
                for row in matrix.iter_mut().chain(turns.iter_mut()) {
                    let (a, b) = (row[p], row[q]);
                    row[p] = cosine * a - sine * b;
                    row[q] = sine * a + cosine * b;
                }
                let (above, below) = matrix.split_at_mut(q);
                for (a, b) in above[p].iter_mut().zip(&mut below[0]) {
                    (*a, *b) = (cosine * *a - sine * *b, sine * *a + cosine * *b);
                }
            }
        }
        if !turned {
            break;
        }
    }
    ((0..size).map(|i| matrix[i][i]).collect(), turns)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_eigenvalues_of_a_chain() {
        // Second differences of five nodes: 2 − 2 cos(iπ/6), a closed form.
        let entry = |a: usize, b: usize| match a.abs_diff(b) {
            0 => 2.0,
            1 => -1.0,
            _ => 0.0,
        };
        let matrix = (0..5).map(|a| (0..5).map(|b| entry(a, b)).collect()).collect();
        let (mut values, _) = diagonal(matrix);
        values.sort_by(f64::total_cmp);
        for (i, value) in values.iter().enumerate() {
            let angle = (i + 1) as f64 * std::f64::consts::PI / 6.0;
            assert!((value - (2.0 - 2.0 * angle.cos())).abs() < 1e-12, "{value}");
        }
    }
}
