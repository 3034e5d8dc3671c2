//! Small rooms that a neighbour's loop runs through.

use super::held::Taken;
use super::limit;
use crate::coils;
use crate::emitters::Floor;
use job::Decision;
use plane::storey::Shared;
use quantity::Quantity;

/// Rooms that share a loop: those that the text says, then by rule closets and small halls whose
/// own loop would be shorter than the rule set wants.
pub(super) fn shared(taken: &Taken<'_>) -> Vec<Shared> {
    let stated = |room: usize| {
        let held = taken.job.rooms[taken.rooms[room]].shares_loop.held()?;
        // A neighbour that is not on the storey is told as one without a floor.
        Some(Shared { room, with: taken.room(&held.value).unwrap_or(usize::MAX) })
    };
    let mut all: Vec<Shared> = (0..taken.rooms.len()).filter_map(stated).collect();
    for room in 0..taken.rooms.len() {
        let takes_part = |s: &Shared| s.room == room || s.with == room;
        if all.iter().any(takes_part) {
            continue;
        }
        if let Some(with) =
            neighbour(taken, room).filter(|with| all.iter().all(|s| s.room != *with))
        {
            all.push(Shared { room, with });
        }
    }
    all
}

/// The only neighbour of a small room, if its loop can take that room in.
fn neighbour(taken: &Taken<'_>, room: usize) -> Option<usize> {
    let floor = open_floor(taken, room)?;
    let stated = &taken.job.rooms[floor.number];
    let is_open = matches!(stated.shares_loop, Decision::Open)
        && matches!(stated.loops, Decision::Open)
        && matches!(stated.pattern, Decision::Open)
        && matches!(stated.spacing, Decision::Open)
        && matches!(stated.manifold, Decision::Open)
        && matches!(stated.entry, Decision::Open)
        && matches!(stated.entry_at, Decision::Open);
    let has_manifold = taken.accesses.iter().any(|access| access.room == floor.number);
    let tube_m = |floor: &Floor| floor.area.si() / floor.spacing.value.si();
    let rules = &taken.job.rules;
    let least_m = rules.loop_least.si();
    if !is_open || has_manifold || tube_m(floor) >= least_m {
        return None;
    }
    let mut doors = taken.plan_doors.iter().filter(|door| door.rooms.contains(&room));
    let (Some(door), None) = (doors.next(), doors.next()) else { return None };
    let with = door.rooms.into_iter().find(|other| *other != room)?;
    let host = open_floor(taken, with)?;
    let other = &taken.job.rooms[host.number];
    let zone = |room: &job::Room| room.zone.as_ref().map(|zone| zone.value.clone());
    let is_like = zone(stated) == zone(other)
        && (floor.indoor.si() - host.indoor.si()).abs() <= rules.shared_indoor.si()
        && floor.build_up.tube.key == host.build_up.tube.key
        && floor.flux_needed.si() <= rules.shared_heat.si() * host.flux_needed.si();
    let longest_m = limit(taken.job, host)?.value.si();
    let own_m = tube_m(host);
    let loops =
        other.loops.held().map_or((own_m / (0.8 * longest_m)).ceil(), |n| f64::from(n.value));
    let has_room = own_m >= least_m
        && own_m + tube_m(floor) <= rules.shared_full.si() * longest_m * loops.max(1.0);
    (is_like && has_room).then_some(with)
}

/// The heated floor of a room on the plan of which no loop is held or laid yet.
fn open_floor<'a>(taken: &Taken<'a>, room: usize) -> Option<&'a Floor> {
    let number = *taken.rooms.get(room)?;
    let floor = taken.floors.iter().find(|floor| floor.number == number)?;
    // Loops in grooves keep to their boards.
    let heated = taken.plan_rooms.get(room)?.heated && floor.build_up.is_wet;
    let of_room = |key: &str| job::loop_name(key).is_some_and(|(own, _)| own == floor.room);
    let is_held = taken.job.held_loops.iter().any(|held| of_room(&held.key));
    let is_laid = coils::has_laid_loops(taken.job, &floor.room);
    (heated && !is_held && !is_laid).then_some(floor)
}
