//! What a floor gives by two-dimensional conduction through its section.
//!
//! A [`Cut`] is a floor across its tubes without their distance; a [`Curve`] is its conductances
//! at any distance, and [`Pairs`] those between two tubes that differ; a [`Response`] is what those
//! come to with film and wall of the tube inside and whatever lies below the floor. A
//! [`FloorSection`] keeps every layer apart, to be drawn and to be followed in time.

mod bare;
mod curve;
mod cut;
mod pairs;
mod picture;
mod response;
mod whole;

pub(crate) use curve::{Curve, Sections, WIDEST_M};
pub(crate) use cut::{Bays, Cut, FLOOR_W_M2K, Slab, Spread};
pub(crate) use pairs::Pairs;
pub use picture::{Isotherm, PictureLayer, SectionPicture};
pub(crate) use response::{Beyond, Response};
pub use whole::FloorSection;
pub(crate) use whole::{Named, Whole};
