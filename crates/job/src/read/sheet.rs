//! What was read, key by key, before it is bound into a job.

use crate::decision::{Place, Stated};
use crate::model::{Faces, Layer, Outline};
use crate::schema::Row;
use crate::tree::Node;

/// What a key was found to hold.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// A quantity in SI; a pitch as rise over run.
    Number(f64),
    /// Words, one of a choice, or the key of something else.
    Text(String),
    Count(u32),
    Flag(bool),
    Outline(Outline),
    Point(plane::Point),
    Points(Vec<plane::Point>),
    Layers(Vec<Layer>),
    Faces(Faces),
    /// A far side by a bare key: a room or a space.
    FarKey(String),
    /// Quantities in SI.
    Numbers(Vec<f64>),
    /// Names of keys, each at its place.
    Keys(Vec<Stated<String>>),
    /// As it stands in the text.
    Any(Node),
    /// `auto`: the design chooses.
    Auto,
}

/// One key with its value.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    pub(crate) row: &'static Row,
    pub(crate) stated: Stated<Value>,
}

/// One table of the text.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    /// Pattern of its schema: `room.*`.
    pub(crate) pattern: &'static str,
    /// Its own key: `kitchen`; empty for a table that stands once.
    pub(crate) key: String,
    pub(crate) place: Place,
    pub(crate) lines: Vec<Line>,
    /// Keys that the text states but that could not be read, and have been told.
    pub(crate) spoilt: Vec<&'static str>,
}

impl Group {
    /// What it is called in findings: `room.kitchen`.
    pub(crate) fn subject(&self) -> String {
        match self.pattern.strip_suffix(".*") {
            Some(name) => format!("{name}.{}", self.key),
            None => self.pattern.to_owned(),
        }
    }

    pub(crate) fn line(&self, key: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.row.key == key)
    }

    /// Whether the text says something for that key, readable or not.
    pub(crate) fn mentions(&self, key: &str) -> bool {
        self.line(key).is_some() || self.spoilt.contains(&key)
    }
}

/// Everything that was read.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet {
    pub(crate) groups: Vec<Group>,
}

impl Sheet {
    /// The table that stands once under that name.
    pub(crate) fn single(&self, pattern: &str) -> Option<&Group> {
        self.groups.iter().find(|group| group.pattern == pattern)
    }

    /// All tables of that name, in the order of the text.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Group> + 'a {
        self.groups
            .iter()
            .filter(move |group| group.pattern.strip_suffix(".*").is_some_and(|it| it == name))
    }
}
