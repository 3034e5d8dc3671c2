//! Floor as small squares, each with the tube that is nearest to it.

use super::Station;
use crate::point::Point;
use crate::region::Region;

/// Most squares of a grid: floor of 2,500 m² at 25 mm.
const CELLS_MOST: f64 = 4e6;

/// A grid of squares over a plan, row by row from the bottom, each row from the left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Lower left corner of the first square.
    pub low: Point,
    /// Side of a square, metres.
    pub step_m: f64,
    /// Squares in a row.
    pub columns: usize,
    /// Rows.
    pub rows: usize,
}

/// The tube nearest to a square of floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// Its station, by number.
    pub station: u32,
    /// How far it is from the middle of the square to that of the tube, metres.
    pub away_m: f32,
    /// Whether the square lies to the left of the tube.
    pub is_left: bool,
}

impl Grid {
    /// The grid over a box; coarser where that would make more than four million squares, none
    /// for a box or a step that is not a building's.
    pub fn over(low: Point, high: Point, step_m: f64) -> Option<Grid> {
        let (wide_m, high_m) = (high.x - low.x, high.y - low.y);
        let sane = step_m > 0.0 && wide_m > 0.0 && high_m > 0.0;
        if !(sane && wide_m.is_finite() && high_m.is_finite() && low.is_finite()) {
            return None;
        }
        let step_m =
            step_m.max((wide_m * high_m / CELLS_MOST).sqrt()).max(wide_m.max(high_m) / 1e6);
        let count = |m: f64| (m / step_m - 1e-9).ceil().max(1.0) as usize;
        Some(Grid { low, step_m, columns: count(wide_m), rows: count(high_m) })
    }

    /// Number of squares.
    pub fn len(&self) -> usize {
        self.columns * self.rows
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Area of a square, square metres.
    pub fn cell_m2(&self) -> f64 {
        self.step_m * self.step_m
    }

    /// Middle of a square, by its number.
    pub fn middle(&self, cell: usize) -> Point {
        let columns = self.columns.max(1);
        let (row, column) = (cell / columns, cell % columns);
        self.low + Point::new(column as f64 + 0.5, row as f64 + 0.5) * self.step_m
    }

    /// The squares whose middles lie within a span, as a range of columns or rows.
    fn within(&self, from_m: f64, to_m: f64, low_m: f64, count: usize) -> std::ops::Range<usize> {
        let place = |m: f64| ((m - low_m) / self.step_m - 0.5).ceil().max(0.0) as usize;
        place(from_m).min(count)..place(to_m).min(count)
    }

    /// For each square the region in which its middle lies, by number; the first where several do.
    pub fn regions(&self, regions: &[&Region]) -> Vec<Option<u16>> {
        let mut inside = vec![None; self.len()];
        for (number, region) in regions.iter().enumerate().rev() {
            let (Ok(number), (low, high)) = (u16::try_from(number), region.bounds()) else {
                continue;
            };
            for row in self.within(low.y, high.y, self.low.y, self.rows) {
                let y = self.low.y + (row as f64 + 0.5) * self.step_m;
                let mut cuts: Vec<f64> = region
                    .edges()
                    .filter(|(a, b)| (a.y > y) != (b.y > y))
                    .map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
                    .collect();
                cuts.sort_by(f64::total_cmp);
                for pair in cuts.chunks_exact(2) {
                    let columns = self.within(pair[0], pair[1], self.low.x, self.columns);
                    let start = row * self.columns;
                    inside[start + columns.start..start + columns.end.max(columns.start)]
                        .fill(Some(number));
                }
            }
        }
        inside
    }

    /// For each square the nearest station of its own region, within half the reach of it.
    ///
    /// `inside` is what [`Grid::regions`] told; a square in no region has no tube.
    pub fn nearest(
        &self,
        stations: &[Station],
        inside: &[Option<u16>],
        reach_m: f64,
    ) -> Vec<Option<Near>> {
        let mut nearest: Vec<Option<Near>> = vec![None; self.len()];
        if inside.len() != nearest.len() {
            return nearest;
        }
        for (number, station) in stations.iter().enumerate() {
            let Some(region) = station.region.and_then(|number| u16::try_from(number).ok()) else {
                continue;
            };
            let Ok(number) = u32::try_from(number) else { continue };
            let (a, b) = (station.from, station.to);
            let along = b - a;
            let square = along.dot(along).max(1e-18);
            // Where ways bend, a square may lie farther off than half way to the next tube.
            let widest = station.sides.map(|side| side.half_m(reach_m));
            let far_m = (1.5 * widest[0].max(widest[1]) + self.step_m).max(0.4 * reach_m);
            let far_m = far_m.min(reach_m / 2.0);
            let far = far_m as f32 * far_m as f32;
            let (low_x, high_x) = (a.x.min(b.x) - far_m, a.x.max(b.x) + far_m);
            let (low_y, high_y) = (a.y.min(b.y) - far_m, a.y.max(b.y) + far_m);
            let columns = self.within(low_x, high_x, self.low.x, self.columns);
            for row in self.within(low_y, high_y, self.low.y, self.rows) {
                for column in columns.clone() {
                    let cell = row * self.columns + column;
                    if inside[cell] != Some(region) {
                        continue;
                    }
                    let to = self.middle_of(column, row) - a;
                    let share = (to.dot(along) / square).clamp(0.0, 1.0);
                    let off = to - along * share;
                    let away = off.dot(off) as f32;
                    let best = &mut nearest[cell];
                    if away <= far && best.is_none_or(|best| away < best.away_m) {
                        let is_left = along.cross(to) >= 0.0;
                        *best = Some(Near { station: number, away_m: away, is_left });
                    }
                }
            }
        }
        // Squares of distances until here, which saves a root for each try.
        for near in nearest.iter_mut().flatten() {
            near.away_m = near.away_m.sqrt();
        }
        nearest
    }

    fn middle_of(&self, column: usize, row: usize) -> Point {
        self.low + Point::new(column as f64 + 0.5, row as f64 + 0.5) * self.step_m
    }
}
