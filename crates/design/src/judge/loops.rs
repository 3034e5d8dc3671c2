//! Loops: length, bends, evenness, coverage.

use super::Case;
use super::mends::more_loops;
use crate::emitters::Floor;
use crate::loops::{TubeLoop, limit};
use job::{Finding, Rule, Severity};
use quantity::{Length, Quantity};

/// A loop this close to its limit is worth a look.
const NEAR_LIMIT: f64 = 0.95;
/// Less floor near a tube than this is worth a look.
const COVERED_LEAST: f64 = 0.95;

pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for floor in &case.choice.floors {
        let own: Vec<&TubeLoop> =
            case.loops.iter().filter(|tube_loop| tube_loop.room == floor.room).collect();
        length(case, floor, &own, findings);
        for tube_loop in own {
            coverage(case, floor, tube_loop, findings);
        }
    }
    bends(case, findings);
}

fn length(case: &Case<'_>, floor: &Floor, own: &[&TubeLoop], findings: &mut Vec<Finding>) {
    let words = case.words();
    let room = &case.job.rooms[floor.number];
    let Some(rule) = limit(case.job, floor) else {
        if !own.is_empty() {
            let message = format!(
                "the rule set has no longest loop for {}, so none was kept",
                floor.build_up.tube.name
            );
            findings.push(
                Finding::new(
                    Severity::Warn,
                    "no-loop-limit",
                    format!("room.{}", floor.room),
                    message,
                    "hold the number of loops by the maker's limit",
                )
                .at(room.place),
            );
        }
        return;
    };
    let limit_m = rule.value.si();
    let longest = own.iter().max_by(|a, b| a.length.si().total_cmp(&b.length.si()));
    let Some(longest) = longest else { return };
    let length_m = longest.length.si();
    if length_m <= NEAR_LIMIT * limit_m {
        return;
    }
    let over = length_m > limit_m;
    let way_m = longest.leader_length.si() + longest.tail_length.si();
    if way_m >= limit_m {
        findings.push(way_too_long(case, floor, longest, way_m, rule));
        return;
    }
    let mut message = format!("is {} of tube from port to port", words.run(length_m));
    if !over {
        message.push_str(", with little to spare for the way it is really laid");
    }
    let (severity, kind) =
        if over { (Severity::Stop, "loop-too-long") } else { (Severity::Note, "loop-near-limit") };
    let mut finding = Finding::new(
        severity,
        kind,
        format!("loop.{}", longest.key),
        message,
        "lay more loops in this room, or hang it on a nearer manifold",
    )
    .at(room.loops.held().map_or(room.place, |held| held.place))
    .amount(length_m)
    .limit(words.run(limit_m), rule.citation());
    let goal_m = if over { limit_m } else { NEAR_LIMIT * limit_m };
    let count = own.len() as u32;
    // The count that the tube's length asks for, or a few more.
    let total_m: f64 = own.iter().map(|tube_loop| tube_loop.length.si()).sum();
    let first = ((total_m / goal_m).ceil() as u32).max(count + 1);
    finding.mends.extend(more_loops(&floor.room, first));
    findings.push(finding);
}

/// A room whose leaders alone take all the tube that a loop may have.
fn way_too_long(
    case: &Case<'_>,
    floor: &Floor,
    tube_loop: &TubeLoop,
    way_m: f64,
    rule: &Rule<Length>,
) -> Finding {
    let words = case.words();
    let message = format!(
        "leaders, risers and tails alone take {} on the way to manifold {}",
        words.run(way_m),
        tube_loop.manifold
    );
    Finding::new(
        Severity::Stop,
        "leaders-too-long",
        format!("room.{}", floor.room),
        message,
        "hang this room on a nearer manifold, or take a larger tube",
    )
    .at(place(case, floor))
    .amount(way_m)
    .limit(words.run(rule.value.si()), rule.citation())
}

/// Bends drawn tighter than the tube takes, told once for all loops of a tube.
fn bends(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(floor) = case.choice.floors.first() else { return };
    let tube = &floor.build_up.tube;
    let tight: Vec<&TubeLoop> =
        case.loops.iter().filter(|tube_loop| !tube_loop.tight_bends.is_empty()).collect();
    let radii = tight.iter().flat_map(|tube_loop| &tube_loop.tight_bends).map(|b| b.radius_m);
    let Some(tightest) = radii.reduce(f64::min) else { return };
    let words = case.words();
    let count: usize = tight.iter().map(|tube_loop| tube_loop.tight_bends.len()).sum();
    let all: usize = case.loops.iter().map(|tube_loop| tube_loop.path.bends().len()).sum();
    let by_loop: Vec<String> = tight
        .iter()
        .map(|tube_loop| format!("{} in {}", tube_loop.tight_bends.len(), tube_loop.key))
        .collect();
    let message = format!(
        "{count} of {all} bends are drawn tighter than the tube allows, the tightest at {}: {}",
        words.small(tightest),
        by_loop.join(", ")
    );
    findings.push(
        Finding::new(
            Severity::Warn,
            "tight-bends",
            "loops",
            message,
            "on site, swing these bends wider into the free floor beside them; never force the tube",
        )
        .at(case.job.heating.tube.held().map(|held| held.place))
        .amount(count as f64)
        .limit(words.small(tube.bend_radius.si()), format!("{}: {}", tube.name, tube.source)),
    );
}

fn coverage(case: &Case<'_>, floor: &Floor, tube_loop: &TubeLoop, findings: &mut Vec<Finding>) {
    let covered = tube_loop.covered.si();
    if covered >= COVERED_LEAST {
        return;
    }
    let words = case.words();
    let cold = words.area((1.0 - covered) * tube_loop.area.si());
    findings.push(
        Finding::new(
            Severity::Warn,
            "cold-floor",
            format!("loop.{}", tube_loop.key),
            format!("{cold} of its floor lie too far from a tube"),
            "look at the drawing; a closer spacing reaches further into corners",
        )
        .at(place(case, floor))
        .amount(1.0 - covered),
    );
}

fn place(case: &Case<'_>, floor: &Floor) -> job::Place {
    case.job.rooms[floor.number].place
}
