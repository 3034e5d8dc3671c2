//! One value, read as the schema says.

use super::sheet::Value;
use super::tables::short;
use super::{Context, layers, outline};
use crate::decision::{Place, Stated};
use crate::finding::{Finding, Mend, Promise, Severity};
use crate::model::Faces;
use crate::nearest::nearest;
use crate::schema::{Form, Number, PITCH_USUAL, Role, Row, one_of};
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
        (Form::Quantities(number, count), Kind::List(items)) => {
            quantities(items, &number, count, row, node.place, context)
        }
        (Form::Pitch, Kind::Text(text)) => pitch(text, row, node.place, context),
        (Form::Keys | Form::Loops | Form::Floors | Form::Tubes, _) => keys(node, row, context),
        (Form::Any, _) => Some(Value::Any(node.clone())),
        (Form::Text | Form::Named(_) | Form::Reference(_), Kind::Text(text)) => {
            Some(Value::Text(text.clone()))
        }
        (Form::Choice(words), Kind::Text(text)) => choice(text, words, row, node.place, context),
        (Form::Count(from, to), Kind::Text(text) | Kind::Bare(text)) => {
            count(text, (from, to), row, node.place, context)
        }
        (Form::Flag, Kind::Flag(flag)) => Some(Value::Flag(*flag)),
        (Form::Flag, Kind::Text(text)) => flag(text, row, node.place, context),
        (Form::Outline, _) => outline::read(node, row, context).map(Value::Outline),
        (Form::Point, _) => outline::point(node, row, context).map(Value::Point),
        (Form::Points, _) => outline::points(node, row, context).map(Value::Points),
        (Form::Layers, _) => layers::read(node, row, context).map(Value::Layers),
        (Form::Faces, Kind::Text(text)) => Some(faces(text)),
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
    quantity_si(text, number, row, place, context).map(Value::Number)
}

/// A quantity in SI; none, told, if it cannot be used.
fn quantity_si(
    text: &str,
    number: &Number,
    row: &Row,
    place: Place,
    context: &mut Context<'_>,
) -> Option<f64> {
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
    within(si, number, row, place, context).then_some(si)
}

/// A list of so many quantities.
fn quantities(
    items: &[Node],
    number: &Number,
    count: usize,
    row: &Row,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Value> {
    if items.len() != count {
        let message = format!("{} has {} numbers, not {count}", row.words(), items.len());
        let advice = format!("write {count} numbers, January first");
        context.tell(Severity::Stop, "wrong-count", place, message, advice);
        return None;
    }
    let read = |item: &Node, context: &mut Context<'_>| match &item.kind {
        Kind::Text(text) | Kind::Bare(text) => quantity_si(text, number, row, item.place, context),
        kind => {
            let message = format!("a number of {} is {}", row.words(), kind.words());
            context.unreadable(item.place, message, row);
            None
        }
    };
    let numbers: Vec<Option<f64>> = items.iter().map(|item| read(item, context)).collect();
    numbers.into_iter().collect::<Option<Vec<f64>>>().map(Value::Numbers)
}

/// Rise over run.
fn pitch(text: &str, row: &Row, place: Place, context: &mut Context<'_>) -> Option<Value> {
    const STEEPEST: f64 = 20.0;
    let Some(pitch) = rise_over_run(text).filter(|pitch| pitch.is_finite()) else {
        let message = format!("no pitch can be read in `{}`", short(text));
        let advice = "write rise and run such as 8:12, or 34 deg, or 67 %";
        context.tell(Severity::Stop, "unreadable-value", place, message, advice);
        return None;
    };
    if !(pitch > 0.0 && pitch <= STEEPEST) {
        let message = format!("{} of {} cannot be", row.words(), short(text));
        let advice = "write a pitch above level and short of upright; what is upright is a wall";
        context.tell(Severity::Stop, "impossible-value", place, message, advice);
        return None;
    }
    let (low, high) = PITCH_USUAL;
    if !(low - 1e-9..=high + 1e-9).contains(&pitch) {
        let message = format!("{} of {} is unusual", row.words(), short(text));
        let advice = "look at it; 1:12 to 24:12 is usual, and yours is kept";
        context.tell(Severity::Warn, "unusual-value", place, message, advice);
    }
    Some(Value::Number(pitch))
}

/// The rise over run of `8:12`, `8/12`, `8 in 12`, `34 deg` or `67 %`.
fn rise_over_run(text: &str) -> Option<f64> {
    let text = text.trim().to_lowercase();
    let parted = text.split_once(':').or_else(|| text.split_once('/'));
    if let Some((rise, run)) = parted.or_else(|| text.split_once(" in ")) {
        let number = |text: &str| text.trim().parse::<f64>().ok();
        return Some(number(rise)? / number(run)?);
    }
    if text.ends_with(|c: char| c.is_ascii_digit()) {
        // A bare number could be degrees, per cent or the rise over twelve.
        return None;
    }
    let degrees = quantity::read(&text, Measure::Angle, &quantity::unit::DEGREE);
    let share = quantity::read(&text, Measure::Ratio, &quantity::unit::PERCENT);
    degrees.map(f64::tan).or(share).ok()
}

/// Names of keys, one or a list.
fn keys(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Value> {
    let single = std::slice::from_ref(node);
    let items = match &node.kind {
        Kind::List(items) => items.as_slice(),
        _ => single,
    };
    let mut names = Vec::with_capacity(items.len());
    for item in items {
        let Kind::Text(name) = &item.kind else {
            let message = format!("{} names {}", row.words(), item.kind.words());
            context.unreadable(item.place, message, row);
            return None;
        };
        names.push(Stated { value: name.trim().to_owned(), place: item.place });
    }
    Some(Value::Keys(names))
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
    let print = |si: f64| shown_as(si, number, units);
    let bound = |si: f64| rounded(si, number, units);
    let outside = |(low, high): (f64, f64)| {
        // Half a millionth of each end, so that a limit written in the other system is not broken
        // by rounding; of the whole range it would let a negative output through.
        let slack = |end: f64| 5e-7 * end.abs();
        si < low - slack(low) || si > high + slack(high)
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
    let below_one_percent = *number.bare(units) == quantity::unit::PERCENT && si > 0.0 && si < 0.01;
    if below_one_percent {
        context.tell(
            Severity::Warn,
            "unusual-value",
            place,
            format!("{} of {} is unusual", row.words(), print(si)),
            "a bare number here is in per cent: write 30 for 30 %; yours is kept",
        );
    } else if outside(number.plausible) {
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

/// A number of a key: lengths as a tape shows them, else in the unit of a bare number.
fn shown_as(si: f64, number: &Number, units: System) -> String {
    let bare = number.bare(units);
    match number.measure {
        Measure::Length => shown(si, number.measure, units),
        _ if bare.from_si(si).abs() >= 1e9 => shown(si, number.measure, units),
        _ => quantity::show_in(si, bare),
    }
}

/// The bound of a range: lengths to the inch.
pub(crate) fn rounded(si: f64, number: &Number, units: System) -> String {
    match (number.measure, units) {
        (Measure::Length, System::Us) if (0.0254..30.0).contains(&si.abs()) => feet_inches(si, 1),
        _ => shown_as(si, number, units),
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

/// A far side; whether a bare key is a room or a space is seen once all are read.
fn faces(text: &str) -> Value {
    let text = text.trim();
    let key = |key: &str| key.trim().trim_matches('"').to_owned();
    if let Some(room) = text.strip_prefix("room.") {
        return Value::Faces(Faces::Room(key(room)));
    }
    if let Some(space) = text.strip_prefix("space.") {
        return Value::Faces(Faces::Space(key(space)));
    }
    match text.to_lowercase().as_str() {
        "outdoors" => Value::Faces(Faces::Outdoors),
        "ground" => Value::Faces(Faces::Ground),
        "heated" => Value::Faces(Faces::Heated),
        "next house" => Value::Faces(Faces::NextHouse),
        _ => Value::FarKey(text.to_owned()),
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
