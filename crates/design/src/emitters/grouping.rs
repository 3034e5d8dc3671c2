//! Manifolds that one water can serve.

use super::choose::Choice;
use super::supply::supply_needed;
use crate::figure::Figure;
use crate::loops::Layout;
use crate::words::Words;
use job::{Finding, Job, Severity};
use quantity::{Measure, Quantity, Temperature};

/// Manifolds whose floors do with one water, warmest first.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitGroup {
    /// Each manifold by key, with the circuit that it is on now and the water that its floors need.
    pub manifolds: Vec<(String, Option<String>, Figure<Temperature>)>,
}

impl CircuitGroup {
    /// The warmest water among them.
    pub fn needs(&self) -> Option<&Figure<Temperature>> {
        self.manifolds.first().map(|(.., needs)| needs)
    }
}

/// Manifolds grouped so that within a group the waters differ by no more than the rule set says;
/// none where fewer than two manifolds have floors.
pub(crate) fn grouped(job: &Job, choice: &Choice, layouts: &[Layout]) -> Vec<CircuitGroup> {
    let mut needs: Vec<(String, Option<String>, Figure<Temperature>)> = Vec::new();
    for manifold in &job.manifolds {
        let on_it = |room: &str| {
            layouts.iter().any(|it| it.room == room && it.manifold.value == manifold.key)
        };
        let own = choice.floors.iter().filter(|floor| floor.tubed && on_it(&floor.room));
        let heard = own.filter(|floor| {
            let voices = choice.voices(floor.circuit.as_deref());
            voices.iter().any(|voice| voice.room == floor.room)
        });
        let each: Vec<Figure<Temperature>> = heard
            .map(|floor| {
                let name = format!("water that {} needs", floor.room);
                let how =
                    "supply whose logarithmic mean with the design drop gives the heat needed";
                let from = [&floor.flux_needed.work, &floor.coefficient.work, &choice.drop.work];
                let kelvin = supply_needed(floor, &choice.drop);
                Figure::settled(name, kelvin, how, from.map(Clone::clone).to_vec())
            })
            .collect();
        let circuit = manifold.circuit.as_ref().map(|circuit| circuit.value.clone());
        let most = Figure::largest(format!("water that {} needs", manifold.key), &each);
        needs.extend(most.map(|most| (manifold.key.clone(), circuit, most)));
    }
    if needs.len() < 2 {
        return Vec::new();
    }
    needs.sort_by(|a, b| b.2.si().total_cmp(&a.2.si()));
    let spread_k = job.rules.circuit_spread.value.si();
    let mut groups: Vec<CircuitGroup> = Vec::new();
    for own in needs {
        match groups.last_mut() {
            Some(group) if group.needs().is_some_and(|most| most.si() - own.2.si() <= spread_k) => {
                group.manifolds.push(own);
            }
            _ => groups.push(CircuitGroup { manifolds: vec![own] }),
        }
    }
    groups
}

/// Manifolds that are on a circuit whose water is far warmer than their floors need.
pub(crate) fn judge(job: &Job, groups: &[CircuitGroup], findings: &mut Vec<Finding>) {
    let words = Words { first: job.units.value };
    let all = || groups.iter().flat_map(|group| &group.manifolds);
    for (manifold, circuit, needs) in all() {
        let same = all().filter(|(_, other, _)| other == circuit);
        let most_k = same.map(|(.., needs)| needs.si()).fold(needs.si(), f64::max);
        let (rule, apart_k) = (&job.rules.circuit_spread, most_k - needs.si());
        if apart_k <= rule.si() {
            continue;
        }
        let message = format!(
            "its floors would do with {}; the water of its circuit must be {}",
            words.temperature(needs.si()),
            words.temperature(most_k)
        );
        let advice =
            "a circuit of its own with its own mixing valve keeps its rooms from overheating";
        let place = job.manifolds.iter().find(|own| own.key == *manifold).map(|own| own.place);
        findings.push(
            Finding::new(
                Severity::Note,
                "circuit-too-wide",
                format!("manifold.{manifold}"),
                message,
                advice,
            )
            .at(place)
            .amount(apart_k)
            .limit(
                format!("waters within {}", words.both(rule.si(), Measure::TemperatureDifference)),
                rule.citation(),
            ),
        );
    }
}
