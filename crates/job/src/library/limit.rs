//! What a limit can be: a quantity, a list of them, a name, a word.

use super::entry::Part;
use crate::words::Words;
use quantity::{
    AirChange, AreaResistance, ArealMass, HeatFlux, Length, LinearTransmittance, Quantity, Ratio,
    System, Temperature, TemperatureDifference, Transmittance, Velocity,
};

/// The value of a limit, as it is written and as it is shown.
pub(super) trait Limit: Sized {
    /// The value under a key; none, told in the part, if it cannot be read.
    fn read(part: &mut Part<'_>, key: &'static str) -> Option<Self>;

    /// The value for a person, in the units of the job.
    fn words(&self, units: System) -> String;
}

impl Limit for String {
    fn read(part: &mut Part<'_>, key: &'static str) -> Option<Self> {
        part.text(key)
    }

    fn words(&self, _: System) -> String {
        self.clone()
    }
}

impl Limit for Vec<Length> {
    fn read(part: &mut Part<'_>, key: &'static str) -> Option<Self> {
        part.quantities(key)
    }

    fn words(&self, units: System) -> String {
        let each: Vec<String> = self.iter().map(|length| length.words(units)).collect();
        each.join(", ")
    }
}

impl<T: Words> Limit for T {
    fn read(part: &mut Part<'_>, key: &'static str) -> Option<Self> {
        part.word(key)
    }

    fn words(&self, _: System) -> String {
        self.word().to_owned()
    }
}

macro_rules! quantities {
    ($($name:ident),*) => {
        $(impl Limit for $name {
            fn read(part: &mut Part<'_>, key: &'static str) -> Option<Self> {
                part.quantity(key)
            }

            fn words(&self, units: System) -> String {
                quantity::show(self.si(), Self::MEASURE, units)
            }
        })*
    };
}

quantities! {
    AirChange, ArealMass, AreaResistance, HeatFlux, Length, LinearTransmittance, Ratio, Temperature,
    TemperatureDifference, Transmittance, Velocity
}
