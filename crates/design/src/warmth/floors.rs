//! Rooms of one storey as the marched water sees them.

use crate::emitters::{Beyond, Pairs, WIDEST_M};
use crate::run::Settling;
use job::Job;
use plane::Region;
use plane::beside::{Meets, Side, Station};
use std::sync::Arc;

/// One storey: rooms with outlines, what their floors are made of, and tube on them.
pub(super) struct Storey<'a> {
    pub(super) key: Option<&'a str>,
    /// Rooms that have an outline, by their number in the job.
    pub(super) rooms: Vec<usize>,
    pub(super) regions: Vec<&'a Region>,
    /// The floor of each of them; none where it cannot be told.
    pub(super) floors: Vec<Option<Floor>>,
    /// Loops on this storey, by their number in the design.
    pub(super) loops: Vec<usize>,
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
            storeys.push(Storey { key, rooms, regions, floors, loops });
            storeys.len() - 1
        });
        let storey = &mut storeys[place];
        let crossed = settling.choice.crossed.iter().find(|crossed| crossed.room == room.key);
        storey.rooms.push(number);
        storey.regions.push(region);
        storey.floors.push(crossed.and_then(|crossed| {
            Some(Floor {
                indoor_k: crossed.indoor_k,
                pairs: crossed.build_up.pairs()?,
                beyond: crossed.build_up.beyond(),
            })
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
