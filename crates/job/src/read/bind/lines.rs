//! The lines of one table, asked by key.

use crate::decision::{Decision, Fact, Origin, Stated};
use crate::model::Faces;
use crate::read::Context;
use crate::read::sheet::{Group, Sheet, Value};
use crate::read::value;
use crate::schema::{self, Absent};
use crate::words::Words;
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
        if let Some(known) = self.known(key, &take) {
            return known;
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

    /// What the text states, and whether it was measured or is a guess.
    pub(crate) fn known<T>(
        &self,
        key: &str,
        take: impl Fn(&Value) -> Option<T>,
    ) -> Option<Fact<T>> {
        let Stated { value, place } = self.stated(key, take)?;
        let origin = if self.marked("measured", key) {
            Origin::Measured(place)
        } else if self.marked("assumed", key) {
            Origin::Supposed(place)
        } else {
            Origin::Stated(place)
        };
        Some(Fact { value, origin })
    }

    /// Whether the table names a key in one of its lists of marks.
    fn marked(&self, mark: &str, key: &str) -> bool {
        match self.group.and_then(|group| group.line(mark)).map(|line| &line.stated.value) {
            Some(Value::Keys(keys)) => keys.iter().any(|named| named.value == key),
            _ => false,
        }
    }

    pub(crate) fn quantity<Q: Quantity>(&self, key: &str) -> Option<Fact<Q>> {
        self.known(key, number)
    }

    pub(crate) fn flag(&self, key: &str, context: &mut Context<'_>) -> Fact<bool> {
        let flag = |value: &Value| match value {
            Value::Flag(flag) => Some(*flag),
            _ => None,
        };
        self.fact(key, context, flag, || false)
    }

    pub(crate) fn count(&self, key: &str) -> Option<Fact<u32>> {
        self.known(key, count)
    }

    /// One of a few words.
    pub(crate) fn word<T: Words>(&self, key: &str) -> Option<Fact<T>> {
        self.known(key, word)
    }

    /// One of a few words; what the schema assumes, or else the last resort, if none.
    pub(crate) fn word_fact<T: Words>(
        &self,
        key: &str,
        context: &mut Context<'_>,
        last: T,
    ) -> Fact<T> {
        self.fact(key, context, word, || last)
    }

    /// What a table is called: its name, or else its key.
    pub(crate) fn name(&self) -> Fact<String> {
        self.known("name", text).unwrap_or_else(|| Fact {
            value: self.group.map_or("", |group| &group.key).replace(['_', '-'], " "),
            origin: Origin::Assumed("its key".to_owned()),
        })
    }

    pub(crate) fn faces(&self, key: &str) -> Option<Stated<Faces>> {
        self.stated(key, faces)
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

    /// A list of names, each at its place.
    pub(crate) fn names(&self, key: &str) -> Vec<Stated<String>> {
        let names = |value: &Value| match value {
            Value::Keys(names) => Some(names.clone()),
            _ => None,
        };
        self.stated(key, names).map_or_else(Vec::new, |names| names.value)
    }

    pub(crate) fn point(&self, key: &str) -> Option<Stated<plane::Point>> {
        self.stated(key, point)
    }

    /// A decision: held where the text states it, open where it is silent or says `auto`.
    pub(crate) fn decision<T>(&self, key: &str, take: impl Fn(&Value) -> Option<T>) -> Decision<T> {
        self.stated(key, take).map_or(Decision::Open, Decision::Held)
    }
}

/// Two places or more.
pub(crate) fn points(value: &Value) -> Option<Vec<plane::Point>> {
    match value {
        Value::Points(points) => Some(points.clone()),
        _ => None,
    }
}

/// A quantity of that type.
pub(crate) fn number<Q: Quantity>(value: &Value) -> Option<Q> {
    match value {
        Value::Number(si) => Some(Q::from_si(*si)),
        _ => None,
    }
}

/// Two coordinates.
pub(crate) fn point(value: &Value) -> Option<plane::Point> {
    match value {
        Value::Point(point) => Some(*point),
        _ => None,
    }
}

/// A whole number.
pub(crate) fn count(value: &Value) -> Option<u32> {
    match value {
        Value::Count(count) => Some(*count),
        _ => None,
    }
}

/// What one of a few words means.
pub(crate) fn word<T: Words>(value: &Value) -> Option<T> {
    match value {
        Value::Text(word) => T::named(word),
        _ => None,
    }
}

/// What is on the far side.
pub(crate) fn faces(value: &Value) -> Option<Faces> {
    match value {
        Value::Faces(faces) => Some(faces.clone()),
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
