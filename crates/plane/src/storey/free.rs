//! The floor of a room that tube can take, and what it cannot reach.

use super::annex::Annex;
use super::layout::DeadFloor;
use super::plan::Room;
use crate::clip;
use crate::region::Region;

/// The floor of a room as tube sees it.
#[derive(Clone, Debug)]
pub(super) struct Free {
    /// Floor less keep-outs, the piece that counts.
    pub(super) bare: Region,
    /// Where a loop's own strip may lie: its tubes half a spacing inside its edge.
    pub(super) floor: Region,
    /// Pieces that are too narrow or cut off.
    pub(super) dead: Vec<Region>,
    /// Rooms that share a loop of this one.
    pub(super) annexes: Vec<Annex>,
    /// What of the floor is set apart for one loop, with the number of that loop.
    pub(super) apart: Vec<(usize, Region)>,
    /// What is left of the floor for all other loops, the largest piece first.
    pub(super) rest: Vec<Region>,
}

/// Dead places narrower than this are edges, not places, metres.
const LEAST_DEAD_WIDTH_M: f64 = 0.08;

/// Dead places smaller than this are not worth a word, square metres.
const LEAST_DEAD_M2: f64 = 0.02;

impl Free {
    /// The free floor of a room, if there is any.
    pub(super) fn of(room: &Room) -> Option<Free> {
        // A keep-out that is no ring keeps nothing out.
        let sound: Vec<_> = room
            .keep_outs
            .iter()
            .filter(|ring| Region::simple((*ring).clone()).is_ok())
            .cloned()
            .collect();
        let pieces = room.floor.difference(&sound).ok()?;
        let edge = (room.wall_clearance_m - room.spacing_m / 2.0).max(0.0);
        let inner = clip::erode(&pieces, edge);
        let wide = clip::opening(&inner, room.spacing_m / 2.0);
        let floor = largest(if wide.is_empty() { inner } else { wide })?;
        let reach = clip::dilate(std::slice::from_ref(&floor), edge + 0.25 * room.spacing_m);
        let unreached = clip::difference(&pieces, &reach);
        let dead = clip::opening(&unreached, LEAST_DEAD_WIDTH_M / 2.0)
            .into_iter()
            .filter(|piece| piece.area_m2() > LEAST_DEAD_M2)
            .collect();
        let bare = pieces.into_iter().find(|p| p.encloses(inside(&floor)))?;
        let rest = vec![floor.clone()];
        Some(Free { bare, floor, dead, annexes: Vec::new(), apart: Vec::new(), rest })
    }

    /// Floor of the loops of the room, that of rooms which share one included, square metres.
    pub(super) fn area_m2(&self) -> f64 {
        let annexes = self.annexes.iter().map(|annex| annex.floor.area_m2());
        self.floor.area_m2() + annexes.sum::<f64>()
    }

    /// The dead places of a heated room, for the report.
    pub(super) fn dead_floor(&self, room: usize) -> impl Iterator<Item = DeadFloor> + '_ {
        self.dead.iter().map(move |region| DeadFloor { room, region: region.clone() })
    }
}

/// The largest of some pieces, the first in a tie.
pub(super) fn largest(pieces: Vec<Region>) -> Option<Region> {
    pieces.into_iter().fold(None, |best: Option<Region>, piece| match best {
        Some(best) if best.area_m2() >= piece.area_m2() => Some(best),
        _ => Some(piece),
    })
}

/// A place inside a region, a little off its first edge.
fn inside(region: &Region) -> crate::point::Point {
    let mut best = (region.middle(), 0.0);
    for (a, b) in region.edges() {
        let middle = a.lerp(b, 0.5) + (b - a).unit().left() * 1e-3;
        let length = a.distance(b);
        if length > best.1 && region.encloses(middle) {
            best = (middle, length);
        }
    }
    best.0
}
