//! How fast the heat of a section follows the water.
//!
//! The grid of the section with the heat capacity of its cells is a net of resistances and
//! stores. It is reduced to the few time constants that a step of the driving temperature
//! excites; step and swing are then closed forms. Film and wall of the driving tube stand in
//! series with the net and store nothing; the water itself follows at once.
//!
//! ```
//! use solve::response::Response;
//! use solve::section::{Layer, Material, Port, Section, Side, Tube};
//!
//! let insulation = Material::new(0.034).storing(45e3);
//! let concrete = Material::new(1.8).storing(2.1e6);
//! let section = Section {
//!     width_m: 0.1,
//!     layers: vec![
//!         Layer { thickness_m: 0.05, material: insulation },
//!         Layer { thickness_m: 0.1, material: concrete },
//!     ],
//!     inclusions: vec![],
//!     tubes: vec![Tube::round(0.0, 0.1, 0.016)],
//!     above: Side::Film { coefficient_w_m2k: 10.8 },
//!     below: Side::Held,
//! };
//! let response = Response::of(&section, Port::Tube(0), Port::Room)?;
//! let hours = response.time_to_s(0.63).unwrap_or(0.0) / 3600.0;
//! assert!((1.0..4.0).contains(&hours), "{hours}");
//! # Ok::<(), solve::section::SectionError>(())
//! ```

use std::f64::consts::TAU;

use crate::banded::Factor;
use crate::modes::Modes;
use crate::section::assemble::{Net, Node};
use crate::section::grid::Grid;
use crate::section::{Port, Section, SectionError, check};

/// Time constants kept: enough for a step to start smoothly, few enough to be quick.
const CONSTANTS: usize = 24;

/// Nodes of the coarse grid beyond which a response is not tried.
const MOST_NODES: usize = 10_000;

/// Doublings of time in which a share of the steady heat is looked for, from a second on.
const DOUBLINGS: usize = 40;

/// The heat into one port after another's temperature changes, as a share of the steady heat.
#[derive(Debug, Clone, PartialEq)]
pub struct Response {
    /// Share that comes at once, through what stores nothing.
    instant: f64,
    /// The other shares, and the time constant in seconds with which each comes.
    shares: Vec<(f64, f64)>,
}

/// How a swing of the driving temperature is felt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// Amplitude of the heat, as a share of what the same difference gives steadily.
    pub amplitude: f64,
    /// How long after the temperature the heat swings, seconds.
    pub lag_s: f64,
}

impl Response {
    /// The response of the heat into `felt` to the temperature of `driver`, all other
    /// temperatures as they are: of a tube its water behind [`resistance_mk_w`], of any other
    /// tube the outer surface.
    ///
    /// [`resistance_mk_w`]: crate::section::Tube::resistance_mk_w
    ///
    /// # Errors
    /// Where the section makes no sense, nothing in it stores heat, or none passes between the two.
    pub fn of(section: &Section, driver: Port, felt: Port) -> Result<Self, SectionError> {
        Self::on_grid(section, driver, felt, true)
    }

    /// The same on a grid of cells twice as large: far sooner, and within some 3 % of the times.
    ///
    /// # Errors
    /// As [`Response::of`].
    pub fn quick(section: &Section, driver: Port, felt: Port) -> Result<Self, SectionError> {
        Self::on_grid(section, driver, felt, false)
    }

    fn on_grid(
        section: &Section,
        driver: Port,
        felt: Port,
        fine: bool,
    ) -> Result<Self, SectionError> {
        check::section(section)?;
        let ports = section.port(driver).zip(section.port(felt));
        let (driver, felt) = ports.filter(|(a, b)| a != b).ok_or(SectionError::NoPath)?;
        let coarse = Grid::new(section, 1.0, MOST_NODES)?;
        let grid = if fine { coarse.halved() } else { coarse };
        let net = Net::new(section, &grid);
        let capacity = capacity(section, &grid, &net);
        if capacity.iter().all(|c| *c == 0.0) {
            return Err(SectionError::NothingStored);
        }
        let driven = Driven::new(section, net, driver, felt)?;
        let settle = |mut stored: Vec<f64>| {
            stored.iter_mut().zip(&capacity).for_each(|(s, c)| *s *= c);
            driven.solve(&mut stored);
            stored
        };
        let mut steady = driven.source.clone();
        driven.solve(&mut steady);
        let heat = |field: &[f64]| -> f64 { inner(&driven.sink, field) };
        let whole = heat(&steady) + driven.direct;
        if whole <= 0.0 {
            return Err(SectionError::NoPath);
        }
        let modes = Modes::of(&capacity, settle(steady.clone()), CONSTANTS, settle);
        let shares = modes.shapes.iter().zip(&modes.constants_s).map(|(shape, constant_s)| {
            let stored = capacity.iter().zip(shape).zip(&steady).map(|((c, a), b)| c * a * b);
            (stored.sum::<f64>() * heat(shape) / whole, *constant_s)
        });
        let shares: Vec<(f64, f64)> = shares.collect();
        let instant = 1.0 - shares.iter().map(|(share, _)| share).sum::<f64>();
        Ok(Self { instant, shares })
    }

    /// Heat some time after a step, as a share of the steady heat.
    pub fn after(&self, time_s: f64) -> f64 {
        let come = |(share, constant_s): &(f64, f64)| -share * (-time_s / constant_s).exp_m1();
        self.instant + self.shares.iter().map(come).sum::<f64>()
    }

    /// Time from a step until the heat is that share of the steady heat, seconds; zero where it
    /// is at once, `None` where the share is one or more.
    pub fn time_to_s(&self, share: f64) -> Option<f64> {
        if share.is_nan() || share >= 1.0 {
            return None;
        }
        let (mut before, mut after) = (0.0, 1.0);
        for _ in 0..DOUBLINGS {
            if self.after(after) >= share {
                break;
            }
            (before, after) = (after, 2.0 * after);
        }
        for _ in 0..60 {
            let middle = (before + after) / 2.0;
            if self.after(middle) < share { before = middle } else { after = middle }
        }
        (self.after(after) >= share).then_some(after)
    }

    /// The heat under a sine of the driving temperature of that period, seconds.
    pub fn under_sine(&self, period_s: f64) -> Swing {
        let turns = TAU / period_s;
        let (mut with, mut behind) = (self.instant, 0.0);
        for (share, constant_s) in &self.shares {
            let angle = turns * constant_s;
            with += share / (1.0 + angle * angle);
            behind += share * angle / (1.0 + angle * angle);
        }
        let phase = behind.atan2(with);
        let phase = if phase < 0.0 { phase + TAU } else { phase };
        Swing { amplitude: with.hypot(behind), lag_s: phase / turns }
    }
}

/// A net with the film and wall of its driving tube in series.
///
/// The tube's surface is a node without capacity between water and net. Taking it out leaves the
/// net less `surface · surface * given_up`, which is solved by the formula of Sherman and Morrison.
struct Driven {
    factor: Factor,
    /// Conductance from the driver's surface to each node.
    surface: Vec<f64>,
    /// The net's answer to heat of `surface`.
    reply: Vec<f64>,
    /// One over all conductance at the driver's surface, film and wall included; zero without.
    given_up: f64,
    /// Heat into each node with the driver at one and all nodes at zero.
    source: Vec<f64>,
    /// Heat felt for each degree of a node.
    sink: Vec<f64>,
    /// Heat felt at once, nodes at zero and the driver at one.
    direct: f64,
}

impl Driven {
    fn new(section: &Section, net: Net, driver: usize, felt: usize) -> Result<Self, SectionError> {
        let weights = |port: usize| {
            let mut weights = vec![0.0; net.free];
            for (node, _, conductance) in net.ties.iter().filter(|tie| tie.1 == port) {
                weights[*node] += conductance;
            }
            weights
        };
        let (surface, mut sink) = (weights(driver), weights(felt));
        let joins = |d: &&(usize, usize, f64), a: usize| d.0 == a || d.1 == a;
        let at_driver = net.direct.iter().filter(|d| joins(d, driver));
        let straight: f64 = at_driver.clone().map(|d| d.2).sum();
        let between: f64 = at_driver.filter(|d| joins(d, felt)).map(|d| d.2).sum();
        let resistance = section
            .tubes
            .get(driver)
            .map_or(0.0, |tube| tube.resistance_mk_w / tube.share(section.width_m));
        let mut driven = Self {
            factor: net.matrix.factor().ok_or(SectionError::Singular)?,
            reply: vec![0.0; surface.len()],
            given_up: 0.0,
            source: surface.clone(),
            surface,
            sink: vec![],
            direct: between,
        };
        if resistance > 0.0 {
            let inward = 1.0 / resistance;
            let all = inward + straight + driven.surface.iter().sum::<f64>();
            let share = inward / all;
            driven.given_up = 1.0 / all;
            driven.source.iter_mut().for_each(|own| *own *= share);
            driven.direct *= share;
            sink.iter_mut().zip(&driven.surface).for_each(|(s, own)| *s += between / all * own);
            driven.reply.clone_from(&driven.surface);
            driven.factor.solve(&mut driven.reply);
        }
        driven.sink = sink;
        Ok(driven)
    }

    fn solve(&self, right: &mut [f64]) {
        self.factor.solve(right);
        if self.given_up > 0.0 {
            let back = self.given_up * inner(&self.surface, right)
                / (1.0 - self.given_up * inner(&self.surface, &self.reply));
            right.iter_mut().zip(&self.reply).for_each(|(r, reply)| *r += back * reply);
        }
    }
}

fn inner(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Heat capacity of each free node for each metre run, J/(m·K): a quarter of each cell around it.
fn capacity(section: &Section, grid: &Grid, net: &Net) -> Vec<f64> {
    let columns = grid.x_m.len();
    let mut capacity = vec![0.0; net.free];
    for (j, y) in grid.y_m.windows(2).enumerate() {
        for (i, x) in grid.x_m.windows(2).enumerate() {
            let material = section.material((x[0] + x[1]) / 2.0, (y[0] + y[1]) / 2.0);
            let quarter = material.heat_capacity_j_m3k * (x[1] - x[0]) * (y[1] - y[0]) / 4.0;
            let low = j * columns + i;
            for at in [low, low + 1, low + columns, low + columns + 1] {
                if let Node::Free(node) = net.nodes[at] {
                    capacity[node] += quarter;
                }
            }
        }
    }
    capacity
}
