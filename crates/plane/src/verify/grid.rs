//! Places sorted into square cells, to find those near another place.

use crate::point::Point;

/// Most cells along either side.
const MOST_CELLS: f64 = 2000.0;

/// Numbers of places by cell, row after row.
pub(super) struct Grid {
    low: Point,
    cell_m: f64,
    columns: usize,
    rows: usize,
    /// Where each cell begins in `numbers`, and the end of the last.
    starts: Vec<usize>,
    numbers: Vec<usize>,
}

impl Grid {
    /// Sorts places into cells of about that size; those that are not numbers are left out.
    pub(super) fn of(places: &[Point], cell_m: f64) -> Grid {
        let known = |p: &&Point| p.is_finite();
        let (low, high) =
            crate::region::bounds_of(&places.iter().filter(known).copied().collect::<Vec<Point>>());
        let extent = (high - low).x.max((high - low).y).max(0.0);
        let cell_m = cell_m.max(extent / MOST_CELLS).max(1e-3);
        let count = |length: f64| (length.max(0.0) / cell_m) as usize + 1;
        let (columns, rows) = (count(high.x - low.x), count(high.y - low.y));
        let mut grid = Grid {
            low,
            cell_m,
            columns,
            rows,
            starts: vec![0; columns * rows + 1],
            numbers: Vec::new(),
        };
        let mut entries: Vec<(usize, usize)> = Vec::with_capacity(places.len());
        for (number, p) in places.iter().enumerate().filter(|(_, p)| p.is_finite()) {
            entries.push((grid.row(p.y) * columns + grid.column(p.x), number));
        }
        entries.sort_unstable();
        for (cell, _) in &entries {
            grid.starts[cell + 1] += 1;
        }
        for cell in 1..grid.starts.len() {
            grid.starts[cell] += grid.starts[cell - 1];
        }
        grid.numbers = entries.into_iter().map(|(_, number)| number).collect();
        grid
    }

    /// Numbers of all places within reach, and of some beyond.
    pub(super) fn around(&self, p: Point, reach_m: f64) -> impl Iterator<Item = usize> + '_ {
        let columns = (self.column(p.x - reach_m), self.column(p.x + reach_m));
        let rows = self.row(p.y - reach_m)..=self.row(p.y + reach_m);
        rows.flat_map(move |row| {
            let first = self.starts[row * self.columns + columns.0];
            let last = self.starts[row * self.columns + columns.1 + 1];
            self.numbers[first..last].iter().copied()
        })
    }

    fn column(&self, x: f64) -> usize {
        // Casting clamps what lies before the first cell.
        (((x - self.low.x) / self.cell_m) as usize).min(self.columns - 1)
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.low.y) / self.cell_m) as usize).min(self.rows - 1)
    }
}
