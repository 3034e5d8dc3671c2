//! What the heat loss takes for lack of better, told once where it matters.

use super::case::Case;
use crate::envelope::Behind;
use crate::words::Words;
use job::{Finding, GroundMethod, Severity};
use quantity::Measure;

/// Wind of the driving force of leaks: 15 mph (ASHRAE Fundamentals, residential loads, from memory).
const WIND_M_S: f64 = 6.7056;

/// Tells what was taken for the ground in winter, and what the leaks do not follow.
pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(ground_swing(case));
    findings.extend(two_leaks(case));
    findings.extend(wind(case));
}

/// A swing of the ground that is only assumed, where a deep floor or wall goes by it.
fn ground_swing(case: &Case<'_>) -> Option<Finding> {
    let job = case.job;
    let by_edge = job.rules.ground_method.value == GroundMethod::EdgeFactor;
    let mut faces = case.envelope.enclosures.iter().flat_map(|one| &one.faces);
    let deep = faces.any(|face| face.behind == Behind::Ground && face.transmittance.is_some());
    if job.outdoors.ground_swing.is_some() || !by_edge || !deep {
        return None;
    }
    let words = Words { first: job.units.value };
    let message = format!(
        "how far the ground's surface swings below its mean is missing; walls and floors in the \
         ground are reckoned to {}",
        words.temperature(case.weather.ground_surface.si())
    );
    let advice = "add `ground_swing = …` to [outdoors], from a map of ground temperatures";
    let subject = "outdoors.ground_swing";
    Some(Finding::new(Severity::Note, "no-ground-swing", subject, message, advice))
}

/// Leaks that are stated twice.
fn two_leaks(case: &Case<'_>) -> Option<Finding> {
    let house = &case.job.house;
    let (_, area) = (house.blower_door.as_ref()?, house.leakage_area.as_ref()?);
    let message = "both a leakage area and a blower-door test are stated; the leakage area is \
                   taken, for it follows the design hour";
    let advice = "leave out the one that you trust less";
    let subject = "house.leakage_area";
    let finding = Finding::new(Severity::Note, "two-leakages", subject, message, advice);
    Some(finding.at(area.place()))
}

/// A wind that the leaks do not follow.
fn wind(case: &Case<'_>) -> Option<Finding> {
    let wind = &case.job.outdoors.wind;
    let place = wind.place()?;
    case.job.house.leakage_area.as_ref()?;
    let stated_m_s = quantity::Quantity::si(wind.value);
    if (stated_m_s - WIND_M_S).abs() < 0.1 {
        return None;
    }
    let words = Words { first: case.job.units.value };
    let speed = |m_s: f64| words.both(m_s, Measure::Velocity);
    let message = format!(
        "a wind of {} is stated; the leaks are reckoned at {}, for which the rule holds",
        speed(stated_m_s),
        speed(WIND_M_S)
    );
    let advice = "expect less air through leaks in less wind, and more in more";
    let subject = "outdoors.wind";
    Some(Finding::new(Severity::Note, "wind-not-followed", subject, message, advice).at(place))
}
