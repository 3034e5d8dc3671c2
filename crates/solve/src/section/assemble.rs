//! A grid as a net of conductances between its nodes.

use super::grid::Grid;
use super::{Section, Side};
use crate::banded::Banded;

/// The most that a cell's conductance across is spread over both its edges.
///
/// Half of what exact integration spreads cancels the leading error.
const SPREAD: f64 = 0.5;

/// With no more spread than this, by the square of the cell's shape, no conductance is negative.
const SAFE_SPREAD: f64 = 2.5;

/// The net of a grid: equations of free nodes, and what ties them to the ports.
///
/// Ports are the tubes in order, then the room, then what is below.
#[derive(Debug, Clone)]
pub(crate) struct Net {
    /// Conductances between free nodes, with everything that leaves a node on the diagonal, W/(m·K).
    pub(crate) matrix: Banded,
    /// Free node, port and the conductance between them, W/(m·K).
    pub(crate) ties: Vec<(usize, usize, f64)>,
    /// Conductances straight between ports, W/(m·K).
    pub(crate) direct: Vec<(usize, usize, f64)>,
    /// What each node of the grid is, row by row.
    pub(crate) nodes: Vec<Node>,
    /// Number of free nodes.
    pub(crate) free: usize,
    /// Number of ports.
    pub(crate) ports: usize,
}

/// What a node of the grid is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Node {
    /// An unknown, by its number.
    Free(usize),
    /// Held by a port.
    Held(usize),
}

impl Net {
    /// The net of a grid.
    pub(crate) fn new(section: &Section, grid: &Grid) -> Self {
        let (columns, rows) = (grid.x_m.len(), grid.y_m.len());
        let (room, below) = (section.tubes.len(), section.tubes.len() + 1);
        let (nodes, free) = number(section, grid, room, below);
        let matrix = Banded::zeros(free, columns.min(rows) + 1);
        let mut net = Self { matrix, ties: vec![], direct: vec![], nodes, free, ports: below + 1 };
        for j in 0..rows - 1 {
            for i in 0..columns - 1 {
                net.cell(grid, i, j);
            }
        }
        for (side, port, row) in [(section.above, room, rows - 1), (section.below, below, 0)] {
            if let Side::Film { coefficient_w_m2k } = side {
                for i in 0..columns {
                    let conductance = coefficient_w_m2k * grid.reach_m(i);
                    net.join(net.nodes[row * columns + i], Node::Held(port), conductance);
                }
            }
        }
        net
    }

    /// Adds the conductances of one cell.
    fn cell(&mut self, grid: &Grid, i: usize, j: usize) {
        let columns = grid.x_m.len();
        let width = grid.x_m[i + 1] - grid.x_m[i];
        let height = grid.y_m[j + 1] - grid.y_m[j];
        let conductivity = grid.conductivity_w_mk[j * (columns - 1) + i];
        let low = j * columns + i;
        // Around the cell, from the lower left corner on.
        let corners = [low, low + 1, low + columns + 1, low + columns];
        let nodes = corners.map(|at| self.nodes[at]);
        let tubes = corners.map(|at| grid.tube[at]);
        let (along, up) = (conductivity * height / width, conductivity * width / height);
        if tubes.iter().all(Option::is_some) {
            return;
        }
        let places = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)];
        let places = places.map(|(i, j)| (grid.x_m[i], grid.y_m[j]));
        // Of each edge, from a corner to the next: the share outside of tubes.
        let shares: [f64; 4] = std::array::from_fn(|edge| {
            let next = (edge + 1) % 4;
            match (tubes[edge], tubes[next]) {
                (None, None) => 1.0,
                (Some(tube), None) => grid.free_share(tube, places[next], places[edge]),
                (None, Some(tube)) => grid.free_share(tube, places[edge], places[next]),
                (Some(_), Some(_)) => 1.0,
            }
        });
        let held = tubes.iter().filter(|tube| tube.is_some()).count();
        // An outline cuts the cell: from corner to corner, so that a triangle is left, or where
        // another tube's lines cross it, anywhere.
        if held == 3 || shares.iter().any(|share| *share < 1.0) {
            for (edge, share) in shares.into_iter().enumerate() {
                let conductance = if edge % 2 == 0 { along } else { up };
                self.join(nodes[edge], nodes[(edge + 1) % 4], conductance / (2.0 * share));
            }
            return;
        }
        let shape = (width / height) * (width / height);
        let spread_x = SPREAD.min(SAFE_SPREAD / shape);
        let spread_y = SPREAD.min(SAFE_SPREAD * shape);
        let across = (up * spread_x + along * spread_y) / 6.0;
        let along = along / 2.0 - across;
        let up = up / 2.0 - across;
        self.join(nodes[0], nodes[1], along);
        self.join(nodes[3], nodes[2], along);
        self.join(nodes[0], nodes[3], up);
        self.join(nodes[1], nodes[2], up);
        self.join(nodes[0], nodes[2], across);
        self.join(nodes[1], nodes[3], across);
    }

    /// Adds a conductance between two nodes.
    fn join(&mut self, a: Node, b: Node, conductance: f64) {
        match (a, b) {
            (Node::Free(a), Node::Free(b)) => {
                self.matrix.add(a, a, conductance);
                self.matrix.add(b, b, conductance);
                self.matrix.add(a, b, -conductance);
            }
            (Node::Free(node), Node::Held(port)) | (Node::Held(port), Node::Free(node)) => {
                self.matrix.add(node, node, conductance);
                self.ties.push((node, port, conductance));
            }
            (Node::Held(a), Node::Held(b)) if a != b => self.direct.push((a, b, conductance)),
            (Node::Held(_), Node::Held(_)) => {}
        }
    }
}

/// Numbers free nodes along the shorter side of the grid, so that the band is narrow.
fn number(section: &Section, grid: &Grid, room: usize, below: usize) -> (Vec<Node>, usize) {
    let (columns, rows) = (grid.x_m.len(), grid.y_m.len());
    let mut nodes = vec![Node::Held(room); columns * rows];
    let mut free = 0;
    for step in 0..columns * rows {
        let (i, j) = if columns <= rows {
            (step % columns, step / columns)
        } else {
            (step / rows, step % rows)
        };
        let at = j * columns + i;
        nodes[at] = match grid.tube[at] {
            Some(tube) => Node::Held(tube),
            None if j == 0 && section.below == Side::Held => Node::Held(below),
            None if j + 1 == rows && section.above == Side::Held => Node::Held(room),
            None => {
                free += 1;
                Node::Free(free - 1)
            }
        };
    }
    (nodes, free)
}
