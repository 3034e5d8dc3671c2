//! Quantities in the words of findings: trade unit and SI side by side.

use quantity::{Measure, System, decimal, feet_inches, show_both, unit};

/// How numbers are put into words: the unit system that comes first.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Words {
    pub(crate) first: System,
}

impl Words {
    /// Any measure in both systems.
    pub(crate) fn both(self, si: f64, measure: Measure) -> String {
        show_both(si, measure, self.first)
    }

    pub(crate) fn power(self, watts: f64) -> String {
        self.both(watts, Measure::Power)
    }

    pub(crate) fn temperature(self, kelvin: f64) -> String {
        self.both(kelvin, Measure::Temperature)
    }

    pub(crate) fn area(self, square_metres: f64) -> String {
        self.both(square_metres, Measure::Area)
    }

    /// The area of leaks.
    pub(crate) fn leaks(self, square_metres: f64) -> String {
        let shown = |unit: &unit::Unit| {
            format!("{} {}", decimal(unit.from_si(square_metres), 0), unit.symbol)
        };
        let (us, si) = (shown(&unit::SQUARE_INCH), shown(&unit::SQUARE_CENTIMETRE));
        match self.first {
            System::Us => format!("{us} ({si})"),
            System::Si => format!("{si} ({us})"),
        }
    }

    /// A length of tube.
    pub(crate) fn run(self, metres: f64) -> String {
        self.both(metres, Measure::Length)
    }

    /// A length off the tape, to the eighth of an inch and the centimetre.
    pub(crate) fn tape(self, metres: f64) -> String {
        let (us, si) = (feet_inches(metres, 8), format!("{} m", decimal(metres, 2)));
        match self.first {
            System::Us => format!("{us} ({si})"),
            System::Si => format!("{si} ({us})"),
        }
    }

    /// A height over a floor, to the eighth of an inch and the millimetre.
    pub(crate) fn rise(self, metres: f64) -> String {
        let (us, si) = (feet_inches(metres, 8), format!("{} mm", decimal(metres * 1000.0, 0)));
        match self.first {
            System::Us => format!("{us} ({si})"),
            System::Si => format!("{si} ({us})"),
        }
    }

    /// A small length: spacing, bend radius.
    pub(crate) fn small(self, metres: f64) -> String {
        let us = format!("{} in", decimal(unit::INCH.from_si(metres), 1).trim_end_matches(".0"));
        let si = format!("{} mm", decimal(metres * 1000.0, 0));
        match self.first {
            System::Us => format!("{us} ({si})"),
            System::Si => format!("{si} ({us})"),
        }
    }
}
