//! Marched floors and water as figures with their working.

use super::picture::{Picture, RoomPart};
use super::way::MarchedStorey;
use super::{LoopWarmth, RoomWarmth, Spot};
use crate::emitters::{WIDEST_M, peak_limit};
use crate::figure::{Figure, Work};
use crate::run::Settling;
use job::{Job, Room};
use plane::beside::Meets;
use quantity::{Area, Power, Ratio, Temperature};
use std::sync::Arc;

const MARCH: &str = "water marched along the tube, each tube with those beside it";

pub(super) struct Told<'a> {
    pub(super) job: &'a Job,
    pub(super) settling: &'a Settling,
}

impl Told<'_> {
    /// Rooms of all storeys, in the order of the text.
    pub(super) fn rooms(&self, marched: &[MarchedStorey], pictures: &[Picture]) -> Vec<RoomWarmth> {
        let mut rooms: Vec<(usize, RoomWarmth)> = Vec::new();
        for (storey, picture) in marched.iter().zip(pictures) {
            for (on_storey, part) in picture.rooms.iter().enumerate() {
                let number = storey.storey.rooms[on_storey];
                if let Some(part) = part {
                    let cell_m2 = picture.storey.grid.cell_m2();
                    rooms.push((number, self.room(storey, on_storey, part, cell_m2)));
                }
            }
        }
        rooms.sort_by_key(|(number, _)| *number);
        rooms.into_iter().map(|(_, room)| room).collect()
    }

    fn room(
        &self,
        storey: &MarchedStorey,
        on_storey: usize,
        part: &RoomPart,
        cell_m2: f64,
    ) -> RoomWarmth {
        let room = &self.job.rooms[storey.storey.rooms[on_storey]];
        let from = self.behind(room, storey, on_storey);
        let spot = |name: &str, (at, kelvin): (plane::Point, f64)| Spot {
            at,
            surface: Figure::settled(name, kelvin, MARCH, from.clone()),
        };
        let area = |name: &str, cells: usize, what: &str| {
            Figure::<Area>::taken_off(name, cells as f64 * cell_m2, what)
        };
        let floor = self.settling.design.emitters.floors.iter().find(|it| it.room == room.key);
        let balanced = floor.map(|floor| {
            let both = [floor.output.clone(), floor.leaders.clone()];
            Figure::sum("heat to the room by the balance, leaders included", &both)
        });
        let known = "squares of floor no farther from a tube than it warms, keep-outs left out";
        RoomWarmth {
            room: room.key.clone(),
            known: area("floor whose temperature is known", part.cells, known),
            hottest: spot("hottest spot of the floor", part.hottest),
            coolest: spot("coolest spot of the floor near tube", part.coolest),
            mean: Figure::settled("mean of the floor", part.mean_k(), MARCH, from.clone()),
            swing: swing_k(storey, on_storey).map(|kelvin| {
                let name = "from over a tube to midway to the next";
                let how = "mean over the length of all tube with other tube beside it";
                Figure::settled(name, kelvin, how, from.clone())
            }),
            limit: Figure::rule("hottest spot allowed", peak_limit(self.job, room)),
            over: area("floor hotter than allowed", part.over, "squares of the picture"),
            heat: Figure::<Power>::settled(
                "heat of all tube in the room",
                heat_w(storey, on_storey),
                MARCH,
                from,
            ),
            balanced,
        }
    }

    /// What a room's figures rest on: its floor, and the water that flows in it.
    fn behind(&self, room: &Room, storey: &MarchedStorey, on_storey: usize) -> Vec<Arc<Work>> {
        let design = &self.settling.design;
        let mut from = Vec::new();
        if let Some(floor) = design.emitters.floors.iter().find(|it| it.room == room.key) {
            from.push(floor.output_coefficient.work.clone());
        }
        let enclosure = design.envelope.enclosures.iter().find(|it| it.room == room.key);
        from.extend(enclosure.map(|it| it.indoor.work.clone()));
        for (own, number) in storey.storey.loops.iter().enumerate() {
            let mut stations = storey.stations.iter().zip(&storey.rooms);
            let here = stations.any(|(station, at)| station.path == own && *at == Some(on_storey));
            let flow = design.flows.loops.iter().find(|it| it.key == design.loops[*number].key);
            if let Some(flow) = flow.filter(|_| here) {
                from.extend([flow.supply.work.clone(), flow.mass_flow.work.clone()]);
            }
        }
        from
    }

    /// Loops of all storeys, in the order of the design.
    pub(super) fn loops(&self, marched: &[MarchedStorey]) -> Vec<LoopWarmth> {
        let mut loops: Vec<(usize, LoopWarmth)> = Vec::new();
        for storey in marched {
            for (own, number) in storey.storey.loops.iter().enumerate() {
                let told = self.one_loop(*number, storey.marched.strands[own]);
                loops.extend(told.map(|told| (*number, told)));
            }
        }
        loops.sort_by_key(|(number, _)| *number);
        loops.into_iter().map(|(_, told)| told).collect()
    }

    fn one_loop(&self, number: usize, end: solve::march::StrandEnd) -> Option<LoopWarmth> {
        let design = &self.settling.design;
        let key = &design.loops[number].key;
        let flow = design.flows.loops.iter().find(|flow| flow.key == *key)?;
        let from = vec![flow.supply.work.clone(), flow.mass_flow.work.clone()];
        let heat =
            Figure::<Power>::settled("heat that its water leaves", end.heat_w, MARCH, from.clone());
        let balanced_heat = Figure::sum(
            "the same by the balance",
            &[flow.heat_up.clone(), flow.heat_down.clone(), flow.leader_heat.clone()],
        );
        let more = heat.less("march less balance", &balanced_heat);
        let name = "difference as a share of the balance";
        let difference: Figure<Ratio> = Figure::quotient(name, &more.work, &balanced_heat.work);
        Some(LoopWarmth {
            key: key.clone(),
            supply: flow.supply.clone(),
            back: Figure::<Temperature>::settled("return temperature", end.back_c, MARCH, from),
            balanced_back: flow.back.clone(),
            heat,
            balanced_heat,
            difference,
        })
    }
}

/// From over a tube to midway to the next, kelvin: mean over all tube beside tube in the room.
fn swing_k(marched: &MarchedStorey, on_storey: usize) -> Option<f64> {
    let floor = marched.storey.floors[on_storey].as_ref()?;
    let wall_k = &marched.marched.wall_c;
    let (mut sum, mut length_m) = (0.0, 0.0);
    for (own, station) in marched.stations.iter().enumerate() {
        if station.region != Some(on_storey) {
            continue;
        }
        let underside = marched.ways[own].underside_k(wall_k[own]) - floor.indoor_k;
        for side in station.sides {
            let Meets::Tube(other) = side.meets else { continue };
            let excess = [own, other].map(|at| wall_k[at] - floor.indoor_k);
            let distance_m = 2.0 * side.half_m(WIDEST_M);
            let at = |away_m: f64, first: f64, second: f64| {
                let [a, b, c] = floor.pairs.shares(distance_m, away_m);
                a * first + b * second + c * underside
            };
            let over = 0.5 * (at(0.0, excess[0], excess[1]) + at(0.0, excess[1], excess[0]));
            let between = at(0.5 * distance_m, excess[0], excess[1]);
            sum += (over - between) * station.length_m;
            length_m += station.length_m;
        }
    }
    (length_m > 0.0).then(|| sum / length_m)
}

/// Heat that all tube in a room gives it, W.
fn heat_w(marched: &MarchedStorey, on_storey: usize) -> f64 {
    let all = marched.rooms.iter().zip(&marched.ways).zip(&marched.marched.wall_c);
    all.filter(|((room, _), _)| **room == Some(on_storey))
        .map(|((_, ways), wall_k)| ways.up_w(*wall_k))
        .sum()
}
