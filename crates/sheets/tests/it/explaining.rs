//! The working of a number as steps.

use crate::{CABIN, read};
use quantity::System;
use sheets::{Block, Paths, Step, explain};

fn steps(depth: usize) -> Vec<Step> {
    let (_, design, _) = read(CABIN);
    let work = &design.flows.loops[0].flow.work;
    let paths = Paths::of(&[("loop.great/1.flow".to_owned(), work.clone())]);
    let blocks = explain(work, &paths, CABIN, System::Us, depth);
    match blocks.into_iter().next() {
        Some(Block::Working(working)) => working.steps,
        other => panic!("no working but {other:?}"),
    }
}

#[test]
fn a_law_shows_sentence_formula_source_and_inputs() {
    let steps = steps(1);
    let law = &laws::hydraulics::FLOW_FOR_HEAT;
    assert_eq!(steps[0].how, law.sentence);
    assert_eq!(steps[0].formula.as_deref(), Some(law.formula));
    assert_eq!(steps[0].citation, Some(law.source.to_string()));
    assert_eq!(steps[0].path.as_deref(), Some("loop.great/1.flow"));
    assert_eq!(steps.len(), 1 + law.inputs.len());
    assert_eq!(steps[2].role.as_deref(), Some("ΔT, drop from supply to return"));
    assert!(steps[2].value.contains("°F") && steps[2].value.contains(" K"), "{}", steps[2].value);
}

#[test]
fn depth_cuts_the_working_and_says_so() {
    assert_eq!(steps(0).len(), 1);
    assert!(!steps(0)[0].remarks.is_empty(), "what was cut is told");
    assert!(steps(2).len() > steps(1).len());
    assert_eq!(steps(2).iter().map(|step| step.depth).max(), Some(2));
}
