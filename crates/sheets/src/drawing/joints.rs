//! Joints of slabs and screeds, and the sleeves on tube that crosses movement joints.

use super::legend::Sample;
use super::plan::Plan;
use super::ramp::INK;
use super::{Mark, Shape};
use design::loops::JointCrossing;
use job::{Joint, JointKind};
use quantity::{Measure, Quantity, show_both};

/// Half the width of a sleeve, as drawn.
const HALF_WIDE_M: f64 = 0.021;
/// A saw cut is drawn in dashes of this and gaps, metres.
pub(super) const SAW_DASH_M: [f64; 2] = [0.12, 0.06];
/// A movement joint is drawn in long and short dashes, metres.
pub(super) const MOVEMENT_DASH_M: [f64; 4] = [0.30, 0.05, 0.05, 0.05];

/// The joints of a storey that have a line.
fn here<'a>(plan: &Plan<'a>) -> impl Iterator<Item = &'a Joint> {
    let rooms: Vec<&str> = plan.rooms.iter().map(|(room, ..)| room.key.as_str()).collect();
    let storey = plan.storey;
    plan.source.job.joints.iter().filter(move |joint| {
        let in_room = joint.room.as_ref().is_none_or(|room| rooms.contains(&room.value.as_str()));
        let on_storey = joint.storey.as_ref().is_none_or(|own| Some(own.value.as_str()) == storey);
        joint.line.is_some() && in_room && on_storey
    })
}

/// Draws joints.
pub(super) fn lines(plan: &Plan, marks: &mut Vec<Mark>) {
    let first = plan.source.job.units.value;
    for joint in here(plan) {
        let Some(line) = &joint.line else { continue };
        let line = Shape::Line(line.value.clone());
        let (class, title) = match joint.kind.value {
            JointKind::Movement => ("joint-movement", format!("movement joint {}", joint.key)),
            JointKind::SawCut => {
                let depth = joint.depth.as_ref().map_or("depth not told".to_owned(), |depth| {
                    format!("{} deep", show_both(depth.value.si(), Measure::Length, first))
                });
                ("joint-saw-cut", format!("saw cut {}, {depth}", joint.key))
            }
        };
        marks.push(
            stroked(Mark::new(class, line), joint.kind.value).about(&joint.key).titled(title),
        );
    }
}

/// The line of a joint of that kind.
pub(super) fn stroked(mark: Mark, kind: JointKind) -> Mark {
    match kind {
        JointKind::Movement => mark.stroke(INK, 0.03).dashed(&MOVEMENT_DASH_M, 0.0),
        JointKind::SawCut => mark.stroke(INK, 0.014).dashed(&SAW_DASH_M, 0.0),
    }
}

/// The crossings of the storey's loops.
fn crossings<'a>(plan: &Plan<'a>) -> impl Iterator<Item = &'a JointCrossing> {
    let loops: Vec<&str> = plan.loops.iter().map(|(tube, _)| tube.key.as_str()).collect();
    let all = plan.source.design.joint_crossings.iter();
    all.filter(move |crossing| loops.contains(&crossing.of_loop.as_str()))
}

/// Draws the sleeve of each crossing at its own length, along the tube.
pub(super) fn sleeves(plan: &Plan, marks: &mut Vec<Mark>) {
    for crossing in crossings(plan) {
        let tube = plan.loops.iter().find(|(tube, _)| tube.key == crossing.of_loop);
        let (Some((tube, _)), Some([from, to])) = (tube, crossing.sleeved_m()) else { continue };
        let title = format!(
            "sleeve on loop {}, {}, {from:.2} m to {to:.2} m from its supply port",
            crossing.of_loop,
            crossing.part.word()
        );
        let steps = 12;
        let at = |k: usize| tube.path.point_at(from + (to - from) * k as f64 / steps as f64);
        let middle: Vec<_> = (0..=steps).filter_map(at).collect();
        let side = |left: f64| {
            (0..middle.len()).map(move |k| (k, left)).map(|(k, left)| {
                let (before, after) = (k.saturating_sub(1), (k + 1).min(middle.len() - 1));
                middle[k] + (middle[after] - middle[before]).unit().left() * left
            })
        };
        let mut ring: Vec<_> = side(HALF_WIDE_M).collect();
        ring.extend(side(-HALF_WIDE_M).collect::<Vec<_>>().into_iter().rev());
        if ring.len() > 3 {
            let mark = Mark::new("sleeve", Shape::Area(vec![ring])).stroke(INK, 0.011);
            marks.push(mark.about(&crossing.of_loop).titled(title));
        }
    }
}

/// What the legend tells of joints: the kinds that are on the plan.
pub(super) fn samples(plan: &Plan) -> Vec<Sample> {
    let has = |kind: JointKind| here(plan).any(|joint| joint.kind.value == kind);
    let kinds = [(JointKind::Movement, Sample::Movement), (JointKind::SawCut, Sample::SawCut)];
    kinds.into_iter().filter(|(kind, _)| has(*kind)).map(|(_, sample)| sample).collect()
}
