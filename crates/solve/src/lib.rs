//! Numerical kernels, as bare equations.
//!
//! * [`section`]: steady conduction in the smallest repeating cell of a floor.
//! * [`response`]: how fast the heat of a section follows the water.
//! * [`cavity`]: bare tube in a joist bay, which is not conduction.
//! * [`march`]: water that cools on its way through tubes side by side.
//!
//! All figures are bare SI numbers with the unit last in the name:
//! `conductivity_w_mk`, `width_m`. Temperatures are in degrees Celsius, though any
//! scale with a kelvin's step will do, as everything is linear in them. Nothing
//! in here panics on any input, and the same input always gives the same output.

mod banded;
mod modes;

pub mod cavity;
pub mod march;
pub mod response;
pub mod section;
