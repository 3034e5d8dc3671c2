//! The state for which a design is asked.

use quantity::Temperature;

/// What differs from the design day; the default is the design day itself.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct State {
    /// Outdoor temperature; that of the design day if none.
    pub outdoor: Option<Temperature>,
}
