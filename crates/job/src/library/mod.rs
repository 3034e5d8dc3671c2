//! Catalogue and rule sets, read from text.

mod build_up;
mod catalogue;
mod entry;
mod limit;
mod page;
mod rules;

pub use page::build_up_page;
pub(crate) use rules::{names as rule_names, set as set_rule};

use crate::finding::Finding;
use crate::model::{Catalogue, Library, RuleSet};

/// The catalogue that is built in: file name and text.
const CATALOGUE: &[(&str, &str)] = &[
    ("catalogue/tubes.toml", include_str!("../../../../catalogue/tubes.toml")),
    ("catalogue/materials.toml", include_str!("../../../../catalogue/materials.toml")),
    ("catalogue/finishes.toml", include_str!("../../../../catalogue/finishes.toml")),
    ("catalogue/build_ups.toml", include_str!("../../../../catalogue/build_ups.toml")),
];

/// The rule sets that are built in: file name and text.
const RULES: &[(&str, &str)] = &[
    ("rules/us-residential.toml", include_str!("../../../../rules/us-residential.toml")),
    ("rules/eu.toml", include_str!("../../../../rules/eu.toml")),
];

impl Library {
    /// The catalogue and the rule sets that come with the program.
    pub fn built_in() -> Library {
        let texts = |files: &[(&str, &'static str)]| -> Vec<&'static str> {
            files.iter().map(|(_, text)| *text).collect()
        };
        Library::read(&texts(CATALOGUE), &texts(RULES)).0
    }

    /// Reads catalogue texts and rule set texts, one rule set a text.
    ///
    /// A part or a rule set that lacks something is told and left out. The subject of a finding
    /// begins with the text it is about: `catalogue 1: tube.pex-1/2`. Where a key comes twice, the
    /// first holds. Build-ups may name materials of any of the texts.
    pub fn read(catalogue: &[&str], rules: &[&str]) -> (Library, Vec<Finding>) {
        let mut findings = Vec::new();
        let mut parts = Catalogue::default();
        let numbered = catalogue.iter().enumerate();
        let mut readers: Vec<entry::Reader> = numbered
            .map(|(number, text)| entry::Reader::new(text, format!("catalogue {}", number + 1)))
            .collect();
        readers.iter_mut().for_each(|reader| catalogue::read(reader, &mut parts));
        let shelf = Library { catalogue: parts.clone(), rule_sets: Vec::new() };
        for mut reader in readers {
            build_up::read(&mut reader, &mut parts.build_ups, &shelf);
            findings.extend(reader.findings);
        }
        let mut rule_sets: Vec<RuleSet> = Vec::new();
        for (number, text) in rules.iter().enumerate() {
            let mut reader = entry::Reader::new(text, format!("rules {}", number + 1));
            if let Some(rules) = rules::read(&mut reader)
                && !rule_sets.iter().any(|known| known.key == rules.key)
            {
                rule_sets.push(rules);
            }
            findings.extend(reader.findings);
        }
        (Library { catalogue: parts, rule_sets }, findings)
    }

    /// The limits that hold when a library has none.
    pub(crate) fn first_built_in_rules() -> RuleSet {
        // A test holds that the built-in texts read without a finding.
        let built_in = Library::built_in().rule_sets.into_iter().next();
        built_in.unwrap_or_else(|| unreachable!("the built-in rules can be read"))
    }
}
