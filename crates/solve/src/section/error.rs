//! What makes no sense in a section, and what to do about it.

use std::fmt;

/// Why a section cannot be solved. Places are in metres from its lower left corner.
#[derive(Debug, Clone, PartialEq)]
pub enum SectionError {
    /// No layers at all.
    NoLayers,
    /// A figure is not above zero, not finite, or out of any sense.
    NotSensible {
        /// Whose figure, such as "layer 2 from the bottom".
        whose: String,
        /// Which figure, such as "thickness".
        what: &'static str,
        /// What it was.
        value: f64,
    },
    /// Something lies in part or whole outside the section.
    Outside {
        /// What lies outside.
        what: String,
        /// A place of it that is outside.
        at: (f64, f64),
        /// Width and height of the section.
        size: (f64, f64),
    },
    /// A tube is cut by a side of the section elsewhere than through its middle.
    CutTube {
        /// The tube, counted from one.
        tube: usize,
        /// Its middle.
        at: (f64, f64),
    },
    /// Two tubes overlap or touch.
    TubesOverlap {
        /// The two tubes, counted from one.
        tubes: (usize, usize),
        /// A place in both.
        at: (f64, f64),
    },
    /// A tube comes to a surface that is itself held at a temperature.
    TubeAtHeldSide {
        /// The tube, counted from one.
        tube: usize,
    },
    /// Nothing sets a temperature: no tube, and both sides are insulated.
    NothingHeld,
    /// No heat passes between the two that a response is asked for.
    NoPath,
    /// Nothing of the section stores heat.
    NothingStored,
    /// The grid would need more nodes than the accuracy allows.
    TooFine {
        /// Nodes of the coarsest grid that would do.
        nodes: usize,
        /// Nodes allowed.
        most: usize,
    },
    /// The equations could not be solved: figures too far apart for the arithmetic.
    Singular,
}

impl fmt::Display for SectionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLayers => write!(f, "the floor has no layers: give at least one"),
            Self::NotSensible { whose, what, value } => {
                write!(f, "{whose}: {what} is {value}: give a sensible number above zero")
            }
            Self::Outside { what, at, size } => write!(
                f,
                "{what} lies outside at {}: keep it within {} wide and {} high",
                place(*at),
                millimetres(size.0),
                millimetres(size.1)
            ),
            Self::CutTube { tube, at } => write!(
                f,
                "tube {tube} at {} is cut by a side of the section: move it in, \
                 or put its middle on the side",
                place(*at)
            ),
            Self::TubesOverlap { tubes: (a, b), at } => {
                write!(f, "tubes {a} and {b} overlap at {}: move them apart", place(*at))
            }
            Self::TubeAtHeldSide { tube } => write!(
                f,
                "tube {tube} touches a surface that is held at its own temperature: \
                 put a layer between, or give the surface a coefficient"
            ),
            Self::NothingHeld => write!(
                f,
                "nothing sets a temperature: give a tube, or a coefficient above or below"
            ),
            Self::NoPath => write!(
                f,
                "no heat passes between the two: name a tube or side that drives and another \
                 that feels it"
            ),
            Self::NothingStored => {
                write!(f, "nothing in the section stores heat: give its materials a heat capacity")
            }
            Self::TooFine { nodes, most } => write!(
                f,
                "the section needs {nodes} points, but {most} are allowed: \
                 leave out what is too thin to matter, or allow more"
            ),
            Self::Singular => write!(
                f,
                "conductivities or sizes are too far apart to be solved: \
                 leave out what is too thin to matter"
            ),
        }
    }
}

impl std::error::Error for SectionError {}

fn place(at: (f64, f64)) -> String {
    format!("{} from the left and {} from the bottom", millimetres(at.0), millimetres(at.1))
}

fn millimetres(metres: f64) -> String {
    format!("{:.1} mm", 1e3 * metres)
}
