//! A check row, run through `calc` as a person would.

use crate::csv::Line;
use quantity::Measure;

/// A row that was run.
#[derive(Debug)]
pub(crate) struct Outcome {
    pub(crate) id: String,
    pub(crate) law: &'static str,
    pub(crate) kind: Kind,
    pub(crate) from_memory: bool,
    pub(crate) unmet: bool,
    pub(crate) note: String,
    pub(crate) error: Error,
    /// What is wrong with the row, if anything is.
    pub(crate) failure: Option<String>,
}

/// Where the expected value of a row comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    Published,
    Limit,
    Cross,
}

/// How far an answer was from what is expected.
#[derive(Clone, Debug)]
pub(crate) struct Error {
    /// As a share of the expected value; none for a scale or an expected zero.
    pub(crate) share: Option<f64>,
    /// In the unit of the row.
    pub(crate) difference: f64,
    pub(crate) unit: String,
}

/// Runs a row; the error says why it cannot be run at all.
pub(crate) fn run(line: &Line) -> Result<Outcome, String> {
    let id = line.get("id").to_owned();
    let wrong = |what: &str| format!("{} ({}): {what}", id, line.place);
    for column in ["id", "law", "output", "tolerance_reason", "source"] {
        if line.get(column).is_empty() {
            return Err(wrong(&format!("nothing in column {column}")));
        }
    }
    let kind = match line.get("kind") {
        "published" => Kind::Published,
        "limit" => Kind::Limit,
        "cross" => Kind::Cross,
        other => return Err(wrong(&format!("kind `{other}` is none of published, limit, cross"))),
    };
    let flag = |column, yes, no| match line.get(column) {
        text if text == yes => Ok(true),
        text if text == no => Ok(false),
        other => Err(wrong(&format!("`{other}` in column {column} is neither {yes} nor {no}"))),
    };
    let from_memory = flag("from_memory", "yes", "no")?;
    let unmet = flag("status", "unmet", "met")?;
    if unmet && line.get("note").is_empty() {
        return Err(wrong("unmet, and no note says why"));
    }
    let inputs: Vec<&str> = line.get("inputs").split(';').filter(|text| !text.is_empty()).collect();
    let calculation =
        laws::calc(line.get("law"), &inputs).map_err(|error| wrong(&error.to_string()))?;
    let law = calculation.law;
    let output = law.outputs.iter().find(|output| output.name == line.get("output"));
    let output = output.ok_or_else(|| wrong("the law has no such output"))?;
    let answer = calculation.output(output.name).unwrap_or(f64::NAN);
    let scale = Scale::new(output.measure, line.get("unit")).map_err(|error| wrong(&error))?;
    let expected = line.get("expected").parse().map_err(|_| wrong("no number expected"))?;
    let difference = scale.number(answer) - expected;
    let tolerance = tolerance(line.get("tolerance"), expected).ok_or_else(|| wrong("tolerance"))?;
    let holds = difference.abs() <= tolerance;
    let relative = output.measure != Measure::Temperature && expected != 0.0;
    let error = Error {
        share: relative.then(|| (difference / expected).abs()),
        difference,
        unit: line.get("unit").to_owned(),
    };
    let failure = if !calculation.evaluation.within_range() {
        let names: Vec<_> =
            calculation.evaluation.out_of_range.iter().map(|out| out.input.name).collect();
        Some(format!("outside the range of the law: {}", names.join(", ")))
    } else if holds == unmet {
        let got = scale.number(answer);
        Some(match unmet {
            true => format!("is marked unmet and holds: {got} for {expected}"),
            false => format!("{got} for {expected}, {difference:+.3e} beyond ±{tolerance:.3e}"),
        })
    } else {
        None
    };
    let note = line.get("note").to_owned();
    Ok(Outcome { id, law: law.name, kind, from_memory, unmet, note, error, failure })
}

/// An absolute tolerance, from `0.5%` of the expected value or a number in its unit.
fn tolerance(text: &str, expected: f64) -> Option<f64> {
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|number| *number >= 0.0);
    match text.strip_suffix('%') {
        Some(percent) => Some(number(percent)? / 100.0 * expected.abs()),
        None => number(text),
    }
}

/// The unit of a row as a straight line over SI, found by reading with it.
struct Scale {
    zero: f64,
    one: f64,
}

impl Scale {
    fn new(measure: Measure, unit: &str) -> Result<Scale, String> {
        let unit = if unit == "-" { "" } else { unit };
        let read = |number: &str| {
            quantity::read(&format!("{number} {unit}"), measure, measure.si_unit())
                .map_err(|error| error.to_string())
        };
        Ok(Scale { zero: read("0")?, one: read("1")? })
    }

    fn number(&self, si: f64) -> f64 {
        (si - self.zero) / (self.one - self.zero)
    }
}
