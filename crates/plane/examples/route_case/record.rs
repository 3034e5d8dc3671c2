//! The line of JSON that tells what became of a case.

use crate::drawing::loop_id;
use plane::Segment;
use plane::storey::{Layout, Loop, Plan, Reason};
use plane::verify::StoreyReport;
use serde_json::{Value, json};

/// How far the points stay from arcs, metres.
const CHORD_ERROR_M: f64 = 1e-3;

/// The record of a laid storey.
pub(crate) fn of(
    name: &str,
    plan: &Plan,
    layout: &Layout,
    report: &StoreyReport,
    ms: f64,
) -> Value {
    let loops: Vec<Value> = layout.loops.iter().map(|l| tube(plan, l)).collect();
    let gaps = &report.gaps;
    json!({
        "name": name,
        "loops": loops,
        "crossings": report.crossings.len(),
        "over_limit": report.over_limit(),
        "tight_bends": report.tight_bends.len(),
        "outside_m": report.outside_m + report.kept_out_m,
        "coverage_075": report.covered_fraction(),
        // No gap below the spacing was found where there is none.
        "min_gap_ratio": gaps.field.map_or(1.0, |g| g.ratio),
        "refused": refusal(plan, layout),
        "ms": ms,
    })
}

/// The record of a case that could not be read.
pub(crate) fn unread(name: &str, reason: &str) -> Value {
    json!({
        "name": name, "loops": [], "crossings": 0, "over_limit": 0, "tight_bends": 0,
        "outside_m": 0.0, "coverage_075": 0.0, "min_gap_ratio": null, "refused": reason, "ms": 0.0,
    })
}

fn room_key(plan: &Plan, room: usize) -> &str {
    plan.rooms.get(room).map_or("?", |r| r.key.as_str())
}

fn tube(plan: &Plan, tube: &Loop) -> Value {
    let by_room = tube.lengths_m.iter();
    let rooms: Vec<Value> = by_room
        .map(|(room, length_m)| json!({ "room": room_key(plan, *room), "length_m": length_m }))
        .collect();
    let points = tube.path.chords(CHORD_ERROR_M);
    json!({
        "id": loop_id(plan, tube),
        "rooms": rooms,
        "length_m": tube.path.length_m(),
        "segments": tube.path.segments.iter().map(segment).collect::<Vec<_>>(),
        "points": points.iter().map(|p| [p.x, p.y]).collect::<Vec<_>>(),
    })
}

fn segment(segment: &Segment) -> Value {
    match *segment {
        Segment::Line { from, to } => json!(["L", from.x, from.y, to.x, to.y]),
        Segment::Arc { from, centre, radius_m, turn_rad, .. } => {
            let arm = from - centre;
            let begin = arm.y.atan2(arm.x);
            json!(["A", centre.x, centre.y, radius_m, begin, begin + turn_rad])
        }
    }
}

/// All reasons in words, each once; none where every heated room got what it needs.
fn refusal(plan: &Plan, layout: &Layout) -> Option<String> {
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for refusal in layout.refusals.iter().filter(|r| r.reason != Reason::HeatedByLeaders) {
        let (room, words) = (room_key(plan, refusal.room), reason(plan, &refusal.reason));
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, rooms)) => rooms.push(room),
            None => told.push((words, vec![room])),
        }
    }
    let lines: Vec<String> =
        told.iter().map(|(words, rooms)| format!("{}: {words}", rooms.join(", "))).collect();
    (!lines.is_empty()).then(|| lines.join("; "))
}

fn reason(plan: &Plan, reason: &Reason) -> String {
    match *reason {
        Reason::PassageTooNarrow { door, loops, needed_m, width_m } => {
            let key =
                door.and_then(|d| plan.doors.get(d)).map_or("a narrow place", |d| d.key.as_str());
            format!("{loops} loops through {key} need {needed_m:.2} m, it has {width_m:.2} m")
        }
        Reason::ManifoldTooShort { loops, needed_m, width_m, .. } => {
            format!("{loops} loops need {needed_m:.2} m of manifold, it has {width_m:.2} m")
        }
        Reason::TooManyLoops { loops, .. } => {
            format!("{loops} loops, more than the manifold takes")
        }
        Reason::NoWay => "no door leads there".to_string(),
        Reason::SmallerThanOneTurn { needed_m } => {
            format!("smaller than one turn, which needs {needed_m:.2} m")
        }
        Reason::BendsTooWide { closest_m } => {
            format!("the tube allows no spacing below {closest_m:.3} m here")
        }
        Reason::OverLimit { length_m } => format!("a loop of {length_m:.1} m is over the limit"),
        ref other => format!("{other:?}"),
    }
}
