//! What the text holds of a storey's loops, by the numbers of its plan.

use super::access::Access;
use super::shared::shared;
use crate::emitters::Floor;
use job::{Decision, Job, loop_name};
use plane::storey::{Door, Held, HeldEntry, HeldOrder, HeldRegion, HeldWay, LoopName, Room};

/// A storey whose plan is about to be drawn up.
pub(super) struct Taken<'a> {
    pub(super) job: &'a Job,
    pub(super) floors: &'a [Floor],
    /// Number in the envelope of each room on the plan.
    pub(super) rooms: &'a [usize],
    /// Opening or passage key of each door on the plan.
    pub(super) doors: &'a [String],
    pub(super) accesses: &'a [Access<'a>],
    pub(super) plan_rooms: &'a [Room],
    pub(super) plan_doors: &'a [Door],
}

impl Taken<'_> {
    /// Number on the plan of a room.
    pub(super) fn room(&self, key: &str) -> Option<usize> {
        self.rooms.iter().position(|number| self.job.rooms[*number].key == key)
    }

    /// A loop of the plan by its key.
    fn name(&self, key: &str) -> Option<LoopName> {
        let (room, number) = loop_name(key)?;
        Some(LoopName { room: self.room(room)?, number })
    }
}

/// Everything held on one storey.
pub(super) fn held(taken: &Taken<'_>) -> Held {
    let regions = taken.job.held_loops.iter().filter_map(|held| {
        let ring = held.outline.as_ref()?.corners.clone();
        Some(HeldRegion { name: taken.name(&held.key)?, ring })
    });
    let ways = taken.job.held_loops.iter().filter_map(|held| {
        let way = held.way.held()?.value.clone();
        Some(HeldWay { name: taken.name(&held.key)?, way })
    });
    let entries = (0..taken.rooms.len()).filter_map(|room| entry(taken, room));
    Held {
        shared: shared(taken),
        regions: regions.collect(),
        orders: orders(taken),
        entries: entries.collect(),
        ways: ways.collect(),
    }
}

/// The order at every manifold for which one is held, as far as its loops lie on this storey.
fn orders(taken: &Taken<'_>) -> Vec<HeldOrder> {
    let order = |(number, access): (usize, &Access<'_>)| {
        let named = access.manifold.order.iter();
        let loops: Vec<LoopName> = named.filter_map(|key| taken.name(&key.value)).collect();
        (loops.len() > 1).then_some(HeldOrder { manifold: number, loops })
    };
    taken.accesses.iter().enumerate().filter_map(order).collect()
}

/// How the loops of a room come in: by the door named, or the nearest to the place named.
fn entry(taken: &Taken<'_>, room: usize) -> Option<HeldEntry> {
    let stated = &taken.job.rooms[taken.rooms[room]];
    let at = stated.entry_at.held().map(|held| held.value);
    let door = match &stated.entry {
        // A door that is not on the plan is told as none of the room's.
        Decision::Held(key) => {
            let on_plan = taken.doors.iter().position(|door| *door == key.value);
            Some(on_plan.unwrap_or(usize::MAX))
        }
        Decision::Open => at.and_then(|at| {
            let own = taken.plan_doors.iter().enumerate();
            let own = own.filter(|(_, door)| door.rooms.contains(&room));
            let away = |door: &Door| door.at.distance(at);
            own.min_by(|a, b| away(a.1).total_cmp(&away(b.1))).map(|(number, _)| number)
        }),
    };
    Some(HeldEntry { room, door: door?, at })
}
