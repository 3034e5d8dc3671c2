//! The water temperature of each circuit.

use super::choose::Choice;
use super::floor::Floor;
use crate::figure::Figure;
use crate::words::Words;
use job::{Decided, Decision, DropRule, Job, Reason, Rule, SupplyRule};
use laws::panel as law;
use quantity::{Measure, Quantity, Temperature, TemperatureDifference};

/// Water of one temperature, for the floors of one circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Water {
    /// The circuit, by key; none where the job names none.
    pub circuit: Option<String>,
    /// Supply temperature on the design day.
    pub supply: Decided<Temperature>,
    /// The room that sets it.
    pub governing: String,
}

/// How water is shared among the floors of a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterRule {
    /// Which rooms set the supply temperature.
    pub supply_for: Decided<SupplyRule>,
    /// How far the water cools in each loop.
    pub drops: Decided<DropRule>,
}

impl WaterRule {
    /// As the text holds it, or as the rule set has it.
    pub(super) fn of(job: &Job) -> Self {
        let rules = &job.rules;
        WaterRule {
            supply_for: job.heating.supply_for.or_else(|| by_rule(&rules.supply_for)),
            drops: job.heating.drops.or_else(|| by_rule(&rules.drops)),
        }
    }

    /// Least and most that the water may cool in a loop, kelvin, beside that design drop.
    pub(crate) fn drops_k(&self, job: &Job, design_k: f64) -> [f64; 2] {
        match self.drops.value {
            DropRule::Equal => [design_k, design_k],
            DropRule::Own => {
                let (least, most) = (&job.rules.drop_least, &job.rules.drop_most);
                [least.value.si().min(design_k), most.value.si().max(design_k)]
            }
        }
    }
}

fn by_rule<T: Clone>(rule: &Rule<T>) -> Decided<T> {
    Decided { value: rule.value.clone(), reason: Reason::Rule(rule.citation()) }
}

impl Choice {
    /// Takes for each circuit the supply that its floors do with, unless the text holds one.
    pub(super) fn decide_supply(&mut self, job: &Job) {
        let mut waters: Vec<Water> = Vec::new();
        for floor in self.floors.iter().filter(|floor| floor.tubed) {
            let circuit = floor.circuit.as_deref();
            if waters.iter().any(|water| water.circuit.as_deref() == circuit) {
                continue;
            }
            let needs =
                self.voices(circuit).into_iter().map(|own| (own, supply_needed(own, &self.drop)));
            let governing = needs.reduce(|best, need| if best.1 >= need.1 { best } else { need });
            waters.extend(governing.map(|(governing, kelvin)| Water {
                circuit: floor.circuit.clone(),
                supply: decide_supply(job, circuit, &governing.room, kelvin),
                governing: governing.room.clone(),
            }));
        }
        self.waters = waters;
    }

    /// Floors of a circuit that have a say in its water: baths only where no other room is on it,
    /// if the rule leaves them out.
    pub(crate) fn voices(&self, circuit: Option<&str>) -> Vec<&Floor> {
        let own = |floor: &&Floor| floor.tubed && floor.circuit.as_deref() == circuit;
        let all: Vec<&Floor> = self.floors.iter().filter(own).collect();
        let others: Vec<&Floor> = all.iter().copied().filter(|floor| !floor.is_bath).collect();
        match self.rule.supply_for.value {
            SupplyRule::AllButBaths if !others.is_empty() => others,
            SupplyRule::AllButBaths | SupplyRule::AllRooms => all,
        }
    }
}

fn decide_supply(
    job: &Job,
    circuit: Option<&str>,
    room: &str,
    needed_k: f64,
) -> Decided<Temperature> {
    held_supply(job, circuit).or_else(|| {
        let words = Words { first: job.units.value };
        // A whole degree up, so that the governing room has a little in hand.
        let scale = Measure::Temperature.shown_unit(job.units.value);
        let rounded_k = scale.to_si((scale.from_si(needed_k) - 1e-6).ceil());
        let why = format!(
            "room {room} needs {}, rounded up to a whole {}",
            words.temperature(needed_k),
            scale.symbol
        );
        let most_k = job.rules.supply_slab.value.si();
        if rounded_k <= most_k {
            Decided::chosen(Temperature::from_si(rounded_k), why)
        } else {
            let citation = job.rules.supply_slab.citation();
            let reason = Reason::Rule(format!("hottest water for this floor: {citation}"));
            Decided { value: Temperature::from_si(most_k), reason }
        }
    })
}

/// The supply that the text holds for a circuit: its own, or that of the heating.
pub(super) fn held_supply<'a>(job: &'a Job, circuit: Option<&str>) -> &'a Decision<Temperature> {
    let own = job.circuits.iter().find(|own| Some(own.key.as_str()) == circuit);
    match own.map(|own| &own.supply) {
        Some(held @ Decision::Held(_)) => held,
        _ => &job.heating.supply,
    }
}

/// Supply temperature at which a floor just gives what it must, with the design drop.
pub(crate) fn supply_needed(floor: &Floor, drop: &Figure<TemperatureDifference>) -> f64 {
    let target = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    supply_for(target, floor.lacking_w_m2(), floor.coefficient.si(), floor.indoor.si(), drop.si())
}

/// Supply temperature in kelvin for a heat per area; that of the room if no heat is needed.
///
/// `lacking_w_m2` is what the room loses through its floor past the tubes and what the slab's edge
/// keeps from it, to be made up as well.
pub(crate) fn supply_for(
    flux_w_m2: f64,
    lacking_w_m2: f64,
    coefficient_w_m2k: f64,
    room_k: f64,
    drop_k: f64,
) -> f64 {
    if flux_w_m2 <= 0.0 || flux_w_m2 + lacking_w_m2 <= 0.0 {
        return room_k;
    }
    let excess_k = law::required_excess(flux_w_m2 + lacking_w_m2, coefficient_w_m2k);
    // The exact inverse of the logarithmic mean: excess = drop / ln(supply / (supply - drop)).
    room_k + drop_k / -(-drop_k / excess_k).exp_m1()
}
