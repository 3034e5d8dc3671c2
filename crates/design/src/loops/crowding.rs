//! Where leaders leave too little room: for each other, and for the floor that they pass.

use super::plan::StoreyPlan;
use crate::emitters::Floor;
use crate::words::Words;
use job::{Finding, Job, Room, Severity};
use plane::storey::{self, Near};
use quantity::Quantity;

/// Gaps this little below the rule come from arcs told by chords, metres.
const ROUNDING_M: f64 = 1.5e-3;

/// Floor that leaders cut off from the loops of its room.
pub(super) fn cut_off(job: &Job, room: &Room, area_m2: f64) -> Option<Finding> {
    (area_m2 > 0.0).then(|| {
        let words = Words { first: job.units.value };
        let message = format!(
            "leaders that pass cut {} of its floor off from its own loops; no tube reaches it",
            words.area(area_m2)
        );
        let advice = "hang the manifold at another place, feed some rooms from a second one, or lay fewer, \
                      longer loops in the rooms beyond";
        let subject = format!("room.{}", room.key);
        Finding::new(Severity::Warn, "floor-cut-off", subject, message, advice)
            .at(room.place)
            .amount(area_m2)
    })
}

/// Loops that lie nearer to each other than leaders may, or than tube can.
pub(super) fn too_near(
    job: &Job,
    floors: &[Floor],
    plan: &StoreyPlan<'_>,
    layout: &storey::Layout,
) -> Option<Finding> {
    let nearest = layout.near.iter().min_by(|a, b| a.gap_m.total_cmp(&b.gap_m))?;
    let rule = &job.rules.leader_gap;
    if nearest.gap_m >= rule.value.si() - ROUNDING_M {
        return None;
    }
    let key = |place: usize| {
        let own = layout.loops.get(place)?;
        Some(format!("{}/{}", plan.plan.rooms.get(own.room)?.key, own.number))
    };
    let Near { loops: [one, other], at, gap_m } = *nearest;
    let (one, other) = (key(one)?, key(other)?);
    let words = Words { first: job.units.value };
    let outside_m = floors.iter().map(|floor| floor.build_up.tube.outside.si()).fold(0.0, f64::max);
    let overlaps = gap_m < outside_m;
    let more = match layout.near.len() {
        1 => String::new(),
        pairs => format!("; {pairs} pairs of loops come nearer than that rule"),
    };
    let place = format!("{}, {}", words.run(at.x), words.run(at.y));
    let (severity, kind, message) = match overlaps {
        true => (
            Severity::Stop,
            "tubes-overlap",
            format!(
                "{one} and {other} are drawn {} apart between centres at {place}; the tube alone is {} wide{more}",
                words.small(gap_m),
                words.small(outside_m)
            ),
        ),
        false => (
            Severity::Warn,
            "tubes-too-near",
            format!(
                "{one} and {other} come within {} between centres at {place}{more}",
                words.small(gap_m)
            ),
        ),
    };
    let advice = "hang the manifold at another place, or lay fewer loops through this passage; on site, keep \
                  them apart where there is floor beside them";
    Some(
        Finding::new(severity, kind, format!("loop.{one}"), message, advice)
            .amount(gap_m)
            .limit(format!("at least {}", words.small(rule.value.si())), rule.citation()),
    )
}
