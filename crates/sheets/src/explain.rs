//! How a number came about, as steps to be read from top to bottom.

use crate::block::{Block, Prose, Sheet, Spot};
use crate::source::Paths;
use crate::tables::shown_both;
use design::{How, Standing, Work};
use laws::Kind;
use quantity::System;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Most steps that one working shows.
const MOST_STEPS: usize = 400;

/// The working of one number.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// What is explained.
    pub title: String,
    /// The number first, then what went into it, indented.
    pub steps: Vec<Step>,
}

/// One number of a working and how it came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// How far it is indented; zero for the number that was asked for.
    pub depth: usize,
    /// The role it plays in the step above: symbol and meaning of a law's input.
    pub role: Option<String>,
    /// What it is.
    pub name: String,
    /// The number in both unit systems, or a word for a choice.
    pub value: String,
    /// How far it may be trusted.
    pub standing: Standing,
    /// How it came about, in a sentence.
    pub how: String,
    /// The formula, if a law gave it.
    pub formula: Option<String>,
    /// Where the law, rule or catalogue entry was published.
    pub citation: Option<String>,
    /// Where an input left the range of the law.
    pub remarks: Vec<String>,
    /// Where the text states it.
    pub spot: Option<Spot>,
    /// The path under which this number can be asked for itself.
    pub path: Option<String>,
}

/// The working of a number down to that depth.
pub fn explain(
    work: &Arc<Work>,
    paths: &Paths,
    text: &str,
    system: System,
    depth: usize,
) -> Vec<Block> {
    let title = work.name.clone();
    let mut teller =
        Teller { paths, text, system, depth, seen: BTreeSet::new(), steps: Vec::new() };
    teller.tell(work, 0, None, None);
    let cut = teller.steps.len() >= MOST_STEPS;
    let mut blocks = vec![Block::Working(Working { title, steps: teller.steps })];
    if cut {
        let lines = vec!["The working goes on; ask for one of the numbers above.".to_owned()];
        let (key, title) = ("rest".to_owned(), "And so on".to_owned());
        blocks.push(Block::Prose(Prose { key, title, lines }));
    }
    blocks
}

/// The working of a number as a sheet of its own.
pub fn explain_sheet(
    work: &Arc<Work>,
    paths: &Paths,
    text: &str,
    system: System,
    depth: usize,
) -> Sheet {
    let blocks = explain(work, paths, text, system, depth);
    let (key, title) = ("working".to_owned(), format!("Working: {}", work.name));
    Sheet { key, title, head: Vec::new(), first: system, blocks }
}

fn value(work: &Work, system: System) -> String {
    shown_both(work.si, work.measure, system)
}

struct Teller<'a> {
    paths: &'a Paths,
    text: &'a str,
    system: System,
    depth: usize,
    seen: BTreeSet<usize>,
    steps: Vec<Step>,
}

impl Teller<'_> {
    fn tell(&mut self, work: &Arc<Work>, depth: usize, role: Option<String>, word: Option<&str>) {
        if self.steps.len() >= MOST_STEPS {
            return;
        }
        let inputs = work.inputs();
        let again = !inputs.is_empty() && !self.seen.insert(Arc::as_ptr(work).addr());
        let deeper = depth < self.depth && !again;
        let mut step = self.step(work, depth, role, word);
        if again {
            step.how = "worked out above".to_owned();
            (step.formula, step.citation) = (None, None);
        } else if !deeper && !inputs.is_empty() {
            step.remarks.push(format!("its own working has {} inputs", inputs.len()));
        }
        self.steps.push(step);
        if !deeper {
            return;
        }
        match &work.how {
            How::Law { law, inputs, .. } => {
                for (name, input) in inputs {
                    let (role, word) = input_role(law, name, input);
                    self.tell(input, depth + 1, Some(role), word);
                }
            }
            _ => inputs.into_iter().for_each(|input| self.tell(input, depth + 1, None, None)),
        }
    }

    fn step(
        &self,
        work: &Arc<Work>,
        depth: usize,
        role: Option<String>,
        word: Option<&str>,
    ) -> Step {
        let mut step = Step {
            depth,
            role,
            name: work.name.clone(),
            value: word.map_or_else(|| value(work, self.system), str::to_owned),
            standing: work.standing(),
            how: String::new(),
            formula: None,
            citation: None,
            remarks: Vec::new(),
            spot: None,
            path: self.paths.path(work).map(str::to_owned),
        };
        self.fill(&mut step, &work.how);
        step
    }

    fn fill(&self, step: &mut Step, how: &How) {
        let (words, citation) = match how {
            How::Law { law, out_of_range, .. } => {
                step.formula = Some(law.formula.to_owned());
                step.remarks.clone_from(out_of_range);
                (law.sentence.to_owned(), Some(law.source.to_string()))
            }
            How::Sum(parts) => (format!("sum of {}", parts.len()), None),
            How::Product(parts) => (format!("product of {}", parts.len()), None),
            How::Less(..) => ("the first less the second".to_owned(), None),
            How::Quotient(..) => ("the first divided by the second".to_owned(), None),
            How::Largest(parts) => (format!("the largest of {}", parts.len()), None),
            How::Stated(place) => {
                let spot = Spot::of(*place, self.text);
                step.spot = Some(spot);
                (format!("the job states it, {spot}"), None)
            }
            How::Measured(place) => {
                let spot = Spot::of(*place, self.text);
                step.spot = Some(spot);
                (format!("the job states it as measured, {spot}"), None)
            }
            How::Supposed(place) => {
                let spot = Spot::of(*place, self.text);
                step.spot = Some(spot);
                (format!("the job states it as assumed, {spot}"), None)
            }
            How::Assumed(why) => (format!("assumed: {why}"), None),
            How::Rule(citation) => ("set by a rule".to_owned(), Some(citation.clone())),
            How::Catalogue(entry) => ("from the catalogue".to_owned(), Some(entry.clone())),
            How::TakenOff(what) => (format!("taken off the drawing: {what}"), None),
            How::Decided(why) => (format!("decided: {why}"), None),
            How::Settled(how, _) => (format!("settled: {how}"), None),
        };
        step.how = words;
        step.citation = citation;
    }
}

/// What an input is to its law, and its word if it is a choice.
fn input_role<'l>(law: &'l laws::Law, name: &str, work: &Work) -> (String, Option<&'l str>) {
    let Some(input) = law.inputs.iter().find(|input| input.name == name) else {
        return (name.to_owned(), None);
    };
    let word = match input.kind {
        Kind::Choice(choices) => choices.get(work.si.max(0.0) as usize).copied(),
        Kind::Number | Kind::List => None,
    };
    (format!("{}, {}", input.symbol, input.meaning), word)
}
