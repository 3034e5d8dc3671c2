//! Joists below a floor, and the holes that tube passes them by.

use super::legend::Sample;
use super::plan::Plan;
use super::ramp::{ALARM, INK, PAPER, POCHE};
use super::{Mark, Shape};
use design::loops::{HoleVerdict, JoistFloor};
use plane::Point;
use quantity::{Measure, show_both};

/// Radius of a hole on the plan, metres; larger than drilled, to be seen.
const HOLE_M: f64 = 0.035;

/// How far joists are drawn beyond the rooms, metres.
const BEYOND_M: f64 = 0.15;

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
            let Some(line) = within(floor.joists.line(number), plan) else { continue };
            let line = Shape::Line(line.to_vec());
            let mark = Mark::new("joist", line).stroke(POCHE, floor.joists.width_m);
            marks.push(mark.titled(format!("joist {number} of {}", floor.framing)));
        }
    }
}

/// The part of a line over the rooms of a plan, walls included.
fn within([from, to]: [Point; 2], plan: &Plan) -> Option<[Point; 2]> {
    let (mut begin, mut end) = (0.0_f64, 1.0_f64);
    let sides = [(from.x, to.x, plan.low.x, plan.high.x), (from.y, to.y, plan.low.y, plan.high.y)];
    for (a, b, low, high) in sides {
        let (low, high) = (low - BEYOND_M, high + BEYOND_M);
        if (b - a).abs() < 1e-9 {
            if a < low || a > high {
                return None;
            }
            continue;
        }
        let shares = [(low - a) / (b - a), (high - a) / (b - a)];
        begin = begin.max(shares[0].min(shares[1]));
        end = end.min(shares[0].max(shares[1]));
    }
    (end > begin).then(|| [from.lerp(to, begin), from.lerp(to, end)])
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
