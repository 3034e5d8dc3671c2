//! Everything the text is silent about, gathered from facts and workings.

mod facts;

use crate::source::Source;
use crate::tables::shown_both;
use design::{How, Work};
use job::{Fact, Origin};
use quantity::Quantity;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One thing that was assumed.
pub(crate) struct Assumed {
    pub(crate) item: String,
    /// What it holds for, where it is not the whole job.
    pub(crate) of: Vec<String>,
    pub(crate) value: String,
    pub(crate) why: String,
}

impl Assumed {
    /// All of it: facts of the job first, then what only the design assumed.
    pub(crate) fn all(source: &Source) -> Vec<Assumed> {
        let mut list = List { source, items: Vec::new() };
        facts::whole_job(&mut list, source.job);
        facts::storeys_and_spaces(&mut list, source.job);
        for room in &source.job.rooms {
            facts::of_room(&mut list, room);
        }
        facts::shapes(&mut list, source.job);
        facts::constructions(&mut list, source.job);
        facts::plant(&mut list, source.job);
        workings(&mut list, source);
        list.items
    }
}

/// What a working assumed and no fact of the job has told already.
fn workings(list: &mut List<'_>, source: &Source) {
    let mut seen = BTreeSet::new();
    let mut open: Vec<Arc<Work>> =
        source.design.figures().into_iter().rev().map(|(_, work)| work).collect();
    while let Some(work) = open.pop() {
        if !seen.insert(Arc::as_ptr(&work).addr()) {
            continue;
        }
        if let How::Assumed(why) = &work.how
            && !list.items.iter().any(|it| it.why == *why)
        {
            let value = shown_both(work.si, work.measure, source.job.units.value);
            list.add(&work.name, "", value, why);
        }
        open.extend(work.inputs().into_iter().cloned());
    }
}

/// Assumptions as they are gathered.
pub(super) struct List<'a> {
    source: &'a Source<'a>,
    items: Vec<Assumed>,
}

impl List<'_> {
    pub(super) fn quantity<Q: Quantity>(&mut self, item: &str, of: &str, fact: &Fact<Q>) {
        let first = self.source.job.units.value;
        self.words(item, of, fact, |value| shown_both(value.si(), Q::MEASURE, first));
    }

    pub(super) fn maybe<Q: Quantity>(&mut self, item: &str, of: &str, fact: Option<&Fact<Q>>) {
        if let Some(fact) = fact {
            self.quantity(item, of, fact);
        }
    }

    pub(super) fn words<T>(
        &mut self,
        item: &str,
        of: &str,
        fact: &Fact<T>,
        shown: impl Fn(&T) -> String,
    ) {
        match &fact.origin {
            Origin::Assumed(why) => self.add(item, of, shown(&fact.value), why),
            Origin::Supposed(place) => {
                let why = format!("the job says so, as assumed, {}", self.source.line(*place));
                self.add(item, of, shown(&fact.value), &why);
            }
            Origin::Stated(_) | Origin::Measured(_) | Origin::Inherited(_) => {}
        }
    }

    /// Adds it, or adds `of` to an equal assumption made before.
    fn add(&mut self, item: &str, of: &str, value: String, why: &str) {
        let same = |it: &&mut Assumed| it.item == item && it.value == value && it.why == why;
        let of: Vec<String> = (!of.is_empty()).then(|| of.to_owned()).into_iter().collect();
        match self.items.iter_mut().find(same) {
            Some(known) => known.of.extend(of),
            None => {
                let (item, why) = (item.to_owned(), why.to_owned());
                self.items.push(Assumed { item, of, value, why });
            }
        }
    }
}
