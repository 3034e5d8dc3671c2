//! Ways of sharing a room between its loops.

use super::net::Entry;
use crate::point::Point;
use crate::region::Region;
use crate::sectors;
use crate::split;

/// One way of sharing a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Cut {
    /// One loop; nothing is cut.
    Whole,
    /// Parallel cuts, shares one after the other along a direction.
    Parallel {
        /// Unit direction across the cuts.
        across: Point,
    },
    /// One cut from the entry to the far side.
    FromEntry {
        /// Place on the entry where it starts.
        from: Point,
        /// Unit direction into the room along which it would run straight.
        inward: Point,
    },
    /// Cuts from a hole outwards, shares one after the other around it.
    Around {
        /// The middle of the hole.
        centre: Point,
        /// Unit direction from there to the entry, where the first share lies.
        toward: Point,
        /// Share of the first one counter-clockwise of the entry.
        ahead: f64,
    },
}

/// Cuts at places of openings, and how well they suit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub(super) cut: Cut,
    /// Lower is better, about metres of tube.
    pub(super) cost: f64,
}

/// Metres of tube that wholly uneven shares are as bad as.
const UNEVEN: f64 = 60.0;

/// Steepest that a cut from the entry leans over, as run over depth.
const STEEPEST_LEAN: f64 = 0.0;

impl Cut {
    /// The shares for given weights, as many as there are weights; nothing if they break up.
    ///
    /// Cuts keep off `openings`, each told by its ends.
    pub(super) fn shares(
        self,
        floor: &Region,
        weights: &[f64],
        openings: &[[Point; 2]],
    ) -> Option<Vec<Region>> {
        match self {
            Cut::Whole => (weights.len() == 1).then(|| vec![floor.clone()]),
            Cut::Parallel { across } => {
                split::parallel(floor, across, weights, &stretches(openings, across))
            }
            Cut::Around { centre, toward, ahead } => {
                sectors::around(floor, centre, toward, ahead, weights)
            }
            Cut::FromEntry { from, inward } => {
                let [one, other] = weights else { return None };
                split::from_place(floor, from, inward, one / (one + other), STEEPEST_LEAN)
            }
        }
    }
}

/// Openings that a cut square to a direction could hit, as stretches along it that do not overlap.
fn stretches(openings: &[[Point; 2]], across: Point) -> Vec<[f64; 2]> {
    let mut found: Vec<[f64; 2]> = openings
        .iter()
        .filter(|[a, b]| (*b - *a).unit().dot(across).abs() > 0.5)
        .map(|ends| ends.map(|p| p.dot(across)))
        .map(|[a, b]| [a.min(b) - BESIDE_M, a.max(b) + BESIDE_M])
        .collect();
    found.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut merged: Vec<[f64; 2]> = Vec::new();
    for [low, high] in found {
        match merged.last_mut() {
            Some(last) if low <= last[1] => last[1] = last[1].max(high),
            _ => merged.push([low, high]),
        }
    }
    merged
}

/// The openings of a room that cuts keep off.
///
/// A door between two shares lets leaders into both, so the entry of a room that has no
/// manifold is cut in its middle but not near its ends.
pub(super) fn kept_off(entry: [Point; 2], doors: &[[Point; 2]], is_root: bool) -> Vec<[Point; 2]> {
    let [a, b] = entry;
    let part = odd_part_m(entry) / a.distance(b).max(1e-9);
    let entry =
        if is_root { vec![entry] } else { vec![[a, a.lerp(b, part)], [b.lerp(a, part), b]] };
    doors.iter().copied().chain(entry).collect()
}

/// Least width of a part of an entry that leads into a share of its own, metres.
fn odd_part_m(entry: [Point; 2]) -> f64 {
    0.24_f64.min(0.4 * entry[0].distance(entry[1]))
}

/// Distance that cuts keep from openings, metres.
const BESIDE_M: f64 = 0.06;

/// All ways of cutting a room into equal shares, the likeliest first.
///
/// `entry` are the ends of the opening through which leaders come in, `doors` those of
/// the openings through which they go on.
pub(super) fn choices(
    floor: &Region,
    count: usize,
    entry: [Point; 2],
    doors: &[[Point; 2]],
    is_root: bool,
) -> Vec<Choice> {
    if count <= 1 {
        return vec![Choice { cut: Cut::Whole, cost: 0.0 }];
    }
    let weights = vec![1.0; count];
    let openings = kept_off(entry, doors, is_root);
    let mut choices = Vec::new();
    for across in directions(floor, entry) {
        let cut = Cut::Parallel { across };
        if let Some(shares) = cut.shares(floor, &weights, &openings) {
            choices.push(Choice { cut, cost: cost(&shares, entry, doors) });
        }
    }
    if count == 2 && is_root && !doors.is_empty() {
        let inward = (entry[1] - entry[0]).unit().left();
        let from = entry[0].lerp(entry[1], 0.5);
        let cut = Cut::FromEntry { from, inward };
        if let Some(shares) = cut.shares(floor, &weights, &openings) {
            choices.push(Choice { cut, cost: cost(&shares, entry, doors) - 2.0 });
        }
    }
    for cut in around(floor, entry) {
        if let Some(shares) = cut.shares(floor, &weights, &openings) {
            choices.push(Choice { cut, cost: cost(&shares, entry, doors) });
        }
    }
    choices.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    choices
}

/// Ways of cutting around the largest hole, if the floor is a ring about it.
fn around(floor: &Region, entry: [Point; 2]) -> impl Iterator<Item = Cut> + use<> {
    let area = |hole: &[Point]| crate::chain::double_area(hole).abs() / 2.0;
    let hole = floor.holes().iter().max_by(|a, b| area(a).total_cmp(&area(b)));
    let hole = hole.filter(|hole| area(hole) > LEAST_HOLE * floor.area_m2());
    let centre = hole.and_then(|hole| {
        let mut ring = hole.clone();
        ring.reverse();
        Region::simple(ring).ok().map(|hole| hole.middle())
    });
    let middle = entry[0].lerp(entry[1], 0.5);
    let cut = move |centre: Point| {
        let toward = (middle - centre).unit();
        [0.5, 0.25, 0.75].map(|ahead| Cut::Around { centre, toward, ahead })
    };
    centre.into_iter().flat_map(cut)
}

/// Share of the floor from which a hole makes a ring of it.
const LEAST_HOLE: f64 = 0.08;

/// Directions worth cutting across: along walls, the entry's first.
fn directions(floor: &Region, entry: [Point; 2]) -> Vec<Point> {
    let mut found: Vec<Point> = Vec::new();
    let mut walls: Vec<(f64, Point)> = crate::chain::ring_edges(floor.outer())
        .map(|(a, b)| (a.distance(b), (b - a).unit()))
        .collect();
    walls.sort_by(|a, b| b.0.total_cmp(&a.0));
    let at_entry = (entry[1] - entry[0]).unit();
    for along in std::iter::once(at_entry).chain(walls.into_iter().take(2).map(|w| w.1)) {
        for across in [along, along.left()] {
            if across.norm() > 0.5 && found.iter().all(|f| f.cross(across).abs() > 0.1) {
                found.push(across);
            }
        }
    }
    found
}

/// How ill shares suit, in metres.
fn cost(shares: &[Region], entry: [Point; 2], doors: &[[Point; 2]]) -> f64 {
    let rims: f64 = shares.iter().map(Region::perimeter_m).sum();
    let parts = Entry::into(shares, 0, entry).parts;
    let middle = entry[0].lerp(entry[1], 0.5);
    let reach: f64 = shares
        .iter()
        .enumerate()
        .filter(|(number, _)| parts.iter().all(|(zone, _)| zone != number))
        .map(|(_, share)| share.boundary_distance_m(middle).max(0.3))
        .sum();
    let odd_part = |part: &[Point; 2]| part[0].distance(part[1]) < odd_part_m(entry) - 1e-6;
    let mut harm = 8.0 * parts.iter().filter(|(_, part)| odd_part(part)).count() as f64;
    for door in doors {
        harm += 8.0 * (Entry::into(shares, 0, *door).parts.len().saturating_sub(1)) as f64;
    }
    let sizes = || shares.iter().map(Region::area_m2);
    let (least, most) = (sizes().fold(f64::INFINITY, f64::min), sizes().fold(0.0, f64::max));
    rims + 4.0 * reach + harm + UNEVEN * (1.0 - least / most)
}
