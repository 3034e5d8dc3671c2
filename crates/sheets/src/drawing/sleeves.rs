//! Sleeves where tube passes a wall, and the letters of those doorways.

use super::labels::Taken;
use super::plan::Plan;
use super::ramp::{INK, PAPER};
use super::words::{bold, words};
use super::{Mark, Shape};
use crate::setting_out::Doorway;
use plane::Point;
use quantity::{Measure, show_both};

/// How far a sleeve reaches beyond the wall to each side, as drawn.
const BEYOND_M: f64 = 0.05;
/// Half the width of a sleeve, as drawn.
const HALF_WIDE_M: f64 = 0.021;

/// Draws a sleeve around every tube in a doorway.
pub(super) fn draw(doorways: &[Doorway], marks: &mut Vec<Mark>) {
    for doorway in doorways {
        for crossing in &doorway.crossings {
            let half = crossing.direction * (doorway.deep_m / 2.0 + BEYOND_M);
            let side = crossing.direction.left() * HALF_WIDE_M;
            let at = crossing.at;
            let ring = vec![at - half + side, at + half + side, at + half - side, at - half - side];
            let title = format!(
                "sleeve on loop {}, {}, {:.1} m from its supply port",
                crossing.tube.key,
                crossing.part.word(),
                crossing.along_m
            );
            let mark = Mark::new("sleeve", Shape::Area(vec![ring])).stroke(INK, 0.011);
            marks.push(mark.about(&crossing.tube.key).titled(title));
        }
    }
}

/// Writes the letter of each doorway that tube passes beside it, in a ring.
pub(super) fn letters(plan: &Plan, doorways: &[Doorway], taken: &mut Taken, marks: &mut Vec<Mark>) {
    let size = plan.letter_m * 0.62;
    let radius_m = size * 0.75;
    let first = plan.source.job.units.value;
    for doorway in doorways {
        let along = (doorway.jambs[1] - doorway.jambs[0]).unit();
        let away = radius_m + 0.03;
        let spots: [Point; 4] = [
            doorway.jambs[1] + along * away,
            doorway.jambs[0] - along * away,
            doorway.jambs[1] + along * (away * 2.2),
            doorway.jambs[0] - along * (away * 2.2),
        ];
        let free = spots.iter().find(|at| taken.free(**at, radius_m, radius_m));
        let at = free.copied().unwrap_or(spots[0]);
        taken.take(at, radius_m, radius_m);
        let width = show_both(doorway.width_m(), Measure::Length, first);
        let title = format!("doorway {}, {width} wide", crate::source::spoken(doorway.key));
        let ring = Mark::new("doorway-ring", Shape::Circle { at, radius_m });
        marks.push(ring.fill(PAPER).stroke(INK, 0.012).about(doorway.key).titled(title));
        let mark = bold(words("label doorway-letter", at, doorway.letter.clone(), size));
        marks.push(mark.about(doorway.key));
    }
}
