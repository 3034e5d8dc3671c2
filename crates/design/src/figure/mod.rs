//! A value with its working.

mod law;

pub use law::Given;

use job::{Fact, Origin, Place, Reason, Rule};
use quantity::{Measure, Quantity, System, show_both};
use std::sync::Arc;

/// How far a figure may be trusted: the weakest of what went into it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Something in it was assumed.
    Estimated,
    /// All of it was stated, ruled or computed from such.
    Designed,
    /// Read off an instrument.
    Measured,
}

impl Standing {
    /// The standing in one word.
    pub const fn word(self) -> &'static str {
        match self {
            Standing::Estimated => "estimated",
            Standing::Designed => "designed",
            Standing::Measured => "measured",
        }
    }
}

/// How a figure came about.
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// By a law, from its inputs in the law's order; a list input repeats its name.
    Law {
        /// The law.
        law: &'static laws::Law,
        /// Name of each input and its own working.
        inputs: Vec<(&'static str, Arc<Work>)>,
        /// Where an input left the law's range: what, in words.
        out_of_range: Vec<String>,
    },
    /// A sum.
    Sum(Vec<Arc<Work>>),
    /// A product.
    Product(Vec<Arc<Work>>),
    /// The first less the second.
    Less(Arc<Work>, Arc<Work>),
    /// The first divided by the second.
    Quotient(Arc<Work>, Arc<Work>),
    /// The largest.
    Largest(Vec<Arc<Work>>),
    /// The job text states it here.
    Stated(Place),
    /// The job text states it as measured, here.
    Measured(Place),
    /// The job text states it as assumed, here.
    Supposed(Place),
    /// The job text is silent: what we take, and why.
    Assumed(String),
    /// A rule sets it: clause and source.
    Rule(String),
    /// The catalogue says so: entry and source.
    Catalogue(String),
    /// Taken off the drawing: what was measured.
    TakenOff(String),
    /// A decision of the design or the text: why.
    Decided(String),
    /// Settled together with other values: how, and from what.
    Settled(String, Vec<Arc<Work>>),
}

/// One node of the working of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// What it is, in words.
    pub name: String,
    /// What it measures.
    pub measure: Measure,
    /// Its number in SI.
    pub si: f64,
    /// How it came about.
    pub how: How,
}

impl Work {
    /// The nodes that this one was made from.
    pub fn inputs(&self) -> Vec<&Arc<Work>> {
        match &self.how {
            How::Law { inputs, .. } => inputs.iter().map(|(_, work)| work).collect(),
            How::Sum(parts) | How::Product(parts) | How::Largest(parts) => parts.iter().collect(),
            How::Settled(_, parts) => parts.iter().collect(),
            How::Less(first, second) | How::Quotient(first, second) => vec![first, second],
            How::Measured(_) | How::Supposed(_) => Vec::new(),
            How::Stated(_) | How::Assumed(_) | How::Rule(_) | How::Catalogue(_) => Vec::new(),
            How::TakenOff(_) | How::Decided(_) => Vec::new(),
        }
    }

    /// Every law in the working that was used outside its range, each in words, once.
    pub fn out_of_range(&self) -> Vec<String> {
        let mut found = match &self.how {
            How::Law { out_of_range, .. } => out_of_range.clone(),
            _ => Vec::new(),
        };
        found.extend(self.inputs().into_iter().flat_map(|work| work.out_of_range()));
        found.sort();
        found.dedup();
        found
    }

    /// The weakest standing of all that went into it.
    pub fn standing(&self) -> Standing {
        let own = match self.how {
            How::Assumed(_) | How::Supposed(_) => Standing::Estimated,
            How::Measured(_) => Standing::Measured,
            _ => Standing::Designed,
        };
        let inputs = self.inputs().into_iter().map(|work| work.standing());
        inputs.reduce(Standing::min).unwrap_or(own)
    }

    /// The number in both unit systems.
    pub fn shown(&self, first: System) -> String {
        show_both(self.si, self.measure, first)
    }
}

/// A value with its working.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure<Q> {
    /// The value.
    pub value: Q,
    /// How it came about.
    pub work: Arc<Work>,
}

impl<Q: Quantity> Figure<Q> {
    /// A figure of that name and SI number.
    pub fn new(name: impl Into<String>, si: f64, how: How) -> Self {
        let work = Work { name: name.into(), measure: Q::MEASURE, si, how };
        Figure { value: Q::from_si(si), work: Arc::new(work) }
    }

    /// The number in SI.
    pub fn si(&self) -> f64 {
        self.work.si
    }

    /// A fact of the job.
    pub fn fact(name: impl Into<String>, fact: &Fact<Q>) -> Self {
        let how = match &fact.origin {
            Origin::Stated(place) | Origin::Inherited(place) => How::Stated(*place),
            Origin::Measured(place) => How::Measured(*place),
            Origin::Supposed(place) => How::Supposed(*place),
            Origin::Assumed(why) => How::Assumed(why.clone()),
        };
        Figure::new(name, fact.value.si(), how)
    }

    /// A limit or default of the rule set.
    pub fn rule(name: impl Into<String>, rule: &Rule<Q>) -> Self {
        Figure::new(name, rule.value.si(), How::Rule(rule.citation()))
    }

    /// A decision, held or taken.
    pub fn decided(name: impl Into<String>, si: f64, reason: &Reason) -> Self {
        let how = match reason {
            Reason::Held(place) => How::Stated(*place),
            Reason::Rule(citation) => How::Rule(citation.clone()),
            Reason::Chosen(why) => How::Decided(why.clone()),
        };
        Figure::new(name, si, how)
    }

    /// The sum of figures, in the order given.
    pub fn sum(name: impl Into<String>, parts: &[Figure<Q>]) -> Self {
        let total = parts.iter().fold(0.0, |sum, part| sum + part.si());
        Figure::new(name, total, How::Sum(parts.iter().map(|part| part.work.clone()).collect()))
    }

    /// The largest of figures; none of an empty list.
    pub fn largest(name: impl Into<String>, parts: &[Figure<Q>]) -> Option<Self> {
        let most = parts.iter().map(Figure::si).reduce(f64::max)?;
        let works = parts.iter().map(|part| part.work.clone()).collect();
        Some(Figure::new(name, most, How::Largest(works)))
    }

    /// This figure less another.
    pub fn less(&self, name: impl Into<String>, other: &Figure<Q>) -> Self {
        let how = How::Less(self.work.clone(), other.work.clone());
        Figure::new(name, self.si() - other.si(), how)
    }

    /// A length, area or count taken off the drawing.
    pub fn taken_off(name: impl Into<String>, si: f64, what: impl Into<String>) -> Self {
        Figure::new(name, si, How::TakenOff(what.into()))
    }

    /// A value that settled together with others.
    pub fn settled(
        name: impl Into<String>,
        si: f64,
        how: impl Into<String>,
        from: Vec<Arc<Work>>,
    ) -> Self {
        Figure::new(name, si, How::Settled(how.into(), from))
    }

    /// The product of figures of any kind.
    pub fn product(name: impl Into<String>, parts: &[&Arc<Work>]) -> Self {
        let si = parts.iter().fold(1.0, |product, part| product * part.si);
        Figure::new(name, si, How::Product(parts.iter().map(|part| (*part).clone()).collect()))
    }

    /// A figure that we take because nothing states it, and why.
    pub fn assumed(name: impl Into<String>, si: f64, why: impl Into<String>) -> Self {
        Figure::new(name, si, How::Assumed(why.into()))
    }

    /// The quotient of two figures of any kind.
    pub fn quotient(name: impl Into<String>, above: &Arc<Work>, below: &Arc<Work>) -> Self {
        Figure::new(name, above.si / below.si, How::Quotient(above.clone(), below.clone()))
    }
}
