//! One value, read as the schema says.

use super::sheet::Value;
use super::tables::short;
use super::{Context, layers, outline};
use crate::decision::Place;
use crate::finding::{Finding, Mend, Promise, Severity};
use crate::model::Faces;
use crate::nearest::nearest;
use crate::schema::{Form, Number, Role, Row, one_of};
use crate::tree::{Kind, Node};
use quantity::{Measure, System, feet_inches, show};

impl Context<'_> {
    /// Tells a finding; its subject is added by the table that the key stands in.
    pub(crate) fn tell(
        &mut self,
        severity: Severity,
        kind: &'static str,
        place: Place,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.findings.push(Finding::new(severity, kind, "", message, advice).at(place));
    }

    fn unreadable(&mut self, place: Place, message: String, row: &Row) {
        let advice = format!("write {}", row.write(self.units));
        self.tell(Severity::Stop, "unreadable-value", place, message, advice);
    }
}

/// The value of a node; none, told, if it cannot be used.
pub(crate) fn read(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Value> {
    if let Kind::Text(text) = &node.kind
        && row.role == Role::Decision
        && text.trim().eq_ignore_ascii_case("auto")
    {
        return Some(Value::Auto);
    }
    if let Kind::Text(text) = &node.kind
        && text.trim().is_empty()
    {
        context.unreadable(node.place, format!("{} is empty", row.words()), row);
        return None;
    }
    match (row.form, &node.kind) {
        (Form::Quantity(number), Kind::Text(text) | Kind::Bare(text)) => {
            quantity(text, &number, row, node.place, context)
        }
        (Form::Text | Form::Reference(_), Kind::Text(text)) => Some(Value::Text(text.clone())),
        (Form::Choice(words), Kind::Text(text)) => choice(text, words, row, node.place, context),
        (Form::Count(from, to), Kind::Text(text) | Kind::Bare(text)) => {
            count(text, (from, to), row, node.place, context)
        }
        (Form::Flag, Kind::Flag(flag)) => Some(Value::Flag(*flag)),
        (Form::Flag, Kind::Text(text)) => flag(text, row, node.place, context),
        (Form::Outline, _) => outline::read(node, row, context).map(Value::Outline),
        (Form::Point, _) => outline::point(node, row, context).map(Value::Point),
        (Form::Layers, _) => layers::read(node, row, context).map(Value::Layers),
        (Form::Faces, Kind::Text(text)) => faces(text, row, node.place, context),
        (_, kind) => {
            context.unreadable(node.place, format!("{} is {}", row.words(), kind.words()), row);
            None
        }
    }
}

fn quantity(
    text: &str,
    number: &Number,
    row: &Row,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Value> {
    if is_no_number(text) {
        context.unreadable(place, format!("{} is no number: {}", row.words(), short(text)), row);
        return None;
    }
    let si = match quantity::read(text, number.measure, number.bare(context.units)) {
        Ok(si) => si,
        Err(error) => {
            let advice = format!("write {}", row.write(context.units));
            context.tell(Severity::Stop, "unreadable-value", place, wrong(&error), advice);
            return None;
        }
    };
    within(si, number, row, place, context).then_some(Value::Number(si))
}

/// What is wrong with a text that is no quantity, without the advice.
pub(crate) fn wrong(error: &quantity::ReadError) -> String {
    let message = error.to_string();
    match message.split_once(": write ") {
        Some((message, _)) => message.to_owned(),
        None => message,
    }
}

/// Whether a text spells infinity or a number that is none.
fn is_no_number(text: &str) -> bool {
    let word = text.trim().trim_start_matches(['+', '-']).to_ascii_lowercase();
    matches!(word.as_str(), "inf" | "nan" | "infinity")
}

/// Tells a number out of its ranges; whether it can be used.
fn within(si: f64, number: &Number, row: &Row, place: Place, context: &mut Context<'_>) -> bool {
    let units = context.units;
    let print = |si: f64| shown(si, number.measure, units);
    let bound = |si: f64| rounded(si, number.measure, units);
    let outside = |(low, high): (f64, f64)| {
        // Half a millionth, so that a limit written in the other system is not broken by rounding.
        let slack = 5e-7 * (high - low);
        si < low - slack || si > high + slack
    };
    if outside(number.possible) {
        let (low, high) = number.possible;
        context.tell(
            Severity::Stop,
            "impossible-value",
            place,
            format!("{} of {} cannot be", row.words(), print(si)),
            match si < low && (0.0..0.01).contains(&low) {
                true if low == 0.0 => "write zero or more".to_owned(),
                true => "write a number above zero".to_owned(),
                false => format!("write a value from {} to {}", bound(low), bound(high)),
            },
        );
        return false;
    }
    if outside(number.plausible) {
        let (low, high) = number.plausible;
        context.tell(
            Severity::Warn,
            "unusual-value",
            place,
            format!("{} of {} is unusual", row.words(), print(si)),
            format!(
                "look at the number and its unit; {} to {} is usual, and yours is kept",
                bound(low),
                bound(high)
            ),
        );
    }
    true
}

/// A number in the unit of the job; lengths as a tape shows them.
pub(crate) fn shown(si: f64, measure: Measure, units: System) -> String {
    if si.abs() >= 1e9 {
        return format!("{si:.0e} {}", measure.si_unit().symbol);
    }
    match (measure, units) {
        (Measure::Length, System::Us) if si.abs() < 100.0 => feet_inches(si, 8),
        (Measure::Length, System::Si) if si.abs() < 1.0 => {
            quantity::show_in(si, &quantity::unit::MILLIMETRE)
        }
        _ => show(si, measure, units),
    }
}

/// The bound of a range: lengths to the inch.
pub(crate) fn rounded(si: f64, measure: Measure, units: System) -> String {
    match (measure, units) {
        (Measure::Length, System::Us) if si.abs() < 30.0 => feet_inches(si, 1),
        _ => shown(si, measure, units),
    }
}

fn choice(
    text: &str,
    words: &'static [&'static str],
    row: &Row,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Value> {
    let plain = text.trim().to_lowercase();
    if let Some(word) = words.iter().find(|word| **word == plain) {
        return Some(Value::Text((*word).to_owned()));
    }
    let mut finding = Finding::new(
        Severity::Stop,
        "unreadable-value",
        "",
        format!("{} cannot be `{}`", row.words(), short(text)),
        format!("write {}", one_of(words)),
    )
    .at(place);
    if let Some(word) = nearest(text, words.iter().copied()) {
        finding = finding.mend(meant(word, row));
    }
    context.findings.push(finding);
    None
}

/// The mend that writes another word; its path is completed by the subject of the finding.
fn meant(word: &str, row: &Row) -> Mend {
    Mend {
        words: format!("write {word} for the {}", row.words()),
        edits: vec![crate::edit::Edit::Set { path: String::new(), value: word.to_owned() }],
        promise: Promise::Goes,
    }
}

fn count(
    text: &str,
    (from, to): (u32, u32),
    row: &Row,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Value> {
    let number = text.trim().replace('_', "").parse::<f64>().ok().filter(|n| n.is_finite());
    let Some(number) = number.filter(|number| number.fract() == 0.0) else {
        let message = format!("{} is no whole number: {}", row.words(), short(text));
        context.unreadable(place, message, row);
        return None;
    };
    if number < f64::from(from) || number > f64::from(to) {
        if row.key == "firstheat" {
            context.tell(
                Severity::Stop,
                "other-format",
                place,
                format!("the file says format {}, but only format 1 is known", short(text)),
                "get the program that wrote it; the text is read as format 1",
            );
            return Some(Value::Count(1));
        }
        context.tell(
            Severity::Stop,
            "impossible-value",
            place,
            format!("{} of {} cannot be", row.words(), short(text)),
            format!("write {}", row.write(context.units)),
        );
        return None;
    }
    Some(Value::Count(number as u32))
}

fn flag(text: &str, row: &Row, place: Place, context: &mut Context<'_>) -> Option<Value> {
    match text.trim().to_lowercase().as_str() {
        "true" | "yes" => Some(Value::Flag(true)),
        "false" | "no" => Some(Value::Flag(false)),
        _ => {
            let message = format!("{} cannot be `{}`", row.words(), short(text));
            context.unreadable(place, message, row);
            None
        }
    }
}

fn faces(text: &str, row: &Row, place: Place, context: &mut Context<'_>) -> Option<Value> {
    let text = text.trim();
    if let Some(key) = text.strip_prefix("room.") {
        return Some(Value::Faces(Faces::Room(key.trim_matches('"').to_owned())));
    }
    match choice(text, &["outdoors", "ground", "heated"], row, place, context) {
        Some(Value::Text(word)) => Some(Value::Faces(match word.as_str() {
            "ground" => Faces::Ground,
            "heated" => Faces::Heated,
            _ => Faces::Outdoors,
        })),
        _ => {
            if let Some(finding) = context.findings.last_mut() {
                finding.advice = format!("write {}", row.write(context.units));
            }
            None
        }
    }
}

/// The reading of an assumed value; the schema's tests hold that it never fails.
pub(crate) fn assumed(text: &str, row: &Row, context: &mut Context<'_>) -> Option<Value> {
    let kind = match text {
        "true" => Kind::Flag(true),
        "false" => Kind::Flag(false),
        _ => Kind::Text(text.to_owned()),
    };
    read(&Node { place: Place::default(), kind }, row, context)
}
