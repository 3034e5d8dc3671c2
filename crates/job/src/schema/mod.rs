//! What the job file may hold: one table that the reader, the edits and the reference share.

mod reference;
mod rows;

pub use reference::reference;
pub(crate) use rows::{
    GAP_SILENT, GAP_SPREAD, LAYER_BARE, LAYER_THICKNESS, MARKS, PITCH_USUAL, TABLES, UNITS, all,
};

use quantity::{Measure, System, Unit};

/// Who a key speaks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// Found on site.
    Fact,
    /// Wished by the owner.
    Wish,
    /// Chosen by the design unless the key holds it; may be `auto`.
    Decision,
}

impl Role {
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Role::Fact => "fact",
            Role::Wish => "wish",
            Role::Decision => "decision",
        }
    }
}

/// What a reference names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Target {
    /// A keyed table of the job: `room`.
    Table(&'static str),
    /// A tube of the catalogue.
    Tube,
    /// A finish of the catalogue.
    Finish,
    /// An assembly of the job, or a floor of the catalogue's build-ups.
    Floor,
    /// A rule set.
    Rules,
}

/// A number's measure, the units of a bare number, and its ranges in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Number {
    pub(crate) measure: Measure,
    pub(crate) bare_us: &'static Unit,
    pub(crate) bare_si: &'static Unit,
    /// Outside of it the number is dropped.
    pub(crate) possible: (f64, f64),
    /// Outside of it the number is kept, and told.
    pub(crate) plausible: (f64, f64),
}

impl Number {
    /// The unit that a bare number takes.
    pub(crate) const fn bare(&self, system: System) -> &'static Unit {
        match system {
            System::Us => self.bare_us,
            System::Si => self.bare_si,
        }
    }
}

/// What may be written for a key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Form {
    /// A number with its unit.
    Quantity(Number),
    /// So many numbers with their units.
    Quantities(Number, usize),
    /// Rise over run: `8:12`, `34 deg`, `67 %`.
    Pitch,
    /// Free words.
    Text,
    /// Free words, or the key of a table of one of these kinds.
    Named(&'static [&'static str]),
    /// Names of keys of the same table.
    Keys,
    /// Loops, by key, in order.
    Loops,
    /// Floors, by the key of an assembly or of a build-up.
    Floors,
    /// Tubes, by catalogue key.
    Tubes,
    /// Whatever the rule set holds there.
    Any,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// The key of something else.
    Reference(Target),
    /// A whole number, from the first to the last.
    Count(u32, u32),
    /// `true` or `false`.
    Flag,
    /// Taped legs or corners.
    Outline,
    /// Two coordinates.
    Point,
    /// Two places or more, each of two coordinates.
    Points,
    /// Layers from the room outward.
    Layers,
    /// What is on the far side: outdoors, ground, heated, the next house, a room or a space.
    Faces,
}

/// What holds when a key is absent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Absent {
    /// The design needs it, unless one of these other keys of the table stands in for it.
    Needed(&'static [&'static str]),
    /// This value is taken, by system, and why.
    Assumed { us: &'static str, si: &'static str, why: &'static str },
    /// The design chooses.
    Open,
    /// What that other key says.
    Inherited(&'static str),
    /// Nothing: the key only adds.
    Nothing,
}

/// One key of the job file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Row {
    /// The table it stands in: `job`, or `room.*` for keyed tables; empty for the top.
    pub(crate) table: &'static str,
    pub(crate) key: &'static str,
    pub(crate) role: Role,
    pub(crate) form: Form,
    pub(crate) absent: Absent,
    /// One sentence.
    pub(crate) doc: &'static str,
}

impl Row {
    /// The key in words: `edge depth`.
    pub(crate) fn words(&self) -> String {
        self.key.replace('_', " ")
    }

    /// What to write, in words.
    pub(crate) fn kind(&self) -> String {
        match self.form {
            Form::Quantity(number) => number.measure.name().to_owned(),
            Form::Quantities(_, count) => format!("a list of {count} numbers"),
            Form::Pitch => "a pitch".to_owned(),
            Form::Text | Form::Named(_) => "words in quotes".to_owned(),
            Form::Keys => "a list of keys of this table".to_owned(),
            Form::Loops => "a list of loops".to_owned(),
            Form::Floors => "a list of assemblies or build-ups".to_owned(),
            Form::Tubes => "a list of tubes of the catalogue".to_owned(),
            Form::Any => "what the rule set holds there".to_owned(),
            Form::Choice(words) => one_of(words),
            Form::Reference(Target::Table(table)) => format!("the key of {}", with_article(table)),
            Form::Reference(Target::Tube) => "a tube of the catalogue".to_owned(),
            Form::Reference(Target::Finish) => "a finish of the catalogue".to_owned(),
            Form::Reference(Target::Floor) => {
                "the key of an assembly, or a floor build-up of the catalogue".to_owned()
            }
            Form::Reference(Target::Rules) => "a rule set".to_owned(),
            Form::Count(from, to) => format!("a whole number from {from} to {to}"),
            Form::Flag => "true or false, without quotes".to_owned(),
            Form::Outline => "the taped legs".to_owned(),
            Form::Point => "two coordinates".to_owned(),
            Form::Points => "a list of places, each of two coordinates".to_owned(),
            Form::Layers => "a list of layers".to_owned(),
            Form::Faces => {
                let words = FAR_SIDES.map(|word| format!("\"{word}\"")).join(", ");
                format!("{words}, or the key of a room or space")
            }
        }
    }

    /// A value as it could stand in the text; none where the kind says it all.
    pub(crate) fn example(&self, system: System) -> Option<String> {
        let (us, si) = match self.form {
            Form::Quantity(number) => return Some(example(&number, system)),
            Form::Reference(Target::Tube) => ("\"pex-1/2\"", "\"pe-x-16x2\""),
            Form::Reference(Target::Finish) => ("\"tile\"", "\"tile\""),
            Form::Reference(Target::Rules) => ("\"us-residential\"", "\"eu\""),
            Form::Outline => {
                ("\"E 14'2, N 11'6, W 14'2, S 11'6\"", "\"E 4.30, N 3.50, W 4.30, S 3.50\"")
            }
            Form::Point => ("[\"4'6\", \"12'\"]", "[\"1.40\", \"3.60\"]"),
            Form::Points => {
                ("[[\"0'\", \"0'\"], [\"0'\", \"14'\"]]", "[[\"0\", \"0\"], [\"0\", \"4.20\"]]")
            }
            Form::Pitch => ("\"8:12\"", "\"35 deg\""),
            Form::Keys => ("[\"height\"]", "[\"height\"]"),
            Form::Floors => (
                "[\"gypsum-topping-on-joists\", \"grooved-board-over-floor\"]",
                "[\"screed-on-insulation\", \"grooved-board-over-floor\"]",
            ),
            Form::Tubes => ("[\"pex-1/2\", \"pex-3/4\"]", "[\"pe-x-16x2\", \"pe-x-20x2\"]"),
            Form::Loops => ("[\"kitchen/1\", \"kitchen/2\"]", "[\"kitchen/1\", \"kitchen/2\"]"),
            Form::Any => ("\"85 F\"", "\"29 °C\""),
            Form::Layers => (
                "[\"gypsum board 1/2 in\", \"R-19 batt\"]",
                "[\"cement screed 65 mm\", \"EPS 40 mm\"]",
            ),
            _ => return None,
        };
        Some(if system == System::Us { us } else { si }.to_owned())
    }

    /// What to write, with an example.
    pub(crate) fn write(&self, system: System) -> String {
        match self.example(system) {
            Some(example) => format!("{}, such as {example}", self.kind()),
            None => self.kind(),
        }
    }
}

/// What a far side can be called beside rooms and spaces.
pub(crate) const FAR_SIDES: [&str; 4] = ["outdoors", "ground", "heated", "next house"];

/// `an assembly`, `a room`, `a zone part`.
pub(crate) fn with_article(word: &str) -> String {
    let word = word.replace('_', " ");
    let article = if word.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {word}")
}

/// A quantity as a person would write it, from the middle of its plausible range.
fn example(number: &Number, system: System) -> String {
    let unit = number.bare(system);
    let (low, high) = number.plausible;
    let middle = unit.from_si(low + (high - low) * 0.4);
    let size = 10f64.powf(middle.abs().max(1e-6).log10().floor());
    let rounded = (middle / size).round() * size;
    let text = format!("{:.*}", (-size.log10()).max(0.0) as usize, rounded);
    match unit.symbol {
        "" | "%" => format!("\"{text}{}\"", unit.symbol),
        symbol => format!("\"{text} {}\"", symbol.trim_start_matches('°')),
    }
}

/// `"a", "b" or "c"`.
pub(crate) fn one_of(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// A table of the job file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct TableRow {
    /// `job`, or `room.*` where each table has a key of its own.
    pub(crate) pattern: &'static str,
    pub(crate) doc: &'static str,
}

impl TableRow {
    /// The first word of the heading.
    pub(crate) fn name(&self) -> &'static str {
        self.pattern.trim_end_matches(".*")
    }

    /// Whether each table has a key of its own.
    pub(crate) fn keyed(&self) -> bool {
        self.pattern.ends_with(".*")
    }
}

/// The table with that first word.
pub(crate) fn table(name: &str) -> Option<&'static TableRow> {
    TABLES.iter().find(|table| table.name() == name)
}

/// The rows of a table pattern.
pub(crate) fn rows(pattern: &str) -> impl Iterator<Item = &'static Row> + '_ {
    all().filter(move |row| row.table == pattern)
}

/// The row of a key; every table may also say which of its keys were measured or assumed.
pub(crate) fn row(pattern: &str, key: &str) -> Option<&'static Row> {
    let marks = MARKS.iter().filter(|_| !pattern.is_empty());
    rows(pattern).chain(marks).find(|row| row.key == key)
}

/// The row that a dotted path ends in: `room.kitchen.spacing`.
pub(crate) fn row_of_path(path: &[String]) -> Option<&'static Row> {
    match path {
        [key] => row("", key),
        [name, key] => row(name, key),
        [name, _, key] => row(table(name).filter(|table| table.keyed())?.pattern, key),
        _ => None,
    }
}
