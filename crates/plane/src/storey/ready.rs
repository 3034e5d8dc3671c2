//! A storey before any loop is laid: its floors found, its rooms given to manifolds.

use super::annex;
use super::apart;
use super::doors;
use super::draft::Ground;
use super::drawn;
use super::entered;
use super::frame::Frame;
use super::free::Free;
use super::held::Unheld;
use super::layout::{Layout, Reason};
use super::plan::{Plan, Room};
use super::serve;

/// Bends are laid wider than the tube asks for by this, just over what the gate takes for rounding,
/// metres.
const BEND_SPARE_M: f64 = 1.01e-4;

/// A storey in its frame, its floors found and given to manifolds.
pub(super) struct Ready {
    pub(super) plan: Plan,
    pub(super) free: Vec<Option<Free>>,
    pub(super) grounds: Vec<Ground>,
    /// Nothing but what is dead or refused before any loop is laid.
    pub(super) layout: Layout,
}

/// Makes a storey ready; the first that is held and cannot be kept, if there is one.
pub(super) fn ready(frame: &Frame, plan: &Plan) -> Result<Ready, Unheld> {
    let mut framed = frame.plan(plan);
    framed.rooms.iter_mut().for_each(|room| room.tube.bend_radius_m += BEND_SPARE_M);
    annex::agreed(&mut framed)?;
    let mut free: Vec<Option<Free>> = framed.rooms.iter().map(Free::of).collect();
    doors::open(&mut framed, &free);
    annex::added(&framed, &mut free)?;
    apart::set(&mut framed, &mut free)?;
    entered::agreed(&framed)?;
    drawn::agreed(&mut framed, &free)?;
    let mut layout = Layout::default();
    for (room, given) in framed.rooms.iter().enumerate().filter(|(_, r)| r.heated) {
        match &free[room] {
            Some(free) => layout.dead.extend(free.dead_floor(room)),
            None => {
                let reason = Reason::SmallerThanOneTurn { needed_m: turn_width_m(given) };
                layout.refuse(&framed, room, reason);
            }
        }
    }
    let served = serve::served(&framed, &free);
    for (room, reason) in served.refused {
        layout.refuse(&framed, room, reason);
    }
    Ok(Ready { plan: framed, free, grounds: served.grounds, layout })
}

/// Width between walls that one turn in a room needs, metres.
pub(super) fn turn_width_m(room: &Room) -> f64 {
    2.0 * room.wall_clearance_m.max(room.spacing_m / 2.0) + room.spacing_m
}
