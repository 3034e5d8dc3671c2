//! Floors: what they must give against what they may and can.

mod hot;
mod short;
mod supply;

use super::Case;
use crate::emitters::{Floor, HeatedFloor};
use crate::envelope::{Behind, FaceKind};
use crate::figure::{Figure, How};
use job::{Finding, Severity};
use quantity::{Measure, Quantity};

/// Heat by which a floor may fall short before it counts, as a share of the need.
const SHORT_SHARE: f64 = 0.01;

pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for floor in &case.choice.floors {
        let heated = case.emitters.floors.iter().find(|heated| heated.room == floor.room);
        let Some(heated) = heated else { continue };
        too_warm(case, floor, heated, findings);
        short::short(case, floor, heated, findings);
        hot::over_limit(case, floor, heated, findings);
        findings.extend(hot::hot_spot(case, floor));
        findings.extend(hot::rugs(case, floor));
        hot::over_heated(case, floor, heated, findings);
        insulation(case, floor, findings);
    }
    without_tube(case, findings);
    supply::supply(case, findings);
    supply::governing(case, findings);
}

/// Rooms that are to be heated by their floor and have none to lay tube in.
fn without_tube(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (room, enclosure) in case.job.rooms.iter().zip(&case.envelope.enclosures) {
        let has_area = enclosure.area.as_ref().is_some_and(|area| area.si() > 0.0);
        if !room.heated.value || !enclosure.free.is_empty() || !has_area {
            continue;
        }
        let (severity, message, advice) = if enclosure.floor.is_some() {
            let advice = "take a keep-out away, or set `heated = false`";
            (Severity::Stop, "is to be heated, but keep-outs leave no floor for tube", advice)
        } else {
            let advice = "tape its outline when you can; until then it has a load and no loops";
            (Severity::Warn, "is to be heated, but has no outline to lay tube in", advice)
        };
        let subject = format!("room.{}", room.key);
        findings.push(
            Finding::new(severity, "no-floor-for-tube", subject, message, advice).at(room.place),
        );
    }
}

/// A floor that would have to be warmer than it may be.
fn too_warm(case: &Case<'_>, floor: &Floor, heated: &HeatedFloor, findings: &mut Vec<Finding>) {
    let words = case.words();
    let over = heated.flux_needed.si() - floor.flux_limit.si().max(0.0);
    if over <= SHORT_SHARE * floor.flux_limit.si().max(1.0) {
        return;
    }
    let missing_w = over * floor.area.si();
    let helped_w = case.emitters.helped_w(&floor.room);
    if helped_w >= missing_w {
        findings.push(helped(case, floor, missing_w, helped_w));
        return;
    }
    let missing_w = missing_w - helped_w;
    let message = format!(
        "the floor alone cannot carry it: it must give {}, and may give {}; {} are missing",
        words.both(heated.flux_needed.si(), Measure::HeatFlux),
        words.both(floor.flux_limit.si().max(0.0), Measure::HeatFlux),
        words.power(missing_w)
    );
    let (value, source) = (words.temperature(floor.limit.si()), rule_of(&floor.limit));
    findings.push(
        Finding::new(
            Severity::Stop,
            "floor-too-warm",
            format!("room.{}", floor.room),
            message,
            "add a second emitter, better the envelope, or agree a lower room temperature",
        )
        .at(place(case, floor))
        .amount(missing_w)
        .limit(value, source),
    );
}

/// A floor that gives what it may, where another emitter makes up the rest.
fn helped(case: &Case<'_>, floor: &Floor, missing_w: f64, helped_w: f64) -> Finding {
    let words = case.words();
    let own = case.emitters.helpers.iter().filter(|helper| helper.room == floor.room);
    let keys: Vec<&str> = own.map(|helper| helper.key.as_str()).collect();
    let message = format!(
        "the floor gives what it can and lacks {}; {} gives {}",
        words.power(missing_w),
        keys.join(", "),
        words.power(helped_w)
    );
    let advice = "let the thermostat call the floor first and the other emitter for the rest";
    let subject = format!("room.{}", floor.room);
    Finding::new(Severity::Note, "floor-helped", subject, message, advice)
        .at(place(case, floor))
        .amount(missing_w)
}

/// Insulation below the tube against the rule for floors on the ground.
fn insulation(case: &Case<'_>, floor: &Floor, findings: &mut Vec<Finding>) {
    let rule = &case.job.rules.insulation_ground;
    let has = floor.build_up.insulation.si();
    let faces = &case.envelope.enclosures[floor.number].faces;
    let on_ground =
        faces.iter().any(|face| face.kind == FaceKind::Floor && face.behind == Behind::Ground);
    if !on_ground || has >= rule.value.si() - 1e-6 {
        return;
    }
    let words = case.words();
    let message = format!(
        "insulation below the heated floor is {}",
        words.both(has, Measure::AreaResistance)
    );
    let least = words.both(rule.value.si(), Measure::AreaResistance);
    findings.push(
        Finding::new(
            Severity::Warn,
            "thin-insulation",
            format!("room.{}", floor.room),
            message,
            "put more insulation under the floor while it can still be done",
        )
        .at(place(case, floor))
        .amount(rule.value.si() - has)
        .limit(format!("at least {least}"), rule.citation()),
    );
}

fn place(case: &Case<'_>, floor: &Floor) -> Option<job::Place> {
    let room = &case.job.rooms[floor.number];
    Some(room.spacing.held().map_or(room.place, |held| held.place))
}

fn rule_of<Q>(figure: &Figure<Q>) -> String {
    match &figure.work.how {
        How::Rule(citation) => citation.clone(),
        _ => String::new(),
    }
}
