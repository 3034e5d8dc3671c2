//! Lines of a grid along one axis: fine where the field bends, wide elsewhere.

/// Lines closer than this are one, metres: figures typed in whole micrometres may miss each
/// other by rounding.
const SAME_M: f64 = 2e-6;

/// Places at which the wanted cell size is asked in each stretch between two edges.
const SAMPLES: usize = 48;

/// No stretch is cut into more cells: far more than any grid may have.
const MOST_CELLS: f64 = 1e5;

/// Where lines must lie along an axis, and how fine the cells must be.
#[derive(Debug, Clone, Default)]
pub(super) struct Axis {
    /// Places that must be lines.
    edges_m: Vec<f64>,
    /// Places where the field bends, with the cell size wanted there.
    bends: Vec<(f64, f64)>,
    /// Stretches that take no lines but edges.
    whole: Vec<(f64, f64)>,
}

impl Axis {
    /// Asks for a line.
    pub(super) fn edge(&mut self, at_m: f64) {
        self.edges_m.push(at_m);
    }

    /// Asks for cells of that size at a place.
    pub(super) fn bend(&mut self, at_m: f64, size_m: f64) {
        self.bends.push((at_m, size_m));
    }

    /// Asks for no lines but edges between two places.
    pub(super) fn keep_whole(&mut self, from_m: f64, to_m: f64) {
        self.whole.push((from_m, to_m));
    }

    /// All edges in order, each once, within the axis from zero to its length.
    pub(super) fn edges_m(&self, length_m: f64) -> Vec<f64> {
        let inside = |at: &f64| *at > SAME_M && *at < length_m - SAME_M;
        let mut edges: Vec<f64> = self.edges_m.iter().copied().filter(inside).collect();
        edges.extend([0.0, length_m]);
        edges.sort_by(f64::total_cmp);
        edges.dedup_by(|a, b| *a - *b < SAME_M);
        edges
    }

    /// Lines from zero to the length, with cells that grow with the distance from bends by
    /// that rate up to the widest; all of them so many times that size.
    pub(super) fn lines_m(
        &self,
        length_m: f64,
        times: f64,
        growth: f64,
        widest_m: f64,
    ) -> Vec<f64> {
        let size = |at: f64| {
            let near = self.bends.iter().map(|(bend, size)| size + growth * (at - bend).abs());
            times * near.fold(widest_m, f64::min)
        };
        let edges = self.edges_m(length_m);
        let mut lines = vec![0.0];
        for pair in edges.windows(2) {
            let &[from, to] = pair else { continue };
            let middle = (from + to) / 2.0;
            if self.whole.iter().any(|(low, high)| *low < middle && middle < *high) {
                lines.push(to);
            } else {
                divide(from, to, &size, &mut lines);
            }
        }
        lines
    }
}

/// Divides a stretch so that its cells have about the sizes wanted.
fn divide(from: f64, to: f64, size: &impl Fn(f64) -> f64, lines: &mut Vec<f64>) {
    let step = (to - from) / SAMPLES as f64;
    let mut cells = [0.0; SAMPLES + 1];
    for i in 0..SAMPLES {
        cells[i + 1] = cells[i] + step / size(from + (i as f64 + 0.5) * step);
    }
    let total = cells[SAMPLES];
    // A stretch that is barely more than a number of cells does without one more.
    let count = (total - 0.2).ceil().clamp(1.0, MOST_CELLS);
    let mut sample = 0;
    for line in 1..count as usize {
        let wanted = total * line as f64 / count;
        while sample < SAMPLES && cells[sample + 1] < wanted {
            sample += 1;
        }
        let part = (wanted - cells[sample]) / (cells[sample + 1] - cells[sample]);
        lines.push(from + (sample as f64 + part) * step);
    }
    lines.push(to);
}
