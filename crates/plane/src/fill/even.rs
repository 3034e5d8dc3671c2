//! Strands moved sideways until they lie evenly between their neighbours.
//!
//! Rings at whole spacings from one wall seldom meet those from the other wall
//! at a whole spacing. What is left over, cold or crowded, is shared here among
//! all strands of an arm: every run of edges moves along its own normal, so that
//! corners keep their angles and no strand passes another.

use crate::chain;
use crate::point::{Point, crossing};
use crate::region::Region;

/// Rounds of moving; each carries a difference on by one strand.
const ROUNDS: usize = 16;

/// Share of the difference of both gaps that a run moves in a round.
const PACE: f64 = 0.3;

/// Farthest that a run moves in a round, and in all, in spacings.
const STEP: f64 = 0.15;
const FARTHEST: f64 = 0.9;

/// No gap is made smaller than this many spacings.
const APART: f64 = 0.8;

/// Gaps are looked for up to this many spacings.
const REACH: f64 = 2.2;

/// Distance of the places along an edge where gaps are measured, in spacings.
const PLACES: f64 = 1.5;

/// Edges that turn less than this from one to the next move together, radians.
const SAME_RUN_RAD: f64 = 0.35;

/// Times that steps are lessened around edges that would turn round.
const MENDS: usize = 12;

/// Shorter edges are not measured, in spacings.
const SHORT: f64 = 0.5;

/// The chain with its edges moved evenly apart; its first and last `fixed` metres stay.
pub(super) fn evened(corners: &[Point], floor: &Region, s: f64, fixed: f64) -> Vec<Point> {
    let walls: Vec<(Point, Point)> = floor.edges().collect();
    let runs = runs(corners);
    let held = held(corners, &runs, fixed);
    let mut moved = vec![0.0; held.len()];
    let mut chain = corners.to_vec();
    for _ in 0..ROUNDS {
        let pulls = pulls(&chain, &walls, &runs, s);
        let mut steps: Vec<f64> = (0..held.len())
            .map(|run| {
                let Pull { wanted, free: [right, left] } = pulls[run];
                let step = (PACE * wanted).clamp(-STEP * s, STEP * s).clamp(right, left);
                let within = (moved[run] + step).clamp(-FARTHEST * s, FARTHEST * s);
                if held[run] { 0.0 } else { within - moved[run] }
            })
            .collect();
        let Some(next) = shifted(&chain, &runs, &held, &mut steps) else { break };
        let largest = steps.iter().fold(0.0, |most: f64, step| most.max(step.abs()));
        moved.iter_mut().zip(&steps).for_each(|(moved, step)| *moved += step);
        chain = next;
        if largest < 2e-3 * s {
            break;
        }
    }
    chain
}

/// Number of the run of every edge.
fn runs(corners: &[Point]) -> Vec<usize> {
    let mut runs = vec![0];
    for w in corners.windows(3) {
        let turn = (w[1] - w[0]).angle_to(w[2] - w[1]).abs();
        let last = runs.last().copied().unwrap_or(0);
        runs.push(if turn < SAME_RUN_RAD { last } else { last + 1 });
    }
    runs
}

/// Runs that touch the fixed ends.
fn held(corners: &[Point], runs: &[usize], fixed: f64) -> Vec<bool> {
    let mut held = vec![false; runs.last().map_or(0, |last| last + 1)];
    let length = chain::length(corners);
    let mut along = 0.0;
    for ((a, b), run) in chain::edges(corners).zip(runs) {
        let end = along + a.distance(b);
        if along <= fixed || end >= length - fixed {
            held[*run] = true;
        }
        along = end;
    }
    held
}

/// What moves a run to its left, in metres.
#[derive(Clone, Copy)]
struct Pull {
    /// By how much the gap on the left exceeds that on the right.
    wanted: f64,
    /// How far it may move to the right, negative, and to the left.
    free: [f64; 2],
}

/// The pull of every run by the gaps on both sides of it.
fn pulls(chain: &[Point], walls: &[(Point, Point)], runs: &[usize], s: f64) -> Vec<Pull> {
    let edges: Vec<(Point, Point)> = chain::edges(chain).collect();
    let none = (0.0, 0.0, [REACH * s; 2]);
    let mut sums = vec![none; runs.last().map_or(0, |last| last + 1)];
    for (i, (a, b)) in edges.iter().enumerate() {
        let length = a.distance(*b);
        if length < SHORT * s {
            continue;
        }
        let left = (*b - *a).unit().left();
        let near = |(c, d): &(Point, Point)| boxes_apart_m([*a, *b], [*c, *d]) <= REACH * s;
        let others = edges.iter().enumerate().filter(|(k, edge)| k.abs_diff(i) > 1 && near(edge));
        let others: Vec<(Point, Point)> = others.map(|(_, edge)| *edge).collect();
        let walls: Vec<(Point, Point)> = walls.iter().filter(|wall| near(wall)).copied().collect();
        let count = (length / (PLACES * s)).ceil().clamp(1.0, 200.0);
        for k in 0..count as usize {
            let place = a.lerp(*b, (k as f64 + 0.5) / count);
            let gaps = [left, -left]
                .map(|side| REACH * s * gap(&others, &walls, place, side * (REACH * s)));
            let (sum, weight, least) = &mut sums[runs[i]];
            *sum += (gaps[0] - gaps[1]) * length / count;
            *weight += length / count;
            *least = [least[0].min(gaps[0]), least[1].min(gaps[1])];
        }
    }
    let wanted = sums.iter().map(|(sum, weight, _)| (*weight > 0.0).then(|| sum / weight));
    let wanted = filled(&wanted.collect::<Vec<_>>());
    let free = |gap: f64| (gap - APART * s).max(0.0) / 2.0;
    let pull = |(wanted, sum): (f64, &(f64, f64, [f64; 2]))| Pull {
        wanted,
        free: [-free(sum.2[1]), free(sum.2[0])],
    };
    wanted.into_iter().zip(&sums).map(pull).collect()
}

/// What nothing was measured for, as round ends, goes along with what lies on both sides.
fn filled(wanted: &[Option<f64>]) -> Vec<f64> {
    let before = |i: usize| wanted[..i].iter().rev().flatten().next();
    let after = |i: usize| wanted[i..].iter().flatten().next();
    (0..wanted.len())
        .map(|i| {
            let (before, after) = (before(i).or(after(i)), after(i).or(before(i)));
            (before.unwrap_or(&0.0) + after.unwrap_or(&0.0)) / 2.0
        })
        .collect()
}

/// Share of a ray from a place of an edge that is free; walls count as twice as far,
/// since the strand beside them has its half of the gap to itself.
fn gap(strands: &[(Point, Point)], walls: &[(Point, Point)], from: Point, ray: Point) -> f64 {
    let to = from + ray;
    let hit = |(a, b): &(Point, Point)| crossing(from, to, *a, *b).map(|(share, _)| share);
    let strand = strands.iter().filter_map(hit).fold(1.0, f64::min);
    let wall = walls.iter().filter_map(hit).fold(1.0, f64::min);
    strand.min(2.0 * wall)
}

/// Distance between the upright boxes of two edges along one axis, the larger, metres.
fn boxes_apart_m([a, b]: [Point; 2], [c, d]: [Point; 2]) -> f64 {
    let x = (a.x.min(b.x) - c.x.max(d.x)).max(c.x.min(d.x) - a.x.max(b.x));
    let y = (a.y.min(b.y) - c.y.max(d.y)).max(c.y.min(d.y) - a.y.max(b.y));
    x.max(y)
}

/// The chain with its runs moved, steps lessened where an edge would turn round.
fn shifted(
    chain: &[Point],
    runs: &[usize],
    held: &[bool],
    steps: &mut [f64],
) -> Option<Vec<Point>> {
    for pass in 0..MENDS {
        let next = moved(chain, runs, steps);
        let turned = |i: usize| {
            let (old, new) = (chain[i + 1] - chain[i], next[i + 1] - next[i]);
            new.dot(old) <= 0.05 * old.dot(old)
        };
        let spoiled: Vec<usize> = (0..runs.len()).filter(|i| turned(*i)).collect();
        if spoiled.is_empty() {
            return Some(next);
        }
        for edge in spoiled {
            let sides = [edge.saturating_sub(1), (edge + 1).min(runs.len() - 1)];
            let [before, after] = sides.map(|edge| runs[edge]);
            let even = if pass == 0 { (steps[before] + steps[after]) / 2.0 } else { 0.0 };
            for run in [before, after, runs[edge]] {
                steps[run] = if held[run] || run == runs[edge] { 0.0 } else { even };
            }
        }
    }
    None
}

/// The chain with every edge moved to the left by the step of its run.
fn moved(chain: &[Point], runs: &[usize], steps: &[f64]) -> Vec<Point> {
    let mut moved = chain.to_vec();
    for i in 1..chain.len().saturating_sub(1) {
        let (before, after) = ((chain[i] - chain[i - 1]).unit(), (chain[i + 1] - chain[i]).unit());
        let (back, ahead) = (steps[runs[i - 1]], steps[runs[i]]);
        let sine = before.cross(after);
        moved[i] = chain[i]
            + if runs[i - 1] == runs[i] {
                let middle = (before + after).unit();
                middle.left() * (back / middle.dot(before).max(0.5))
            } else if sine.abs() > 0.1 {
                // Where both moved lines meet.
                (after * back - before * ahead) * (1.0 / sine)
            } else {
                before.left() * ((back + ahead) / 2.0)
            };
    }
    moved
}
