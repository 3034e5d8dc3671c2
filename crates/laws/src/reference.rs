//! The list of all laws, for documents and `calc --list`.

use crate::calc::both;
use crate::law::{Input, Kind, Law};
use std::fmt::Write;

/// All laws as text: name, sentence, formula, inputs with range, outputs, source.
///
/// In Markdown, a heading for each topic and each law.
pub fn reference() -> String {
    let mut out = String::new();
    let mut topic = "";
    for law in crate::all() {
        if law.topic != topic {
            topic = law.topic;
            let _ = writeln!(out, "## {topic}\n");
        }
        out.push_str(&entry(law));
    }
    out
}

fn entry(law: &Law) -> String {
    let mut out = format!("### {}\n\n{}\n\n`{}`\n\n", law.name, law.sentence, law.formula);
    let remarks = law.remarks.join(" ");
    if !remarks.trim().is_empty() {
        let _ = writeln!(out, "{}\n", remarks.trim());
    }
    for input in law.inputs {
        let _ = writeln!(
            out,
            "- `{}` {}: {}, {}",
            input.name,
            input.symbol,
            input.meaning,
            extent(input)
        );
    }
    let outputs: Vec<_> = law
        .outputs
        .iter()
        .map(|output| {
            let unit = output.measure.si_unit().symbol;
            format!("`{}` {}{}", output.name, output.symbol, in_unit(unit))
        })
        .collect();
    let _ = writeln!(out, "\nGives {}. Source: {}.\n", outputs.join(", "), law.source);
    out
}

fn in_unit(unit: &str) -> String {
    if unit.is_empty() { String::new() } else { format!(" in {unit}") }
}

fn extent(input: &Input) -> String {
    let range = || {
        format!(
            "from {} to {}",
            both(*input.range.start(), input.measure),
            both(*input.range.end(), input.measure)
        )
    };
    match input.kind {
        Kind::Choice(choices) => format!("one of {}", choices.join(", ")),
        Kind::Number => range(),
        Kind::List => format!("a list, each {}", range()),
    }
}
