//! What kind of thing a number measures.

use crate::unit::{self, Unit};

/// The two unit systems of the trade.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// Inch-pound units, as read off a North American gauge or tape.
    #[default]
    Us,
    /// Metric units, as read off a European one.
    Si,
}

impl System {
    /// The other of the two systems.
    pub const fn other(self) -> System {
        match self {
            System::Us => System::Si,
            System::Si => System::Us,
        }
    }
}

/// What kind of thing a number measures.
///
/// Two measures may share a dimension and still differ: a temperature is no difference of
/// temperatures, a gauge reading no absolute pressure, a head no length of tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// A length of wall or tube.
    Length,
    /// An area.
    Area,
    /// A volume of liquid.
    Volume,
    /// A volume of air in a room.
    AirVolume,
    /// A temperature on a scale.
    Temperature,
    /// A difference of two temperatures.
    TemperatureDifference,
    /// A rate of heat.
    Power,
    /// Heat per area of surface.
    HeatFlux,
    /// Heat loss per degree, of a room or house.
    HeatLossCoefficient,
    /// Heat loss per area and degree: the U-value.
    Transmittance,
    /// Resistance of an area to heat: the R-value.
    AreaResistance,
    /// Heat conductivity of a material.
    Conductivity,
    /// Heat loss per length and degree of an edge or junction.
    LinearTransmittance,
    /// A volume flow of liquid.
    Flow,
    /// A volume flow of air.
    AirFlow,
    /// A mass flow.
    MassFlow,
    /// A difference of two pressures.
    PressureDifference,
    /// A pressure above that of the air outside the pipe.
    GaugePressure,
    /// A pressure above vacuum.
    AbsolutePressure,
    /// A pressure drop per length of tube.
    PressureGradient,
    /// Height of a column of the fluid itself.
    Head,
    /// A speed.
    Velocity,
    /// Mass per volume.
    Density,
    /// Heat per mass and degree.
    SpecificHeat,
    /// Dynamic viscosity.
    Viscosity,
    /// A span of time.
    Time,
    /// How often the air of a room is replaced.
    AirChange,
    /// A bare ratio.
    Ratio,
    /// An angle.
    Angle,
    /// An amount of heat or fuel energy.
    Energy,
    /// Degrees below a base temperature, summed over days.
    DegreeTime,
    /// Mass per area, as of a floor finish.
    ArealMass,
    /// Heat stored per area and degree, as of a floor.
    ArealHeatCapacity,
}

impl Measure {
    /// Every measure, in the order of declaration.
    pub const ALL: [Measure; 33] = {
        use Measure::*;
        [
            Length,
            Area,
            Volume,
            AirVolume,
            Temperature,
            TemperatureDifference,
            Power,
            HeatFlux,
            HeatLossCoefficient,
            Transmittance,
            AreaResistance,
            Conductivity,
            LinearTransmittance,
            Flow,
            AirFlow,
            MassFlow,
            PressureDifference,
            GaugePressure,
            AbsolutePressure,
            PressureGradient,
            Head,
            Velocity,
            Density,
            SpecificHeat,
            Viscosity,
            Time,
            AirChange,
            Ratio,
            Angle,
            Energy,
            DegreeTime,
            ArealMass,
            ArealHeatCapacity,
        ]
    };

    /// The measure in words, with its article: "a length".
    pub const fn name(self) -> &'static str {
        match self {
            Measure::Length => "a length",
            Measure::Area => "an area",
            Measure::Volume => "a volume",
            Measure::AirVolume => "a volume of air",
            Measure::Temperature => "a temperature",
            Measure::TemperatureDifference => "a temperature difference",
            Measure::Power => "a heat output",
            Measure::HeatFlux => "a heat flux",
            Measure::HeatLossCoefficient => "a heat loss per degree",
            Measure::Transmittance => "a U-value",
            Measure::AreaResistance => "an R-value",
            Measure::Conductivity => "a conductivity",
            Measure::LinearTransmittance => "an edge loss per length and degree",
            Measure::Flow => "a flow",
            Measure::AirFlow => "an air flow",
            Measure::MassFlow => "a mass flow",
            Measure::PressureDifference => "a pressure difference",
            Measure::GaugePressure => "a gauge pressure",
            Measure::AbsolutePressure => "an absolute pressure",
            Measure::PressureGradient => "a pressure drop per length",
            Measure::Head => "a head",
            Measure::Velocity => "a velocity",
            Measure::Density => "a density",
            Measure::SpecificHeat => "a specific heat",
            Measure::Viscosity => "a viscosity",
            Measure::Time => "a time",
            Measure::AirChange => "an air change rate",
            Measure::Ratio => "a ratio",
            Measure::Angle => "an angle",
            Measure::Energy => "an energy",
            Measure::DegreeTime => "degree-days",
            Measure::ArealMass => "a weight per area",
            Measure::ArealHeatCapacity => "a heat capacity per area",
        }
    }

    /// The unit in which the SI number of this measure stands, such as metre or kelvin.
    pub fn si_unit(self) -> &'static Unit {
        let coherent = self.units().find(|unit| unit.scale == 1.0 && unit.offset == 0.0);
        coherent.unwrap_or(&unit::ONE)
    }

    /// The unit in which a person of that system expects to see this measure.
    pub fn shown_unit(self, system: System) -> &'static Unit {
        self.units().find(|unit| unit.shown_in.contains(&system)).unwrap_or_else(|| self.si_unit())
    }

    /// All units of this measure, in table order.
    pub fn units(self) -> impl Iterator<Item = &'static Unit> {
        unit::ALL.iter().copied().filter(move |unit| unit.measure == self)
    }
}
