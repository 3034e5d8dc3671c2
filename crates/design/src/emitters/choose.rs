//! Spacing of each floor, and the water temperature that serves them all.

use super::below::Surroundings;
use super::build_up::build_up;
use super::floor::{Floor, floor};
use super::section::Sections;
use super::spacing::likely_circuit;
use super::supply::{Water, WaterRule};
use super::untold::{incomplete, unchecked};
use crate::balance::Crossed;
use crate::envelope::Envelope;
use crate::figure::{Figure, How};
use crate::loads::{Loads, Weather};
use crate::loops::TubeLoop;
use job::{Decided, Decision, Finding, Job, Reason, Severity, Tube};
use quantity::{Length, Power, Quantity, Temperature, TemperatureDifference};

/// What was chosen for all floors together.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) floors: Vec<Floor>,
    /// Water of each circuit that has a floor, in the order of floors.
    pub(crate) waters: Vec<Water>,
    pub(crate) drop: Figure<TemperatureDifference>,
    pub(crate) rule: WaterRule,
    /// Rooms whose floor could carry leaders, heated or not.
    pub(crate) crossed: Vec<Crossed>,
}

pub(super) fn decide_tube(job: &Job) -> Decided<String> {
    job.heating.tube.or_else(|| Decided {
        value: job.rules.tube.value.clone(),
        reason: Reason::Rule(job.rules.tube.citation()),
    })
}

/// The tube of the job, held or usual; none with a finding if the catalogue lacks it.
fn tube<'a>(job: &'a Job, findings: &mut Vec<Finding>) -> Option<&'a Tube> {
    let key = decide_tube(job).value;
    let found = job.catalogue.tube(&key);
    if found.is_none() {
        let place = job.heating.tube.held().map(|stated| stated.place);
        findings.push(
            Finding::new(
                Severity::Stop,
                "no-tube",
                "heating.tube",
                format!("no tube `{key}` in the catalogue"),
                "write one of the catalogue's tubes",
            )
            .at(place),
        );
    }
    found
}

/// Decides the spacing of each floor; the supply temperature follows once loops are laid.
pub(crate) fn choose(
    job: &Job,
    envelope: &Envelope,
    loads: &Loads,
    weather: Option<&Weather>,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Choice {
    let drop = match &job.heating.drop {
        Decision::Held(held) => {
            Figure::new("design temperature drop", held.value.si(), How::Stated(held.place))
        }
        Decision::Open => Figure::rule("design temperature drop", &job.rules.drop),
    };
    let (mut floors, mut crossed) = (Vec::new(), Vec::new());
    let tube = tube(job, findings);
    if let (Some(tube), Some(weather)) = (tube, weather) {
        let around = Surroundings { job, envelope, loads, weather };
        crossed.extend(crossed_rooms(&around, tube, sections));
        for loss in &loads.rooms {
            let Some(number) = job.rooms.iter().position(|room| room.key == loss.room) else {
                continue;
            };
            match floor(&around, number, loss, tube, &drop, sections) {
                Ok(floor) => floors.extend(floor),
                Err(why) => findings.push(incomplete(&job.rooms[number], &why)),
            }
        }
    }
    findings.extend(unchecked(job, &floors));
    Choice { floors, waters: Vec::new(), drop, rule: WaterRule::of(job), crossed }
}

impl Choice {
    /// The supply of a circuit.
    pub(crate) fn supply(&self, circuit: Option<&str>) -> Option<&Decided<Temperature>> {
        let own = self.waters.iter().find(|water| water.circuit.as_deref() == circuit);
        own.map(|water| &water.supply)
    }

    /// The same in kelvin; that of the hottest circuit where it has none of its own.
    pub(crate) fn supply_k(&self, circuit: Option<&str>) -> Option<f64> {
        let all = || self.waters.iter().map(|water| water.supply.value.si());
        self.supply(circuit).map(|supply| supply.value.si()).or_else(|| all().reduce(f64::max))
    }

    /// The choice for loops as laid: each floor's output by its spacing on average, then the supply.
    ///
    /// A floor that only leaders warm has no say in the water temperature.
    pub(crate) fn as_laid(&self, job: &Job, loops: &[TubeLoop]) -> Choice {
        let mut laid = self.clone();
        for floor in &mut laid.floors {
            let own: Vec<&TubeLoop> =
                loops.iter().filter(|own| own.floor_in(&floor.room).is_some()).collect();
            if !floor.build_up.is_in_floor() && own.is_empty() {
                // Its loops are not drawn: it asks for the water of the circuit meant for it.
                floor.circuit = likely_circuit(job, &job.rooms[floor.number]).map(str::to_owned);
                continue;
            }
            let Some(apart_m) = floor.build_up.apart_m(own.iter().copied()) else {
                floor.tubed = loops.is_empty();
                continue;
            };
            let what = "floor of its loops over tube in their fields, or by its joists";
            let spacing = Figure::<Length>::taken_off("tube spacing as laid", apart_m, what);
            floor.circuit = own.first().and_then(|own| own.circuit.clone());
            floor.spacing_laid = spacing;
            floor.answers();
            let parts = own.iter().filter_map(|own| own.floor_in(&floor.room));
            let areas: Vec<_> = parts.map(|part| part.area.clone()).collect();
            floor.area = Figure::sum("floor of its loops", &areas);
            floor.needs_less(None);
        }
        laid.decide_supply(job);
        laid
    }

    /// The choice once each floor's flow and the leaders' heat in it are known.
    ///
    /// `tubes_w_mk` is the conductance from fluid to the outside of the tube, by floor.
    pub(crate) fn credited(
        &self,
        job: &Job,
        credits: &[Figure<Power>],
        tubes_w_mk: &[f64],
    ) -> Choice {
        let mut credited = self.clone();
        let known = credits.iter().zip(tubes_w_mk);
        for (floor, (credit, tube_w_mk)) in credited.floors.iter_mut().zip(known) {
            floor.tube_w_mk = *tube_w_mk;
            floor.answers();
            floor.needs_less(Some(credit));
        }
        credited.decide_supply(job);
        credited
    }
}

/// What leaders would give each room whose floor could hold them.
fn crossed_rooms(around: &Surroundings<'_>, tube: &Tube, sections: &mut Sections) -> Vec<Crossed> {
    let rooms = around.job.rooms.iter().zip(&around.envelope.enclosures);
    rooms
        .filter_map(|(room, enclosure)| {
            enclosure.floor.as_ref()?;
            let build_up = build_up(around, enclosure, room, tube, sections).ok()?;
            let room = room.key.clone();
            Some(Crossed { room, indoor_k: enclosure.indoor.si(), build_up })
        })
        .collect()
}
