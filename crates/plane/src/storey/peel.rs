//! Leaders peeled off along the walls, one inside the other.
//!
//! A leader is a double strand in a strip of its own. In every zone it follows the edge of
//! the floor that is still free, at half its strip's width; the strip is then taken off, so
//! that the next leader follows it and no two strips ever overlap.

use super::doorway::Doorway;
use super::hug::{Gauge, OVERLAP, TRIM, overlap_m2, way};
use super::net::{Entry, Net, Portal};
use super::order::{Opening, Order};
use super::ring::{self, Ring};
use super::slots::{beyond_ports_m, width_m};
use super::wedge::{slant, smoothed};
use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::Region;

/// Why leaders found no way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Blocked {
    /// The strips do not fit side by side through an opening.
    Opening { door: Option<usize>, loops: usize, width_m: f64 },
    /// A narrow place in a room.
    Narrow { room: usize },
}

/// Leaders of all loops, as corners of their centrelines.
#[derive(Clone, Debug)]
pub(super) struct Peeled {
    /// By zone; empty for zones without a loop.
    pub(super) leaders: Vec<Vec<Point>>,
    /// By zone: the strips that pass through it belong to these loops.
    pub(super) passing: Vec<Vec<usize>>,
    /// Length that leaders take at the manifold beyond its stretch, at either end, metres.
    pub(super) beyond_m: f64,
}

/// Pieces of free floor smaller than this are left over, square metres.
const CRUMB_M2: f64 = 1e-3;

/// Depth that is kept free of other leaders before tubes that start in a doorway, metres.
const CLEARED_M: f64 = 0.025;

/// Leaders for a whole net; `radii_m` are those of the tubes' bends, by zone, and `drawn` the
/// ways of those that need not be sought.
pub(super) fn peeled(
    net: &Net,
    order: &Order,
    walls: &Walls,
    radii_m: &[f64],
    gauge: Gauge,
    drawn: Vec<Vec<Point>>,
) -> Result<Peeled, Blocked> {
    let zones = net.zones.len();
    let mut work = Work {
        net,
        order,
        walls,
        radii_m,
        gauge,
        drawn,
        doorways: Vec::new(),
        peeled: Peeled {
            leaders: vec![Vec::new(); zones],
            passing: vec![Vec::new(); zones],
            beyond_m: 0.0,
        },
    };
    let counts = work.counts(&net.entry, &order.loops);
    work.peeled.beyond_m = beyond_ports_m(&net.entry, order.loops.len(), gauge.half_m);
    work.doorways = work.doorways()?;
    let places = if work.doorways.is_empty() {
        work.ports(&counts).map(|slots| order.loops.iter().copied().zip(slots).collect())
    } else {
        work.ports_beside_doorways(&counts)
    };
    let places: Vec<(usize, Point)> = places.ok_or_else(|| Blocked::Opening {
        door: None,
        loops: order.loops.len(),
        width_m: width_m(&net.entry),
    })?;
    for (number, at) in places {
        work.begin_drawn(number, at);
        work.peeled.leaders[number].push(at);
        let onward = work.drawn[number].iter().skip(1);
        work.peeled.leaders[number].extend(onward);
    }
    work.enter(&net.entry, &order.loops)?;
    Ok(work.peeled)
}

/// Free floor of every room where leaders may lie, by room.
pub(super) type Walls = [Vec<Region>];

/// Leaders while they are being laid.
pub(super) struct Work<'a> {
    pub(super) net: &'a Net,
    pub(super) order: &'a Order,
    pub(super) walls: &'a Walls,
    pub(super) radii_m: &'a [f64],
    pub(super) gauge: Gauge,
    /// Ways that are drawn, by zone; empty where a leader finds its own.
    pub(super) drawn: Vec<Vec<Point>>,
    /// Doors in the stretch of the ports themselves.
    pub(super) doorways: Vec<Doorway>,
    pub(super) peeled: Peeled,
}

impl Work<'_> {
    /// Lays leaders on from an entry where each of them now stands.
    fn enter(&mut self, entry: &Entry, loops: &[usize]) -> Result<(), Blocked> {
        let counts = self.counts(entry, loops);
        let mut rest = loops;
        for ((zone, _), count) in entry.parts.iter().zip(counts) {
            let (here, beyond) = rest.split_at(count.min(rest.len()));
            self.cross(*zone, here)?;
            rest = beyond;
        }
        Ok(())
    }

    /// Lays the leaders that pass a zone, then those behind it.
    fn cross(&mut self, zone: usize, loops: &[usize]) -> Result<(), Blocked> {
        let here = &self.net.zones[zone];
        let openings = &self.order.openings[zone];
        if openings.iter().all(|o| o.loops.is_empty()) {
            return Ok(());
        }
        self.peeled.passing[zone].extend(loops.iter().filter(|l| **l != zone));
        let room = self.walls.get(here.room).map(Vec::as_slice).unwrap_or_default();
        let mut free = clip::intersection(std::slice::from_ref(&here.floor), room);
        let drawn: Vec<Vec<Point>> = self.drawn.iter().filter(|w| !w.is_empty()).cloned().collect();
        let mut taken = Vec::new();
        if !drawn.is_empty() {
            taken = clip::thick(&drawn, self.gauge.half_m * TRIM, Cap::Flat);
            free = clip::difference(&free, &taken);
        }
        let (doorways, passed): (Vec<&Opening>, Vec<&Opening>) =
            openings.iter().partition(|o| self.is_doorway(zone, o));
        for opening in doorways {
            self.leave_at_once(zone, opening, &mut free)?;
        }
        let ahead: Vec<&Opening> = passed.iter().copied().filter(|o| o.ahead).collect();
        let behind: Vec<&Opening> = passed.iter().rev().copied().filter(|o| !o.ahead).collect();
        for group in [ahead, behind] {
            for (rank, opening) in group.iter().enumerate() {
                let next = group.get(rank + 1).map(|o| &here.portals[o.portal]);
                self.pass(zone, opening, next, &mut free, &mut taken)?;
            }
        }
        for opening in openings {
            self.enter(&here.portals[opening.portal].behind, &opening.loops)?;
        }
        Ok(())
    }

    /// Sends the loops of a doorway straight through it, and takes its place off the free floor.
    fn leave_at_once(
        &mut self,
        zone: usize,
        opening: &Opening,
        free: &mut Vec<Region>,
    ) -> Result<(), Blocked> {
        let portal = &self.net.zones[zone].portals[opening.portal];
        for number in &opening.loops {
            let Some(at) = self.peeled.leaders[*number].last().copied() else { continue };
            let spot = vec![at + portal.through * CLEARED_M, at - portal.through * CLEARED_M];
            let spot = clip::thick(&[spot], self.gauge.half_m * TRIM, Cap::Flat);
            *free = clip::difference(free, &spot);
        }
        free.retain(|piece| piece.area_m2() > CRUMB_M2);
        self.go_through(zone, portal, opening)
    }

    /// Lays the leaders through one opening and takes their strips off the free floor.
    fn pass(
        &mut self,
        zone: usize,
        opening: &Opening,
        next: Option<&Portal>,
        free: &mut Vec<Region>,
        taken: &mut Vec<Region>,
    ) -> Result<(), Blocked> {
        let portal = &self.net.zones[zone].portals[opening.portal];
        let targets = self.targets(zone, portal, opening)?;
        let mut lay: Vec<(usize, Point)> = opening.loops.iter().copied().zip(targets).collect();
        if !opening.ahead {
            lay.reverse();
        }
        let mut last = Vec::new();
        let all = lay.len();
        lay.retain(|(number, _)| self.drawn[*number].is_empty());
        for (number, target) in &lay {
            let from = *self.peeled.leaders[*number]
                .last()
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            let radius_m = self.radii_m.get(*number).copied().unwrap_or(0.0);
            let radius_m = radius_m + self.gauge.half_m / 2.0;
            let way = way(free, from, *target, self.gauge, radius_m, opening.ahead)
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            let strip =
                clip::thick(std::slice::from_ref(&way), self.gauge.half_m * TRIM, Cap::Flat);
            // On its last steps to an opening a way could run into others that stand closer.
            if overlap_m2(&strip, taken) > OVERLAP * (2.0 * self.gauge.half_m).powi(2) {
                return Err(Blocked::Narrow { room: self.net.zones[zone].room });
            }
            taken.extend_from_slice(&strip);
            *free = clip::difference(free, &strip);
            free.retain(|piece| piece.area_m2() > CRUMB_M2);
            let leader = &mut self.peeled.leaders[*number];
            way.iter().for_each(|p| chain::push_new(leader, *p));
            last = way;
        }
        if let Some(next) = next.filter(|_| portal.door.is_some() && lay.len() == all) {
            let slant = slant(&last, lay.len() as f64 * 2.0 * self.gauge.half_m, self.gauge, next);
            if let Some(slant) = slant {
                *free = smoothed(clip::difference(free, &[slant]));
            }
        }
        self.go_through(zone, portal, opening)
    }

    /// Carries the leaders through the wall, or over the cut.
    fn go_through(
        &mut self,
        zone: usize,
        portal: &Portal,
        opening: &Opening,
    ) -> Result<(), Blocked> {
        for number in &opening.loops {
            let here = *self.peeled.leaders[*number]
                .last()
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            if portal.door.is_none() || !self.drawn[*number].is_empty() {
                continue;
            }
            let step_back = here - portal.through * 1e-3;
            let beyond = portal.behind.parts.iter().find_map(|(behind, _)| {
                let floor = &self.net.zones[*behind].floor;
                let face = ring::hit(floor, step_back, portal.through)?;
                Ring::of(floor).distance_m(face).le(&1e-3).then_some(face)
            });
            let beyond = beyond.ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            chain::push_new(&mut self.peeled.leaders[*number], beyond);
        }
        Ok(())
    }
}
