//! Manifolds along their ports, and the key of each loop at its port.

use super::labels::Taken;
use super::plan::Plan;
use super::ramp::{FAINT, INK, PAPER};
use super::words::{bold, half_width, readable, turned};
use super::{Anchor, Mark, Shape};
use crate::setting_out::{Port, PortGroup};

/// How deep a manifold is drawn into its wall.
const DEEP_M: f64 = 0.12;
/// From the wall's face to where the keys begin, as a share of the letters' height.
const FAN: f64 = 2.6;
/// From key to key, as a share of the letters' height.
const PITCH: f64 = 1.2;

/// Draws each manifold as two bars behind its ports.
pub(super) fn symbols(groups: &[PortGroup], marks: &mut Vec<Mark>) {
    for group in groups {
        let out = -group.wall.inward();
        let [left, right] = group.ends;
        let deep = out * DEEP_M;
        let ring = vec![left, right, right + deep, left + deep];
        let body = Mark::new("manifold", Shape::Area(vec![ring])).fill(INK);
        marks.push(body.about(group.manifold).titled(group.name()));
        let between = [left, right].map(|end| end + deep * 0.5).to_vec();
        marks.push(Mark::new("manifold-bars", Shape::Line(between)).stroke(PAPER, DEEP_M * 0.12));
    }
}

/// Writes the keys of the loops behind the wall, fanned out where ports are too close for letters.
pub(super) fn keys(plan: &Plan, groups: &[PortGroup], taken: &mut Taken, marks: &mut Vec<Mark>) {
    for group in groups {
        let size = plan.letter_m * 0.7;
        let out = -group.wall.inward();
        let places = fanned(group, size * PITCH);
        for (port, at_m) in group.ports.iter().zip(&places) {
            let begin = group.wall.foot(port.middle()) + out * DEEP_M;
            let end = group.middle() + group.right() * *at_m + out * (size * FAN);
            let line = Shape::Line(vec![begin, end]);
            marks.push(Mark::new("port-line", line).stroke(FAINT, 0.012).about(&port.tube.key));
            let at = end + out * (size * 0.25);
            let (turn_rad, against) = readable(out);
            let anchor = if against { Anchor::End } else { Anchor::Start };
            let key = port.tube.key.clone();
            let mark = bold(turned("label port-key", at, key, size, anchor, turn_rad));
            taken.take_words(&mark);
            marks.push(mark.about(&port.tube.key));
        }
        name(plan, group, &places, taken, marks);
    }
}

/// Where the keys stand, in metres to the right of the group's middle: as near to their ports as
/// letters allow.
fn fanned(group: &PortGroup, pitch_m: f64) -> Vec<f64> {
    let middle = group.middle();
    let right = |port: &Port| (port.middle() - middle).dot(group.right());
    // Keys that crowd each other stand in one row about the middle of their ports.
    let mut rows: Vec<(usize, f64)> = Vec::new();
    for at in group.ports.iter().map(right) {
        rows.push((1, at));
        while let [.., (before, left), (count, here)] = rows[..] {
            let needed = pitch_m * (before + count) as f64 / 2.0;
            if here - left >= needed - 1e-9 {
                break;
            }
            let all = before + count;
            rows.truncate(rows.len() - 2);
            rows.push((all, (left * before as f64 + here * count as f64) / all as f64));
        }
    }
    let place = |(count, middle): (usize, f64)| {
        (0..count).map(move |number| middle + pitch_m * (number as f64 - 0.5 * (count - 1) as f64))
    };
    rows.into_iter().flat_map(place).collect()
}

/// The manifold's name beside its keys, along the wall.
fn name(plan: &Plan, group: &PortGroup, places: &[f64], taken: &mut Taken, marks: &mut Vec<Mark>) {
    let size = plan.letter_m * 0.75;
    let name = group.name();
    let half = half_width(&name, size);
    let bar = group.ends[0].distance(group.ends[1]) / 2.0;
    let widest = places.iter().map(|at| at.abs()).fold(0.0, f64::max);
    let reach = (widest + plan.letter_m * 0.5).max(bar);
    let (out, right) = (-group.wall.inward(), group.right());
    let (turn_rad, _) = readable(right);
    let beside = |side: f64| {
        let at = group.middle() + right * (side * (reach + half + size * 0.5)) + out * (size * 1.4);
        turned("label manifold-label", at, name.clone(), size, Anchor::Middle, turn_rad)
    };
    // To the side where nothing else stands and the plan does not end.
    let (one, other) = (beside(1.0), beside(-1.0));
    let fits = |mark: &Mark| {
        let inside = plan.low.x - 0.4..=plan.high.x + 0.4;
        taken.has_place(mark)
            && super::words::place_of(&mark.shape).is_some_and(|(at, wide, _)| {
                inside.contains(&(at.x - wide)) && inside.contains(&(at.x + wide))
            })
    };
    let mark = if !fits(&one) && fits(&other) { other } else { one };
    taken.take_words(&mark);
    marks.push(mark.about(group.manifold));
}
