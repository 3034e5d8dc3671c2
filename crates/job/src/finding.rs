//! What is wrong, where, and what to do: one type for reading, design and site.

use crate::decision::Place;
use crate::edit::Edit;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The job must not go on like this.
    Stop,
    /// It works, but a good tradesman would look at it.
    Warn,
    /// Good to know.
    Note,
}

impl Severity {
    /// The severity in one word for a person.
    pub const fn word(self) -> &'static str {
        match self {
            Severity::Stop => "stop",
            Severity::Warn => "look",
            Severity::Note => "note",
        }
    }
}

/// The limit that a number was held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The limit, in words with its unit.
    pub value: String,
    /// The rule, standard or catalogue entry it comes from.
    pub source: String,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// What kind of finding, in kebab case, stable: `loop-too-long`.
    pub kind: &'static str,
    /// What it is about, as a path: `room.kitchen`, `loop.kitchen/1`, or a key in the text.
    pub subject: String,
    /// Where in the text to look.
    pub place: Option<Place>,
    /// What is wrong, with the number, in lower case.
    pub message: String,
    /// The size of the trouble in the SI unit of its kind, to compare before and after a mend.
    pub amount: Option<f64>,
    /// The limit it breaks, if one does.
    pub limit: Option<Limit>,
    /// What to do next.
    pub advice: String,
    /// Edits that would mend it.
    pub mends: Vec<Mend>,
}

impl Finding {
    /// A finding with its words; place, amount, limit and mends are added by the caller.
    pub fn new(
        severity: Severity,
        kind: &'static str,
        subject: impl Into<String>,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) -> Self {
        Finding {
            severity,
            kind,
            subject: subject.into(),
            place: None,
            message: message.into(),
            amount: None,
            limit: None,
            advice: advice.into(),
            mends: Vec::new(),
        }
    }

    /// The same finding at that place.
    pub fn at(mut self, place: impl Into<Option<Place>>) -> Self {
        self.place = place.into();
        self
    }

    /// The same finding with the size of the trouble, in SI.
    pub fn amount(mut self, amount: f64) -> Self {
        self.amount = Some(amount);
        self
    }

    /// The same finding with the limit it breaks.
    pub fn limit(mut self, value: impl Into<String>, source: impl Into<String>) -> Self {
        self.limit = Some(Limit { value: value.into(), source: source.into() });
        self
    }

    /// The same finding with one more mend.
    pub fn mend(mut self, mend: Mend) -> Self {
        self.mends.push(mend);
        self
    }
}

/// What applying a mend and designing again must do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Promise {
    /// The finding goes.
    Goes,
    /// The finding stays, with a smaller amount.
    Lessens,
}

/// Something that can be applied to the text to mend a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, as a command: `hold the spacing of the bath at 6 in`.
    pub words: String,
    /// The edits, applied in order.
    pub edits: Vec<Edit>,
    /// What happens to the finding.
    pub promise: Promise,
}
