//! What stands in the way of a loop, in a contractor's words.

use super::mends::mends;
use super::plan::StoreyPlan;
use crate::words::Words;
use job::{Finding, Job, Room, Severity};
use plane::storey::{Reason, Refusal};
use quantity::Quantity;

/// A refusal as a finding at its room.
pub(super) fn refused(job: &Job, plan: &StoreyPlan<'_>, refusal: &Refusal) -> Finding {
    let words = Words { first: job.units.value };
    let subject = plan.rooms.get(refusal.room).map(|number| &job.rooms[*number]);
    let manifold = |number: usize| {
        let access = plan.accesses.get(number);
        access.map_or_else(String::new, |access| access.manifold.key.clone())
    };
    let (severity, kind, message, advice) = match refusal.reason {
        Reason::PassageTooNarrow { door, loops, needed_m, width_m } => {
            let named = door.and_then(|door| plan.doors.get(door));
            let passage = named.map_or("a narrow place".to_owned(), |key| format!("`{key}`"));
            let message = format!(
                "{passage} is too narrow for {loops} loops: they need {}, it has {}",
                words.tape(needed_m),
                words.tape(width_m)
            );
            let advice = "move the manifold, hang a second one, or hold fewer, longer loops";
            (Severity::Stop, "passage-too-narrow", message, advice)
        }
        Reason::ManifoldTooShort { manifold: number, loops, needed_m, width_m } => {
            let message = format!(
                "{loops} loops need {} of wall at manifold {}, there is {}",
                words.tape(needed_m),
                manifold(number),
                words.tape(width_m)
            );
            let advice = "hang the manifold on a longer wall, or hang a second one";
            (Severity::Stop, "manifold-too-short", message, advice)
        }
        Reason::TooManyLoops { manifold: number, loops } => {
            let message =
                format!("{loops} loops are more than manifold {} takes", manifold(number));
            (Severity::Stop, "too-many-loops", message, "hang a second manifold")
        }
        Reason::NoWay => {
            let message = "no way leads from a manifold to this room".to_owned();
            let advice = "add the doorways on the way, or another manifold";
            (Severity::Stop, "no-way", message, advice)
        }
        Reason::SmallerThanOneTurn { needed_m } => {
            let message = format!(
                "its floor holds no turn of tube: one needs {} between the walls",
                words.tape(needed_m)
            );
            let advice = "set `heated = false`, hold a closer spacing, or take a keep-out away";
            (Severity::Stop, "no-loop", message, advice)
        }
        Reason::BendsTooWide { closest_m } => {
            let message = format!(
                "this tube cannot be bent for that spacing; the closest is {}",
                words.small(closest_m)
            );
            (Severity::Stop, "bends-too-wide", message, "hold a wider spacing or a smaller tube")
        }
        Reason::OverLimit { length_m } => {
            let length = words.run(length_m);
            let (message, advice) = match subject.and_then(|room| room.loops.held()) {
                Some(held) => (
                    format!("with {} held one loop would be {length}", counted(held.value)),
                    "lay more loops in this room, or hang it on a nearer manifold",
                ),
                None => (
                    format!("one loop stays at {length} however many are laid"),
                    "hang this room on a nearer manifold, or take a larger tube",
                ),
            };
            (Severity::Stop, "loop-too-long", message, advice)
        }
        Reason::BendTooTight { radius_m } => {
            let message = format!(
                "the only way found bends to {}, tighter than its tube allows",
                words.small(radius_m)
            );
            let advice = "hold another spacing, pattern or number of loops";
            (Severity::Stop, "bend-too-tight", message, advice)
        }
        Reason::HeatedByLeaders => {
            let message = "leaders take up its floor; it gets no loop of its own".to_owned();
            let advice = "look at what they give it; move the manifold if that is too little";
            (Severity::Note, "heated-by-leaders", message, advice)
        }
        Reason::UnusableFigure => {
            let message = "its floor, spacing or tube cannot be laid as stated".to_owned();
            (Severity::Stop, "no-loop", message, "look at spacing, tube and rule set")
        }
        Reason::EntryTooNarrow => {
            let message = "supply and return do not fit side by side onto its floor".to_owned();
            let advice = "move the manifold, take a keep-out away, or hold fewer loops";
            (Severity::Stop, "no-loop", message, advice)
        }
        Reason::NoLayout => {
            let message = "no way was found to lay tube on this floor within the rules".to_owned();
            let advice = "hold another spacing or number of loops, or move the manifold";
            (Severity::Stop, "no-loop", message, advice)
        }
    };
    let key = subject.map_or_else(String::new, |room| format!("room.{}", room.key));
    let mut finding =
        Finding::new(severity, kind, key, message, advice).at(subject.map(|room| room.place));
    finding.amount = lacking(refusal.reason);
    if let Reason::OverLimit { .. } = refusal.reason {
        let tube = job.heating.tube.held().map_or(&job.rules.tube.value, |held| &held.value);
        if let Some(rule) = job.rules.loop_length(tube) {
            finding = finding.limit(words.run(rule.value.si()), rule.citation());
        }
        if let Some(held) = subject.and_then(|room| room.loops.held()) {
            finding = finding.at(held.place);
        }
    }
    finding.mends.extend(subject.into_iter().flat_map(|room| mends(job, plan, room, refusal)));
    finding
}

fn counted(loops: u32) -> String {
    if loops == 1 { "1 loop".to_owned() } else { format!("{loops} loops") }
}

/// How much is lacking, to compare before and after a mend: metres, or loops.
fn lacking(reason: Reason) -> Option<f64> {
    match reason {
        Reason::PassageTooNarrow { needed_m, width_m, .. }
        | Reason::ManifoldTooShort { needed_m, width_m, .. } => Some(needed_m - width_m),
        Reason::TooManyLoops { loops, .. } => Some(loops as f64),
        Reason::OverLimit { length_m } => Some(length_m),
        _ => None,
    }
}

/// A heated room on a storey that no manifold reaches, where others hang elsewhere.
///
/// With no manifold at all the design says so once for all rooms.
pub(super) fn without_access(job: &Job, room: &Room) -> Option<Finding> {
    let held = room.manifold.held();
    let placed = job.manifolds.iter().any(|manifold| manifold.at.is_some());
    placed.then(|| {
        Finding::new(
            Severity::Stop,
            "no-manifold",
            format!("room.{}", room.key),
            "no manifold reaches its storey",
            "hang one there, or add a riser: [passage.NAME] kind = \"riser\", `from`, `to`, `at`",
        )
        .at(held.map_or(room.place, |held| held.place))
    })
}
