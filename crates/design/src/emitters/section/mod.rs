//! What a floor gives by two-dimensional conduction through its section.
//!
//! A [`Cut`] is a floor across its tubes without their distance; a [`Curve`] is its conductances
//! at any distance; a [`Response`] is what those come to with film and wall of the tube inside and
//! whatever lies below the floor.

mod curve;
mod cut;
mod response;

pub(crate) use curve::{Curve, Sections};
pub(crate) use cut::{Cut, Slab, Spread};
pub(crate) use response::{Beyond, Response};
