//! Two grids extrapolated to one solution with its error.

use super::grid::Grid;
use super::unit::Units;
use super::wetted::Wetted;
use super::{Accuracy, Port, Section, SectionError, Shape, Side, Tube};

/// What the finer grid's change is worth when extrapolated: halving the cells divides the
/// error by 2 to the order. Where only polygons of round tubes bend the field it is about 1.8.
const EXTRAPOLATE_ROUND: f64 = 0.4;

/// The same with right-angled corners, where the order comes down to 4/3 and less.
const EXTRAPOLATE_CORNERS: f64 = 0.5;

/// The same where a tube touches an inclusion: heat enters a sheet at an order near 1.
const EXTRAPOLATE_CONTACT: f64 = 0.6;

/// Share of the finer grid's change that is stated as the error of the extrapolated figure:
/// at the orders 4/3 and 2 it is 1/6.
const REMAINS: f64 = 0.2;

/// Order by which the cells of a further pair are chosen.
const ORDER: f64 = 1.4;

/// A further pair has cells smaller by this at least.
const LARGEST_STEP: f64 = 0.75;

/// A further pair has cells smaller by this at most.
const SMALLEST_STEP: f64 = 0.4;

/// Cells are not made smaller than this share of their usual size.
const LEAST_SIZE: f64 = 0.02;

/// Conductances below this share of the largest are judged as if they were as large as that.
const LEAST_SHARE: f64 = 5e-4;

/// The same between two tubes, whose temperatures hardly differ.
const LEAST_BETWEEN_TUBES: f64 = 0.2;

/// A section solved for each of its tubes and sides.
#[derive(Debug, Clone)]
pub struct Solved {
    pub(super) section: Section,
    /// Conductances between the outer surfaces of tubes, the room and what is below.
    bare_w_mk: Vec<Vec<f64>>,
    /// Conductances and temperatures with the tubes' own resistance.
    pub(super) wetted: Wetted,
    /// Places of the surfaces' profiles.
    pub(super) x_m: Vec<f64>,
    /// Temperature of the upper surface along `x_m` for each bare port at one.
    pub(super) above: Vec<Vec<f64>>,
    /// The same of the lower surface.
    pub(super) below: Vec<Vec<f64>>,
    /// Mean of the upper and of the lower surface for each bare port at one.
    pub(super) means: [Vec<f64>; 2],
    error: Error,
    pub(super) grid: Grid,
    pub(super) fields: Vec<Vec<f64>>,
    cells: usize,
}

/// The solver's own estimate of its error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Error {
    /// Greatest relative error of any conductance; the smallest count as 1/2000 of
    /// the largest, those between tubes as 1/5 of it.
    pub conductance: f64,
    /// Greatest error of any surface temperature, for each kelvin between the ports.
    pub surface_k_k: f64,
}

/// Solves on ever finer pairs of grids until the two of a pair are close enough, or no finer one
/// is allowed.
pub(super) fn refine(section: &Section, accuracy: &Accuracy) -> Result<Solved, SectionError> {
    let mut size = 1.0;
    let mut best = None;
    loop {
        let coarse = match (Grid::new(section, size, accuracy.most_nodes / 4), best) {
            (Ok(coarse), _) => coarse,
            (Err(_), Some(best)) => return Ok(best),
            (Err(error), None) => return Err(error),
        };
        let fine = coarse.halved();
        let units = Units::solve(section, &coarse)?;
        let finer = Units::solve(section, &fine)?;
        let error = Error::between(section, &units, &coarse, &finer);
        let solved = extrapolate(section, (coarse, units), (fine, finer), error);
        if error.conductance <= accuracy.relative || size < LEAST_SIZE {
            return Ok(solved);
        }
        best = Some(solved);
        let wanted = (accuracy.relative / error.conductance).powf(1.0 / ORDER);
        size *= wanted.clamp(SMALLEST_STEP, LARGEST_STEP);
    }
}

fn extrapolate(
    section: &Section,
    coarse: (Grid, Units),
    fine: (Grid, Units),
    error: Error,
) -> Solved {
    let share = further_share(section);
    let further = |coarse: f64, fine: f64| fine + share * (fine - coarse);
    let bare_w_mk = coarse.1.conductances_w_mk.iter().zip(&fine.1.conductances_w_mk);
    let bare_w_mk: Vec<Vec<f64>> = bare_w_mk
        .map(|(coarse, fine)| coarse.iter().zip(fine).map(|(c, f)| further(*c, *f)).collect())
        .collect();
    let columns = coarse.0.x_m.len();
    let profile = |row: usize| -> Vec<Vec<f64>> {
        let pairs = coarse.1.fields.iter().zip(&fine.1.fields);
        let along = |(coarse, fine): (&Vec<f64>, &Vec<f64>)| {
            let (before, after) = (row * columns, 2 * row * (2 * columns - 1));
            (0..columns).map(|i| further(coarse[before + i], fine[after + 2 * i])).collect()
        };
        pairs.map(along).collect()
    };
    let means = |top: bool| -> Vec<f64> {
        let pairs = coarse.1.fields.iter().zip(&fine.1.fields);
        pairs.map(|(c, f)| further(coarse.0.mean(c, top), fine.0.mean(f, top))).collect()
    };
    Solved {
        section: section.clone(),
        means: [means(true), means(false)],
        wetted: Wetted::new(section, &bare_w_mk),
        bare_w_mk,
        above: profile(coarse.0.y_m.len() - 1),
        below: profile(0),
        x_m: coarse.0.x_m,
        error,
        cells: coarse.1.free + fine.1.free,
        grid: fine.0,
        fields: fine.1.fields,
    }
}

/// What the finer grid's change is worth in a section, by the worst corner in it.
fn further_share(section: &Section) -> f64 {
    let round = |tube: &Tube| matches!(tube.shape, Shape::Round { .. });
    if section.tubes.iter().any(|tube| section.sheets_at(tube).next().is_some()) {
        EXTRAPOLATE_CONTACT
    } else if section.inclusions.is_empty() && section.tubes.iter().all(round) {
        EXTRAPOLATE_ROUND
    } else {
        EXTRAPOLATE_CORNERS
    }
}

impl Error {
    fn between(section: &Section, coarse: &Units, grid: &Grid, fine: &Units) -> Self {
        let most = fine.conductances_w_mk.iter().flatten().copied().fold(0.0, f64::max);
        let mut conductance: f64 = 0.0;
        for (a, (coarse, fine)) in
            coarse.conductances_w_mk.iter().zip(&fine.conductances_w_mk).enumerate()
        {
            for (b, (c, f)) in coarse.iter().zip(fine).enumerate() {
                let tubes = a.max(b) < section.tubes.len();
                let least = most * if tubes { LEAST_BETWEEN_TUBES } else { LEAST_SHARE };
                conductance = conductance.max((f - c).abs() / f.max(least));
            }
        }
        let (columns, rows) = (grid.x_m.len(), grid.y_m.len());
        let mut surface: f64 = 0.0;
        for (side, row) in [(section.above, rows - 1), (section.below, 0)] {
            for (c, f) in coarse.fields.iter().zip(&fine.fields).filter(|_| side != Side::Held) {
                for i in 0..columns {
                    let change = f[2 * row * (2 * columns - 1) + 2 * i] - c[row * columns + i];
                    surface = surface.max(change.abs());
                }
            }
        }
        Self { conductance: REMAINS * conductance, surface_k_k: REMAINS * surface }
    }
}

impl Solved {
    /// The solver's own estimate of its error.
    pub fn error(&self) -> Error {
        self.error
    }

    /// Number of equations solved, on both grids together.
    pub fn cells(&self) -> usize {
        self.cells
    }

    /// Conductance between two ports for each metre run of the section, W/(m·K); zero between a
    /// port and itself, and where there is no such tube.
    pub fn conductance_w_mk(&self, a: Port, b: Port) -> f64 {
        let row = self.section.port(a).and_then(|a| self.wetted.conductances_w_mk.get(a));
        let at = row.zip(self.section.port(b)).and_then(|(row, b)| row.get(b));
        at.copied().unwrap_or(0.0)
    }

    /// Conductance between two ports for each square metre of floor, W/(m²·K).
    pub fn conductance_w_m2k(&self, a: Port, b: Port) -> f64 {
        self.conductance_w_mk(a, b) / self.section.width_m
    }

    /// Places across the section at which the unit profiles are known.
    pub fn places_m(&self) -> &[f64] {
        &self.x_m
    }

    /// Temperature of the upper surface with that port at one and all others at zero.
    pub fn above(&self, port: Port) -> Vec<f64> {
        self.unit_profile(&self.above, port)
    }

    /// Temperature of the lower surface with that port at one and all others at zero.
    pub fn below(&self, port: Port) -> Vec<f64> {
        self.unit_profile(&self.below, port)
    }

    /// Gives a tube another resistance of film and wall, m·K/W for each metre of whole tube,
    /// without solving again. Nothing happens where there is no such tube, or the resistance is
    /// below zero or not finite.
    pub fn set_resistance(&mut self, tube: usize, resistance_mk_w: f64) {
        let sane = resistance_mk_w.is_finite() && resistance_mk_w >= 0.0;
        if let Some(tube) = self.section.tubes.get_mut(tube).filter(|_| sane) {
            tube.resistance_mk_w = resistance_mk_w;
            self.wetted = Wetted::new(&self.section, &self.bare_w_mk);
        }
    }

    fn unit_profile(&self, bare: &[Vec<f64>], port: Port) -> Vec<f64> {
        let Some(port) = self.section.port(port) else { return vec![0.0; self.x_m.len()] };
        let shares: Vec<f64> = self.wetted.surfaces.iter().map(|row| row[port]).collect();
        weighed(bare, &shares, self.x_m.len())
    }
}

/// The sum of rows, each times its weight.
pub(super) fn weighed(rows: &[Vec<f64>], weights: &[f64], length: usize) -> Vec<f64> {
    let mut sum = vec![0.0; length];
    for (row, weight) in rows.iter().zip(weights) {
        sum.iter_mut().zip(row).for_each(|(sum, value)| *sum += weight * value);
    }
    sum
}
