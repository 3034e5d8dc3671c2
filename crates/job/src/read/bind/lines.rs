//! The lines of one table, asked by key.

use crate::decision::{Decision, Fact, Origin, Stated};
use crate::read::Context;
use crate::read::sheet::{Group, Sheet, Value};
use crate::read::value;
use crate::schema::{self, Absent};
use quantity::{Quantity, System};

/// The lines of one table; of none, where the text lacks the table.
#[derive(Clone, Copy)]
pub(crate) struct Lines<'a> {
    pattern: &'static str,
    group: Option<&'a Group>,
}

impl<'a> Lines<'a> {
    /// The lines of a table that stands once.
    pub(crate) fn single(sheet: &'a Sheet, pattern: &'static str) -> Self {
        Lines { pattern, group: sheet.single(pattern) }
    }

    /// The lines of a keyed table.
    pub(crate) fn of(group: &'a Group) -> Self {
        Lines { pattern: group.pattern, group: Some(group) }
    }

    /// What the text states for a key, if `take` can use it.
    pub(crate) fn stated<T>(
        &self,
        key: &str,
        take: impl Fn(&Value) -> Option<T>,
    ) -> Option<Stated<T>> {
        let line = self.group?.line(key)?;
        let value = take(&line.stated.value)?;
        Some(Stated { value, place: line.stated.place })
    }

    /// What the text states, or what the schema assumes and why.
    pub(crate) fn fact<T>(
        &self,
        key: &str,
        context: &mut Context<'_>,
        take: impl Fn(&Value) -> Option<T>,
        last: impl FnOnce() -> T,
    ) -> Fact<T> {
        if let Some(stated) = self.stated(key, &take) {
            return super::fact(stated);
        }
        let row = schema::row(self.pattern, key);
        let Some((row, Absent::Assumed { us, si, why })) = row.map(|row| (row, row.absent)) else {
            return Fact { value: last(), origin: Origin::Assumed("nothing is said".to_owned()) };
        };
        let text = match context.units {
            System::Us => us,
            System::Si => si,
        };
        let assumed = value::assumed(text, row, context).and_then(|value| take(&value));
        let origin = Origin::Assumed(format!("{text}: {why}"));
        Fact { value: assumed.unwrap_or_else(last), origin }
    }

    pub(crate) fn quantity<Q: Quantity>(&self, key: &str) -> Option<Fact<Q>> {
        self.stated(key, number).map(super::fact)
    }

    pub(crate) fn quantity_fact<Q: Quantity>(
        &self,
        key: &str,
        context: &mut Context<'_>,
    ) -> Fact<Q> {
        self.fact(key, context, number, || Q::from_si(0.0))
    }

    pub(crate) fn text(&self, key: &str) -> Option<Stated<String>> {
        self.stated(key, text)
    }

    pub(crate) fn text_fact(&self, key: &str, context: &mut Context<'_>) -> Fact<String> {
        self.fact(key, context, text, String::new)
    }

    pub(crate) fn point(&self, key: &str) -> Option<Stated<plane::Point>> {
        self.stated(key, |value| match value {
            Value::Point(point) => Some(*point),
            _ => None,
        })
    }

    /// A decision: held where the text states it, open where it is silent or says `auto`.
    pub(crate) fn decision<T>(&self, key: &str, take: impl Fn(&Value) -> Option<T>) -> Decision<T> {
        self.stated(key, take).map_or(Decision::Open, Decision::Held)
    }
}

/// A quantity of that type.
pub(crate) fn number<Q: Quantity>(value: &Value) -> Option<Q> {
    match value {
        Value::Number(si) => Some(Q::from_si(*si)),
        _ => None,
    }
}

/// Words.
pub(crate) fn text(value: &Value) -> Option<String> {
    match value {
        Value::Text(text) => Some(text.clone()),
        _ => None,
    }
}
