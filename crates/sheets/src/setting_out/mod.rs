//! What is measured on the drawn tube: to set it out, and to find it again under the floor.
//!
//! Drawings and tables show the same measures, taken here once.

mod doorways;
mod offsets;
mod ports;
mod ties;
mod walls;

pub(crate) use doorways::{Crossing, Doorway, Part, doorways};
pub(crate) use offsets::{Stretch, stretches};
pub(crate) use ports::{Port, PortGroup, port_groups};
pub(crate) use ties::{Tie, tied};

use quantity::{System, feet_inches};

/// A length as it is read off a tape: feet and quarter inches, or millimetres.
pub(crate) fn tape(length_m: f64, system: System) -> String {
    match system {
        System::Us => feet_inches(length_m, 4),
        System::Si => quantity::decimal(length_m * 1000.0, 0),
    }
}
