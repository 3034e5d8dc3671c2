//! Floors: what they must give against what they may and can.

use super::Case;
use super::mends::{
    closer_spacings, closer_than, hold_spacing, released_supply, warmer_supplies, wider_spacings,
};
use crate::emitters::{Floor, HeatedFloor, SPOT_OVER_K, Water, peak_limit, supply_needed};
use crate::envelope::{Behind, FaceKind};
use crate::figure::{Figure, How};
use crate::hold::circuit_path;
use job::{DropRule, Edit, Finding, Mend, Promise, Reason, Severity, SupplyRule};
use quantity::{Length, Measure, Quantity};

/// Heat by which a floor may fall short before it counts, as a share of the need.
const SHORT_SHARE: f64 = 0.01;
/// Warmth over the limit that counts, kelvin.
const OVER_LIMIT_K: f64 = 0.1;
/// Heat beyond a room's need that is worth a look, as a share of its loss.
const OVER_SHARE: f64 = 0.25;
/// A room that needs water warmer than all others by this much is worth a look, kelvin.
const GOVERNS_BY_K: f64 = 1.0;

pub(super) fn judge(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for floor in &case.choice.floors {
        let heated = case.emitters.floors.iter().find(|heated| heated.room == floor.room);
        let Some(heated) = heated else { continue };
        too_warm(case, floor, heated, findings);
        short(case, floor, heated, findings);
        over_limit(case, floor, heated, findings);
        findings.extend(hot_spot(case, floor));
        findings.extend(rugs(case, floor));
        over_heated(case, floor, heated, findings);
        insulation(case, floor, findings);
    }
    without_tube(case, findings);
    supply(case, findings);
    governing(case, findings);
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

/// A floor that may give enough, but does not with this spacing and this water.
fn short(case: &Case<'_>, floor: &Floor, heated: &HeatedFloor, findings: &mut Vec<Finding>) {
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

/// A floor that gets warmer than it may, because its water cannot cool far enough on the way.
fn over_limit(case: &Case<'_>, floor: &Floor, heated: &HeatedFloor, findings: &mut Vec<Finding>) {
    let over_k = heated.surface.si() - heated.surface_limit.si();
    if over_k <= OVER_LIMIT_K {
        return;
    }
    let words = case.words();
    let message = format!(
        "its floor would run at {} with this water, even with the largest drop allowed",
        words.temperature(heated.surface.si())
    );
    let (value, source) = (words.temperature(floor.limit.si()), rule_of(&floor.limit));
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
fn hot_spot(case: &Case<'_>, floor: &Floor) -> Option<Finding> {
    let room = &case.job.rooms[floor.number];
    let rule = peak_limit(case.job, room);
    let supply_k = case.choice.supply_k(floor.circuit.as_deref()).filter(|_| floor.tubed)?;
    let room_k = floor.indoor.si();
    let hottest_k = room_k + floor.response.warmest * (supply_k - room_k);
    let over_k = hottest_k - rule.si();
    if over_k <= SPOT_OVER_K {
        return None;
    }
    let words = case.words();
    let message = format!(
        "its floor gets to {} over the tube where the water enters",
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
fn rugs(case: &Case<'_>, floor: &Floor) -> Option<Finding> {
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
fn over_heated(case: &Case<'_>, floor: &Floor, heated: &HeatedFloor, findings: &mut Vec<Finding>) {
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

/// Supply against what the floor's screed takes.
fn supply(case: &Case<'_>, findings: &mut Vec<Finding>) {
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
fn governing(case: &Case<'_>, findings: &mut Vec<Finding>) {
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
