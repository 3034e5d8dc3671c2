//! Joists below a floor, and the holes that tube passes them by.

use super::legend::Sample;
use super::plan::Plan;
use super::ramp::{ALARM, INK, PAPER, POCHE};
use super::{Mark, Shape};
use design::loops::{HoleVerdict, JoistFloor};
use quantity::{Measure, Quantity, show_both};

/// Radius of a hole on the plan, metres; larger than drilled, to be seen.
const HOLE_M: f64 = 0.035;

/// Joist spans with tube of this storey.
fn here<'a>(plan: &'a Plan) -> impl Iterator<Item = &'a JoistFloor> {
    let on_plan = |it: &&JoistFloor| it.rooms.iter().any(|room| plan.region(room).is_some());
    plan.source.design.joist_floors.iter().filter(on_plan)
}

/// Kinds of lines that such a floor adds to the legend.
pub(super) fn samples(plan: &Plan) -> &'static [Sample] {
    if here(plan).next().is_some() { &[Sample::Joist, Sample::Hole] } else { &[] }
}

/// Joists, to lie below the tube.
pub(super) fn lines(plan: &Plan, marks: &mut Vec<Mark>) {
    for floor in here(plan) {
        let [first, last] = floor.numbers;
        for number in first..=last {
            let line = Shape::Line(floor.joists.line(number).to_vec());
            let mark = Mark::new("joist", line).stroke(POCHE, floor.joists.width_m);
            marks.push(mark.titled(format!("joist {number} of {}", floor.framing)));
        }
    }
}

/// Holes, to lie above the tube.
pub(super) fn holes(plan: &Plan, marks: &mut Vec<Mark>) {
    let first = plan.source.job.units.value;
    for floor in here(plan) {
        for hole in &floor.holes {
            let colour = match hole.verdict {
                HoleVerdict::NotAllowed(_) => ALARM,
                HoleVerdict::Allowed | HoleVerdict::CannotTell(_) => INK,
            };
            let from = show_both(hole.from_bearing.si(), Measure::Length, first);
            let title =
                format!("hole in joist {}, {from} from bearing {}", hole.joist, hole.bearing);
            let circle = Shape::Circle { at: hole.at, radius_m: HOLE_M };
            marks.push(Mark::new("hole", circle).fill(PAPER).stroke(colour, 0.014).titled(title));
        }
    }
}
