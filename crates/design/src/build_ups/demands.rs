//! What the rule set and the build-up itself demand: insulation, cover, spacing, water, finish.

use super::{Floor, FloorBuildUp};
use crate::emitters::Emitters;
use crate::envelope::{Behind, FaceKind, layer_resistances};
use job::{Carrier, Finding, Layer, Rule, Severity};
use quantity::{AreaResistance, Measure, Quantity};

/// A tenth of a millimetre: lengths closer than this are the same.
const SAME_M: f64 = 1e-4;
/// Resistances closer than this are the same, m²K/W.
const SAME_M2K_W: f64 = 1e-6;
/// Water over its limit that counts, kelvin.
const OVER_K: f64 = 0.1;

pub(super) fn judge(
    floor: &Floor<'_>,
    built: &FloorBuildUp,
    emitters: &Emitters,
    findings: &mut Vec<Finding>,
) {
    findings.extend(insulation(floor));
    findings.extend(spacing(floor));
    findings.extend(water(floor, built, emitters));
    findings.extend(finish(floor));
}

fn subject(floor: &Floor<'_>) -> String {
    format!("room.{}", floor.room.key)
}

/// Insulation below the tube against what the colder of its far sides asks for.
///
/// Floors on the ground are judged with their heat downward.
fn insulation(floor: &Floor<'_>) -> Option<Finding> {
    let faces = floor.enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor);
    let asked = faces.filter_map(|face| asked_below(floor, &face.behind));
    let (rule, severity) = asked.max_by(|a, b| a.0.si().total_cmp(&b.0.si()))?;
    // Rules ask for the insulation itself: the wood beside it is not averaged in.
    let itself = |layer: &Layer| match layer {
        Layer::Framed { fill, .. } => fill.as_ref().clone(),
        other => other.clone(),
    };
    let under: Vec<Layer> = floor.layers[floor.holder + 1..].iter().map(itself).collect();
    let layers =
        layer_resistances(&under, floor.assembly, floor.place, &floor.job.catalogue).ok()?;
    let mut has: f64 = layers.iter().map(|layer| layer.si()).sum();
    let holder = floor.holder_material()?;
    if holder.carrier == Carrier::Board
        && let Some(thickness) = floor.layers[floor.holder].thickness()
    {
        let board_m = (thickness.si() - floor.tube.outside.si()).max(0.0);
        has += board_m / holder.conductivity.si();
    }
    if has >= rule.si() - SAME_M2K_W {
        return None;
    }
    let shown = |si: f64| floor.words().both(si, Measure::AreaResistance);
    let message = format!("insulation below the heated floor is {}", shown(has));
    let advice = "put more insulation under the floor while it can still be done";
    let finding = Finding::new(severity, "thin-insulation", subject(floor), message, advice)
        .at(floor.room.floor.as_ref().map_or(floor.room.place, |floor| floor.place))
        .amount(rule.si() - has)
        .limit(format!("at least {}", shown(rule.si())), rule.citation());
    Some(finding)
}

/// Insulation that a far side asks for; heat that goes down to a heated room is not lost.
fn asked_below<'a>(
    floor: &Floor<'a>,
    behind: &Behind,
) -> Option<(&'a Rule<AreaResistance>, Severity)> {
    let rules = &floor.job.rules;
    let unheated = |key: &str| floor.job.room(key).is_some_and(|room| room.unheated.value);
    match behind {
        Behind::Ground => None,
        Behind::Outdoors => {
            let design = floor.job.outdoors.design.as_ref()?;
            Some((rules.insulation_outdoors(design.value)?, Severity::Warn))
        }
        Behind::Space(_) => Some((&rules.insulation_unheated, Severity::Warn)),
        Behind::Room(key) if unheated(key) => Some((&rules.insulation_unheated, Severity::Warn)),
        Behind::Room(_) | Behind::Heated | Behind::NextHouse => {
            Some((&rules.insulation_heated, Severity::Note))
        }
    }
}

/// A held spacing against the range that is laid, and against the grooves of a carrier.
fn spacing(floor: &Floor<'_>) -> Option<Finding> {
    let (held, rules, words) = (floor.room.spacing.held()?, &floor.job.rules, floor.words());
    let spacing_m = held.value.si();
    let message = format!("its spacing is held at {}", words.small(spacing_m));
    let holder = floor.holder_material()?;
    if let Some(grooves_m) = holder.grooves.map(Quantity::si).filter(|grooves| *grooves > 0.0) {
        let times = (spacing_m / grooves_m).round().max(1.0);
        let near_m = times * grooves_m;
        if (spacing_m - near_m).abs() > SAME_M {
            let advice = format!("hold it at {}, or leave it to the design", words.small(near_m));
            let limit = format!("{} or a multiple of it", words.small(grooves_m));
            let source = format!("grooves of {}", holder.name);
            return Some(
                Finding::new(Severity::Stop, "off-grooves", subject(floor), message, advice)
                    .at(held.place)
                    .amount((spacing_m - near_m).abs())
                    .limit(limit, source),
            );
        }
    }
    let (least, most) = (&rules.spacing_least, &rules.spacing_most);
    let (rule, limit) = if spacing_m > most.si() + SAME_M {
        (most, format!("{} at most", words.small(most.si())))
    } else if spacing_m < least.si() - SAME_M {
        (least, format!("{} at least", words.small(least.si())))
    } else {
        return None;
    };
    let advice = "wide tube is felt as stripes, and closer tube costs more than it gives; hold a \
                  usual spacing, or leave it to the design";
    let finding = Finding::new(Severity::Warn, "odd-spacing", subject(floor), message, advice)
        .at(held.place)
        .amount((spacing_m - rule.si()).abs())
        .limit(limit, rule.citation());
    Some(finding)
}

/// Supply water against what the tube's layer and its neighbours bear.
///
/// The limit of screed is that of the whole supply and told there; here stand stricter ones.
fn water(floor: &Floor<'_>, built: &FloorBuildUp, emitters: &Emitters) -> Option<Finding> {
    let heated = emitters.floors.iter().find(|it| it.room == floor.room.key)?;
    let supply = emitters.supply_of(heated)?;
    let from = floor.holder.saturating_sub(1);
    let beside = floor.layers[from..].iter().take(floor.holder - from + 2);
    let beside = beside.filter_map(|layer| floor.material(layer));
    let rule = floor.job.rules.hottest_supply(floor.holder_material()?, beside);
    let over_k = supply.si() - rule.si();
    if over_k <= OVER_K || std::ptr::eq(rule, &floor.job.rules.supply_slab) {
        return None;
    }
    let words = floor.words();
    let message = format!(
        "water of {} is too hot for its floor, {}",
        words.temperature(supply.si()),
        built.name
    );
    let advice = "a closer spacing or a circuit of its own with cooler water";
    let finding = Finding::new(Severity::Stop, "water-too-hot", subject(floor), message, advice)
        .at(floor.room.floor.as_ref().map_or(floor.room.place, |floor| floor.place))
        .amount(over_k)
        .limit(words.temperature(rule.si()), rule.citation());
    Some(finding)
}

/// The finish that the text names against those that a build-up of the catalogue bears.
fn finish(floor: &Floor<'_>) -> Option<Finding> {
    let build_up = floor.job.catalogue.build_up(floor.assembly.build_up.as_deref()?)?;
    let (finish, place) = (&floor.room.finish, floor.room.finish.place()?);
    if build_up.bears.contains(&finish.value) {
        return None;
    }
    let entry = floor.job.catalogue.finish(&finish.value);
    let name = entry.map_or(finish.value.as_str(), |entry| entry.name.as_str());
    let bears: Vec<&str> = build_up.bears.iter().map(String::as_str).collect();
    let message = format!("{name} is not laid straight on {}", build_up.name);
    let advice = format!("take one of {}, or a board between them", bears.join(", "));
    let finding =
        Finding::new(Severity::Warn, "finish-not-borne", subject(floor), message, advice).at(place);
    Some(finding)
}

/// Cover over embedded tube against its rule: each construction told once.
pub(super) fn thin_cover(floors: &[Floor<'_>], findings: &mut Vec<Finding>) {
    let mut told: Vec<&str> = Vec::new();
    for floor in floors {
        let key = floor.assembly.key.as_str();
        if told.contains(&key) {
            continue;
        }
        told.push(key);
        findings.extend(cover(floor));
    }
}

fn cover(floor: &Floor<'_>) -> Option<Finding> {
    let Layer::Material { thickness, cover, .. } = floor.layers.get(floor.holder)? else {
        return None;
    };
    let holder = floor.holder_material().filter(|it| it.carrier == Carrier::Screed)?;
    let rule = floor.job.rules.least_cover(holder.family)?;
    let middle_m = (thickness.si() - floor.tube.outside.si()) / 2.0;
    let cover_m = cover.map_or(middle_m, Quantity::si);
    // Tube that does not fit into its layer is told where its output is looked for.
    if cover_m <= 0.0 || cover_m >= rule.si() - SAME_M {
        return None;
    }
    let words = floor.words();
    let message = format!(
        "{} of {} lie over the tube of floor {}",
        words.small(cover_m),
        holder.name,
        floor.assembly.key
    );
    let advice = "thin cover cracks and lets drills reach the tube: lay it deeper or pour thicker";
    let finding = Finding::new(Severity::Warn, "thin-cover", subject(floor), message, advice)
        .at(floor.place)
        .amount(rule.si() - cover_m)
        .limit(format!("at least {}", words.small(rule.si())), rule.citation());
    Some(finding)
}
