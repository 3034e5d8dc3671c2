//! Ties from walls: short lines with their distance.

use super::labels::Taken;
use super::plan::Plan;
use super::ramp::INK;
use super::words::{readable, turned};
use super::{Anchor, Mark, Shape};
use crate::setting_out::{Tie, tape, tied};
use plane::Point;

/// Ties shorter than this carry their number in the wall, metres.
const SHORT_M: f64 = 0.75;
/// Half the length of the strokes at a tie's ends, metres.
const TICK_M: f64 = 0.045;
/// How far behind the wall's face the number of a short tie stands, metres.
const BEHIND_M: f64 = 0.075;

/// Draws the ties of ports, loops and keep-outs.
pub(super) fn draw(plan: &Plan, taken: &mut Taken, marks: &mut Vec<Mark>) {
    let system = plan.source.job.units.value;
    for thing in tied(plan) {
        for tie in &thing.ties {
            let words = tape(tie.length_m(), system);
            let title = format!("{}: {words} from wall {}", thing.what, tie.wall.name);
            let (shown, number) = with_place(plan, tie, &words, taken);
            let line = Mark::new("tie", Shape::Line(vec![shown.from(), shown.to]));
            marks.push(line.stroke(INK, 0.012).about(thing.subject).titled(title.clone()));
            for end in [shown.from(), shown.to] {
                let slant = (shown.wall.along() + shown.wall.inward()) * (TICK_M * 0.7);
                let tick = Shape::Line(vec![end - slant, end + slant]);
                marks.push(Mark::new("tie-end", tick).stroke(INK, 0.016));
            }
            taken.take_words(&number);
            marks.push(number.about(thing.subject).titled(title));
        }
    }
}

/// The tie at the first of its places where the number has room.
fn with_place(plan: &Plan, tie: &Tie, words: &str, taken: &Taken) -> (Tie, Mark) {
    let size = plan.letter_m * 0.62;
    let mut first = None;
    for to in std::iter::once(&tie.to).chain(&tie.others) {
        let moved = Tie { to: *to, ..tie.clone() };
        for mark in numbers(&moved, words, size) {
            if taken.has_place(&mark) {
                return (moved, mark);
            }
            first.get_or_insert((moved.clone(), mark));
        }
    }
    first.unwrap_or_else(|| {
        let mark = turned("label tie-label", tie.to, words.to_owned(), size, Anchor::Middle, 0.0);
        (tie.clone(), mark)
    })
}

/// Where the number of a tie may stand: in the wall behind a short one, beside a long one.
fn numbers(tie: &Tie, words: &str, size: f64) -> Vec<Mark> {
    let (inward, along, length) = (tie.wall.inward(), tie.wall.along(), tie.length_m());
    let number = |at: Point, turn_rad: f64| {
        turned("label tie-label", at, words.to_owned(), size, Anchor::Middle, turn_rad)
    };
    if length < SHORT_M {
        let (turn_rad, _) = readable(along);
        return vec![number(tie.from() - inward * BEHIND_M, turn_rad)];
    }
    let (turn_rad, _) = readable(inward);
    let beside = [0.5, 0.35, 0.65, 0.2, 0.8].map(|share| tie.from() + inward * (length * share));
    let aside = along * (size * 0.65);
    beside
        .iter()
        .flat_map(|at| [number(*at - aside, turn_rad), number(*at + aside, turn_rad)])
        .collect()
}
