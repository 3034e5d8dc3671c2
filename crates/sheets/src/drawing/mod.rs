//! Drawings as marks in metres, laid out once.

mod chart;
mod fixtures;
mod floor_parts;
mod held;
mod joints;
mod joists;
mod labels;
mod legend;
mod no_drilling;
mod openings;
mod plan;
mod ports;
mod ramp;
mod section;
mod shapes;
mod sleeves;
mod thermal;
mod ties;
mod tube;
mod words;

pub(crate) use chart::parts;
pub(crate) use no_drilling::no_drilling_plan;
pub(crate) use plan::{Plan, storeys, tube_plan};
pub use ramp::Colour;
pub(crate) use section::section;
pub(crate) use thermal::{Scale, floor_picture};

use plane::{Path, Point};

/// A drawing: marks in metres, the first lowest. The y axis points up.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Stable key: `plan`, or `plan-upper` for a storey.
    pub key: String,
    /// What it shows.
    pub title: String,
    /// Lower left and upper right corner.
    pub bounds_m: [Point; 2],
    /// What is drawn.
    pub marks: Vec<Mark>,
    /// The same in words, for who cannot see it.
    pub words: String,
}

/// One thing that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What kind of thing it is, for style sheets: `wall`, `tube`.
    pub class: &'static str,
    /// What it is about, by key, if anything.
    pub subject: Option<String>,
    /// Words that a pointer resting on it shows.
    pub title: Option<String>,
    /// Its shape.
    pub shape: Shape,
    /// Its stroke, if any.
    pub stroke: Option<Stroke>,
    /// Its filling, if any.
    pub fill: Option<Fill>,
}

impl Mark {
    pub(crate) fn new(class: &'static str, shape: Shape) -> Self {
        Mark { class, subject: None, title: None, shape, stroke: None, fill: None }
    }

    pub(crate) fn stroke(mut self, colour: Colour, width_m: f64) -> Self {
        self.stroke = Some(Stroke { colour, width_m, dash_m: Vec::new(), offset_m: 0.0 });
        self
    }

    pub(crate) fn dashed(mut self, dash_m: &[f64], offset_m: f64) -> Self {
        if let Some(stroke) = &mut self.stroke {
            stroke.dash_m = dash_m.to_vec();
            stroke.offset_m = offset_m;
        }
        self
    }

    pub(crate) fn fill(mut self, colour: Colour) -> Self {
        self.fill = Some(Fill::Plain(colour));
        self
    }

    pub(crate) fn hatched(mut self, colour: Colour) -> Self {
        self.fill = Some(Fill::Hatch(colour));
        self
    }

    pub(crate) fn about(mut self, subject: &str) -> Self {
        self.subject = Some(subject.to_owned());
        self
    }

    pub(crate) fn titled(mut self, title: impl Into<String>) -> Self {
        self.title = Some(title.into());
        self
    }
}

/// The shape of a mark.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Straight pieces, open.
    Line(Vec<Point>),
    /// Closed rings; a ring inside another is a hole.
    Area(Vec<Vec<Point>>),
    /// Lines and true arcs.
    Tube(Path),
    /// A circle.
    Circle {
        /// Its centre.
        at: Point,
        /// Its radius in metres.
        radius_m: f64,
    },
    /// Squares of colour over a rectangle.
    Squares(Squares),
    /// One line of words.
    Words {
        /// Where it stands.
        at: Point,
        /// What it says.
        words: String,
        /// Height of its letters in metres.
        size_m: f64,
        /// Which side of the words is at the point.
        anchor: Anchor,
        /// How far they are turned about the point in radians, positive to the left.
        turn_rad: f64,
        /// Whether it is in bold.
        bold: bool,
    },
}

/// Squares of colour, row by row from the top, each row from the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Squares {
    /// Lower left and upper right corner.
    pub bounds_m: [Point; 2],
    /// Squares in a row.
    pub columns: usize,
    /// Number of each square's colour, from one; zero where nothing is drawn.
    pub colours: Vec<u8>,
    /// The colours, the first has number one; 255 at most.
    pub palette: Vec<Colour>,
}

/// Which side of a line of words is at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The words begin there.
    Start,
    /// Their middle is there.
    Middle,
    /// They end there.
    End,
}

/// The line of a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub colour: Colour,
    /// Its width in metres.
    pub width_m: f64,
    /// Lengths of dashes and gaps in metres; empty for a full line.
    pub dash_m: Vec<f64>,
    /// How far into the pattern the line begins.
    pub offset_m: f64,
}

/// The filling of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// One colour.
    Plain(Colour),
    /// Slanted lines of one colour.
    Hatch(Colour),
}
