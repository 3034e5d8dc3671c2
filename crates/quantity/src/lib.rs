//! Quantities of the heating trade, with their units.
//!
//! The only importer of `uom`. [`Measure`] says what kind of thing a number is, [`mod@unit`] holds the
//! one table of units, [`read()`] takes what a person writes, [`show()`] prints it in trade and SI
//! units. The typed names ([`Length`], [`Power`], [`AreaResistance`] …) stand at the public
//! boundaries of the other crates; kernels take the bare SI number from [`Quantity::si`].

mod feet_inches;
mod measure;
mod number;
mod read;
mod show;
mod types;
pub mod unit;

pub use feet_inches::feet_inches;
pub use measure::{Measure, System};
pub use read::{ReadError, read, read_as};
pub use show::{decimal, number_in, show, show_both, show_in};
pub use types::*;
pub use unit::Unit;
