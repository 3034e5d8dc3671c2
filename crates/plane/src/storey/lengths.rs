//! Lengths of loops, estimated and measured, and the counts that follow from them.

use super::draft::{Draft, Ground};
use super::net::Zone;
use super::plan::Room;
use super::search::Field;

/// Share of a loop's floor without tube up to which its length is taken as measured.
const MOST_BARE: f64 = 0.1;

/// Loops that a room will take, by its area and the way to it.
pub(super) fn count(room: &Room, area_m2: f64, extra_m: f64, way_m: f64) -> usize {
    if let Some(held) = room.loops {
        return held;
    }
    let leader = 2.0 * (1.1 * way_m + 0.3);
    let own = (room.tube.longest_loop_m - extra_m - leader).max(10.0);
    let count = (area_m2 / room.spacing_m / own).ceil() as usize;
    count.max(room.least_loops).max(1)
}

/// Lengths of a room's loops, in the order of its shares; those on floor held for them left out.
pub(super) fn own_lengths(draft: &Draft, lengths: &[f64], room: usize) -> Vec<f64> {
    own_zones(draft, room).map(|zone| lengths[zone]).collect()
}

/// Sizes of a room's shares in the same order, with what leaders take of them, square metres.
pub(super) fn own_areas_m2(draft: &Draft, room: usize) -> Vec<f64> {
    own_zones(draft, room).map(|zone| draft.net.zones[zone].floor.area_m2()).collect()
}

fn own_zones(draft: &Draft, room: usize) -> impl Iterator<Item = usize> {
    let is_shared = move |zone: &Zone| zone.room == room && zone.own && zone.number.is_none();
    let zones = draft.net.zones.iter().enumerate();
    zones.filter(move |(_, zone)| is_shared(zone)).map(|(number, _)| number)
}

/// Least and greatest of some lengths.
pub(super) fn extremes(lengths: &[f64]) -> (f64, f64) {
    let least = lengths.iter().copied().fold(f64::INFINITY, f64::min);
    (least, lengths.iter().copied().fold(0.0, f64::max))
}

impl Ground {
    /// Lengths that loops will have, by zone, from areas and leaders.
    pub(super) fn lengths_m(&self, draft: &Draft) -> Vec<f64> {
        let extra = self.plan.manifolds[self.manifold].extra_m;
        (0..draft.net.zones.len())
            .map(|zone| {
                let spacing = self.plan.rooms[draft.net.zones[zone].room].spacing_m;
                let own = draft.floors[zone].as_ref().map_or(0.0, |f| f.area_m2() / spacing);
                own + 2.0 * draft.leaders[zone].length_m() + extra
            })
            .collect()
    }

    /// Lengths of loops as laid, by zone; estimates where a field is missing.
    pub(super) fn measured_m(&self, draft: &Draft, laid: &[Field]) -> Vec<f64> {
        let mut lengths = self.lengths_m(draft);
        for (zone, field) in draft.order.loops.iter().zip(laid) {
            // Where much of the floor has no tube its length tells nothing of its share.
            if let Ok(field) = field.as_ref()
                && field.uncovered < MOST_BARE
            {
                lengths[*zone] = field.path.length_m() + self.plan.manifolds[self.manifold].extra_m;
            }
        }
        lengths
    }
}
