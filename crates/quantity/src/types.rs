//! The trade's names for typed quantities.

use crate::measure::Measure;
use uom::si::f64 as si;

/// A typed quantity: a number that knows what it measures.
pub trait Quantity:
    Copy + PartialEq + PartialOrd + std::fmt::Debug + Send + Sync + 'static
{
    /// What it measures.
    const MEASURE: Measure;
    /// The number in the SI unit of its measure.
    fn si(self) -> f64;
    /// The quantity of that SI number.
    fn from_si(si: f64) -> Self;
}

macro_rules! from_uom {
    ($($(#[$doc:meta])* $name:ident = $uom:ident;)*) => {
        $($(#[$doc])* pub type $name = si::$uom;
        impl Quantity for $name {
            const MEASURE: Measure = Measure::$name;
            fn si(self) -> f64 {
                self.value
            }
            fn from_si(si: f64) -> Self {
                Self { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value: si }
            }
        })*
    };
}

from_uom! {
    /// A length of wall or tube.
    Length = Length;
    /// An area.
    Area = Area;
    /// A volume.
    Volume = Volume;
    /// A temperature on a scale.
    Temperature = ThermodynamicTemperature;
    /// A difference of two temperatures.
    TemperatureDifference = TemperatureInterval;
    /// A rate of heat.
    Power = Power;
    /// Heat per area of surface.
    HeatFlux = HeatFluxDensity;
    /// Heat loss per degree, of a room or house.
    HeatLossCoefficient = ThermalConductance;
    /// Heat loss per area and degree: the U-value.
    Transmittance = HeatTransfer;
    /// Heat conductivity of a material.
    Conductivity = ThermalConductivity;
    /// A volume flow of liquid.
    Flow = VolumeRate;
    /// A mass flow.
    MassFlow = MassRate;
    /// A difference of two pressures.
    PressureDifference = Pressure;
    /// A speed.
    Velocity = Velocity;
    /// Mass per volume.
    Density = MassDensity;
    /// Heat per mass and degree.
    SpecificHeat = SpecificHeatCapacity;
    /// Dynamic viscosity.
    Viscosity = DynamicViscosity;
    /// A span of time.
    Time = Time;
    /// How often the air of a room is replaced.
    AirChange = Frequency;
    /// A bare ratio.
    Ratio = Ratio;
    /// An angle.
    Angle = Angle;
    /// An amount of heat or fuel energy.
    Energy = Energy;
}

macro_rules! own {
    ($($(#[$doc:meta])* $name:ident;)*) => {
        $($(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);
        impl Quantity for $name {
            const MEASURE: Measure = Measure::$name;
            fn si(self) -> f64 {
                self.0
            }
            fn from_si(si: f64) -> Self {
                $name(si)
            }
        })*
    };
}

// What `uom` lacks, or holds equal although the trade must keep it apart.
own! {
    /// Resistance of an area to heat, m²K/W: the R-value.
    AreaResistance;
    /// Heat loss per length and degree of an edge or junction, W/mK.
    LinearTransmittance;
    /// A volume of air in a room, m³.
    AirVolume;
    /// A volume flow of air, m³/s.
    AirFlow;
    /// A pressure above that of the air outside the pipe, Pa.
    GaugePressure;
    /// A pressure above vacuum, Pa.
    AbsolutePressure;
    /// A pressure drop per length of tube, Pa/m.
    PressureGradient;
    /// Height of a column of the fluid itself, m.
    Head;
    /// Degrees below a base temperature, summed over days, K·s.
    DegreeTime;
    /// Mass per area, kg/m².
    ArealMass;
    /// Heat stored per area and degree, J/m²K.
    ArealHeatCapacity;
}

impl GaugePressure {
    /// The pressure above vacuum when the air outside stands at `air`.
    pub fn absolute(self, air: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure(self.0 + air.0)
    }
}

impl AbsolutePressure {
    /// What a gauge shows when the air outside stands at `air`.
    pub fn gauge(self, air: AbsolutePressure) -> GaugePressure {
        GaugePressure(self.0 - air.0)
    }
}

impl AreaResistance {
    /// The U-value of this resistance; none for a resistance that is not above zero.
    pub fn transmittance(self) -> Option<Transmittance> {
        (self.0 > 0.0).then(|| Transmittance::from_si(1.0 / self.0))
    }
}
