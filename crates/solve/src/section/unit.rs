//! Unit solutions on one grid: one port at one, all others at zero.

use super::assemble::{Net, Node};
use super::grid::Grid;
use super::{Section, SectionError};

/// All unit solutions on one grid.
#[derive(Debug, Clone)]
pub(super) struct Units {
    /// Temperature of each node for each port at one, row by row of the grid.
    pub(super) fields: Vec<Vec<f64>>,
    /// Conductance between each two ports, W/(m·K) of the section; zero on the diagonal.
    pub(super) conductances_w_mk: Vec<Vec<f64>>,
    /// Number of equations.
    pub(super) free: usize,
}

impl Units {
    /// Solves all units on a grid.
    pub(super) fn solve(section: &Section, grid: &Grid) -> Result<Self, SectionError> {
        let net = Net::new(section, grid);
        let ports = net.ports;
        let factor = net.matrix.factor().ok_or(SectionError::Singular)?;
        let mut units: Vec<Vec<f64>> = Vec::with_capacity(ports);
        for port in 0..ports - 1 {
            let mut unit = vec![0.0; net.free];
            for (node, tied, conductance) in &net.ties {
                if *tied == port {
                    unit[*node] += conductance;
                }
            }
            factor.solve(&mut unit);
            units.push(unit);
        }
        // With all ports at one, so is every node: the last unit is what the others leave.
        let mut last = vec![1.0; net.free];
        for unit in &units {
            last.iter_mut().zip(unit).for_each(|(last, unit)| *last -= unit);
        }
        units.push(last);

        // From the earlier port at one into the later; the other way is the same.
        let mut between = vec![vec![0.0; ports]; ports];
        let mut pass = |a: usize, b: usize, conductance: f64| {
            between[a][b] += conductance;
            between[b][a] += conductance;
        };
        net.direct.iter().for_each(|(a, b, conductance)| pass(*a, *b, *conductance));
        for (node, port, conductance) in &net.ties {
            for (from, unit) in units.iter().enumerate().take(*port) {
                pass(from, *port, conductance * unit[*node]);
            }
        }
        let fields = units.iter().enumerate().map(|(port, unit)| {
            let value = |node: &Node| match *node {
                Node::Free(node) => unit[node],
                Node::Held(held) => f64::from(u8::from(held == port)),
            };
            net.nodes.iter().map(value).collect()
        });
        Ok(Self { fields: fields.collect(), conductances_w_mk: between, free: net.free })
    }
}
