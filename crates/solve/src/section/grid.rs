//! The grid of a section: rectangles of one material each, and nodes that tubes hold.

use super::outline::{Outline, bends, edges, outlines};
use super::{Section, SectionError};

/// How fast cells grow with the distance.
const GROWTH: f64 = 0.5;

/// The widest cell, as a share of half the spacing of tubes.
const WIDEST: f64 = 0.2;

/// Corners, in a quarter, of the polygon that stands for a round tube.
const CORNERS: u8 = 3;

/// No polygon has more corners in a quarter.
const MOST_CORNERS: u8 = 24;

/// Shares of a way shorter than this are taken as none.
const LEAST_SHARE: f64 = 1e-3;

/// A grid of rectangles.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    /// Lines from left to right.
    pub(crate) x_m: Vec<f64>,
    /// Lines from the bottom up.
    pub(crate) y_m: Vec<f64>,
    /// Conductivity of each cell, row by row from the bottom.
    pub(crate) conductivity_w_mk: Vec<f64>,
    /// The tube that holds each node, row by row from the bottom.
    pub(crate) tube: Vec<Option<usize>>,
    /// The outline of each tube.
    outlines: Vec<Outline>,
}

impl Grid {
    /// The grid of a section with cells of so many times the usual size.
    pub(crate) fn new(
        section: &Section,
        size: f64,
        most_nodes: usize,
    ) -> Result<Self, SectionError> {
        let (width_m, height_m) = (section.width_m, section.height_m());
        let (mut across, mut up) = edges(section);
        let corners = (f64::from(CORNERS) / size).ceil().min(f64::from(MOST_CORNERS)) as usize;
        let outlines = outlines(section, corners, &mut across, &mut up);
        bends(section, &mut across, &mut up);
        let spacings: f64 = section.tubes.iter().map(|tube| 2.0 * tube.share(width_m)).sum();
        let widest_m = WIDEST * width_m / spacings.max(1.0);
        let x_m = across.lines_m(width_m, size, GROWTH, widest_m);
        let y_m = up.lines_m(height_m, size, GROWTH, widest_m);
        let nodes = x_m.len() * y_m.len();
        if nodes > most_nodes {
            return Err(SectionError::TooFine { nodes, most: most_nodes });
        }
        let mut conductivity_w_mk = Vec::with_capacity(nodes);
        for y in y_m.windows(2) {
            for x in x_m.windows(2) {
                let middle = ((x[0] + x[1]) / 2.0, (y[0] + y[1]) / 2.0);
                conductivity_w_mk.push(section.material(middle.0, middle.1).conductivity_w_mk);
            }
        }
        Ok(Self::with_nodes(x_m, y_m, conductivity_w_mk, outlines))
    }

    /// The grid with each cell cut in four.
    pub(crate) fn halved(&self) -> Self {
        let (x_m, y_m) = (halved(&self.x_m), halved(&self.y_m));
        let columns = self.x_m.len() - 1;
        let mut conductivity_w_mk = Vec::with_capacity(4 * self.conductivity_w_mk.len());
        for j in 0..y_m.len() - 1 {
            for i in 0..x_m.len() - 1 {
                conductivity_w_mk.push(self.conductivity_w_mk[j / 2 * columns + i / 2]);
            }
        }
        Self::with_nodes(x_m, y_m, conductivity_w_mk, self.outlines.clone())
    }

    /// The grid with the nodes that its tubes hold.
    fn with_nodes(
        x_m: Vec<f64>,
        y_m: Vec<f64>,
        conductivity_w_mk: Vec<f64>,
        outlines: Vec<Outline>,
    ) -> Self {
        let mut tube = vec![None; x_m.len() * y_m.len()];
        for (owner, outline) in outlines.iter().enumerate() {
            for (row, y) in tube.chunks_exact_mut(x_m.len()).zip(&y_m) {
                for (node, x) in row.iter_mut().zip(&x_m) {
                    if outline.holds(*x, *y) {
                        *node = Some(owner);
                    }
                }
            }
        }
        Self { x_m, y_m, conductivity_w_mk, tube, outlines }
    }

    /// Share of the way from a free place to one that a tube holds, up to the tube's outline.
    pub(crate) fn free_share(&self, tube: usize, free: (f64, f64), held: (f64, f64)) -> f64 {
        // The edges of blocks are lines.
        let Some(Outline::Polygon(polygon)) = self.outlines.get(tube) else { return 1.0 };
        let holds = |share: f64| {
            let at = |a: f64, b: f64| a + share * (b - a);
            polygon.holds(at(free.0, held.0), at(free.1, held.1))
        };
        // Nearly all polygons pass through nodes.
        if !holds(1.0 - LEAST_SHARE) {
            return 1.0;
        }
        let (mut out, mut inside) = (0.0, 1.0);
        while inside - out > LEAST_SHARE {
            let middle = (out + inside) / 2.0;
            if holds(middle) { inside = middle } else { out = middle }
        }
        inside
    }
}

impl Grid {
    /// Width of surface that belongs to a column of nodes: half the cells on both its sides.
    pub(crate) fn reach_m(&self, column: usize) -> f64 {
        let right = self.x_m.get(column + 1).unwrap_or(&self.x_m[column]);
        let left = self.x_m[column.saturating_sub(1)];
        (right - left) / 2.0
    }

    /// Mean over the upper or the lower surface of a field on all nodes.
    pub(crate) fn mean(&self, field: &[f64], top: bool) -> f64 {
        let columns = self.x_m.len();
        let row = if top { field.len() - columns } else { 0 };
        let sum: f64 = (0..columns).map(|i| self.reach_m(i) * field[row + i]).sum();
        sum / self.x_m[columns - 1]
    }
}

/// Lines with one more mid-way between each two.
fn halved(lines: &[f64]) -> Vec<f64> {
    let mut out = Vec::with_capacity(2 * lines.len());
    for pair in lines.windows(2) {
        out.extend([pair[0], (pair[0] + pair[1]) / 2.0]);
    }
    out.extend(lines.last());
    out
}
