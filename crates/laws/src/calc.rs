//! A law worked out from what a person writes, and its working as text and JSON.

use crate::error::LawError;
use crate::law::{Arg, Evaluation, Input, Kind, Law};
use crate::nearest::nearest;
use quantity::{Measure, ReadError, System, Unit, unit};
use std::fmt::Write;

/// A law with the values it was given and the answer they led to.
#[derive(Clone, Debug, PartialEq)]
pub struct Calculation {
    /// The law.
    pub law: &'static Law,
    /// Its inputs in SI, in the order of the law.
    pub inputs: Vec<Arg>,
    /// What it gave.
    pub evaluation: Evaluation,
}

/// Why nothing was calculated.
#[derive(Clone, Debug, PartialEq)]
pub enum CalcError {
    /// No law has this name.
    UnknownLaw {
        /// What was written.
        name: String,
        /// The name that may be meant.
        nearest: Option<&'static str>,
    },
    /// A value was written without its name.
    NoKey {
        /// What was written.
        text: String,
    },
    /// The law takes nothing of this name.
    UnknownKey {
        /// What was written.
        key: String,
        /// The name that may be meant.
        nearest: Option<&'static str>,
        /// The names that the law takes.
        takes: Vec<&'static str>,
    },
    /// A value was written twice.
    Twice {
        /// Its name.
        key: &'static str,
    },
    /// Values are missing.
    Missing {
        /// Name and meaning of each.
        missing: Vec<(&'static str, &'static str)>,
    },
    /// A value could not be read.
    Unreadable {
        /// Its name.
        key: &'static str,
        /// Why.
        error: ReadError,
    },
    /// A word that is none of the choices.
    UnknownChoice {
        /// The name of the value.
        key: &'static str,
        /// What was written.
        text: String,
        /// The choices there are.
        choices: &'static [&'static str],
    },
    /// The law gave no answer.
    Law(LawError),
}

impl std::fmt::Display for CalcError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let meant = |nearest: &Option<&str>| {
            nearest.map(|name| format!(", is `{name}` meant?")).unwrap_or_default()
        };
        match self {
            CalcError::UnknownLaw { name, nearest } => {
                write!(f, "no law is named `{}`{}", short(name), meant(nearest))
            }
            CalcError::NoKey { text } => {
                write!(f, "`{}` has no name: write name=value", short(text))
            }
            CalcError::UnknownKey { key, nearest, takes } => {
                write!(f, "the law takes no `{}`{}", short(key), meant(nearest))?;
                if takes.is_empty() { Ok(()) } else { write!(f, "; it takes {}", takes.join(", ")) }
            }
            CalcError::Twice { key } => write!(f, "{key} is given twice"),
            CalcError::Missing { missing } => {
                let list: Vec<_> =
                    missing.iter().map(|(key, meaning)| format!("{key} ({meaning})")).collect();
                write!(f, "still needed: {}", list.join("; "))
            }
            CalcError::Unreadable { key, error } => write!(f, "{key}: {error}"),
            CalcError::UnknownChoice { key, text, choices } => {
                write!(f, "{key}: `{}` is none of {}", short(text), choices.join(", "))
            }
            CalcError::Law(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CalcError {}

fn short(text: &str) -> String {
    text.chars().take(40).collect()
}

/// Works out a law from `name=value` texts.
///
/// A value carries its unit, as `thickness=4 in`; a bare number is in the SI unit of its input.
/// Names or symbols name an input. Lists have commas between their values, so that no value in a
/// list may hold one. Errors tell all that is missing at once.
pub fn calc(name: &str, values: &[&str]) -> Result<Calculation, CalcError> {
    let names = crate::all().iter().map(|law| law.name);
    let law = Law::find(name).ok_or_else(|| CalcError::UnknownLaw {
        name: name.to_owned(),
        nearest: nearest(name, names),
    })?;
    let mut inputs: Vec<Option<Arg>> = vec![None; law.inputs.len()];
    for text in values {
        let (key, value) =
            text.split_once('=').ok_or_else(|| CalcError::NoKey { text: (*text).to_owned() })?;
        let place = place(law, key.trim())?;
        let input = &law.inputs[place];
        if inputs[place].replace(read(input, value)?).is_some() {
            return Err(CalcError::Twice { key: input.name });
        }
    }
    let missing: Vec<_> = law
        .inputs
        .iter()
        .zip(&inputs)
        .filter(|(_, given)| given.is_none())
        .map(|(input, _)| (input.name, input.meaning))
        .collect();
    if !missing.is_empty() {
        return Err(CalcError::Missing { missing });
    }
    let inputs: Vec<Arg> = inputs.into_iter().flatten().collect();
    let evaluation = law.evaluate(&inputs).map_err(CalcError::Law)?;
    Ok(Calculation { law, inputs, evaluation })
}

/// The place of an input by its name, or by its symbol where no other has that.
fn place(law: &Law, key: &str) -> Result<usize, CalcError> {
    let by_name = law.inputs.iter().position(|input| input.name == key);
    by_name.or_else(|| law.inputs.iter().position(|input| input.symbol == key)).ok_or_else(|| {
        let takes: Vec<_> = law.inputs.iter().map(|input| input.name).collect();
        let nearest = nearest(key, takes.iter().copied());
        CalcError::UnknownKey { key: key.to_owned(), nearest, takes }
    })
}

fn read(input: &'static Input, text: &str) -> Result<Arg, CalcError> {
    let number = |text: &str| {
        quantity::read(text, input.measure, input.measure.si_unit())
            .map_err(|error| CalcError::Unreadable { key: input.name, error })
    };
    match input.kind {
        Kind::Number => Ok(Arg::Number(number(text)?)),
        Kind::List => Ok(Arg::List(text.split(',').map(number).collect::<Result<_, _>>()?)),
        Kind::Choice(choices) => choices
            .iter()
            .position(|choice| choice.eq_ignore_ascii_case(text.trim()))
            .map(|place| Arg::Number(place as f64))
            .ok_or_else(|| CalcError::UnknownChoice {
                key: input.name,
                text: text.to_owned(),
                choices,
            }),
    }
}

impl Calculation {
    /// The SI number of the output of that name.
    pub fn output(&self, name: &str) -> Option<f64> {
        let place = self.law.outputs.iter().position(|output| output.name == name)?;
        self.evaluation.outputs.get(place).copied()
    }

    /// The answer as JSON: value, unit, all outputs, whether within range, and the source.
    ///
    /// All numbers are SI; `value` is the first output and `unit` its unit.
    pub fn json(&self) -> String {
        let outputs: Vec<String> = self
            .law
            .outputs
            .iter()
            .zip(&self.evaluation.outputs)
            .map(|(output, number)| format!("{}: {number}", json_text(output.name)))
            .collect();
        format!(
            "{{\"value\": {}, \"unit\": {}, \"outputs\": {{{}}}, \"within_range\": {}, \
             \"source\": {}}}",
            self.evaluation.value(),
            json_text(self.law.outputs[0].measure.si_unit().symbol),
            outputs.join(", "),
            self.evaluation.within_range(),
            json_text(&self.law.source.to_string()),
        )
    }
}

/// A JSON string, with the escapes that RFC 8259 asks for.
fn json_text(text: &str) -> String {
    let mut out = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => out.extend(['\\', character]),
            '\u{0}'..='\u{1f}' => {
                let _ = write!(out, "\\u{:04x}", u32::from(character));
            }
            _ => out.push(character),
        }
    }
    out + "\""
}

impl std::fmt::Display for Calculation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let law = self.law;
        writeln!(f, "{}: {}\n  {}\n", law.name, law.sentence, law.formula)?;
        let texts = law.inputs.iter().zip(&self.inputs).map(|(input, arg)| match input.kind {
            Kind::Choice(choices) => {
                let place = arg.numbers().first().map_or(0, |place| *place as usize);
                choices.get(place).copied().unwrap_or("–").to_owned()
            }
            _ => {
                let shown: Vec<_> =
                    arg.numbers().iter().map(|number| both(*number, input.measure)).collect();
                shown.join(", ")
            }
        });
        for (input, text) in law.inputs.iter().zip(texts) {
            writeln!(f, "  {} {} = {text}: {}", input.name, input.symbol, input.meaning)?;
        }
        writeln!(f)?;
        for (output, number) in law.outputs.iter().zip(&self.evaluation.outputs) {
            writeln!(f, "  {} {} = {}", output.name, output.symbol, both(*number, output.measure))?;
        }
        for out in &self.evaluation.out_of_range {
            let measure = out.input.measure;
            writeln!(
                f,
                "  out of range: {} is {}, and the law holds from {} to {}",
                out.input.name,
                both(out.value, measure),
                both(*out.input.range.start(), measure),
                both(*out.input.range.end(), measure)
            )?;
        }
        writeln!(f, "\n  source: {}", law.source)
    }
}

/// A number in both unit systems, five significant digits, that of the trade first.
pub(crate) fn both(si: f64, measure: Measure) -> String {
    // A ratio stays bare: a Reynolds number is no percentage.
    if measure == Measure::Ratio {
        return significant(si);
    }
    let (trade, metric) = match measure {
        Measure::Length if si.abs() < 1.0 => (&unit::INCH, &unit::MILLIMETRE),
        _ => (measure.shown_unit(System::Us), measure.shown_unit(System::Si)),
    };
    let text = |unit: &Unit| format!("{} {}", significant(unit.from_si(si)), unit.symbol);
    if trade == metric { text(trade) } else { format!("{} ({})", text(trade), text(metric)) }
}

/// A number with five significant digits.
pub(crate) fn significant(number: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let power = number.abs().log10().floor() as i32;
    if !(-5..9).contains(&power) {
        return format!("{number:.4e}");
    }
    let decimals = usize::try_from(4 - power).unwrap_or(0);
    let text = format!("{number:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
