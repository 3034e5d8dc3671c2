//! The macro that declares laws, and what it leans on.

use crate::law::{Arg, Kind};
use quantity::Measure;

/// A type that a kernel may take for an input.
pub(crate) trait Argument<'a>: Sized {
    const KIND: Kind;
    fn take(arg: &'a Arg) -> Option<Self>;
}

impl Argument<'_> for f64 {
    const KIND: Kind = Kind::Number;
    fn take(arg: &Arg) -> Option<f64> {
        match arg {
            Arg::Number(number) => Some(*number),
            Arg::List(_) => None,
        }
    }
}

impl<'a> Argument<'a> for &'a [f64] {
    const KIND: Kind = Kind::List;
    fn take(arg: &'a Arg) -> Option<&'a [f64]> {
        match arg {
            Arg::List(numbers) => Some(numbers),
            Arg::Number(_) => None,
        }
    }
}

/// What a kernel may return: one number, or a fixed number of them.
pub(crate) trait Answer {
    fn list(self) -> Vec<f64>;
}

impl Answer for f64 {
    fn list(self) -> Vec<f64> {
        vec![self]
    }
}

impl<const N: usize> Answer for [f64; N] {
    fn list(self) -> Vec<f64> {
        self.to_vec()
    }
}

/// How the SI unit of a measure ends a kernel's parameter name.
const fn unit_ending(measure: Measure) -> &'static str {
    match measure {
        Measure::Length | Measure::Head => "_m",
        Measure::Area => "_m2",
        Measure::Volume | Measure::AirVolume => "_m3",
        Measure::Temperature | Measure::TemperatureDifference => "_k",
        Measure::Power => "_w",
        Measure::HeatFlux => "_w_m2",
        Measure::HeatLossCoefficient => "_w_k",
        Measure::Transmittance => "_w_m2k",
        Measure::AreaResistance => "_m2k_w",
        Measure::Conductivity | Measure::LinearTransmittance => "_w_mk",
        Measure::Flow | Measure::AirFlow => "_m3_s",
        Measure::MassFlow => "_kg_s",
        Measure::PressureDifference | Measure::GaugePressure | Measure::AbsolutePressure => "_pa",
        Measure::PressureGradient => "_pa_m",
        Measure::Velocity => "_m_s",
        Measure::Density => "_kg_m3",
        Measure::SpecificHeat => "_j_kgk",
        Measure::Viscosity => "_pa_s",
        Measure::Time => "_s",
        Measure::AirChange => "_per_s",
        Measure::Ratio => "",
        Measure::Angle => "_rad",
        Measure::Energy => "_j",
        Measure::DegreeTime => "_ks",
        Measure::ArealMass => "_kg_m2",
        Measure::ArealHeatCapacity => "_j_m2k",
    }
}

/// A parameter name without its unit, which must stand last in it.
///
/// Runs at compile time: a name without the unit of its measure does not build.
pub(crate) const fn without_unit(name: &'static str, measure: Measure) -> &'static str {
    let ending = unit_ending(measure).as_bytes();
    let bytes = name.as_bytes();
    assert!(bytes.len() > ending.len(), "the name is no longer than its unit");
    let start = bytes.len() - ending.len();
    let mut place = 0;
    while place < ending.len() {
        assert!(bytes[start + place] == ending[place], "the unit must stand last in the name");
        place += 1;
    }
    name.split_at(start).0
}

/// A doc comment without the blank that follows its slashes.
pub(crate) const fn trimmed(text: &'static str) -> &'static str {
    text.trim_ascii()
}

/// Declares the laws of one topic.
///
/// Each reads like a function whose parameters carry `[symbol, measure, valid SI range]`, whose
/// answer carries names, symbols and measures, followed by formula and source. It becomes the plain
/// kernel, and a static `Law` that `calc`, the reference and the checks run from.
macro_rules! laws {
    (topic $topic:literal;
    $(
        #[doc = $sentence:literal]
        $(#[doc = $remark:literal])*
        $entry:ident: fn $kernel:ident($(
            #[doc = $meaning:literal]
            $parameter:ident: $type:ty [$symbol:literal, $measure:ident, $range:expr]
        ),* $(,)?) -> $answer:ty [$(
            $output:ident $output_symbol:literal $output_measure:ident
        ),+ $(,)?];
        formula $formula:literal;
        source $standard:literal, $clause:literal, $held:ident;
        $body:block
    )+) => {
        $(
            #[doc = $sentence]
            #[doc = ""]
            #[doc = concat!("`", $formula, "`")]
            $(#[doc = $remark])*
            #[doc = ""]
            $(#[doc = concat!("- `", stringify!($parameter), "`, ", $symbol, ": ", $meaning, ".")])*
            #[doc = ""]
            #[doc = concat!("Gives ", $("`", stringify!($output), "`, "),+,
                "in SI as all its inputs; ranges are held by [`", stringify!($entry), "`].")]
            #[doc = concat!("Source: ", $standard, " ", $clause, ".")]
            pub fn $kernel($($parameter: $type),*) -> $answer $body

            #[doc = $sentence]
            pub static $entry: $crate::law::Law = $crate::law::Law {
                name: stringify!($kernel),
                sentence: $crate::declare::trimmed($sentence),
                remarks: &[$($crate::declare::trimmed($remark)),*],
                topic: $topic,
                formula: $formula,
                inputs: &[$($crate::law::Input {
                    name: $crate::declare::without_unit(
                        stringify!($parameter), quantity::Measure::$measure),
                    symbol: $symbol,
                    measure: quantity::Measure::$measure,
                    range: $range,
                    kind: <$type as $crate::declare::Argument>::KIND,
                    meaning: $crate::declare::trimmed($meaning),
                }),*],
                outputs: &[$($crate::law::Output {
                    name: $crate::declare::without_unit(
                        stringify!($output), quantity::Measure::$output_measure),
                    symbol: $output_symbol,
                    measure: quantity::Measure::$output_measure,
                }),+],
                source: $crate::law::Source {
                    standard: $standard,
                    clause: $clause,
                    held: $crate::law::Held::$held,
                },
                run: {
                    fn run(args: &[$crate::law::Arg]) -> Option<Vec<f64>> {
                        let mut args = args.iter();
                        $(let $parameter =
                            <$type as $crate::declare::Argument>::take(args.next()?)?;)*
                        Some($crate::declare::Answer::list($kernel($($parameter),*)))
                    }
                    run
                },
            };
        )+

        /// The laws of this topic, in the order of declaration.
        pub(crate) static ALL: &[&$crate::law::Law] = &[$(&$entry),+];
    };
}
pub(crate) use laws;

/// Declares an enum that a kernel takes and `calc` reads as a word.
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$variant_doc])* $variant),+ }

        impl $crate::declare::Argument<'_> for $name {
            const KIND: $crate::law::Kind = $crate::law::Kind::Choice(&[$($word),+]);
            fn take(arg: &$crate::law::Arg) -> Option<Self> {
                let $crate::law::Arg::Number(place) = arg else { return None };
                [$($name::$variant),+].into_iter().find(|choice| *choice as u8 as f64 == *place)
            }
        }

        impl From<$name> for $crate::law::Arg {
            fn from(choice: $name) -> Self {
                $crate::law::Arg::Number(f64::from(choice as u8))
            }
        }
    };
}
pub(crate) use choice;
