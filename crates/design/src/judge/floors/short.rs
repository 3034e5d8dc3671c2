//! Floors that give less than their rooms need.

use super::super::mends::{closer_spacings, warmer_supplies};
use super::{Case, SHORT_SHARE, helped, place};
use crate::emitters::{Floor, HeatedFloor};
use job::{Edit, Finding, Mend, Promise, Severity, SupplyRule};
use quantity::Quantity;

/// A floor that may give enough, but does not with this spacing and this water.
pub(super) fn short(
    case: &Case<'_>,
    floor: &Floor,
    heated: &HeatedFloor,
    findings: &mut Vec<Finding>,
) {
    let words = case.words();
    let may_w = floor.flux_limit.si().max(0.0) * floor.area.si();
    let wanted_w = heated.needed.si().min(may_w);
    let short_w = wanted_w - heated.output.si();
    if short_w <= SHORT_SHARE * wanted_w.max(1.0) {
        return;
    }
    if !floor.tubed {
        findings.extend(leaders_fall_short(case, floor, heated, short_w));
        return;
    }
    let helped_w = case.emitters.helped_w(&floor.room);
    if helped_w >= short_w {
        findings.push(helped(case, floor, short_w, helped_w));
        return;
    }
    let circuit = floor.circuit.as_deref();
    let heard = case.choice.voices(circuit).iter().any(|voice| voice.room == floor.room);
    if !heard {
        findings.push(bath_short(case, floor, short_w - helped_w.max(0.0)));
        return;
    }
    let supply_k = case.choice.supply_k(circuit).unwrap_or(0.0);
    let spacing = words.small(floor.spacing.value.si());
    let message = format!(
        "the floor falls short by {} of {}: tube at {spacing}, water at {}",
        words.power(short_w),
        words.power(wanted_w),
        words.temperature(supply_k)
    );
    let mut finding = Finding::new(
        Severity::Stop,
        "floor-short",
        format!("room.{}", floor.room),
        message,
        "lay the tube closer, or run warmer water",
    )
    .at(place(case, floor))
    .amount(short_w);
    let spacing_m = floor.spacing.value.si();
    finding.mends.extend(closer_spacings(case.job, &floor.room, spacing_m));
    finding.mends.extend(warmer_supplies(case, circuit, heated.supply_needed.si()));
    findings.push(finding);
}

/// A bath without a say in the water, which falls short with what the other rooms need.
fn bath_short(case: &Case<'_>, floor: &Floor, short_w: f64) -> Finding {
    let words = case.words();
    let supply_k = case.choice.supply_k(floor.circuit.as_deref()).unwrap_or(0.0);
    let message = format!(
        "its floor lacks {} with the water that the other rooms need, {}; nothing in the job covers it",
        words.power(short_w),
        words.temperature(supply_k)
    );
    let advice = "a towel rail or another emitter that gives as much, closer tube, or let baths set \
                  the supply too";
    let mut finding =
        Finding::new(Severity::Warn, "bath-short", format!("room.{}", floor.room), message, advice)
            .at(place(case, floor))
            .amount(short_w);
    let rule = &case.job.rules.supply_for;
    if case.job.heating.supply_for.held().is_none() {
        finding = finding.limit("baths have no say in the supply".to_owned(), rule.citation());
    }
    finding.mends.extend(closer_spacings(case.job, &floor.room, floor.spacing.value.si()));
    finding.mends.push(Mend {
        words: "warmer supply: let baths set it too".to_owned(),
        edits: vec![Edit::Set {
            path: "heating.supply_for".to_owned(),
            value: SupplyRule::AllRooms.word().to_owned(),
        }],
        promise: Promise::Goes,
    });
    finding
}

/// A room that only leaders warm, if what they give is worth adding to.
///
/// A room whose loops were refused has been told already.
fn leaders_fall_short(
    case: &Case<'_>,
    floor: &Floor,
    heated: &HeatedFloor,
    short_w: f64,
) -> Option<Finding> {
    let words = case.words();
    let passed = case.loops.iter().flat_map(|tube_loop| &tube_loop.leader.passed);
    let crossed = passed.filter(|passed| passed.room == floor.room).count();
    (crossed > 0).then(|| {
        Finding::new(
            Severity::Warn,
            "leaders-fall-short",
            format!("room.{}", floor.room),
            format!(
                "has no loop of its own; leaders give it {} and {} are missing",
                words.power(heated.leaders.si()),
                words.power(short_w)
            ),
            "let a door stand open to a warmer room, or give it another emitter",
        )
        .at(place(case, floor))
        .amount(short_w)
    })
}
