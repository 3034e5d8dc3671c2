//! Rooms of one storey as the marched water sees them.

use crate::emitters::{Beyond, BuildUp, Pairs, WIDEST_M};
use crate::run::Settling;
use job::Job;
use plane::beside::{Meets, Side, Station};
use plane::{Point, Region};
use std::sync::Arc;

/// One storey: rooms with outlines, what their floors are made of, and tube on them.
pub(super) struct Storey<'a> {
    pub(super) key: Option<&'a str>,
    /// Rooms that have an outline, by their number in the job.
    pub(super) rooms: Vec<usize>,
    pub(super) regions: Vec<&'a Region>,
    /// The floor of each of them; none where it cannot be told.
    pub(super) floors: Vec<Option<Floor>>,
    /// Parts of them under another finish or with limits of their own.
    pub(super) parts: Vec<PartFloor>,
    /// Loops on this storey, by their number in the design.
    pub(super) loops: Vec<usize>,
}

/// A part of a room's floor.
pub(super) struct PartFloor {
    /// The room, by its number on the storey.
    pub(super) room: usize,
    pub(super) regions: Vec<Region>,
    /// Hottest spot allowed there, kelvin.
    pub(super) limit_k: f64,
    floor: Option<Floor>,
}

impl Storey<'_> {
    /// The floor of a room at a place.
    pub(super) fn floor_at(&self, room: usize, at: Point) -> Option<&Floor> {
        let has = |part: &&PartFloor| {
            part.room == room && part.regions.iter().any(|region| region.contains(at))
        };
        self.part_or_rest(self.parts.iter().position(|part| has(&part)), room)
    }

    /// The floor of a part; that of the rest of a room where none is named.
    pub(super) fn part_or_rest(&self, part: Option<usize>, room: usize) -> Option<&Floor> {
        match part.and_then(|part| self.parts.get(part)) {
            Some(part) => part.floor.as_ref(),
            None => self.floors.get(room)?.as_ref(),
        }
    }
}

/// A floor under which tube may lie.
pub(super) struct Floor {
    pub(super) indoor_k: f64,
    pub(super) pairs: Arc<Pairs>,
    beyond: Beyond,
}

/// A station's ways for heat, all W/K, in the floor where it lies.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Ways {
    room: f64,
    below: f64,
    through: f64,
    last: f64,
    edge_w: f64,
    indoor_k: f64,
    below_k: f64,
}

/// The storeys of a job that have loops.
pub(super) fn storeys<'a>(job: &'a Job, settling: &'a Settling) -> Vec<Storey<'a>> {
    let mut storeys: Vec<Storey> = Vec::new();
    let design = &settling.design;
    for (number, (room, enclosure)) in job.rooms.iter().zip(&design.envelope.enclosures).enumerate()
    {
        let Some(region) = &enclosure.floor else { continue };
        let key = room.storey.as_ref().map(|storey| storey.value.as_str());
        let place = storeys.iter().position(|storey| storey.key == key).unwrap_or_else(|| {
            let (rooms, regions, floors, loops) = (vec![], vec![], vec![], vec![]);
            storeys.push(Storey { key, rooms, regions, floors, parts: vec![], loops });
            storeys.len() - 1
        });
        let storey = &mut storeys[place];
        let crossed = settling.choice.crossed.iter().find(|crossed| crossed.room == room.key);
        let floor = |build_up: &BuildUp, pairs: Option<Arc<Pairs>>, indoor_k: f64| {
            Some(Floor { indoor_k, pairs: pairs?, beyond: build_up.beyond() })
        };
        for part in crossed.iter().flat_map(|crossed| crossed.build_up.parts()) {
            let build_up = crossed.map(|crossed| (&crossed.build_up, crossed.indoor_k));
            storey.parts.push(PartFloor {
                room: storey.rooms.len(),
                regions: part.zone.regions.clone(),
                limit_k: part.zone.limit(job).peak.si(),
                floor: build_up.and_then(|(own, indoor_k)| floor(own, part.pairs(), indoor_k)),
            });
        }
        storey.rooms.push(number);
        storey.regions.push(region);
        storey.floors.push(crossed.and_then(|crossed| {
            floor(&crossed.build_up, crossed.build_up.pairs(), crossed.indoor_k)
        }));
        let own = design.loops.iter().enumerate().filter(|(_, it)| it.room == room.key);
        storey.loops.extend(own.map(|(number, _)| number));
    }
    storeys.retain(|storey| !storey.loops.is_empty());
    storeys
}

impl Floor {
    /// The ways for heat of a station in this floor, of which so much is its own; all that it sees
    /// where that is not known.
    pub(super) fn ways(&self, station: &Station, own_m2: Option<f64>) -> Ways {
        let mut ways =
            Ways { indoor_k: self.indoor_k, below_k: self.beyond.below_k, ..Ways::default() };
        let seen_m2 = station.sides.map(|side| side.half_m(WIDEST_M) * station.length_m);
        let both_m2 = seen_m2[0] + seen_m2[1];
        let share = own_m2.map_or(1.0, |own_m2| own_m2 / both_m2.max(1e-9));
        for (side, seen_m2) in station.sides.iter().zip(seen_m2) {
            let half_m = side.half_m(WIDEST_M);
            let area_m2 = share * seen_m2;
            let [room, below, through, _] = self.pairs.conductances(2.0 * half_m);
            ways.room += room * area_m2;
            ways.below += below * area_m2;
            ways.through += through * area_m2;
            ways.last += area_m2 / self.beyond.resistance_m2k_w;
            ways.edge_w += self.beyond.edge_w_m2 * area_m2;
        }
        ways
    }

    /// Conductance to the tube on one side for a station of that length, W/K; none if none is met.
    pub(super) fn exchange_w_k(&self, side: &Side, length_m: f64) -> Option<(usize, f64)> {
        let Meets::Tube(other) = side.meets else { return None };
        let [.., exchange] = self.pairs.conductances(side.gap_m);
        Some((other, exchange * length_m))
    }
}

impl Ways {
    /// All that meets in the underside.
    fn at_underside(&self) -> f64 {
        (self.below + self.through + self.last).max(1e-12)
    }

    /// Temperature of the underside below a tube of that temperature, kelvin.
    pub(super) fn underside_k(&self, tube_k: f64) -> f64 {
        let sum = self.below * tube_k + self.through * self.indoor_k + self.last * self.below_k;
        sum / self.at_underside()
    }

    /// Heat to the room above, past the tubes included, W.
    pub(super) fn up_w(&self, tube_k: f64) -> f64 {
        let underside_k = self.underside_k(tube_k);
        self.room * (tube_k - self.indoor_k) + self.through * (underside_k - self.indoor_k)
    }

    /// What leaves the tube for each kelvin of its own, W/K, and what would come to it at none, W.
    pub(super) fn loss_and_gain(&self) -> (f64, f64) {
        let back = self.below / self.at_underside();
        let loss_w_k = self.room + self.below - self.below * back;
        let from_below_w = back * (self.through * self.indoor_k + self.last * self.below_k);
        (loss_w_k, self.room * self.indoor_k + from_below_w - self.edge_w)
    }
}
