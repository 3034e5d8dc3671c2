//! The rule set of a job, and what the job sets otherwise.

use super::lines::Lines;
use crate::finding::{Finding, Severity};
use crate::library::{rule_names, set_rule};
use crate::model::{Library, RuleSet};
use crate::nearest::nearest;
use crate::read::Context;
use crate::read::refer::path_of;
use crate::read::sheet::{Group, Sheet, Value};
use crate::read::tables::short;
use crate::tree::Node;

/// The rule set with that key, or the first there is, with the job's own limits set.
pub(super) fn rules(sheet: &Sheet, key: &str, context: &mut Context<'_>) -> RuleSet {
    let sets = &context.shelf.rule_sets;
    let named = sets.iter().find(|rules| rules.key == key).or(sets.first());
    let mut rules = named.cloned().unwrap_or_else(Library::first_built_in_rules);
    for group in sheet.all("rule") {
        override_one(&mut rules, group, sheet, context);
    }
    rules
}

fn override_one(rules: &mut RuleSet, group: &Group, sheet: &Sheet, context: &mut Context<'_>) {
    let names = rule_names(rules);
    if !names.contains(&group.key) {
        return unknown(rules, group, &names, sheet, context);
    }
    let lines = Lines::of(group);
    let value = lines.stated("value", |value| match value {
        Value::Any(node) => Some(node.clone()),
        _ => None,
    });
    // Without a value or a reason the rule set holds; that they are missing has been told.
    let (Some(value), Some(why)) = (value, lines.text("why")) else { return };
    if group.key == "tube" && !names_a_tube(&value.value, context) {
        return no_tube(group, &value.value, context);
    }
    let set = set_rule(rules, &group.key, &value.value, &why.value, group.place, context.units);
    for trouble in set.err().into_iter().flatten() {
        let advice =
            "write it in quotes and with its unit, as the rule set does; the rule set holds";
        tell(group, "unreadable-value", trouble, advice, &value.value, context);
    }
}

fn names_a_tube(node: &Node, context: &Context<'_>) -> bool {
    match &node.kind {
        crate::tree::Kind::Text(key) => context.shelf.catalogue.tube(key).is_some(),
        _ => true,
    }
}

fn no_tube(group: &Group, node: &Node, context: &mut Context<'_>) {
    let tubes: Vec<&str> =
        context.shelf.catalogue.tubes.iter().map(|tube| tube.key.as_str()).collect();
    let advice = format!("write one of: {}", tubes.join(", "));
    let message = "there is no such tube in the catalogue".to_owned();
    tell(group, "unknown-reference", message, &advice, node, context);
}

fn tell(
    group: &Group,
    kind: &'static str,
    message: String,
    advice: &str,
    node: &Node,
    context: &mut Context<'_>,
) {
    let subject = format!("{}.value", path_of(group));
    let finding = Finding::new(Severity::Stop, kind, subject, message, advice);
    context.findings.push(finding.at(node.place));
}

fn unknown(
    rules: &RuleSet,
    group: &Group,
    names: &[String],
    sheet: &Sheet,
    context: &mut Context<'_>,
) {
    let near = nearest(&group.key, names.iter().map(String::as_str));
    let advice = match near {
        Some(near) => format!("write [rule.{}] if that is meant", crate::path::quoted(near)),
        None => format!("write one of: {}", names.join(", ")),
    };
    let message = format!("the rule set {} has no `{}`", rules.key, short(&group.key));
    let mut finding =
        Finding::new(Severity::Stop, "unknown-reference", path_of(group), message, advice)
            .at(group.place);
    let is_free = |name: &&str| !sheet.all("rule").any(|other| other.key == **name);
    if let Some(near) = near.filter(is_free) {
        finding = finding.mend(crate::Mend {
            words: format!("write {near} for {}", short(&group.key)),
            edits: vec![crate::Edit::RenameKey { path: path_of(group), to: near.to_owned() }],
            promise: crate::Promise::Goes,
        });
    }
    context.findings.push(finding);
}
