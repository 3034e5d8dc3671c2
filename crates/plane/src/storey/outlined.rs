//! A storey in outline: quick enough to follow a corner that is being dragged.

use super::curve;
use super::frame::Frame;
use super::plan::Plan;
use super::ready::ready;
use super::search::Search;
use super::sequence::named;
use crate::path::Path;
use crate::region::Region;

/// Rounds of evening out shares.
const ROUNDS: usize = 2;

/// A loop in outline: its floor and the way to it, no tube yet.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlinedLoop {
    /// The room that it heats, by number.
    pub room: usize,
    /// Its number in the room, from 1.
    pub number: usize,
    /// The manifold, by number.
    pub manifold: usize,
    /// Middle between its leaders, from the manifold to its floor.
    pub leader: Path,
    /// The floor that it would heat.
    pub region: Region,
    /// Its length by floor, spacing and leaders, the manifold's tube included, metres.
    pub length_m: f64,
}

/// A sketch of the loops that `lay` would lay, room after room.
///
/// Shares and ways are those of a first look: a layout may have a loop more, or share a room
/// otherwise. Rooms for which that look finds no way are left out, and what is held and cannot
/// be kept is passed over.
pub fn outlined(plan: &Plan) -> Vec<OutlinedLoop> {
    let mut plan = plan.clone();
    let (frame, ready) = loop {
        let Some(frame) = Frame::of(&plan) else { return Vec::new() };
        match ready(&frame, &plan) {
            Ok(ready) => break (frame, ready),
            Err(unheld) => {
                let without = plan.without(&unheld);
                if without == plan {
                    return Vec::new();
                }
                plan = without;
            }
        }
    };
    let mut loops = Vec::new();
    for ground in &ready.grounds {
        let Ok(draft) = Search::new(ground).settled(ROUNDS) else { continue };
        let lengths_m = ground.lengths_m(&draft);
        let names = named(&draft.net, &draft.order, &ground.plan.held);
        for (zone, name) in draft.order.loops.iter().zip(names) {
            let leader = draft.leaders[*zone].clone();
            let leader = match draft.faces[*zone] {
                Some([at, inward]) => curve::begun(leader, at, inward),
                None => leader,
            };
            loops.push(OutlinedLoop {
                room: name.room,
                number: name.number,
                manifold: ground.manifold,
                leader: frame.path_back(&leader),
                region: frame.region_back(&ground.region(&draft, *zone)),
                length_m: lengths_m[*zone],
            });
        }
    }
    loops.sort_by_key(|l| (l.room, l.manifold, l.number));
    loops
}
