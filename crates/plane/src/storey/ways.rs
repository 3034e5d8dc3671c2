//! Which room is reached through which door from a manifold.

use super::plan::Plan;
use crate::point::Point;

/// How a room is reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    /// The room before it and the door between; none where the manifold hangs.
    pub(super) before: Option<(usize, usize)>,
    /// Where leaders come in.
    pub(super) entry: Point,
    /// Length of the way from the manifold to there, metres.
    pub(super) length_m: f64,
    /// That length, and something for each heated room passed.
    pub(super) cost_m: f64,
}

/// Detour that is worth making to pass one heated room less, metres.
const ROOM_PASSED_M: f64 = 4.0;

/// Width of a door that lets the leaders of one loop pass, metres.
pub(super) fn least_width_m(plan: &Plan) -> f64 {
    2.0 * plan.leader_gap_m
}

/// The way from a manifold to every room that has one, by room.
///
/// They form a tree: whatever leads to a room also serves the rooms on the way.
pub(super) fn ways(plan: &Plan, manifold: usize) -> Vec<Option<Way>> {
    let mut best: Vec<Option<Way>> = vec![None; plan.rooms.len()];
    let mut done = vec![false; plan.rooms.len()];
    if let Some(given) = plan.manifolds.get(manifold)
        && let Some(slot) = best.get_mut(given.room)
    {
        let entry = given.ports[0].lerp(given.ports[1], 0.5);
        *slot = Some(Way { before: None, entry, length_m: 0.0, cost_m: 0.0 });
    }
    while let Some(here) = nearest(&best, &done) {
        done[here] = true;
        let Some(way) = best[here] else { continue };
        let passed =
            if plan.rooms[here].heated && way.before.is_some() { ROOM_PASSED_M } else { 0.0 };
        for (number, door) in plan.doors.iter().enumerate() {
            if door.width_m < least_width_m(plan) {
                continue;
            }
            let beyond = match door.rooms {
                [a, b] if a == here && b != here => b,
                [a, b] if b == here && a != here => a,
                _ => continue,
            };
            // A room that shares a loop is no way to others; one may be entered as held only.
            let is_elsewhere = plan.held.entry_of(beyond).is_some_and(|e| e.door != number);
            if is_elsewhere || plan.held.shared_with(beyond).is_some() {
                continue;
            }
            let step = way.entry.distance(door.at);
            let cost_m = way.cost_m + step + passed;
            let Some(slot) = best.get_mut(beyond) else { continue };
            if !done[beyond] && slot.is_none_or(|old| cost_m < old.cost_m - 1e-9) {
                *slot = Some(Way {
                    before: Some((here, number)),
                    entry: door.at,
                    length_m: way.length_m + step,
                    cost_m,
                });
            }
        }
    }
    best
}

/// The nearest room that is not done yet, the first in a tie.
fn nearest(best: &[Option<Way>], done: &[bool]) -> Option<usize> {
    let open = (0..best.len()).filter(|room| !done[*room]);
    open.filter_map(|room| best[room].map(|way| (way.cost_m, room)))
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .map(|(_, room)| room)
}

/// Of all ways those that lead to some rooms, with what lies on them.
pub(super) fn leading_to(ways: &[Option<Way>], rooms: &[usize]) -> Vec<Option<Way>> {
    let mut kept = vec![None; ways.len()];
    for room in rooms {
        let mut next = Some(*room);
        while let Some(here) = next {
            let Some(way) = ways.get(here).copied().flatten() else { break };
            if kept[here].is_some() {
                break;
            }
            kept[here] = Some(way);
            next = way.before.map(|(before, _)| before);
        }
    }
    kept
}
