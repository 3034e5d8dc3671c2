//! Embedded tube of a storey: laid, measured, told.

use crate::case_run::{Run, Timed};
use crate::drawing::{self, loop_id};
use crate::record::{self, Record};
use plane::storey::{Kept, Layout, Loop, Plan, Reason, lay};
use plane::verify::{self, StoreyReport};
use serde_json::Value;

/// Lays a storey.
pub(crate) fn run(name: &str, plan: &Plan) -> Run {
    let Timed { value: layout, ms } = Timed::of(|| lay(plan, &mut Kept::default()));
    let report = verify::storey(plan, &layout);
    notes(name, &layout, &report);
    let drawing = drawing::storey(name, plan, &layout, &report);
    Run { line: of(plan, &layout, &report).line(name, ms), drawing: Some(drawing) }
}

fn of(plan: &Plan, layout: &Layout, report: &StoreyReport) -> Record {
    Record {
        loops: layout.loops.iter().map(|l| tube(plan, l)).collect(),
        crossings: report.crossings.len(),
        over_limit: report.over_limit(),
        tight_bends: report.tight_bends.len(),
        outside_m: report.outside_m + report.kept_out_m,
        coverage_075: report.covered_fraction(),
        // No gap below the spacing was found where there is none.
        min_gap_ratio: report.gaps.field.map_or(1.0, |g| g.ratio),
        refused: refusal(plan, layout),
    }
}

fn tube(plan: &Plan, tube: &Loop) -> Value {
    let by_room = tube.lengths_m.iter().map(|(room, m)| (room_key(plan, *room), *m));
    record::tube(&loop_id(plan, tube), &tube.path, by_room)
}

fn room_key(plan: &Plan, room: usize) -> &str {
    plan.rooms.get(room).map_or("?", |r| r.key.as_str())
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

/// What the line has no place for.
fn notes(name: &str, layout: &Layout, report: &verify::StoreyReport) {
    let mm = |gap: Option<f64>| gap.map_or("wide".to_string(), |m| format!("{:.0} mm", m * 1e3));
    let place = |gap: Option<verify::Gap>| {
        gap.map_or(String::new(), |g| format!(" at {:.2} {:.2}", g.at[0].x, g.at[0].y))
    };
    let gaps = &report.gaps;
    let worst = report.spreads.iter().map(|s| s.1).fold(0.0, f64::max);
    eprintln!(
        "{name}: {} loops, gaps: field {}, bulbs {}, leaders {}; walls: field {}, leaders {}; \
         spread {:.1} %; dead {:.2} m², cut off {:.2} m², \
         too near {}; misstated {:.0} mm; through walls {}; forgotten {:?}",
        report.loops.len(),
        mm(gaps.field.map(|g| g.gap_m)) + &place(gaps.field),
        mm(gaps.bulb.map(|g| g.gap_m)) + &place(gaps.bulb),
        mm(gaps.leader.map(|g| g.gap_m)) + &place(gaps.leader),
        mm(gaps.field_wall.map(|w| w.distance_m)),
        mm(gaps.leader_wall.map(|w| w.distance_m)),
        worst * 100.0,
        report.cover.iter().map(|c| c.dead_m2).sum::<f64>(),
        layout.cut_off.iter().fold(0.0, |sum, c| sum + c.area_m2),
        layout.near.len(),
        report.loops.iter().map(|l| l.misstated_m).fold(0.0, f64::max) * 1e3,
        report.through_walls.len(),
        report.forgotten,
    );
}
