//! Floors that get warmer, or give more, than they shall.

use super::super::mends::{released_supply, wider_spacings};
use super::{Case, place, rule_of};
use crate::emitters::{Floor, HeatedFloor, SPOT_OVER_K, ZoneResponse};
use job::{DropRule, Finding, Severity};
use quantity::{Measure, Quantity};

/// Warmth over the limit that counts, kelvin.
const OVER_LIMIT_K: f64 = 0.1;

/// Heat beyond a room's need that is worth a look, as a share of its loss.
const OVER_SHARE: f64 = 0.25;

/// A part of a floor as the subject of a sentence.
fn part_of_floor(name: &str) -> String {
    match name {
        "the rest" => "the rest of its floor".to_owned(),
        "along outside walls" => "its floor along outside walls".to_owned(),
        name => format!("its floor, {name},"),
    }
}

/// A floor that gets warmer than it may, because its water cannot cool far enough on the way.
pub(super) fn over_limit(
    case: &Case<'_>,
    floor: &Floor,
    heated: &HeatedFloor,
    findings: &mut Vec<Finding>,
) {
    let whole = ("its floor".to_owned(), &heated.surface, &heated.surface_limit);
    let parts = heated.parts.iter();
    let parts = parts.map(|part| (part_of_floor(&part.name), &part.surface, &part.surface_limit));
    let hottest = match heated.parts.is_empty() {
        true => Some(whole),
        false => parts.max_by(|a, b| (a.1.si() - a.2.si()).total_cmp(&(b.1.si() - b.2.si()))),
    };
    let Some((what, surface, limit)) = hottest else { return };
    let over_k = surface.si() - limit.si();
    if over_k <= OVER_LIMIT_K {
        return;
    }
    let words = case.words();
    let message = format!(
        "{what} would run at {} with this water, even with the largest drop allowed",
        words.temperature(surface.si())
    );
    let (value, source) = (words.temperature(limit.si()), rule_of(limit));
    let mut finding = Finding::new(
        Severity::Stop,
        "floor-over-limit",
        format!("room.{}", floor.room),
        message,
        "lay its tube wider, run cooler water, or mix its water down; a thermostat alone does not \
         keep a floor from running hot",
    )
    .at(place(case, floor))
    .amount(over_k)
    .limit(value, source);
    finding.mends.extend(wider_spacings(case.job, &floor.room, floor.spacing.value.si()));
    finding.mends.extend(released_supply(case, floor.circuit.as_deref()));
    findings.push(finding);
}

/// A floor that gets hotter than a spot of it may, over a tube where the water enters.
pub(super) fn hot_spot(case: &Case<'_>, floor: &Floor) -> Option<Finding> {
    let supply_k = case.choice.supply_k(floor.circuit.as_deref()).filter(|_| floor.tubed)?;
    let room_k = floor.indoor.si();
    let zones = floor.build_up.zone_responses(floor.spacing_laid.si(), floor.tube_w_mk).ok()?;
    let beyond = floor.build_up.beyond();
    let spot = |own: &ZoneResponse<'_>| {
        let [warmest_k, _] = own.response.spots_k(supply_k - room_k, room_k, &beyond);
        let hottest_k = room_k + warmest_k;
        (own.zone.name.clone(), hottest_k, own.zone.limit(case.job).peak)
    };
    let spots = zones.iter().filter(|own| own.zone.share > 0.0).map(spot);
    let (name, hottest_k, rule) =
        spots.max_by(|a, b| (a.1 - a.2.si()).total_cmp(&(b.1 - b.2.si())))?;
    let over_k = hottest_k - rule.si();
    if over_k <= SPOT_OVER_K {
        return None;
    }
    let words = case.words();
    let what = if zones.len() > 1 { part_of_floor(&name) } else { "its floor".to_owned() };
    let message = format!(
        "{what} gets to {} over the tube where the water enters",
        words.temperature(hottest_k)
    );
    let advice = "closer tube with cooler water warms the floor more evenly";
    let subject = format!("room.{}", floor.room);
    let finding = Finding::new(Severity::Warn, "hot-spot", subject, message, advice)
        .at(place(case, floor))
        .amount(over_k)
        .limit(words.temperature(rule.si()), rule.citation());
    Some(finding)
}

/// Rugs on a floor: what they take of its heat, or how much warmer the water is for them.
pub(super) fn rugs(case: &Case<'_>, floor: &Floor) -> Option<Finding> {
    let share = floor.build_up.rugs()?;
    let (spacing_m, tube_w_mk) = (floor.spacing_laid.si(), floor.tube_w_mk);
    let bare = floor.build_up.response_without_rugs(spacing_m, tube_w_mk).ok()?;
    let lost = 1.0 - floor.response.room / bare.room;
    let (room_k, beyond) = (floor.indoor.si(), floor.build_up.beyond());
    let wanted = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    let warmer_k =
        floor.response.excess_k(wanted, room_k, &beyond) - bare.excess_k(wanted, room_k, &beyond);
    let words = case.words();
    let percent = |share: f64| format!("{} %", quantity::decimal(100.0 * share, 0));
    let message = format!(
        "rugs on {} of its floor take {} of its heat at the same water; for the heat that it needs \
         its water is {} warmer than without",
        percent(share.si()),
        percent(lost),
        words.both(warmer_k, Measure::TemperatureDifference)
    );
    let advice = "keep rugs thin and off the floor that the room is warmed by; under a rug wood gets \
                  warmer than its limit tells";
    let subject = format!("room.{}", floor.room);
    let place = case.job.rooms[floor.number].rugs.as_ref().and_then(|rugs| rugs.share.place());
    Some(Finding::new(Severity::Note, "rugs", subject, message, advice).at(place).amount(warmer_k))
}

/// A floor that gives far more than its room needs, even with the largest drop allowed.
pub(super) fn over_heated(
    case: &Case<'_>,
    floor: &Floor,
    heated: &HeatedFloor,
    findings: &mut Vec<Finding>,
) {
    let over_w = -heated.short.si();
    let loss_w = floor.load.heat.total.si();
    if over_w <= OVER_SHARE * loss_w.max(1.0) {
        return;
    }
    let words = case.words();
    let with = match case.choice.rule.drops.value {
        DropRule::Own => "even with the largest drop allowed",
        DropRule::Equal => "with the drop that all loops have",
    };
    let mut message = format!("gets {} more than it needs, {with}", words.power(over_w));
    let leaders_w = heated.leaders.si();
    if leaders_w > 0.5 * loss_w {
        message
            .push_str(&format!("; leaders on their way already give {}", words.power(leaders_w)));
    }
    let sleeved_m = to_be_sleeved_m(case, floor, leaders_w - loss_w);
    if sleeved_m > 0.0 {
        message.push_str(&format!(
            "; {} of their tube in sleeves or insulation would stop that",
            words.run(sleeved_m)
        ));
    }
    let mut finding = Finding::new(
        Severity::Note,
        "over-heated",
        format!("room.{}", floor.room),
        message,
        "its thermostat must hold it back; a wider spacing or no loop of its own serves too",
    )
    .at(place(case, floor))
    .amount(over_w);
    finding.mends.extend(wider_spacings(case.job, &floor.room, floor.spacing.value.si()));
    findings.push(finding);
}

/// Tube of passing leaders to be sleeved so that they give that much less, metres.
fn to_be_sleeved_m(case: &Case<'_>, floor: &Floor, surplus_w: f64) -> f64 {
    let passed = case.loops.iter().flat_map(|tube_loop| &tube_loop.leader.passed);
    let length_m: f64 =
        passed.filter(|passed| passed.room == floor.room).map(|passed| passed.length_m).sum();
    let heated = case.emitters.floors.iter().find(|heated| heated.room == floor.room);
    let given_w = heated.map_or(0.0, |heated| heated.leaders.si());
    if surplus_w <= 0.0 || given_w <= 0.0 { 0.0 } else { length_m * surplus_w / given_w }
}
