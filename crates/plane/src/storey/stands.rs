//! Where leaders stand: at the manifold, in doors and in cuts.

use super::doorway::{self, Doorway, Inward};
use super::hug::Gauge;
use super::net::{Entry, Portal};
use super::order::Opening;
use super::peel::{Blocked, Work};
use super::ring;
use super::slots::{ports_needed_m, slots, width_m};
use crate::point::{Point, crossing};

/// Place of a loop at the manifold, counted from its ends.
enum FromEnd {
    First(usize),
    Middle,
    Last(usize),
}

fn order_from_ends(number: usize, first: usize, last: usize, all: usize) -> FromEnd {
    if number < first {
        FromEnd::First(number)
    } else if number + last >= all {
        FromEnd::Last(all - 1 - number)
    } else {
        FromEnd::Middle
    }
}

/// Corners at the end of a cut sharper than this are taken to be as sharp.
const SHARPEST_CUT_RAD: f64 = 0.3;

impl Work<'_> {
    /// Places of the loops at the manifold: those that leave either way stand at its ends.
    pub(super) fn ports(&self, counts: &[usize]) -> Option<Vec<Point>> {
        let half = self.gauge.half_m;
        let beyond = self.peeled.beyond_m;
        let all: usize = counts.iter().sum();
        if ports_needed_m(all, half) > width_m(&self.net.entry) + 1e-6 {
            return None;
        }
        let mut places = slots(&self.net.entry, counts, half, half + beyond)?;
        let [(zone, [p, q])] = self.net.entry.parts.as_slice() else { return Some(places) };
        let along = (*p - *q).unit();
        let (q, p) = (*q - along * beyond, *p + along * beyond);
        let count = |ahead: bool| -> usize {
            let side = self.order.openings[*zone].iter().filter(|o| o.ahead == ahead);
            side.map(|o| o.loops.len()).sum()
        };
        let (first, last) = (count(true), count(false));
        let width = p.distance(q);
        let end = (half / 2.0).min((width - 2.0 * half * (counts[0] as f64 - 1.0)) / 2.0);
        for (i, place) in places.iter_mut().enumerate() {
            let number = order_from_ends(i, first, last, counts[0]);
            *place = match number {
                FromEnd::First(k) => q + along * (end + half * (2 * k) as f64),
                FromEnd::Last(k) => p - along * (end + half * (2 * k) as f64),
                FromEnd::Middle => {
                    let low = end + half * (2 * first) as f64;
                    let high = width - end - half * (2 * last) as f64;
                    q + along * ((low + high) / 2.0)
                }
            };
        }
        Some(places)
    }

    /// Doors in the stretch of the ports, with the loops that leave there at once.
    pub(super) fn doorways(&self) -> Result<Vec<Doorway>, Blocked> {
        let mut found = Vec::new();
        for (zone, _) in &self.net.entry.parts {
            for opening in self.order.openings[*zone].iter().filter(|o| !o.loops.is_empty()) {
                let portal = &self.net.zones[*zone].portals[opening.portal];
                if portal.door.is_none() {
                    continue;
                }
                let mut doorway = Doorway {
                    zone: *zone,
                    portal: opening.portal,
                    loops: opening.loops.clone(),
                    places: vec![portal.ends[0].lerp(portal.ends[1], 0.5)],
                };
                if doorway.is_in(&self.net.entry) {
                    doorway.places = self.targets(*zone, portal, opening)?;
                    found.extend(doorway.is_in(&self.net.entry).then_some(doorway));
                }
            }
        }
        Ok(found)
    }

    pub(super) fn is_doorway(&self, zone: usize, opening: &Opening) -> bool {
        self.doorways.iter().any(|d| d.zone == zone && d.portal == opening.portal)
    }

    /// Places of the loops at the manifold where doors open between them.
    pub(super) fn ports_beside_doorways(&self, counts: &[usize]) -> Option<Vec<(usize, Point)>> {
        let half = self.gauge.half_m;
        if ports_needed_m(counts.iter().sum(), half) > width_m(&self.net.entry) + 1e-6 {
            return None;
        }
        let leaves = |number: &usize| self.doorways.iter().any(|d| d.loops.contains(number));
        let mut rest = self.order.loops.as_slice();
        let mut inward = Vec::new();
        for ((zone, _), count) in self.net.entry.parts.iter().zip(counts) {
            let (here, beyond) = rest.split_at_checked(*count)?;
            rest = beyond;
            let turning = |ahead: bool| -> usize {
                let openings = self.order.openings[*zone].iter().filter(|o| o.ahead == ahead);
                openings.filter(|o| !self.is_doorway(*zone, o)).map(|o| o.loops.len()).sum()
            };
            inward.push(Inward {
                loops: here.iter().copied().filter(|l| !leaves(l)).collect(),
                ahead: turning(true),
                behind: turning(false),
            });
        }
        doorway::around(&self.net.entry, &inward, &self.doorways, half, self.peeled.beyond_m)
    }

    /// How many of the loops go to each part of an opening.
    pub(super) fn counts(&self, entry: &Entry, loops: &[usize]) -> Vec<usize> {
        let mut counts: Vec<usize> =
            entry.parts.iter().map(|(zone, _)| self.order.loops_from(self.net, *zone)).collect();
        // A lone part takes what comes, whatever its zone says.
        if let [only] = counts.as_mut_slice() {
            *only = loops.len();
        }
        counts
    }

    /// How far from the wall the first leader crosses a cut, metres.
    ///
    /// In a sharp corner a strip must stay farther off to keep its distance from the wall.
    fn corner_offset_m(&self, zone: usize, portal: &Portal, ahead: bool) -> f64 {
        let Gauge { half_m, inset_m } = self.gauge;
        let [at, other] = if ahead { portal.ends } else { [portal.ends[1], portal.ends[0]] };
        let along = (other - at).unit();
        let zones = portal.behind.parts.iter().map(|(behind, _)| *behind).chain([zone]);
        let angles = zones.filter_map(|z| ring::corner_rad(&self.net.zones[z].floor, at, along));
        let sharpest = angles.fold(std::f64::consts::FRAC_PI_2, f64::min).max(SHARPEST_CUT_RAD);
        inset_m / sharpest.sin() + half_m / (sharpest / 2.0).tan()
    }

    /// Begins the drawn way of a loop at its place at the manifold.
    ///
    /// A first stretch square to the wall moves along with its beginning.
    pub(super) fn begin_drawn(&mut self, number: usize, place: Point) {
        let parts = &self.net.entry.parts;
        let (Some((_, first)), Some((_, last))) = (parts.first(), parts.last()) else { return };
        let along = (last[0] - first[1]).unit();
        let [start, next, ..] = self.drawn[number].as_mut_slice() else { return };
        let moved = along * (place - *start).dot(along);
        if (*next - *start).unit().dot(along).abs() < 0.05 {
            *next = *next + moved;
        }
        *start = place;
    }

    /// Places along an opening, moved apart from where drawn ways pass it.
    fn moved_aside(
        &self,
        [from, to]: [Point; 2],
        loops: &[usize],
        mut places: Vec<Point>,
    ) -> Option<Vec<Point>> {
        let passes = |number: &usize| {
            let way = &self.drawn[*number];
            crate::chain::edges(way).find_map(|(a, b)| crossing(from, to, a, b)).map(|(t, _)| t)
        };
        let width = from.distance(to);
        let fixed: Vec<Option<f64>> =
            loops.iter().map(|number| passes(number).map(|t| t * width)).collect();
        if fixed.iter().all(Option::is_none) {
            return Some(places);
        }
        let (along, half) = ((to - from).unit(), self.gauge.half_m);
        let mut at: Vec<f64> = places.iter().map(|p| (*p - from).dot(along)).collect();
        if !aside(&mut at, &fixed, 2.0 * half, [half - 1e-6, width - half + 1e-6]) {
            return None;
        }
        for (place, at) in places.iter_mut().zip(at) {
            *place = from + along * at;
        }
        Some(places)
    }

    /// Places of leaders in an opening, in the zone that they leave.
    pub(super) fn targets(
        &self,
        zone: usize,
        portal: &Portal,
        opening: &Opening,
    ) -> Result<Vec<Point>, Blocked> {
        let half = self.gauge.half_m;
        let count = opening.loops.len();
        let [a, b] = portal.ends;
        let along = (b - a).unit();
        let width = a.distance(b);
        let blocked = Blocked::Opening { door: portal.door, loops: count, width_m: width };
        if portal.door.is_none() {
            let first = self.corner_offset_m(zone, portal, opening.ahead);
            let place = |i: usize| {
                let from_end = first + half * (2 * i) as f64;
                if opening.ahead { a + along * from_end } else { b - along * from_end }
            };
            let fits = first + half * (2 * count) as f64 - half <= width + 1e-6;
            let places: Vec<Point> = if opening.ahead {
                (0..count).map(place).collect()
            } else {
                (0..count).rev().map(place).collect()
            };
            let places = self.moved_aside([a, b], &opening.loops, places).ok_or(blocked)?;
            return if fits { Ok(places) } else { Err(blocked) };
        }
        // Set out in the room behind, whose cuts may want leaders on this or that side.
        let counts = self.counts(&portal.behind, &opening.loops);
        let places = slots(&portal.behind, &counts, half, 0.0).ok_or(blocked)?;
        let ends = portal.behind.parts.first().zip(portal.behind.parts.last());
        let ends = ends.map_or([a, b], |((_, first), (_, last))| [first[1], last[0]]);
        let places = self.moved_aside(ends, &opening.loops, places).ok_or(blocked)?;
        let floor = &self.net.zones[zone].floor;
        places.into_iter().map(|p| ring::hit(floor, p, -portal.through).ok_or(blocked)).collect()
    }
}

/// Moves places along a line, in rising order, aside from those that are fixed; false where they
/// do not fit.
fn aside(at: &mut [f64], fixed: &[Option<f64>], pitch: f64, [low, high]: [f64; 2]) -> bool {
    if fixed.iter().all(Option::is_none) {
        return true;
    }
    for (place, fixed) in at.iter_mut().zip(fixed) {
        *place = fixed.unwrap_or(*place);
    }
    let is_fixed = |i: usize| fixed.get(i).copied().flatten().is_some();
    for i in (0..at.len().saturating_sub(1)).rev().filter(|i| !is_fixed(*i)) {
        at[i] = at[i].min(at[i + 1] - pitch);
    }
    for i in (1..at.len()).filter(|i| !is_fixed(*i)) {
        at[i] = at[i].max(at[i - 1] + pitch);
    }
    let is_apart = at.windows(2).all(|pair| pair[1] - pair[0] > pitch * (1.0 - 1e-3));
    is_apart && at.iter().all(|place| (low..=high).contains(place))
}

#[cfg(test)]
mod tests {
    use super::aside;

    #[test]
    fn places_make_way_for_those_that_are_fixed() {
        let mut at = [1.0, 1.2, 1.4, 1.6];
        assert!(aside(&mut at, &[None, Some(1.3), None, None], 0.2, [0.0, 3.0]));
        for (got, expected) in at.iter().zip([1.0, 1.3, 1.5, 1.7]) {
            assert!((got - expected).abs() < 1e-12, "{at:?}");
        }
        let mut at = [1.0, 1.2];
        assert!(!aside(&mut at, &[None, Some(0.1)], 0.2, [0.0, 3.0]), "no place before it");
    }
}
