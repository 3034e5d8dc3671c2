//! Where the loops of a room come in, if that is held.

use super::held::{NotEntered, Unheld};
use super::plan::Plan;
use super::ways;

/// Whether every room can be entered as held; the first that cannot, with why.
pub(super) fn agreed(plan: &Plan) -> Result<(), Unheld> {
    for entry in &plan.held.entries {
        let room = entry.room;
        let unheld = |why| Err(Unheld::Entry { room, why });
        if !plan.doors.get(entry.door).is_some_and(|door| door.rooms.contains(&room)) {
            return unheld(NotEntered::NoDoorOfIt);
        }
        if plan.manifolds.iter().any(|manifold| manifold.room == room) {
            return unheld(NotEntered::StartsThere);
        }
        let is_reached = |plan: &Plan| {
            let mut all = (0..plan.manifolds.len()).map(|manifold| ways::ways(plan, manifold));
            all.any(|ways| ways.get(room).copied().flatten().is_some())
        };
        let why = NotEntered::NoWay;
        if !is_reached(plan) && is_reached(&plan.without(&Unheld::Entry { room, why })) {
            return unheld(why);
        }
    }
    Ok(())
}
