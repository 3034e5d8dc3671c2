//! Tubes, and polygons of equal conductance in place of round ones.

use std::f64::consts::{FRAC_PI_2, PI};

use super::Rect;

/// How much less a polygon widens for equal logarithmic capacity than for equal area, both as
/// excess over one: by less than one over its number of corners. For regular ones of 8, 12 and 16
/// corners it is 0.905, 0.938 and 0.954.
const CAPACITY_DEFICIT: f64 = 0.745;

/// Distances in radii, or angles, that are taken as none: a micrometre in a usual tube.
const SAME: f64 = 1e-4;

/// Share of the radius by which a corner may miss its line by arithmetic alone.
const CLOSE: f64 = 1e-7;

/// Rounds in which radius and corners of a polygon settle.
const SETTLE: usize = 6;

/// A tube, or a block that is warm as one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tube {
    /// Outer shape, all at one temperature.
    pub shape: Shape,
    /// Resistance from the water to the outer surface for each metre of whole
    /// tube: film and wall. Zero takes the outer surface as given.
    pub resistance_mk_w: f64,
}

/// The outer shape of a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// A round tube. Where it touches a plate along a line, the two are equally warm there; for
    /// tube in the channel of a plate give a block.
    Round {
        /// Middle, from the left.
        x_m: f64,
        /// Middle, from the bottom.
        y_m: f64,
        /// Outer diameter.
        diameter_m: f64,
    },
    /// A rectangle that is warm as one, such as a tube in the channel of a plate.
    Block(Rect),
}

impl Tube {
    /// A round tube whose outer surface has the temperature given.
    pub fn round(x_m: f64, y_m: f64, diameter_m: f64) -> Self {
        Self { shape: Shape::Round { x_m, y_m, diameter_m }, resistance_mk_w: 0.0 }
    }

    /// A block whose surface has the temperature given.
    pub fn block(rect: Rect) -> Self {
        Self { shape: Shape::Block(rect), resistance_mk_w: 0.0 }
    }

    /// The same tube with a resistance of film and wall, for each metre of whole tube.
    pub fn behind(self, resistance_mk_w: f64) -> Self {
        Self { resistance_mk_w, ..self }
    }

    /// The smallest rectangle around it.
    pub fn bounds(&self) -> Rect {
        match self.shape {
            Shape::Round { x_m, y_m, diameter_m } => {
                let radius_m = diameter_m / 2.0;
                Rect {
                    left_m: x_m - radius_m,
                    right_m: x_m + radius_m,
                    bottom_m: y_m - radius_m,
                    top_m: y_m + radius_m,
                }
            }
            Shape::Block(rect) => rect,
        }
    }

    /// The part of the tube that lies in a section of that width: all, or half.
    pub(crate) fn share(&self, width_m: f64) -> f64 {
        match self.shape {
            Shape::Round { x_m, diameter_m, .. } => {
                let close_m = diameter_m * 0.01;
                if x_m < close_m || x_m > width_m - close_m { 0.5 } else { 1.0 }
            }
            // A block on a side is mirrored there.
            Shape::Block(rect) => {
                let close_m = 0.01 * (rect.right_m - rect.left_m);
                if rect.left_m < close_m || rect.right_m > width_m - close_m { 0.5 } else { 1.0 }
            }
        }
    }
}

/// The polygon of equal conductance in place of a round tube.
///
/// It mirrors about both axes of the circle, and each of its slanting edges runs from corner to
/// opposite corner of the cells of a grid with lines through all its corners.
#[derive(Debug, Clone)]
pub(crate) struct Polygon {
    x_m: f64,
    y_m: f64,
    /// Distances of the corners of a quarter from the middle, along both axes, from the
    /// right to the top.
    corners: Vec<(f64, f64)>,
}

impl Polygon {
    /// The polygon of a circle with so many corners in a quarter, and extra ones where lines of
    /// the grid cross it. Its flats face up, down and sideways, so it stays inside the circle
    /// where a layer or a plate may touch it. One that touches a sheet has corners there instead,
    /// on the circle itself, as the two are equally warm where they meet.
    pub(crate) fn new(
        (x_m, y_m, diameter_m): (f64, f64, f64),
        corners: usize,
        touching: bool,
        x_lines_m: &[f64],
        y_lines_m: &[f64],
    ) -> Self {
        let step = FRAC_PI_2 / corners as f64;
        let regular: Vec<f64> = if touching {
            (0..=corners).map(|i| i as f64 * step).collect()
        } else {
            (0..corners).map(|i| (i as f64 + 0.5) * step).collect()
        };
        let reach = if touching { 1.0 - SAME } else { (step / 2.0).cos() - SAME };
        let mut angles = regular.clone();
        let mut radius = 0.0;
        // Each crossing line makes the polygon rounder, which moves where it is crossed.
        for _ in 0..SETTLE {
            radius = if touching { 1.0 } else { circumradius(&angles) } * diameter_m / 2.0;
            let inside = |line: f64, middle: f64| {
                let offset = (line - middle).abs() / radius;
                (offset > SAME && offset < reach).then_some(offset)
            };
            angles.clone_from(&regular);
            angles.extend(y_lines_m.iter().filter_map(|y| inside(*y, y_m)).map(f64::asin));
            angles.extend(x_lines_m.iter().filter_map(|x| inside(*x, x_m)).map(f64::acos));
            angles.sort_by(f64::total_cmp);
            angles.dedup_by(|a, b| (*a - *b).abs() < SAME);
        }
        let corners = angles.iter().map(|angle| (radius * angle.cos(), radius * angle.sin()));
        Self { x_m, y_m, corners: corners.collect() }
    }

    /// Lines through all corners, along both axes.
    pub(crate) fn lines_m(&self) -> [Vec<f64>; 2] {
        let both = |middle: f64, away: f64| [middle - away, middle + away];
        let x = self.corners.iter().flat_map(|c| both(self.x_m, c.0)).collect();
        let y = self.corners.iter().flat_map(|c| both(self.y_m, c.1)).collect();
        [x, y]
    }

    /// Whether a place lies in the polygon or on its edge.
    pub(crate) fn holds(&self, x_m: f64, y_m: f64) -> bool {
        let (x, y) = ((x_m - self.x_m).abs(), (y_m - self.y_m).abs());
        let (Some(first), Some(last)) = (self.corners.first(), self.corners.last()) else {
            return false;
        };
        let close = CLOSE * last.1;
        let within = |pair: &[(f64, f64)]| match pair {
            [a, b] => (b.0 - a.0) * (y - a.1) - (b.1 - a.1) * (x - a.0) >= -close * last.1,
            _ => true,
        };
        x <= first.0 + close && y <= last.1 + close && self.corners.windows(2).all(within)
    }
}

/// Radius of the corners for the conductance of a circle of radius one.
fn circumradius(angles: &[f64]) -> f64 {
    let (Some(first), Some(last)) = (angles.first(), angles.last()) else { return 1.0 };
    let inner: f64 = angles.windows(2).map(|pair| (pair[1] - pair[0]).sin()).sum();
    let flats = (2.0 * first).sin() + (PI - 2.0 * last).sin();
    // Areas of a quarter, twice over: the flats are shared between two quarters.
    let area = inner + flats / 2.0;
    let share = 1.0 - CAPACITY_DEFICIT / (4 * angles.len()) as f64;
    1.0 + share * ((FRAC_PI_2 / area).sqrt() - 1.0)
}
