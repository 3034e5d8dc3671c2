//! Published laws of heating, each declared once.
//!
//! A [`Law`] is a data entry: name, sentence, formula, inputs with unit and range, outputs, source.
//! The same declaration makes a plain kernel in bare SI numbers, such as
//! [`slab_on_ground_transmittance`](ground::slab_on_ground_transmittance), for hot loops and for
//! stages. A kernel tests nothing: tables are held at their edges, and inputs without an answer
//! give `NaN` or infinity. [`Law::evaluate`] tests: it reports what is out of range and refuses what
//! cannot exist. [`calc()`] does the same for what a person writes, and [`reference()`] lists all.
//!
//! Laws know no house: they import `quantity` and nothing else.

mod calc;
mod declare;
mod error;
mod law;
mod nearest;
mod reference;
mod table;

pub mod air;
pub mod conventions;
pub mod emitter;
pub mod energy;
pub mod envelope;
pub mod fluids;
pub mod friction;
pub mod ground;
pub mod hydraulics;
pub mod panel;
pub mod tube_heat;
pub mod warm_up;

pub use calc::{CalcError, Calculation, calc};
pub use error::LawError;
pub use law::{Arg, Evaluation, Held, Input, Kind, Law, OutOfRange, Output, Source};
pub use reference::reference;

use std::sync::LazyLock;

/// Every law, by topic.
pub fn all() -> &'static [&'static Law] {
    static ALL: LazyLock<Vec<&Law>> = LazyLock::new(|| {
        [
            envelope::ALL,
            conventions::ALL,
            ground::ALL,
            air::ALL,
            energy::ALL,
            warm_up::ALL,
            panel::ALL,
            fluids::water::ALL,
            fluids::glycol::ALL,
            fluids::ethylene::ALL,
            friction::ALL,
            tube_heat::ALL,
            emitter::ALL,
            hydraulics::ALL,
        ]
        .concat()
    });
    &ALL
}
