//! Zones of a storey and the openings between them, as seen from one manifold.

use super::ring::{self, Ring};
use crate::point::Point;
use crate::region::Region;

/// Floor of one loop, or of none in a room that is only passed.
#[derive(Clone, Debug)]
pub(super) struct Zone {
    pub(super) room: usize,
    /// Where a strip of the loop's own spacing may lie up to the edge.
    pub(super) floor: Region,
    /// Whether a loop of its own lies here.
    pub(super) own: bool,
    /// Openings to what lies behind.
    pub(super) portals: Vec<Portal>,
    /// The number of its loop in the room, where that is held.
    pub(super) number: Option<usize>,
    /// Rooms that its loop heats along with its own, by number, each with the middle of its door.
    pub(super) annexes: Vec<(usize, Point)>,
}

impl Zone {
    /// Whether its loop heats a room along with its own.
    pub(super) fn serves(&self, room: usize) -> bool {
        self.annexes.iter().any(|(annexed, _)| *annexed == room)
    }
}

/// An opening through which leaders leave a zone.
#[derive(Clone, Debug)]
pub(super) struct Portal {
    /// Its ends on the zone's boundary, counter-clockwise.
    pub(super) ends: [Point; 2],
    /// The door; none for a cut between shares of one room.
    pub(super) door: Option<usize>,
    /// Direction from the zone through the opening.
    pub(super) through: Point,
    /// What lies behind.
    pub(super) behind: Entry,
}

/// Where leaders come into a room or a share of it.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    /// Zones that the opening leads into at once, counter-clockwise-most first, each
    /// with the ends of its part of the opening, counter-clockwise.
    pub(super) parts: Vec<(usize, [Point; 2])>,
    /// The place about which leaders stand, if held.
    pub(super) wish: Option<Point>,
}

/// All zones that hang on one manifold.
#[derive(Clone, Debug)]
pub(super) struct Net {
    pub(super) zones: Vec<Zone>,
    pub(super) entry: Entry,
}

/// Cuts shorter than this let no leader pass, metres.
const LEAST_CUT_M: f64 = 0.3;

/// Pieces of an opening shorter than this belong to the neighbour, metres.
const LEAST_PART_M: f64 = 0.05;

impl Entry {
    /// An opening into shares of a room; its ends in any order.
    pub(super) fn into(shares: &[Region], first: usize, ends: [Point; 2]) -> Entry {
        let mut parts: Vec<(f64, usize, [Point; 2])> = Vec::new();
        for (number, share) in shares.iter().enumerate() {
            let Some(part) = part_on(share, ends) else { continue };
            let from_end = part[1].distance(ends[1]);
            parts.push((from_end, first + number, part));
        }
        parts.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        if parts.is_empty() {
            let middle = ends[0].lerp(ends[1], 0.5);
            let nearest = (0..shares.len()).min_by(|a, b| {
                let away = |i: &usize| shares[*i].boundary_distance_m(middle);
                away(a).total_cmp(&away(b))
            });
            parts.extend(nearest.map(|number| (0.0, first + number, ends)));
        }
        let parts = parts.into_iter().map(|(_, zone, part)| (zone, part)).collect();
        Entry { parts, wish: None }
    }
}

impl Entry {
    /// The entry by its widest part alone.
    pub(super) fn widest(self) -> Entry {
        let width = |part: &(usize, [Point; 2])| part.1[0].distance(part.1[1]);
        let wish = self.wish;
        let widest = self.parts.into_iter().max_by(|a, b| width(a).total_cmp(&width(b)));
        Entry { parts: widest.into_iter().collect(), wish }
    }
}

/// The part of an opening that lies on the boundary of a share, in the opening's direction.
fn part_on(share: &Region, ends: [Point; 2]) -> Option<[Point; 2]> {
    let along = (ends[1] - ends[0]).unit();
    let length = ends[0].distance(ends[1]);
    let mut low = f64::INFINITY;
    let mut high = f64::NEG_INFINITY;
    for (a, b) in crate::chain::ring_edges(share.outer()) {
        let off = |p: Point| along.cross(p - ends[0]).abs();
        // The opening was projected onto the boundary of the whole room, so edges lie on it
        // but for walls that are not straight along it.
        if off(a) > 0.02 || off(b) > 0.02 {
            continue;
        }
        let (t, u) = (along.dot(a - ends[0]), along.dot(b - ends[0]));
        let (t, u) = (t.min(u).max(0.0), t.max(u).min(length));
        if u > t {
            low = low.min(t);
            high = high.max(u);
        }
    }
    (high - low >= LEAST_PART_M).then(|| [ends[0] + along * low, ends[0] + along * high])
}

/// The zones of a room's shares, joined by their cuts from the entry on.
///
/// The entry's zones come first in its order; every other share hangs on the first reached
/// neighbour. Nothing if a share cannot be reached.
pub(super) fn joined_shares(
    shares: &[Region],
    first: usize,
    room: usize,
    own: bool,
    entry: &Entry,
) -> Option<Vec<Zone>> {
    let mut zones: Vec<Zone> = shares
        .iter()
        .map(|floor| Zone {
            room,
            floor: floor.clone(),
            own,
            portals: Vec::new(),
            number: None,
            annexes: Vec::new(),
        })
        .collect();
    let mut reached: Vec<usize> = entry.parts.iter().map(|(zone, _)| zone - first).collect();
    let mut next = 0;
    while next < reached.len() {
        let here = reached[next];
        next += 1;
        for other in 0..shares.len() {
            if reached.contains(&other) {
                continue;
            }
            let cuts = ring::shared(&shares[here], &shares[other], LEAST_CUT_M);
            let longest =
                cuts.into_iter().max_by(|a, b| a[0].distance(a[1]).total_cmp(&b[0].distance(b[1])));
            if let Some(ends) = longest {
                let through = -(ends[1] - ends[0]).unit().left();
                let behind = Entry { parts: vec![(first + other, [ends[1], ends[0]])], wish: None };
                zones[here].portals.push(Portal { ends, door: None, through, behind });
                reached.push(other);
            }
        }
    }
    (reached.len() == shares.len()).then_some(zones)
}

/// Where a door opens on the boundary of a piece of floor: both ends, counter-clockwise.
pub(super) fn door_ends(
    floor: &Region,
    at: Point,
    width_m: f64,
    outward: Point,
) -> Option<[Point; 2]> {
    let aside = outward.left() * (width_m / 2.0);
    let foot = |p: Point| {
        // From a little inside, so that an uneven wall cannot hide the place.
        ring::hit(floor, p, -outward)
    };
    let ends = [foot(at - aside)?, foot(at + aside)?];
    Some(Ring::of(floor).in_order(ends))
}
