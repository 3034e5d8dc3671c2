//! What was laid on the pieces of rooms, told of the rooms themselves.

use super::cut::Parted;
use plane::storey::{CutOff, DeadFloor, Layout, Loop, Near, Passed, Refusal, Unheld};

/// A layout of the cut storey as one of the storey's own plan.
///
/// Loops of a room are numbered on from piece to piece. Leaders that pass one piece on their way
/// to another pass their own room.
pub(in crate::loops) fn joined(layout: &Layout, parted: &Parted) -> Layout {
    let home = |room: usize| parted.home.get(room).copied().unwrap_or(room);
    let mut loops: Vec<(usize, usize, Loop)> = layout
        .loops
        .iter()
        .enumerate()
        .map(|(place, laid)| {
            let mut lengths_m: Vec<(usize, f64)> = Vec::new();
            for (room, length_m) in &laid.lengths_m {
                match lengths_m.iter_mut().find(|(known, _)| *known == home(*room)) {
                    Some((_, sum_m)) => *sum_m += length_m,
                    None => lengths_m.push((home(*room), *length_m)),
                }
            }
            let passed = |passed: &Passed| Passed { room: home(passed.room), ..*passed };
            let mut doors = laid.doors.clone();
            doors.retain(|door| *door < parted.doors);
            let own = Loop {
                room: home(laid.room),
                lengths_m,
                doors,
                passed: laid.passed.iter().map(passed).collect(),
                ..laid.clone()
            };
            (laid.room, place, own)
        })
        .collect();
    loops.sort_by_key(|(piece, _, laid)| (laid.room, *piece, laid.manifold, laid.number));
    let mut before = None;
    let mut number = 0;
    for (.., laid) in loops.iter_mut().filter(|(.., laid)| parted.is_cut(laid.room)) {
        number = if before == Some(laid.room) { number + 1 } else { 1 };
        before = Some(laid.room);
        laid.number = number;
    }
    let refusal = |refusal: &Refusal| Refusal { room: home(refusal.room), ..refusal.clone() };
    let dead = |dead: &DeadFloor| DeadFloor { room: home(dead.room), ..dead.clone() };
    let cut_off = |cut_off: &CutOff| CutOff { room: home(cut_off.room), ..*cut_off };
    let place = |before: usize| loops.iter().position(|(_, place, _)| *place == before);
    let near = |near: &Near| {
        let [one, other] = near.loops;
        Some(Near { loops: [place(one)?, place(other)?], ..*near })
    };
    let near = layout.near.iter().filter_map(near).collect();
    let unheld = |unheld: &Unheld| match *unheld {
        Unheld::Entry { room, why } => Unheld::Entry { room: home(room), why },
        other => other,
    };
    Layout {
        near,
        cut_off: layout.cut_off.iter().map(cut_off).collect(),
        loops: loops.into_iter().map(|(.., laid)| laid).collect(),
        refusals: layout.refusals.iter().map(refusal).collect(),
        dead: layout.dead.iter().map(dead).collect(),
        unheld: layout.unheld.iter().map(unheld).collect(),
    }
}
