//! In which order loops leave the manifold so that no two need to cross.
//!
//! All leaders in a zone start at its entry and end on its boundary or in its middle. Taken
//! by where their openings lie along the boundary they never cross, whatever their number.

use super::net::{Entry, Net};
use super::ring::Ring;
use crate::point::Point;

/// The order of loops from an entry on, and how each zone shares them out.
#[derive(Clone, Debug, Default)]
pub(super) struct Order {
    /// Loops by their zone, counter-clockwise-most first.
    pub(super) loops: Vec<usize>,
    /// For every zone its openings in the order in which its boundary passes them.
    pub(super) openings: Vec<Vec<Opening>>,
}

/// One opening of a zone.
#[derive(Clone, Debug)]
pub(super) struct Opening {
    /// Its number among the zone's portals.
    pub(super) portal: usize,
    /// Whether its leaders go there counter-clockwise.
    pub(super) ahead: bool,
    /// The loops that pass, counter-clockwise-most first.
    pub(super) loops: Vec<usize>,
}

/// How many openings of a zone are reached counter-clockwise, where that is held.
pub(super) type Turns = [Option<usize>];

impl Order {
    /// The order of a whole net.
    pub(super) fn of(net: &Net, turns: &Turns) -> Order {
        let mut order = Order { loops: Vec::new(), openings: vec![Vec::new(); net.zones.len()] };
        order.loops = order.entered(net, &net.entry, None, turns);
        order
    }

    /// Loops that pass a zone's entry, its own included.
    pub(super) fn loops_from(&self, net: &Net, zone: usize) -> usize {
        let passing: usize = self.openings[zone].iter().map(|o| o.loops.len()).sum();
        passing + usize::from(net.zones[zone].own)
    }

    fn entered(
        &mut self,
        net: &Net,
        entry: &Entry,
        near: Option<Point>,
        turns: &Turns,
    ) -> Vec<usize> {
        let mut loops = Vec::new();
        for (zone, part) in &entry.parts {
            let from = near.unwrap_or(part[0].lerp(part[1], 0.5));
            loops.extend(self.visited(net, *zone, from, turns));
        }
        loops
    }

    fn visited(&mut self, net: &Net, zone: usize, from: Point, turns: &Turns) -> Vec<usize> {
        let here = &net.zones[zone];
        let ring = Ring::of(&here.floor);
        let start = ring.position_m(from);
        // Position of each opening, and whether it is nearer counter-clockwise.
        let mut places: Vec<(f64, usize, bool)> = Vec::new();
        for (number, portal) in here.portals.iter().enumerate() {
            let ends = portal.ends.map(|p| ring.ahead_m(start, ring.position_m(p)));
            let place = if portal.door.is_some() {
                let middle = portal.ends[0].lerp(portal.ends[1], 0.5);
                let ahead = ring.ahead_m(start, ring.position_m(middle));
                (ahead, number, ahead <= ring.length_m / 2.0)
            } else if ends[0] <= ring.length_m - ends[1] {
                (ends[0], number, true)
            } else {
                (ends[1], number, false)
            };
            places.push(place);
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        // Leaders go round both sides of a room that shares the zone's loop, and part it from none.
        let annex = here.annexes.first().map(|(_, at)| ring.ahead_m(start, ring.position_m(*at)));
        let nearer = match annex {
            Some(annex) => places.iter().filter(|p| p.0 < annex).count(),
            None => places.iter().filter(|p| p.2).count(),
        };
        let ahead = turns.get(zone).copied().flatten().unwrap_or(nearer).min(places.len());
        let (mut before, mut after) = (Vec::new(), Vec::new());
        for (rank, (_, number, _)) in places.into_iter().enumerate() {
            let portal = &here.portals[number];
            let goes_ahead = rank < ahead;
            // Leaders through a cut keep to the end that they come along.
            let near = portal.door.is_none().then(|| {
                let [a, b] = portal.ends;
                let step = (b - a).unit() * 0.1;
                if goes_ahead { a + step } else { b - step }
            });
            let loops = self.entered(net, &portal.behind, near, turns);
            let side = if goes_ahead { &mut before } else { &mut after };
            side.extend(loops.iter().copied());
            self.openings[zone].push(Opening { portal: number, ahead: goes_ahead, loops });
        }
        before.extend(here.own.then_some(zone));
        before.extend(after);
        before
    }
}
