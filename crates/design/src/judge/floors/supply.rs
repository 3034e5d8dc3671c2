//! The water of floors: too hot for their screed, or set by one room for all.

use super::super::mends::{closer_than, hold_spacing, released_supply};
use super::{Case, place};
use crate::emitters::{Floor, Water, supply_needed};
use crate::figure::{Figure, How};
use crate::hold::circuit_path;
use job::{Finding, Reason, Severity};
use quantity::{Length, Quantity};

/// A room that needs water warmer than all others by this much is worth a look, kelvin.
const GOVERNS_BY_K: f64 = 1.0;

/// Supply against what the floor's screed takes.
pub(super) fn supply(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for water in &case.choice.waters {
        too_hot(case, water, findings);
    }
}

fn too_hot(case: &Case<'_>, water: &Water, findings: &mut Vec<Finding>) {
    let supply = &water.supply;
    // The rule is about screed and slab; other floors have limits of their own.
    let own = case.choice.floors.iter().filter(|floor| floor.circuit == water.circuit);
    if !own.clone().any(|floor| floor.build_up.is_wet) {
        return;
    }
    let rule = &case.job.rules.supply_slab;
    let over_k = supply.value.si() - rule.value.si();
    if over_k <= 1e-6 {
        return;
    }
    let words = case.words();
    let message = format!("the water is held at {}", words.temperature(supply.value.si()));
    let mut finding = Finding::new(
        Severity::Stop,
        "supply-too-hot",
        water.circuit.as_deref().map_or("heating.supply".to_owned(), circuit_path),
        message,
        "hold it cooler or leave it to the design",
    )
    .at(match supply.reason {
        Reason::Held(place) => Some(place),
        _ => None,
    })
    .amount(over_k)
    .limit(words.temperature(rule.value.si()), rule.citation());
    finding.mends.extend(released_supply(case, water.circuit.as_deref()));
    findings.push(finding);
}

/// The room that sets the water temperature for all, if it alone does and closer tube helps.
pub(super) fn governing(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for water in &case.choice.waters {
        if !case.loops.is_empty() && !water.supply.is_held() {
            governs(case, water, findings);
        }
    }
}

fn governs(case: &Case<'_>, water: &Water, findings: &mut Vec<Finding>) {
    let room = &water.governing;
    // Needs as the supply was chosen by them: before leaders' heat is known.
    let needed = |floor: &Floor| supply_needed(floor, &case.choice.drop);
    let others = case.choice.floors.iter().filter(|floor| floor.circuit == water.circuit);
    let others = others.filter(|floor| floor.room != *room);
    let next_k = others.map(needed).fold(f64::NEG_INFINITY, f64::max);
    let Some(floor) = case.choice.floors.iter().find(|floor| floor.room == *room) else { return };
    let Some(spacing) = closer_than(case.job, floor.spacing.value.si()).first().copied() else {
        return;
    };
    let Some(closer_k) = supply_with(case, floor, spacing.si()) else { return };
    let would_k = closer_k.max(next_k);
    if needed(floor) - would_k < GOVERNS_BY_K {
        return;
    }
    let words = case.words();
    let message = format!(
        "sets the water temperature for all: it needs {}; at {} all could do with {}",
        words.temperature(needed(floor)),
        words.small(spacing.si()),
        words.temperature(would_k)
    );
    findings.push(
        Finding::new(
            Severity::Note,
            "governs-supply",
            format!("room.{room}"),
            message,
            "cooler water costs less to make; weigh it against the extra tube",
        )
        .at(place(case, floor))
        .amount(needed(floor))
        .mend(hold_spacing(case.job, room, "closer", spacing)),
    );
}

/// Supply temperature that a floor would need at another spacing.
fn supply_with(case: &Case<'_>, floor: &Floor, spacing_m: f64) -> Option<f64> {
    let spacing = Figure::<Length>::new("spacing", spacing_m, How::Decided(String::new()));
    let coefficient = floor.build_up.output_coefficient(&spacing, floor.tube_w_mk).ok()?;
    let response = floor.build_up.response(spacing_m, floor.tube_w_mk).ok()?;
    let closer = Floor { coefficient, response, ..floor.clone() };
    Some(supply_needed(&closer, &case.choice.drop))
}
