//! What a law is, and how it is evaluated.

use crate::error::LawError;
use quantity::Measure;
use std::ops::RangeInclusive;

/// A published law: what it says, takes and gives.
///
/// Every law is declared once, by the macro of this crate; its plain kernel, its documentation,
/// `calc` and the check rows all run from that declaration.
///
/// Two laws are the same if they have the same name.
pub struct Law {
    /// The name that `calc` and the check rows use, in `snake_case` and full words.
    pub name: &'static str,
    /// What it gives, in one sentence.
    pub sentence: &'static str,
    /// What else to know: choices, branches, measured errors. May be empty.
    pub remarks: &'static [&'static str],
    /// The subject under which it is listed.
    pub topic: &'static str,
    /// The formula, in the symbols of its inputs and outputs.
    pub formula: &'static str,
    /// What it takes, in order.
    pub inputs: &'static [Input],
    /// What it gives; the first is the one that is meant by its name.
    pub outputs: &'static [Output],
    /// Where it was published.
    pub source: Source,
    pub(crate) run: fn(&[Arg]) -> Option<Vec<f64>>,
}

/// One thing a law takes.
///
/// Two inputs are the same if they are the same entry of the same law.
#[derive(Debug)]
pub struct Input {
    /// Its name without the unit: `thickness`.
    pub name: &'static str,
    /// Its letter in the formula.
    pub symbol: &'static str,
    /// What it measures; the number is in the SI unit of that measure.
    pub measure: Measure,
    /// Between which SI numbers the law holds.
    pub range: RangeInclusive<f64>,
    /// One number, a list of them, or a choice.
    pub kind: Kind,
    /// What it is, in a phrase.
    pub meaning: &'static str,
}

/// In what form a law takes an input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// One number.
    Number,
    /// One or more numbers.
    List,
    /// One of these words; the number handed in is its place, from zero.
    Choice(&'static [&'static str]),
}

/// One thing a law gives.
#[derive(Debug)]
pub struct Output {
    /// Its name without the unit: `transmittance`.
    pub name: &'static str,
    /// Its letter in the formula.
    pub symbol: &'static str,
    /// What it measures; the number is in the SI unit of that measure.
    pub measure: Measure,
}

/// Where a law was published, and how well we know it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// The standard, book or paper.
    pub standard: &'static str,
    /// The clause, table or equation.
    pub clause: &'static str,
    /// Whether its text was at hand.
    pub held: Held,
}

/// How we hold the text of a law.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// The formula was read in print or reprint; the clause number may be from memory.
    Print,
    /// From memory: compare with the print before relying on the clause.
    Memory,
    /// It follows from definitions and needs no print.
    Definition,
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.standard)?;
        if !self.clause.is_empty() {
            write!(f, ", {}", self.clause)?;
        }
        match self.held {
            Held::Memory => write!(f, " (from memory)"),
            Held::Print | Held::Definition => Ok(()),
        }
    }
}

/// What is handed to a law for one of its inputs, in SI.
#[derive(Clone, Debug, PartialEq)]
pub enum Arg {
    /// One number, or the place of a choice.
    Number(f64),
    /// A list of numbers.
    List(Vec<f64>),
}

impl Arg {
    /// The numbers in it.
    pub fn numbers(&self) -> &[f64] {
        match self {
            Arg::Number(number) => std::slice::from_ref(number),
            Arg::List(numbers) => numbers,
        }
    }
}

impl From<f64> for Arg {
    fn from(number: f64) -> Self {
        Arg::Number(number)
    }
}

impl From<Vec<f64>> for Arg {
    fn from(numbers: Vec<f64>) -> Self {
        Arg::List(numbers)
    }
}

impl From<&[f64]> for Arg {
    fn from(numbers: &[f64]) -> Self {
        Arg::List(numbers.to_vec())
    }
}

/// What a law gave, and where it was used outside its range.
#[derive(Clone, Debug, PartialEq)]
pub struct Evaluation {
    /// The SI number of each output, in the order of the law.
    pub outputs: Vec<f64>,
    /// Inputs outside the range in which the law holds.
    pub out_of_range: Vec<OutOfRange>,
}

impl Evaluation {
    /// The first output, the one that the law's name means.
    pub fn value(&self) -> f64 {
        self.outputs.first().copied().unwrap_or(f64::NAN)
    }

    /// Whether every input lay where the law holds.
    pub fn within_range(&self) -> bool {
        self.out_of_range.is_empty()
    }
}

/// An input outside the range in which its law holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// Which input.
    pub input: &'static Input,
    /// The SI number it had.
    pub value: f64,
}

impl OutOfRange {
    /// Between which SI numbers the law holds.
    pub fn range(&self) -> RangeInclusive<f64> {
        self.input.range.clone()
    }
}

impl std::fmt::Debug for Law {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_tuple("Law").field(&self.name).finish()
    }
}

impl PartialEq for Law {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Law {}

impl PartialEq for Input {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Law {
    /// The law of that name, if there is one.
    pub fn find(name: &str) -> Option<&'static Law> {
        crate::all().iter().copied().find(|law| law.name == name)
    }

    /// The answer of the law to inputs in SI, in the order it declares them.
    ///
    /// An input outside the range is reported beside the answer. Errors if the inputs do not fit
    /// the declaration, are not finite, cannot exist, or leave no finite answer; never panics.
    pub fn evaluate(&self, inputs: &[Arg]) -> Result<Evaluation, LawError> {
        if inputs.len() != self.inputs.len() {
            let (law, takes, given) = (self.name, self.inputs.len(), inputs.len());
            return Err(LawError::Count { law, takes, given });
        }
        let mut out_of_range = Vec::new();
        for (input, arg) in self.inputs.iter().zip(inputs) {
            input.examine(arg, &mut out_of_range)?;
        }
        let no_answer = LawError::NoAnswer { law: self.name, formula: self.formula };
        let outputs = (self.run)(inputs).ok_or(no_answer.clone())?;
        if outputs.iter().all(|number| number.is_finite()) {
            Ok(Evaluation { outputs, out_of_range })
        } else {
            Err(no_answer)
        }
    }
}

impl Input {
    fn examine(
        &'static self,
        arg: &Arg,
        out_of_range: &mut Vec<OutOfRange>,
    ) -> Result<(), LawError> {
        let takes_list = self.kind == Kind::List;
        if takes_list != matches!(arg, Arg::List(_)) {
            return Err(LawError::Form { input: self.name, takes_list });
        }
        if arg.numbers().is_empty() {
            return Err(LawError::EmptyList { input: self.name });
        }
        for &value in arg.numbers() {
            if !value.is_finite() {
                return Err(LawError::NotFinite { input: self.name });
            }
            if let Kind::Choice(choices) = self.kind {
                let is_place = value >= 0.0 && value.fract() == 0.0;
                if !is_place || value >= choices.len() as f64 {
                    return Err(LawError::NoSuchChoice { input: self.name, choices });
                }
                continue;
            }
            if value < 0.0 && self.exists_from_zero() {
                return Err(LawError::BelowZero { input: self.name, value });
            }
            if !self.holds_at(value) {
                out_of_range.push(OutOfRange { input: self, value });
            }
        }
        Ok(())
    }

    /// Whether the law holds there. An end that was written in another unit may miss it by rounding.
    fn holds_at(&self, value: f64) -> bool {
        let slack = 1e-12 * value.abs();
        value >= self.range.start() - slack && value <= self.range.end() + slack
    }

    /// Whether nothing below zero exists of it.
    ///
    /// Differences and what flows along them may have either sign; so may an input whose range
    /// begins below zero, such as the altitude.
    fn exists_from_zero(&self) -> bool {
        let signed = matches!(
            self.measure,
            Measure::TemperatureDifference
                | Measure::Power
                | Measure::HeatFlux
                | Measure::PressureDifference
                | Measure::PressureGradient
                | Measure::Head
                | Measure::GaugePressure
        );
        !signed && *self.range.start() >= 0.0
    }
}
