//! Steady conduction in the smallest repeating cell of a floor.
//!
//! A [`Section`] is a cut across the tubes: stacked layers with rectangular
//! inclusions in them, round tubes or blocks at tube temperature, the room above and
//! whatever is below. No heat crosses its two sides, so they must be lines of
//! symmetry: mid-way between two tubes, or through the middle of a tube, half of
//! which then lies in the section.
//!
//! Conduction is linear, so one solution for each tube and each side gives all:
//! [`Solved`] holds the conductances between them and the unit profiles of the
//! surfaces, and [`Solved::superpose`] adds them up for any temperatures.
//!
//! The equations are finite elements on a grid of rectangles whose lines lie on all
//! material edges. Each rectangle is a net of six conductances between its corners,
//! none negative, so no temperature leaves the range of those given. Round
//! tubes are polygons of equal conductance with corners on grid lines. Two grids, one
//! half as fine as the other, are extrapolated and tell the error.
//!
//! ```
//! use solve::section::{Accuracy, Layer, Port, Section, Side, Temperatures, Tube};
//!
//! // 100 mm of concrete on 50 mm of insulation over ground, tube of 16 mm at mid-depth
//! // every 200 mm: half a spacing, with half a tube on its left side.
//! let section = Section {
//!     width_m: 0.1,
//!     layers: vec![Layer::new(0.05, 0.034), Layer::new(0.1, 1.8)],
//!     inclusions: vec![],
//!     tubes: vec![Tube::round(0.0, 0.1, 0.016)],
//!     above: Side::Film { coefficient_w_m2k: 10.8 },
//!     below: Side::Held,
//! };
//! let solved = section.solve(&Accuracy::default())?;
//! assert!(solved.error().conductance < 0.002);
//! assert!((solved.conductance_w_m2k(Port::Tube(0), Port::Room) - 6.761).abs() < 0.01);
//!
//! let state = solved.superpose(&Temperatures::of_water(35.0, 20.0, 10.0));
//! assert!((state.up_w_m2 - 100.2).abs() < 0.2);
//! assert!((state.above.max.celsius - 30.14).abs() < 0.02);
//! # Ok::<(), solve::section::SectionError>(())
//! ```

pub(crate) mod assemble;
pub(crate) mod check;
mod error;
mod field;
pub(crate) mod grid;
mod lines;
mod outline;
mod solved;
mod state;
mod tube;
mod unit;
mod wetted;

pub use error::SectionError;
pub use field::{Field, Piece};
pub use solved::{Error, Solved};
pub use state::{Extreme, State, Surface, Temperatures, TubeState};
pub use tube::{Shape, Tube};

/// The smallest repeating cell of a floor, cut across its tubes.
///
/// Places are measured from the lower left corner, `x` to the right and `y` up.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Distance between the two sides that no heat crosses.
    pub width_m: f64,
    /// Layers from the bottom up.
    pub layers: Vec<Layer>,
    /// What lies in the layers instead; a later one replaces an earlier one.
    pub inclusions: Vec<Inclusion>,
    /// Tubes, which replace everything else.
    pub tubes: Vec<Tube>,
    /// How the upper surface meets the room.
    pub above: Side,
    /// How the lower surface meets what is below.
    pub below: Side,
}

/// A layer over the whole width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Height.
    pub thickness_m: f64,
    /// What it is made of.
    pub material: Material,
}

/// What a layer or an inclusion is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Conductivity; for a still air space its thickness over its resistance.
    pub conductivity_w_mk: f64,
    /// Density times specific heat; only a response asks for it.
    pub heat_capacity_j_m3k: f64,
}

/// A rectangle of another material: a plate, a joist, a batten, an air gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inclusion {
    /// Where it lies.
    pub rect: Rect,
    /// What it is made of.
    pub material: Material,
}

/// A rectangle along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Least `x`.
    pub left_m: f64,
    /// Greatest `x`.
    pub right_m: f64,
    /// Least `y`.
    pub bottom_m: f64,
    /// Greatest `y`.
    pub top_m: f64,
}

/// How a surface meets what is beyond it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Side {
    /// By a surface coefficient, W/(m²·K).
    Film {
        /// Radiation and convection together.
        coefficient_w_m2k: f64,
    },
    /// The surface itself is held at the temperature given.
    Held,
    /// No heat passes.
    Insulated,
}

/// A temperature that drives the section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Port {
    /// The water in a tube, by its place in [`Section::tubes`].
    Tube(usize),
    /// The room above.
    Room,
    /// What is below.
    Below,
}

/// What a solution must reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Greatest relative error of any conductance, by the solver's own estimate.
    pub relative: f64,
    /// No grid of more nodes is tried; the error reached is then stated as it is.
    pub most_nodes: usize,
}

impl Default for Accuracy {
    /// 0.2 %, and grids that a desk computer solves in well under a second.
    fn default() -> Self {
        Self { relative: 0.002, most_nodes: 40_000 }
    }
}

impl Layer {
    /// A layer without heat capacity.
    pub fn new(thickness_m: f64, conductivity_w_mk: f64) -> Self {
        Self { thickness_m, material: Material::new(conductivity_w_mk) }
    }
}

impl Material {
    /// A material without heat capacity.
    pub fn new(conductivity_w_mk: f64) -> Self {
        Self { conductivity_w_mk, heat_capacity_j_m3k: 0.0 }
    }

    /// The same material with a heat capacity.
    pub fn storing(self, heat_capacity_j_m3k: f64) -> Self {
        Self { heat_capacity_j_m3k, ..self }
    }
}

impl Inclusion {
    /// An inclusion without heat capacity.
    pub fn new(rect: Rect, conductivity_w_mk: f64) -> Self {
        Self { rect, material: Material::new(conductivity_w_mk) }
    }
}

impl Section {
    /// Height of all layers.
    pub fn height_m(&self) -> f64 {
        self.layers.iter().map(|layer| layer.thickness_m).sum()
    }

    /// Solves the section for each of its tubes and sides.
    ///
    /// # Errors
    /// Where the section makes no sense, with the place and what to do.
    pub fn solve(&self, accuracy: &Accuracy) -> Result<Solved, SectionError> {
        check::section(self)?;
        solved::refine(self, accuracy)
    }

    /// The place of a port among all: tubes, room, below.
    pub(crate) fn port(&self, port: Port) -> Option<usize> {
        let tubes = self.tubes.len();
        match port {
            Port::Tube(tube) => Some(tube).filter(|tube| *tube < tubes),
            Port::Room => Some(tubes),
            Port::Below => Some(tubes + 1),
        }
    }

    /// The material at a place, tubes aside.
    pub(crate) fn material(&self, x_m: f64, y_m: f64) -> Material {
        let holds = |i: &&Inclusion| i.rect.holds(x_m, y_m);
        if let Some(inclusion) = self.inclusions.iter().rev().find(holds) {
            return inclusion.material;
        }
        let mut top_m = 0.0;
        for layer in &self.layers {
            top_m += layer.thickness_m;
            if y_m < top_m {
                return layer.material;
            }
        }
        self.layers.last().map_or(Material::new(0.0), |layer| layer.material)
    }
}

impl Rect {
    fn holds(&self, x_m: f64, y_m: f64) -> bool {
        (self.left_m..=self.right_m).contains(&x_m) && (self.bottom_m..=self.top_m).contains(&y_m)
    }
}
