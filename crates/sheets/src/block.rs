//! What a sheet is made of, laid out once for every writer.

use crate::drawing::Drawing;
use crate::explain::Working;
use design::Standing;
use job::Severity;
use quantity::{Measure, System, Unit, number_in, show_in, unit};

/// A paper: a head, and blocks in reading order.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Stable key: `design`.
    pub key: String,
    /// What stands on top.
    pub title: String,
    /// Lines of the head; one without a value is left blank for the pencil.
    pub head: Vec<HeadLine>,
    /// The unit system shown first.
    pub first: System,
    /// What follows.
    pub blocks: Vec<Block>,
}

impl Sheet {
    /// The tables, in order.
    pub fn tables(&self) -> impl Iterator<Item = &Table> {
        self.blocks.iter().filter_map(|block| match block {
            Block::Table(table) => Some(table),
            _ => None,
        })
    }

    /// The drawings, in order.
    pub fn drawings(&self) -> impl Iterator<Item = &Drawing> {
        self.blocks.iter().filter_map(|block| match block {
            Block::Drawing(drawing) => Some(drawing),
            _ => None,
        })
    }

    /// The facts with that key.
    pub fn facts(&self, key: &str) -> Option<&Facts> {
        self.blocks.iter().find_map(|block| match block {
            Block::Facts(facts) if facts.key == key => Some(facts),
            _ => None,
        })
    }

    /// The table with that key.
    pub fn table(&self, key: &str) -> Option<&Table> {
        self.tables().find(|table| table.key == key)
    }

    /// The same sheet with the other unit system in front.
    pub fn shown_first(mut self, first: System) -> Self {
        self.first = first;
        self
    }
}

/// One line of a sheet's head.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadLine {
    /// What it is.
    pub label: String,
    /// What it says; none is a blank to fill by hand.
    pub value: Option<String>,
}

/// One piece of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A few numbers that are asked for first.
    Facts(Facts),
    /// Rows and columns.
    Table(Table),
    /// A plan or a picture of numbers.
    Drawing(Drawing),
    /// Words.
    Prose(Prose),
    /// What was found, worst first.
    Findings(FindingList),
    /// How a number came about.
    Working(Working),
    /// What every paper must say.
    Cautions(Prose),
}

/// A few numbers with their names.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// Stable key: `house`.
    pub key: String,
    /// Name and number of each.
    pub items: Vec<(&'static str, Cell)>,
}

/// Words under a heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Prose {
    /// Stable key: `revisions`.
    pub key: String,
    /// Heading.
    pub title: String,
    /// One paragraph or list item each.
    pub lines: Vec<String>,
}

/// Rows and columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Stable key: `loops`.
    pub key: String,
    /// Heading.
    pub title: String,
    /// Columns; every row has one cell for each.
    pub columns: Vec<Column>,
    /// Rows, totals last.
    pub rows: Vec<Row>,
    /// Remarks below.
    pub notes: Vec<String>,
}

impl Table {
    /// The cell at that row and column key.
    pub fn cell(&self, row: &str, column: &str) -> Option<&Cell> {
        let place = self.columns.iter().position(|it| it.key == column)?;
        self.rows.iter().find(|it| it.key == row)?.cells.get(place)
    }

    /// The standing that all its numbers share; none if they differ.
    pub fn common_standing(&self) -> Option<Standing> {
        let mut all = self.rows.iter().flat_map(|row| &row.cells).filter_map(|cell| match cell {
            Cell::Quantity(value) => Some(value.standing),
            _ => None,
        });
        let first = all.next()?;
        all.all(|other| other == first).then_some(first)
    }
}

/// One column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Stable key: `total_length`.
    pub key: &'static str,
    /// Heading.
    pub heading: &'static str,
    /// Units of its numbers; none for words and counts.
    pub units: Option<Units>,
}

impl Column {
    /// A column of words or counts.
    pub const fn words(key: &'static str, heading: &'static str) -> Self {
        Column { key, heading, units: None }
    }

    /// A column of quantities.
    pub const fn of(key: &'static str, heading: &'static str, units: Units) -> Self {
        Column { key, heading, units: Some(units) }
    }
}

/// The two units in which a number is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Units {
    /// The trade unit.
    pub us: &'static Unit,
    /// The metric unit.
    pub si: &'static Unit,
}

impl Units {
    /// The usual units of a measure.
    pub fn of(measure: Measure) -> Self {
        match measure {
            // On paper a ratio is a share.
            Measure::Ratio => Units { us: &unit::PERCENT, si: &unit::PERCENT },
            _ => Units { us: measure.shown_unit(System::Us), si: measure.shown_unit(System::Si) },
        }
    }

    /// The unit of that system.
    pub const fn unit(self, system: System) -> &'static Unit {
        match system {
            System::Us => self.us,
            System::Si => self.si,
        }
    }

    /// Whether both systems use the same unit.
    pub fn agree(self) -> bool {
        self.us == self.si
    }
}

/// One row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Stable key: `kitchen/1`.
    pub key: String,
    /// Cells in the order of the columns.
    pub cells: Vec<Cell>,
    /// What it is among the other rows.
    pub kind: RowKind,
}

impl Row {
    /// A row that counts like any other.
    pub fn new(key: impl Into<String>, cells: Vec<Cell>) -> Self {
        Row { key: key.into(), cells, kind: RowKind::Plain }
    }

    /// The same row of another kind.
    pub fn of(mut self, kind: RowKind) -> Self {
        self.kind = kind;
        self
    }
}

/// What a row is among the others of its table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKind {
    /// One of many.
    Plain,
    /// Shown, but in no total: its numbers stand in brackets.
    Aside,
    /// Names the rows below.
    Heading,
    /// Sums up a part of the rows above.
    Subtotal,
    /// Sums up all rows above.
    Total,
}

impl RowKind {
    /// The kind in one word.
    pub const fn word(self) -> &'static str {
        match self {
            RowKind::Plain => "row",
            RowKind::Aside => "aside",
            RowKind::Heading => "heading",
            RowKind::Subtotal => "subtotal",
            RowKind::Total => "total",
        }
    }

    /// Whether it sums up rows above.
    pub const fn sums(self) -> bool {
        matches!(self, RowKind::Subtotal | RowKind::Total)
    }
}

/// One cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Words.
    Text(String),
    /// A number with its units.
    Quantity(Value),
    /// A count.
    Count(usize),
    /// A number that cannot be told: why.
    CannotTell(String),
    /// Nothing here, or a blank for the pencil.
    Blank,
}

impl Cell {
    /// Words as a cell.
    pub fn text(words: impl Into<String>) -> Self {
        Cell::Text(words.into())
    }

    /// The cell in words, its number in that system.
    pub fn shown(&self, system: System) -> String {
        match self {
            Cell::Text(words) => words.clone(),
            Cell::Quantity(value) => value.shown(system),
            Cell::Count(count) => count.to_string(),
            Cell::CannotTell(_) => "cannot tell".to_owned(),
            Cell::Blank => String::new(),
        }
    }
}

/// A number with its units, its working and how far to trust it.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// The number in SI.
    pub si: f64,
    /// How it is shown.
    pub units: Units,
    /// The path of its working, if it has one.
    pub explain: Option<String>,
    /// How far it may be trusted.
    pub standing: Standing,
}

impl Value {
    /// The number with its unit.
    pub fn shown(&self, system: System) -> String {
        show_in(self.si, self.units.unit(system))
    }

    /// The number alone.
    pub fn bare(&self, system: System) -> String {
        number_in(self.si, self.units.unit(system))
    }
}

/// What was found, worst first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FindingList {
    /// Heading.
    pub title: String,
    /// The findings.
    pub items: Vec<FindingItem>,
}

/// One finding as a paper shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingItem {
    /// How much it matters.
    pub severity: Severity,
    /// What kind of finding, in kebab case.
    pub kind: &'static str,
    /// What it is about, as a path.
    pub subject: String,
    /// The room, loop or manifold it is about, in words.
    pub about: Option<String>,
    /// Where in the text to look.
    pub spot: Option<Spot>,
    /// What is wrong.
    pub message: String,
    /// The limit it breaks and where that comes from.
    pub limit: Option<(String, String)>,
    /// What to do next.
    pub advice: String,
    /// What each mend does.
    pub mends: Vec<String>,
}

/// A place in the text as a person counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Line, from one.
    pub line: usize,
    /// Column in characters, from one.
    pub column: usize,
    /// Where it starts and ends, in bytes.
    pub place: job::Place,
}

impl Spot {
    /// A place as lines and columns of that text.
    pub fn of(place: job::Place, text: &str) -> Self {
        let (line, column) = place.line_and_column(text);
        Spot { line, column, place }
    }
}

impl std::fmt::Display for Spot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "line {}:{}", self.line, self.column)
    }
}
