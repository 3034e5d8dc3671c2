//! Water: speed, head, frost, and loops whose water could not be worked out.

use super::Case;
use crate::figure::{Figure, How};
use crate::flow::LoopFlow;
use job::{Finding, Fluid, Severity};
use quantity::{Measure, Quantity, Temperature};

pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for tube_loop in case.loops {
        match case.flows.loops.iter().find(|flow| flow.key == tube_loop.key) {
            Some(flow) => {
                speed(case, flow, &tube_loop.room, findings);
                head(case, flow, &tube_loop.room, findings);
            }
            None if !case.choice.waters.is_empty() => findings.push(
                Finding::new(
                    Severity::Stop,
                    "no-flow",
                    format!("loop.{}", tube_loop.key),
                    "cannot tell its flow: its water would be no warmer than its room",
                    "check the room's temperature against the supply, or set `heated = false`",
                )
                .at(case
                    .job
                    .room(&tube_loop.room)
                    .map(|room| room.indoor.place().unwrap_or(room.place))),
            ),
            None => {}
        }
    }
    frost(case, findings);
}

fn speed(case: &Case<'_>, flow: &LoopFlow, room: &str, findings: &mut Vec<Finding>) {
    let words = case.words();
    let rule = &case.job.rules.velocity_most;
    if flow.velocity.si() <= rule.value.si() {
        return;
    }
    findings.push(
        Finding::new(
            Severity::Warn,
            "fast-water",
            format!("loop.{}", flow.key),
            format!("the water runs at {}", words.both(flow.velocity.si(), Measure::Velocity)),
            "more loops, or a larger drop of temperature",
        )
        .at(case.job.room(room).map(|room| room.place))
        .amount(flow.velocity.si())
        .limit(words.both(rule.value.si(), Measure::Velocity), rule.citation()),
    );
}

fn head(case: &Case<'_>, flow: &LoopFlow, room: &str, findings: &mut Vec<Finding>) {
    let Some(most) = &case.job.heating.head else { return };
    let over_m = flow.head.si() - most.value.si();
    if over_m <= 0.0 {
        return;
    }
    let words = case.words();
    let held = case.job.room(room).and_then(|room| room.loops.held());
    findings.push(
        Finding::new(
            Severity::Stop,
            "head-too-high",
            format!("loop.{}", flow.key),
            format!("needs a head of {}", words.both(flow.head.si(), Measure::Head)),
            "more loops in this room, a larger tube, or a larger drop of temperature",
        )
        .at(held.map(|held| held.place).or(most.place()))
        .amount(over_m)
        .limit(words.both(most.value.si(), Measure::Head), "head stated for the pump"),
    );
}

/// Glycol against the coldest day, where there is glycol at all.
fn frost(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let heating = &case.job.heating;
    let (Fluid::PropyleneGlycol, Some(outdoor)) = (heating.fluid.value, &case.job.outdoors.design)
    else {
        return;
    };
    let words = case.words();
    let share = Figure::fact("glycol by volume", &heating.glycol);
    let law = &laws::fluids::glycol::PROPYLENE_GLYCOL_FREEZING_POINT;
    let freezing = Figure::<Temperature>::by_law("freezing point", law, &[(&share).into()])
        .unwrap_or_else(|_| {
            Figure::new("freezing point", 273.15, How::Decided("water".to_owned()))
        });
    let over_k = freezing.si() - outdoor.value.si();
    if over_k <= 0.0 {
        return;
    }
    let message = format!(
        "the mix begins to freeze at {}, the design day is {}",
        words.temperature(freezing.si()),
        words.temperature(outdoor.value.si())
    );
    findings.push(
        Finding::new(
            Severity::Note,
            "glycol-thin",
            "heating.glycol",
            message,
            "more glycol if any of the piping can freeze while the heat is off",
        )
        .at(heating.glycol.place())
        .amount(over_k),
    );
}
