//! Marks of keys that were measured, and of those that are a guess.

use super::Context;
use super::sheet::{Group, Sheet, Value};
use super::tables::short;
use crate::decision::Stated;
use crate::finding::{Finding, Severity};
use crate::nearest::nearest;

/// Tells every mark of a key that its table does not state, and keys marked both ways.
pub(crate) fn check(sheet: &Sheet, context: &mut Context<'_>) {
    for group in &sheet.groups {
        let (measured, assumed) = (marks(group, "measured"), marks(group, "assumed"));
        for named in measured.iter().chain(assumed) {
            if !group.mentions(&named.value) || is_mark(&named.value) {
                unstated(group, named, context);
            }
        }
        for both in assumed.iter().filter(|it| measured.iter().any(|other| other.value == it.value))
        {
            let subject = format!("{}.assumed", group.subject());
            let message = format!("`{}` is marked both measured and assumed", short(&both.value));
            let advice = "keep it in one of the two lists; it is taken as measured";
            let finding = Finding::new(Severity::Warn, "two-marks", subject, message, advice);
            context.findings.push(finding.at(both.place));
        }
    }
}

fn is_mark(key: &str) -> bool {
    matches!(key, "measured" | "assumed")
}

fn marks<'a>(group: &'a Group, key: &str) -> &'a [Stated<String>] {
    match group.line(key).map(|line| &line.stated.value) {
        Some(Value::Keys(keys)) => keys,
        _ => &[],
    }
}

fn unstated(group: &Group, named: &Stated<String>, context: &mut Context<'_>) {
    let stated = group.lines.iter().map(|line| line.row.key).filter(|key| !is_mark(key));
    let message = format!("{} has no key `{}` to mark", group.subject(), short(&named.value));
    let advice = match nearest(&named.value, stated) {
        Some(near) => format!("write {near} if that is meant"),
        None => "name only keys that stand in the same table".to_owned(),
    };
    let finding = Finding::new(Severity::Warn, "unknown-name", group.subject(), message, advice);
    context.findings.push(finding.at(named.place));
}
