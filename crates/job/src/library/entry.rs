//! One part or limit of a library text, asked by key.

use crate::decision::Place;
use crate::finding::{Finding, Severity};
use crate::schema::one_of;
use crate::tree::{self, Entry, Kind, Node, Table};
use crate::words::Words;
use quantity::{Quantity, unit};

/// A library text that is being read.
pub(crate) struct Reader {
    name: String,
    pub(crate) table: Table,
    pub(crate) findings: Vec<Finding>,
}

impl Reader {
    pub(crate) fn new(text: &str, name: String) -> Self {
        let (table, troubles) = tree::parse(text);
        let findings = troubles
            .iter()
            .map(|trouble| {
                let mut finding = crate::read::syntax_finding(text, trouble);
                finding.subject.clone_from(&name);
                finding
            })
            .collect();
        Reader { name, table, findings }
    }

    /// Tells what is wrong with a part.
    pub(crate) fn tell(&mut self, subject: &str, place: Place, message: impl Into<String>) {
        let subject = format!("{}: {subject}", self.name);
        let advice = "mend the library text; the part is left out";
        self.findings.push(
            Finding::new(Severity::Stop, "unreadable-library", subject, message, advice).at(place),
        );
    }
}

/// The keys of one part.
pub(crate) struct Part<'a> {
    pub(crate) subject: String,
    pub(crate) place: Place,
    table: &'a [Entry],
    /// What was asked for and not found, or not understood.
    pub(crate) troubles: Vec<String>,
    asked: Vec<&'static str>,
}

impl<'a> Part<'a> {
    pub(crate) fn new(subject: String, place: Place, table: &'a [Entry]) -> Self {
        Part { subject, place, table, troubles: Vec::new(), asked: Vec::new() }
    }

    fn node(&mut self, key: &'static str) -> Option<&'a Node> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        self.table.iter().find(|entry| entry.key == key).map(|entry| &entry.node)
    }

    /// A quantity; it must carry its unit, since a library has no unit system.
    pub(crate) fn quantity<Q: Quantity>(&mut self, key: &'static str) -> Option<Q> {
        if let Some(Node { kind: Kind::Bare(number), .. }) = self.node(key) {
            return self.read(key, number);
        }
        let text = self.text(key)?;
        self.read(key, &text)
    }

    /// A quantity that may be absent.
    pub(crate) fn optional<Q: Quantity>(&mut self, key: &'static str) -> Option<Q> {
        self.node(key)?;
        self.quantity(key)
    }

    /// One of a few words.
    pub(crate) fn word<T: Words>(&mut self, key: &'static str) -> Option<T> {
        let word = self.text(key)?;
        let meant = T::named(word.trim());
        if meant.is_none() {
            let words: Vec<&str> = T::WORDS.iter().map(|(word, _)| *word).collect();
            self.troubles.push(format!("{key} must be {}", one_of(&words)));
        }
        meant
    }

    /// One of a few words, which may be absent.
    pub(crate) fn optional_word<T: Words>(&mut self, key: &'static str) -> Option<T> {
        self.node(key)?;
        self.word(key)
    }

    /// What stands under a key that must not be missing.
    pub(crate) fn needed(&mut self, key: &'static str) -> Option<&'a Node> {
        let node = self.node(key);
        if node.is_none() {
            self.troubles.push(format!("{key} is missing"));
        }
        node
    }

    /// A list of texts.
    pub(crate) fn texts(&mut self, key: &'static str) -> Option<Vec<String>> {
        let text = |item: &Node| match &item.kind {
            Kind::Text(text) => Some(text.clone()),
            _ => None,
        };
        let texts = match &self.needed(key)?.kind {
            Kind::List(items) => items.iter().map(text).collect(),
            _ => None,
        };
        if texts.is_none() {
            self.troubles.push(format!("{key} must be a list of texts"));
        }
        texts
    }

    /// A whole number.
    pub(crate) fn count(&mut self, key: &'static str) -> Option<u32> {
        let count = match self.node(key) {
            Some(Node { kind: Kind::Bare(number), .. }) => number.parse().ok(),
            _ => None,
        };
        if count.is_none() {
            self.troubles.push(format!("{key} must be a whole number"));
        }
        count
    }

    /// A flag of which nothing may be said.
    pub(crate) fn either(&mut self, key: &'static str) -> Option<bool> {
        self.node(key)?;
        Some(self.flag(key))
    }

    /// A list of quantities.
    pub(crate) fn quantities<Q: Quantity>(&mut self, key: &'static str) -> Option<Vec<Q>> {
        let Some(Node { kind: Kind::List(items), .. }) = self.node(key) else {
            self.troubles.push(format!("{key} must be a list"));
            return None;
        };
        items
            .iter()
            .map(|item| match &item.kind {
                Kind::Text(text) => self.read(key, text),
                _ => {
                    self.troubles.push(format!("{key} must be a list of texts"));
                    None
                }
            })
            .collect()
    }

    fn read<Q: Quantity>(&mut self, key: &str, text: &str) -> Option<Q> {
        let last = text.trim().chars().last();
        let has_unit = last.is_some_and(|c| !c.is_ascii_digit()) || text.starts_with(['R', 'U']);
        let bare = Q::MEASURE.si_unit();
        match quantity::read_as(text, bare) {
            Ok(quantity) if has_unit || *bare == unit::ONE => Some(quantity),
            Ok(_) => {
                self.troubles.push(format!("{key} of {text} lacks its unit"));
                None
            }
            Err(error) => {
                self.troubles.push(format!("{key}: {error}"));
                None
            }
        }
    }

    pub(crate) fn text(&mut self, key: &'static str) -> Option<String> {
        match self.node(key) {
            Some(Node { kind: Kind::Text(text), .. }) => Some(text.clone()),
            Some(_) => {
                self.troubles.push(format!("{key} must be a text"));
                None
            }
            None => {
                self.troubles.push(format!("{key} is missing"));
                None
            }
        }
    }

    /// A text that may be absent.
    pub(crate) fn optional_text(&mut self, key: &'static str) -> Option<String> {
        self.node(key)?;
        self.text(key)
    }

    /// A flag that is false where nothing is said.
    pub(crate) fn flag(&mut self, key: &'static str) -> bool {
        match self.node(key) {
            None => false,
            Some(Node { kind: Kind::Flag(flag), .. }) => *flag,
            Some(_) => {
                self.troubles.push(format!("{key} must be true or false"));
                false
            }
        }
    }

    /// The source, memory marked.
    pub(crate) fn source(&mut self) -> Option<String> {
        let source = self.text("source")?;
        match self.flag("from_memory") {
            true => Some(format!("{source} (from memory)")),
            false => Some(source),
        }
    }

    /// Hands everything that went wrong to the reader, keys nobody asks for included.
    pub(crate) fn finish(mut self, reader: &mut Reader) {
        for entry in self.table {
            if !self.asked.contains(&entry.key.as_str()) {
                self.troubles.push(format!("no key is called {}", entry.key));
            }
        }
        for trouble in &self.troubles {
            reader.tell(&self.subject, self.place, trouble.clone());
        }
    }
}
