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

#[cfg(test)]
mod tests {
    use super::super::{Inclusion, Layer, Rect, Section, Side, Tube};
    use super::*;

    /// A slab with tube and a plate in it.
    fn section() -> Section {
        let plate = Rect { left_m: 0.02, right_m: 0.07, bottom_m: 0.08, top_m: 0.082 };
        Section {
            width_m: 0.1,
            layers: vec![Layer::new(0.05, 0.034), Layer::new(0.1, 1.8)],
            inclusions: vec![Inclusion::new(plate, 60.0)],
            tubes: vec![Tube::round(0.0, 0.11, 0.016), Tube::round(0.06, 0.06, 0.012)],
            above: Side::Film { coefficient_w_m2k: 10.8 },
            below: Side::Film { coefficient_w_m2k: 5.9 },
        }
    }

    #[test]
    fn heat_is_the_same_either_way_between_two_ports() {
        let section = section();
        let grid = Grid::new(&section, 1.0, 10_000).expect("small enough");
        let units = Units::solve(&section, &grid).expect("solves");
        let net = Net::new(&section, &grid);
        for a in 0..net.ports {
            for b in a + 1..net.ports {
                // The heat that the later port at one sends into the earlier one.
                let back: f64 = (net.nodes.iter().zip(&units.fields[b]))
                    .map(|(node, value)| {
                        let Node::Free(free) = node else { return 0.0 };
                        let ties = net.ties.iter().filter(|tie| tie.0 == *free && tie.1 == a);
                        ties.map(|tie| tie.2 * value).sum::<f64>()
                    })
                    .sum();
                let there = units.conductances_w_mk[a][b];
                assert!((there / back - 1.0).abs() < 1e-9, "{a} {b}: {there} {back}");
            }
        }
    }

    #[test]
    fn halving_the_cells_divides_the_error_by_more_than_two() {
        let section = section();
        let mut grid = Grid::new(&section, 1.0, 10_000).expect("small enough");
        let mut tube_to_room = Vec::new();
        for _ in 0..4 {
            tube_to_room
                .push(Units::solve(&section, &grid).expect("solves").conductances_w_mk[0][2]);
            grid = grid.halved();
        }
        let change = |i: usize| tube_to_room[i + 1] - tube_to_room[i];
        // Orders lie between 4/3 at right-angled corners and 2 or more.
        for i in 0..2 {
            let order = (change(i) / change(i + 1)).log2();
            assert!((1.2..2.6).contains(&order), "{order}");
        }
    }
}
