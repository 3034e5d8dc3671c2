//! Which room sets the water of each circuit, and what would let all do with cooler water.

use super::choose::Choice;
use super::floor::Floor;
use super::section::Sections;
use super::spacing::spacings_for;
use super::supply::{supply_for, supply_needed};
use crate::figure::{Figure, Work};
use crate::words::Words;
use job::{Finish, FinishKind, Job};
use quantity::{Power, Quantity, Temperature, TemperatureDifference};
use std::sync::Arc;

/// Cooling of the water that is worth a line, kelvin.
const WORTH_K: f64 = 0.5;

/// Savings that differ by less are the same, kelvin.
const SAME_K: f64 = 0.1;

/// What sets the water of one circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Governed {
    /// The circuit, by key; none where the job names none.
    pub circuit: Option<String>,
    /// The room that needs the warmest water, by key.
    pub room: String,
    /// What it needs.
    pub needs: Figure<Temperature>,
    /// The room that comes next, and what it needs; none where it is alone.
    pub next: Option<(String, Figure<Temperature>)>,
    /// What would let all do with cooler water, best first.
    pub ways: Vec<Way>,
}

/// One change to the room that sets the water.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What is changed, in words.
    pub what: String,
    /// What the room needs then.
    pub room_needs: Figure<Temperature>,
    /// What all rooms of the circuit need then.
    pub all_need: Figure<Temperature>,
    /// How much cooler that is.
    pub saves: Figure<TemperatureDifference>,
}

/// What sets the water of each circuit that has a floor.
pub(crate) fn governed(job: &Job, choice: &Choice, sections: &mut Sections) -> Vec<Governed> {
    let waters = choice.waters.iter();
    waters.filter_map(|water| of_circuit(job, choice, water.circuit.as_deref(), sections)).collect()
}

fn of_circuit(
    job: &Job,
    choice: &Choice,
    circuit: Option<&str>,
    sections: &mut Sections,
) -> Option<Governed> {
    let mut voices: Vec<(&Floor, f64)> = choice
        .voices(circuit)
        .into_iter()
        .map(|floor| (floor, supply_needed(floor, &choice.drop)))
        .collect();
    voices.sort_by(|a, b| b.1.total_cmp(&a.1));
    let (floor, needs_k) = *voices.first()?;
    let figure = |floor: &Floor, kelvin: f64| {
        let name = format!("water that {} needs", floor.room);
        let how = "supply whose logarithmic mean with the design drop gives the heat needed";
        Figure::settled(name, kelvin, how, works(choice, floor))
    };
    let needs = figure(floor, needs_k);
    let next = voices.get(1).map(|(floor, kelvin)| (floor.room.clone(), figure(floor, *kelvin)));
    let room = Room { job, choice, floor, needs: &needs, next: next.as_ref().map(|next| &next.1) };
    let mut ways = room.spacings();
    ways.extend(room.finishes(sections));
    ways.extend(room.emitter());
    ways.retain(|way| way.saves.si() >= WORTH_K);
    ways.sort_by(|a, b| b.saves.si().total_cmp(&a.saves.si()));
    Some(Governed {
        circuit: circuit.map(str::to_owned),
        room: floor.room.clone(),
        needs,
        next,
        ways,
    })
}

fn works(choice: &Choice, floor: &Floor) -> Vec<Arc<Work>> {
    let own = [&floor.flux_needed.work, &floor.coefficient.work, &floor.indoor.work];
    own.into_iter().chain([&choice.drop.work]).cloned().collect()
}

/// The room that sets the water, and what the others need.
struct Room<'a> {
    job: &'a Job,
    choice: &'a Choice,
    floor: &'a Floor,
    needs: &'a Figure<Temperature>,
    next: Option<&'a Figure<Temperature>>,
}

impl Room<'_> {
    /// The change in words, with what the room needs after it; none if that cannot be told.
    fn way(&self, what: String, room_k: Option<f64>, from: Vec<Arc<Work>>) -> Option<Way> {
        let name = format!("water that {} would need", self.floor.room);
        let room_needs = Figure::settled(name, room_k?, format!("as now, with {what}"), from);
        let mut all = vec![room_needs.clone()];
        all.extend(self.next.cloned());
        let all_need = Figure::largest("water that all would need", &all)?;
        let saved_k = self.needs.si() - all_need.si();
        let how = "what the room needs now less what all would need";
        let from = vec![self.needs.work.clone(), all_need.work.clone()];
        let saves = Figure::settled("cooler by", saved_k, how, from);
        Some(Way { what, room_needs, all_need, saves })
    }

    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }

    /// Every closer spacing that the floor takes.
    fn spacings(&self) -> Vec<Way> {
        let floor = self.floor;
        let now_m = floor.spacing_laid.si().min(floor.spacing.value.si());
        let closer = spacings_for(self.job, &floor.build_up).into_iter();
        let closer = closer.filter(|spacing| spacing.si() < now_m - 1e-6);
        let way = |spacing: quantity::Length| {
            let response = floor.build_up.response(spacing.si(), floor.tube_w_mk).ok()?;
            let what = format!("tube at {}", self.words().small(spacing.si()));
            self.way(what, Some(self.supply_k(&response, floor)), works(self.choice, floor))
        };
        // A closer one that saves no more than a wider one is none.
        let mut ways: Vec<Way> = Vec::new();
        for way in closer.filter_map(way) {
            let known = ways.last().map_or(0.0, |wider| wider.saves.si());
            if way.saves.si() > known + SAME_K {
                ways.push(way);
            }
        }
        ways
    }

    /// The finish of each kind that lets most heat through, where it lets more than the present one.
    fn finishes(&self, sections: &mut Sections) -> Vec<Way> {
        let floor = self.floor;
        let now = &self.job.rooms[floor.number].finish.value;
        let Some(now) = self.job.catalogue.finish(now) else { return Vec::new() };
        let mut best: Vec<&Finish> = Vec::new();
        for finish in &self.job.catalogue.finishes {
            let lets_more = finish.resistance.si() < now.resistance.si() - 1e-6;
            if !lets_more || finish.kind == FinishKind::Bare {
                continue;
            }
            match best.iter_mut().find(|known| known.kind == finish.kind) {
                Some(known) if finish.resistance.si() < known.resistance.si() => *known = finish,
                Some(_) => {}
                None => best.push(finish),
            }
        }
        let mut ways = Vec::new();
        for finish in best {
            let other = floor.build_up.refinished(finish, sections);
            let response = other.response(floor.spacing_laid.si(), floor.tube_w_mk).ok();
            let supply_k = response.map(|response| self.supply_k(&response, floor));
            let what = format!("{} instead of {}", finish.name, now.name);
            ways.extend(self.way(what, supply_k, works(self.choice, floor)));
        }
        ways
    }

    /// Another emitter that gives what the floor lacks with the water that the next room needs.
    fn emitter(&self) -> Option<Way> {
        let (floor, next) = (self.floor, self.next?);
        let drop_k = self.choice.drop.si();
        let supply_excess_k = next.si() - floor.indoor.si();
        let drop_k = drop_k.min(0.95 * supply_excess_k).max(0.0);
        let excess_k =
            laws::panel::logarithmic_excess(next.si(), next.si() - drop_k, floor.indoor.si());
        let beyond = floor.build_up.beyond();
        let up_w_m2 = floor.response.up_w_m2(excess_k, floor.indoor.si(), &beyond).max(0.0);
        let wanted_w_m2 = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
        let lacking_w = (wanted_w_m2 - up_w_m2) * floor.area.si();
        if !lacking_w.is_finite() || lacking_w <= 0.0 {
            return None;
        }
        let mut from = works(self.choice, floor);
        let lacking: Figure<Power> = Figure::settled(
            "heat of another emitter",
            lacking_w,
            "what the floor needs less what it gives with the water that the next room needs",
            vec![floor.flux_needed.work.clone(), floor.area.work.clone(), next.work.clone()],
        );
        from.push(lacking.work);
        let what = format!("another emitter of {}", self.words().power(lacking_w));
        self.way(what, Some(next.si()), from)
    }

    fn supply_k(&self, response: &super::Response, floor: &Floor) -> f64 {
        let target = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
        let room_k = floor.indoor.si();
        let lacking_w_m2 = response.lacking_w_m2(room_k, &floor.build_up.beyond());
        supply_for(target, lacking_w_m2, response.room, room_k, self.choice.drop.si())
    }
}
