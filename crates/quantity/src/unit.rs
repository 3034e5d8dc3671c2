//! The one table of units, for reading and for printing.
//!
//! Factors are exact where the unit is defined exactly: international foot and pound, avoirdupois,
//! the U.S. gallon of 231 cubic inches, the international-table Btu (1055.05585262 J), conventional
//! water at 4 °C (NIST SP 811, appendix B). A test holds the table against `uom` wherever `uom` has
//! the unit.

use crate::measure::{Measure, System};

/// One unit: how it is written, and how it turns into the SI number.
///
/// SI number = (number in this unit + `offset`) × `scale`.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub measure: Measure,
    /// The symbol that is printed.
    pub symbol: &'static str,
    /// Other spellings that are read, in lower case with blanks removed.
    pub spellings: &'static [&'static str],
    /// SI number of one unit (of one degree, for a scale).
    pub scale: f64,
    /// Added before scaling; zero for all but temperature scales.
    pub offset: f64,
    /// Digits that are printed behind the point.
    pub decimals: usize,
    /// The systems in which this unit is the one expected for its measure.
    pub shown_in: &'static [System],
}

impl Unit {
    /// The SI number of a number in this unit.
    pub fn to_si(&self, number: f64) -> f64 {
        (number + self.offset) * self.scale
    }

    /// The number in this unit of an SI number.
    pub fn from_si(&self, si: f64) -> f64 {
        si / self.scale - self.offset
    }
}

const FT: f64 = 0.3048;
const IN: f64 = 0.0254;
const LB: f64 = 0.453_592_37;
const BTU: f64 = 1_055.055_852_62;
const HOUR: f64 = 3600.0;
const RANKINE: f64 = 5.0 / 9.0;
const GALLON: f64 = 231.0 * IN * IN * IN;
const LITRE: f64 = 1e-3;
const PSI: f64 = LB * 9.806_65 / (IN * IN);
const FOOT_WATER: f64 = 9_806.65 * 0.999_972 * FT;
const MINUTE: f64 = 60.0;

const US: &[System] = &[System::Us];
const SI: &[System] = &[System::Si];
const BOTH: &[System] = &[System::Us, System::Si];
const NEITHER: &[System] = &[];

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident: $measure:ident, $symbol:literal, [$($spelling:literal),*],
        $scale:expr, $offset:expr, $decimals:literal, $shown:ident;)*) => {
        $($(#[$doc])* pub static $name: Unit = Unit {
            measure: Measure::$measure,
            symbol: $symbol,
            spellings: &[$($spelling),*],
            scale: $scale,
            offset: $offset,
            decimals: $decimals,
            shown_in: $shown,
        };)*
        /// Every unit, grouped by measure.
        pub static ALL: &[&Unit] = &[$(&$name),*];
    };
}

units! {
    /// Foot.
    FOOT: Length, "ft", ["'", "foot", "feet"], FT, 0.0, 1, US;
    /// Inch.
    INCH: Length, "in", ["\"", "inch", "inches"], IN, 0.0, 2, NEITHER;
    /// Metre.
    METRE: Length, "m", ["metre", "metres", "meter", "meters"], 1.0, 0.0, 2, SI;
    /// Centimetre.
    CENTIMETRE: Length, "cm", [], 0.01, 0.0, 1, NEITHER;
    /// Millimetre.
    MILLIMETRE: Length, "mm", [], 0.001, 0.0, 1, NEITHER;
    /// Square foot.
    SQUARE_FOOT: Area, "ft²", ["sqft", "sq.ft.", "sf", "ft2"], FT * FT, 0.0, 1, US;
    /// Square inch, of leaks and sections.
    SQUARE_INCH: Area, "in²", ["sqin", "in2"], IN * IN, 0.0, 1, NEITHER;
    /// Square centimetre, of leaks and sections.
    SQUARE_CENTIMETRE: Area, "cm²", ["sqcm", "cm2"], 1e-4, 0.0, 0, NEITHER;
    /// Square millimetre, of fixings.
    SQUARE_MILLIMETRE: Area, "mm²", ["sqmm", "mm2"], 1e-6, 0.0, 0, NEITHER;
    /// Square metre.
    SQUARE_METRE: Area, "m²", ["sqm", "m2"], 1.0, 0.0, 2, SI;
    /// U.S. gallon.
    GALLON_US: Volume, "gal", ["gallon", "gallons", "usgal"], GALLON, 0.0, 2, US;
    /// Litre.
    LITRES: Volume, "L", ["litre", "litres", "liter", "liters"], LITRE, 0.0, 1, SI;
    /// Cubic metre.
    CUBIC_METRE: Volume, "m³", ["m3"], 1.0, 0.0, 2, NEITHER;
    /// Cubic foot.
    CUBIC_FOOT: Volume, "ft³", ["cuft", "ft3"], FT * FT * FT, 0.0, 1, NEITHER;
    /// Cubic foot of air in a room.
    AIR_CUBIC_FOOT: AirVolume, "ft³", ["cuft", "ft3"], FT * FT * FT, 0.0, 0, US;
    /// Cubic metre of air in a room.
    AIR_CUBIC_METRE: AirVolume, "m³", ["m3"], 1.0, 0.0, 1, SI;
    /// Degree Fahrenheit on the scale.
    FAHRENHEIT: Temperature, "°F", ["f", "degf", "fahrenheit"], RANKINE, 459.67, 1, US;
    /// Degree Celsius on the scale.
    CELSIUS: Temperature, "°C", ["c", "degc", "celsius"], 1.0, 273.15, 1, SI;
    /// Kelvin on the absolute scale.
    KELVIN: Temperature, "K", ["kelvin"], 1.0, 0.0, 2, NEITHER;
    /// Difference of one degree Fahrenheit.
    FAHRENHEIT_DEGREE: TemperatureDifference, "°F", ["f", "degf", "fahrenheit"], RANKINE, 0.0, 1, US;
    /// Difference of one kelvin.
    KELVIN_DIFFERENCE: TemperatureDifference, "K", ["kelvin", "c", "degc", "°c"], 1.0, 0.0, 1, SI;
    /// Btu (international table) an hour.
    BTU_HOUR: Power, "Btu/h", ["btuh", "btu/hr", "btus/h"], BTU / HOUR, 0.0, 0, US;
    /// Thousand Btu an hour.
    MBH: Power, "MBH", ["mbtuh", "kbtu/h"], 1000.0 * BTU / HOUR, 0.0, 1, NEITHER;
    /// Watt.
    WATT: Power, "W", ["watt", "watts"], 1.0, 0.0, 0, SI;
    /// Kilowatt.
    KILOWATT: Power, "kW", [], 1000.0, 0.0, 2, NEITHER;
    /// Btu an hour and square foot.
    BTU_HOUR_SQFT: HeatFlux, "Btu/h·ft²", ["btu/hft2", "btuh/ft2", "btuh/sqft", "btu/(h·ft2)"],
        BTU / HOUR / (FT * FT), 0.0, 1, US;
    /// Watt a square metre.
    WATT_SQM: HeatFlux, "W/m²", ["w/m2"], 1.0, 0.0, 1, SI;
    /// Btu an hour and degree Fahrenheit.
    BTU_HOUR_F: HeatLossCoefficient, "Btu/h·°F", ["btu/hf", "btuh/f"], BTU / HOUR / RANKINE, 0.0, 1, US;
    /// Watt a kelvin.
    WATT_KELVIN: HeatLossCoefficient, "W/K", [], 1.0, 0.0, 1, SI;
    /// U in inch-pound units.
    U_US: Transmittance, "Btu/h·ft²·°F", ["btu/hft2f", "btu/(h·ft2·f)"],
        BTU / HOUR / RANKINE / (FT * FT), 0.0, 4, US;
    /// U in SI.
    U_SI: Transmittance, "W/m²K", ["w/m2k", "w/(m2k)", "w/m2·k"], 1.0, 0.0, 3, SI;
    /// R in inch-pound units, the "R-19" of an insulation label.
    R_US: AreaResistance, "h·ft²·°F/Btu", ["hft2f/btu", "ft2·h·f/btu", "r"],
        RANKINE * HOUR * FT * FT / BTU, 0.0, 2, US;
    /// R in SI, sometimes marked RSI.
    R_SI: AreaResistance, "m²K/W", ["m2k/w", "m2·k/w", "rsi"], 1.0, 0.0, 3, SI;
    /// Conductivity in Btu an hour, foot and degree Fahrenheit.
    CONDUCTIVITY_US: Conductivity, "Btu/h·ft·°F", ["btu/hftf"], BTU / HOUR / FT / RANKINE, 0.0, 3, US;
    /// Conductivity in Btu inch an hour, square foot and degree Fahrenheit.
    CONDUCTIVITY_INCH: Conductivity, "Btu·in/h·ft²·°F", ["btuin/hft2f"],
        BTU / HOUR / FT / RANKINE / 12.0, 0.0, 2, NEITHER;
    /// Conductivity in SI.
    CONDUCTIVITY_SI: Conductivity, "W/mK", ["w/m·k", "w/(mk)"], 1.0, 0.0, 3, SI;
    /// Edge loss in inch-pound units.
    LINEAR_US: LinearTransmittance, "Btu/h·ft·°F", ["btu/hftf"], BTU / HOUR / FT / RANKINE, 0.0, 3, US;
    /// Edge loss in SI.
    LINEAR_SI: LinearTransmittance, "W/mK", ["w/m·k", "w/(mk)"], 1.0, 0.0, 3, SI;
    /// U.S. gallon a minute.
    GPM: Flow, "gpm", ["gal/min"], GALLON / MINUTE, 0.0, 2, US;
    /// Litre a minute.
    LITRE_MINUTE: Flow, "L/min", ["lpm"], LITRE / MINUTE, 0.0, 2, SI;
    /// Litre an hour.
    LITRE_HOUR: Flow, "L/h", ["lph"], LITRE / HOUR, 0.0, 0, NEITHER;
    /// Litre a second.
    LITRE_SECOND: Flow, "L/s", [], LITRE, 0.0, 3, NEITHER;
    /// Cubic metre an hour.
    CUBIC_METRE_HOUR: Flow, "m³/h", ["m3/h"], 1.0 / HOUR, 0.0, 3, NEITHER;
    /// Cubic metre a second.
    CUBIC_METRE_SECOND: Flow, "m³/s", ["m3/s"], 1.0, 0.0, 6, NEITHER;
    /// Cubic foot a minute.
    CFM: AirFlow, "cfm", ["ft3/min"], FT * FT * FT / MINUTE, 0.0, 0, US;
    /// Cubic metre of air an hour.
    AIR_CUBIC_METRE_HOUR: AirFlow, "m³/h", ["m3/h"], 1.0 / HOUR, 0.0, 0, SI;
    /// Litre of air a second.
    AIR_LITRE_SECOND: AirFlow, "L/s", [], LITRE, 0.0, 1, NEITHER;
    /// Cubic metre of air a second.
    AIR_CUBIC_METRE_SECOND: AirFlow, "m³/s", ["m3/s"], 1.0, 0.0, 4, NEITHER;
    /// Pound an hour.
    POUND_HOUR: MassFlow, "lb/h", [], LB / HOUR, 0.0, 0, US;
    /// Kilogram an hour.
    KILOGRAM_HOUR: MassFlow, "kg/h", [], 1.0 / HOUR, 0.0, 1, SI;
    /// Kilogram a second.
    KILOGRAM_SECOND: MassFlow, "kg/s", [], 1.0, 0.0, 4, NEITHER;
    /// Pound-force a square inch, of a difference.
    PSI_DIFFERENCE: PressureDifference, "psi", ["psid"], PSI, 0.0, 2, US;
    /// Kilopascal, of a difference.
    KILOPASCAL: PressureDifference, "kPa", [], 1000.0, 0.0, 2, SI;
    /// Bar, of a difference.
    BAR: PressureDifference, "bar", [], 1e5, 0.0, 3, NEITHER;
    /// Millibar, of a difference.
    MILLIBAR: PressureDifference, "mbar", [], 100.0, 0.0, 1, NEITHER;
    /// Pascal, of a difference.
    PASCAL: PressureDifference, "Pa", [], 1.0, 0.0, 0, NEITHER;
    /// Foot of water at 4 °C.
    FEET_WATER: PressureDifference, "ft water", ["fthead", "ftofhead", "feetofhead", "ftwc", "ft"],
        FOOT_WATER, 0.0, 2, NEITHER;
    /// Pound-force a square inch on a gauge.
    PSI_GAUGE: GaugePressure, "psi", ["psig"], PSI, 0.0, 1, US;
    /// Bar on a gauge.
    BAR_GAUGE: GaugePressure, "bar", ["barg"], 1e5, 0.0, 2, SI;
    /// Kilopascal on a gauge.
    KILOPASCAL_GAUGE: GaugePressure, "kPa", ["kpag"], 1000.0, 0.0, 0, NEITHER;
    /// Pascal on a gauge.
    PASCAL_GAUGE: GaugePressure, "Pa", [], 1.0, 0.0, 0, NEITHER;
    /// Pound-force a square inch above vacuum.
    PSI_ABSOLUTE: AbsolutePressure, "psia", [], PSI, 0.0, 2, US;
    /// Kilopascal above vacuum.
    KILOPASCAL_ABSOLUTE: AbsolutePressure, "kPa", ["kpaa"], 1000.0, 0.0, 1, SI;
    /// Bar above vacuum.
    BAR_ABSOLUTE: AbsolutePressure, "bar", ["bara"], 1e5, 0.0, 3, NEITHER;
    /// Pascal above vacuum.
    PASCAL_ABSOLUTE: AbsolutePressure, "Pa", [], 1.0, 0.0, 0, NEITHER;
    /// Psi for each hundred feet of tube.
    PSI_HUNDRED_FEET: PressureGradient, "psi/100 ft", ["psi/100ft"], PSI / (100.0 * FT), 0.0, 2, US;
    /// Pascal a metre of tube.
    PASCAL_METRE: PressureGradient, "Pa/m", [], 1.0, 0.0, 0, SI;
    /// Foot of the fluid.
    FOOT_HEAD: Head, "ft", ["'", "foot", "feet", "fthead", "ftofhead", "feetofhead"], FT, 0.0, 2, US;
    /// Metre of the fluid.
    METRE_HEAD: Head, "m", ["metre", "metres", "meter", "meters"], 1.0, 0.0, 2, SI;
    /// Foot a second.
    FOOT_SECOND: Velocity, "ft/s", ["fps"], FT, 0.0, 2, US;
    /// Metre a second.
    METRE_SECOND: Velocity, "m/s", [], 1.0, 0.0, 2, SI;
    /// Mile an hour, of wind.
    MILE_HOUR: Velocity, "mph", ["mi/h"], 5280.0 * FT / HOUR, 0.0, 1, NEITHER;
    /// Kilometre an hour, of wind.
    KILOMETRE_HOUR: Velocity, "km/h", ["kmh", "kph"], 1000.0 / HOUR, 0.0, 1, NEITHER;
    /// Pound a cubic foot.
    POUND_CUFT: Density, "lb/ft³", ["lb/ft3", "pcf"], LB / (FT * FT * FT), 0.0, 4, US;
    /// Kilogram a cubic metre.
    KILOGRAM_CUM: Density, "kg/m³", ["kg/m3"], 1.0, 0.0, 3, SI;
    /// Btu a pound and degree Fahrenheit.
    BTU_POUND_F: SpecificHeat, "Btu/lb·°F", ["btu/lbf"], BTU / LB / RANKINE, 0.0, 4, US;
    /// Joule a kilogram and kelvin.
    JOULE_KILOGRAM_K: SpecificHeat, "J/kgK", ["j/kg·k", "j/(kgk)"], 1.0, 0.0, 0, SI;
    /// Kilojoule a kilogram and kelvin.
    KILOJOULE_KILOGRAM_K: SpecificHeat, "kJ/kgK", ["kj/kg·k"], 1000.0, 0.0, 3, NEITHER;
    /// Millipascal second, the same as a centipoise.
    MILLIPASCAL_SECOND: Viscosity, "mPa·s", ["mpas", "cp"], 1e-3, 0.0, 3, BOTH;
    /// Pascal second.
    PASCAL_SECOND: Viscosity, "Pa·s", ["pas"], 1.0, 0.0, 6, NEITHER;
    /// Second.
    SECOND: Time, "s", ["sec"], 1.0, 0.0, 0, NEITHER;
    /// Minute.
    MINUTES: Time, "min", ["minutes"], MINUTE, 0.0, 1, BOTH;
    /// Hour.
    HOURS: Time, "h", ["hr", "hours"], HOUR, 0.0, 1, NEITHER;
    /// Day.
    DAY: Time, "day", ["d", "days"], 24.0 * HOUR, 0.0, 1, NEITHER;
    /// Air changes an hour.
    AIR_CHANGES_HOUR: AirChange, "/h", ["ach", "perhour", "1/h", "airchanges/h"], 1.0 / HOUR, 0.0, 2, BOTH;
    /// Air changes a second.
    AIR_CHANGES_SECOND: AirChange, "/s", ["1/s"], 1.0, 0.0, 6, NEITHER;
    /// A bare number.
    ONE: Ratio, "", [], 1.0, 0.0, 3, BOTH;
    /// Per cent.
    PERCENT: Ratio, "%", ["percent"], 0.01, 0.0, 1, NEITHER;
    /// Degree of arc.
    DEGREE: Angle, "°", ["deg", "degree", "degrees"], std::f64::consts::PI / 180.0, 0.0, 1, BOTH;
    /// Radian.
    RADIAN: Angle, "rad", [], 1.0, 0.0, 4, NEITHER;
    /// Million Btu.
    MILLION_BTU: Energy, "MMBtu", ["millionbtu"], 1e6 * BTU, 0.0, 1, US;
    /// Kilowatt-hour.
    KILOWATT_HOUR: Energy, "kWh", [], 1000.0 * HOUR, 0.0, 0, SI;
    /// Hundred thousand Btu, as gas is sold.
    THERM: Energy, "therm", ["therms"], 1e5 * BTU, 0.0, 0, NEITHER;
    /// Megajoule.
    MEGAJOULE: Energy, "MJ", [], 1e6, 0.0, 0, NEITHER;
    /// Joule.
    JOULE: Energy, "J", [], 1.0, 0.0, 0, NEITHER;
    /// Fahrenheit degree-day.
    FAHRENHEIT_DAY: DegreeTime, "°F·d", ["f·d", "fday", "fdays", "degfdays"], RANKINE * 24.0 * HOUR, 0.0, 0, US;
    /// Kelvin day.
    KELVIN_DAY: DegreeTime, "K·d", ["kd", "kday", "kdays"], 24.0 * HOUR, 0.0, 0, SI;
    /// Kelvin second.
    KELVIN_SECOND: DegreeTime, "K·s", [], 1.0, 0.0, 0, NEITHER;
    /// Pound a square foot.
    POUND_SQFT: ArealMass, "lb/ft²", ["lb/ft2", "psf"], LB / (FT * FT), 0.0, 1, US;
    /// Kilogram a square metre.
    KILOGRAM_SQM: ArealMass, "kg/m²", ["kg/m2"], 1.0, 0.0, 1, SI;
    /// Btu a square foot and degree Fahrenheit.
    BTU_SQFT_F: ArealHeatCapacity, "Btu/ft²·°F", ["btu/ft2f", "btu/(ft2·f)"],
        BTU / (FT * FT) / RANKINE, 0.0, 1, US;
    /// Kilojoule a square metre and kelvin.
    KILOJOULE_SQM_K: ArealHeatCapacity, "kJ/m²K", ["kj/m2k", "kj/(m2k)"], 1000.0, 0.0, 0, SI;
    /// Joule a square metre and kelvin.
    JOULE_SQM_K: ArealHeatCapacity, "J/m²K", ["j/m2k", "j/(m2k)"], 1.0, 0.0, 0, NEITHER;
}
