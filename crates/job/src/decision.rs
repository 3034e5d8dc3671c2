//! Facts and decisions, and where each comes from.

/// A stretch of the job text, in bytes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// First byte.
    pub start: usize,
    /// Byte behind the last one.
    pub end: usize,
}

impl Place {
    /// The line and column of the start, both counted from one, columns in characters.
    pub fn line_and_column(self, text: &str) -> (usize, usize) {
        let mut start = self.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }
}

/// A value that stands in the text.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated<T> {
    /// What it means.
    pub value: T,
    /// Where it stands.
    pub place: Place,
}

/// Where a fact comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The text states it.
    Stated(Place),
    /// The text states it, and that it was measured.
    Measured(Place),
    /// The text states it, and that it was assumed.
    Supposed(Place),
    /// The text is silent; this is what we take, and why.
    Assumed(String),
    /// The text is silent; the storey, the house or the heating as a whole states it here.
    Inherited(Place),
}

/// Something found on site or wished by the owner, never decided by the design.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact<T> {
    /// What it is.
    pub value: T,
    /// How we know.
    pub origin: Origin,
}

impl<T> Fact<T> {
    /// The place in the text, if the text states it.
    pub fn place(&self) -> Option<Place> {
        match self.origin {
            Origin::Stated(place) | Origin::Measured(place) => Some(place),
            Origin::Supposed(place) | Origin::Inherited(place) => Some(place),
            Origin::Assumed(_) => None,
        }
    }
}

/// A decision as the text leaves it.
#[derive(Clone, Debug, PartialEq)]
pub enum Decision<T> {
    /// Absent or `auto`: the design chooses.
    Open,
    /// A key present is held: the design obeys and says what that costs.
    Held(Stated<T>),
}

impl<T: Clone> Decision<T> {
    /// The held value, if any.
    pub fn held(&self) -> Option<&Stated<T>> {
        match self {
            Decision::Open => None,
            Decision::Held(stated) => Some(stated),
        }
    }

    /// The held value with its reason; otherwise what `choose` answers.
    pub fn or_else(&self, choose: impl FnOnce() -> Decided<T>) -> Decided<T> {
        match self {
            Decision::Open => choose(),
            Decision::Held(stated) => {
                Decided { value: stated.value.clone(), reason: Reason::Held(stated.place) }
            }
        }
    }
}

/// Why a decision is as it is.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// The text holds it, at this place.
    Held(Place),
    /// A rule sets it: which one.
    Rule(String),
    /// The design chose it: why.
    Chosen(String),
}

/// A decision taken, with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Decided<T> {
    /// What holds.
    pub value: T,
    /// Why.
    pub reason: Reason,
}

impl<T> Decided<T> {
    /// A decision that the design took, and why.
    pub fn chosen(value: T, why: impl Into<String>) -> Self {
        Decided { value, reason: Reason::Chosen(why.into()) }
    }

    /// Whether the text holds it.
    pub fn is_held(&self) -> bool {
        matches!(self.reason, Reason::Held(_))
    }
}
