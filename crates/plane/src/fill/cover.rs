//! How near the tube is everywhere, on a grid of points.

use crate::point::Point;
use crate::region::Region;

/// Regular grid of points that lie in a region.
pub(super) struct Grid {
    low: Point,
    pitch: f64,
    columns: usize,
    rows: usize,
    inside: Vec<bool>,
    count: usize,
}

/// Distances from grid points to the tube, capped.
pub(super) struct Distances<'a> {
    grid: &'a Grid,
    square_metres: Vec<f64>,
}

impl Grid {
    /// Points at a pitch in metres that lie in the regions.
    ///
    /// The grid is centred in the region, so that mirrored regions get mirrored
    /// grids.
    pub(super) fn over(region: &Region, pitch: f64) -> Grid {
        let (low, high) = region.bounds();
        let columns = ((high.x - low.x) / pitch).floor() as usize + 1;
        let rows = ((high.y - low.y) / pitch).floor() as usize + 1;
        let margin = |extent: f64, n: usize| (extent - (n - 1) as f64 * pitch) / 2.0;
        let low = Point::new(
            low.x + margin(high.x - low.x, columns),
            low.y + margin(high.y - low.y, rows),
        );
        let mut grid =
            Grid { low, pitch, columns, rows, inside: vec![false; columns * rows], count: 0 };
        for row in 0..rows {
            grid.fill_row(region, row);
        }
        grid.count = grid.inside.iter().filter(|i| **i).count();
        grid
    }

    /// Marks the points of one row between successive crossings with the edges.
    fn fill_row(&mut self, region: &Region, row: usize) {
        let y = self.low.y + row as f64 * self.pitch;
        let mut cuts: Vec<f64> = region
            .edges()
            .filter(|(a, b)| (a.y > y) != (b.y > y))
            .map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
            .collect();
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.chunks_exact(2) {
            let first = ((pair[0] - self.low.x) / self.pitch).ceil().max(0.0) as usize;
            for column in first..self.columns {
                if self.low.x + column as f64 * self.pitch > pair[1] {
                    break;
                }
                self.inside[row * self.columns + column] = true;
            }
        }
    }

    /// Distance of every point to a chain, exact up to `reach` metres.
    pub(super) fn distances(&self, chain: &[Point], reach: f64) -> Distances<'_> {
        let mut square_metres = vec![reach * reach; self.inside.len()];
        for w in chain.windows(2) {
            self.stamp(&mut square_metres, w[0], w[1], reach);
        }
        Distances { grid: self, square_metres }
    }

    fn stamp(&self, squares: &mut [f64], a: Point, b: Point, reach: f64) {
        let span = |low: f64, high: f64, origin: f64, n: usize| {
            let first = ((low - reach - origin) / self.pitch).ceil().max(0.0) as usize;
            let last = ((high + reach - origin) / self.pitch).floor();
            let end = if last < 0.0 { 0 } else { (last as usize + 1).min(n) };
            (first.min(end), end)
        };
        let along = b - a;
        let scale = if a == b { 0.0 } else { 1.0 / along.dot(along) };
        let rows = span(a.y.min(b.y), a.y.max(b.y), self.low.y, self.rows);
        // Long slanted edges would visit their whole box, so row by row.
        for row in rows.0..rows.1 {
            let y = self.low.y + row as f64 * self.pitch;
            let (from, to) = x_range(a, b, y - reach, y + reach);
            let columns = span(from, to, self.low.x, self.columns);
            let cells = row * self.columns + columns.0..row * self.columns + columns.1;
            let first = Point::new(self.low.x + columns.0 as f64 * self.pitch, y) - a;
            // Shares along the segment grow evenly from column to column.
            let (mut share, step) = (first.dot(along) * scale, self.pitch * along.x * scale);
            let mut off = first;
            for square in &mut squares[cells] {
                let t = share.clamp(0.0, 1.0);
                let (dx, dy) = (off.x - along.x * t, off.y - along.y * t);
                *square = square.min(dx * dx + dy * dy);
                share += step;
                off.x += self.pitch;
            }
        }
    }
}

/// Range of x of the part of a segment between two heights.
fn x_range(a: Point, b: Point, low: f64, high: f64) -> (f64, f64) {
    if (a.y - b.y).abs() < 1e-12 {
        return (a.x.min(b.x), a.x.max(b.x));
    }
    let x = |y: f64| a.lerp(b, ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0)).x;
    let (p, q) = (x(low), x(high));
    (p.min(q), p.max(q))
}

impl Distances<'_> {
    /// Share of the points farther than `limit` metres from the chain.
    pub(super) fn share_beyond(&self, limit: f64) -> f64 {
        self.mean(|d| if d > limit { 1.0 } else { 0.0 })
    }

    /// Mean of a measure of the distance over all points, zero without points.
    pub(super) fn mean(&self, measure: impl Fn(f64) -> f64) -> f64 {
        let inside =
            self.grid.inside.iter().zip(&self.square_metres).filter(|(inside, _)| **inside);
        let sum: f64 = inside.map(|(_, d)| measure(d.sqrt())).sum();
        sum / (self.grid.count.max(1)) as f64
    }
}
