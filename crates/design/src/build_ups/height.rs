//! Height and weight against what the house bears.

use super::added::on_joists;
use super::{Floor, FloorBuildUp};
use crate::envelope::{Behind, FaceKind};
use crate::words::Words;
use job::{Finding, Job, Severity};
use quantity::{Measure, Quantity};

/// Height that is no matter: what a tape is read to.
const LEVEL_M: f64 = 0.002;
/// Weight that is no matter, kg/m².
const LIGHT_KG_M2: f64 = 0.1;

/// Height and weight of one floor against what the room allows, and weight against the usual.
pub(super) fn judge(floor: &Floor<'_>, built: &mut FloorBuildUp, findings: &mut Vec<Finding>) {
    height(floor, built, findings);
    weight(floor, built, findings);
}

fn height(floor: &Floor<'_>, built: &mut FloorBuildUp, findings: &mut Vec<Finding>) {
    let (Some(height), words) = (&built.height, floor.words()) else {
        return built.verdict.push("height cannot be told: a layer has no thickness".to_owned());
    };
    let Some(allowed) = &floor.room.allowance.height else {
        if super::added::count(floor) > 0 && height.si() > LEVEL_M {
            built
                .verdict
                .push(format!("raised: {}", what_suffers(floor.job, height.si()).join(", ")));
        }
        return;
    };
    let over_m = height.si() - allowed.value.si();
    if over_m <= LEVEL_M {
        return built.verdict.push(format!("fits under {}", words.small(allowed.value.si())));
    }
    built.verdict.push(format!("{} too high", words.small(over_m)));
    let message = format!(
        "its floor gets {} higher, {} more than it may; what suffers: {}",
        words.small(height.si()),
        words.small(over_m),
        what_suffers(floor.job, height.si()).join(", ")
    );
    let advice = "take a thinner build-up or finish, plates from below, or agree more height";
    findings.push(
        Finding::new(Severity::Stop, "floor-too-high", room(floor), message, advice)
            .at(allowed.place())
            .amount(over_m)
            .limit(words.small(allowed.value.si()), "added height that the job allows"),
    );
}

/// What a floor that much higher spoils, with what it may be.
fn what_suffers(job: &Job, height_m: f64) -> Vec<String> {
    let (rules, words) = (&job.rules, Words { first: job.units.value });
    let mut suffers = Vec::new();
    if height_m > rules.door_gap.si() {
        suffers.push(format!("doors (gap usually {})", words.small(rules.door_gap.si())));
    }
    if height_m > rules.riser_difference.si() {
        let most = words.small(rules.riser_difference.si());
        suffers.push(format!("first and last riser of a stair ({most} of difference at most)"));
    }
    suffers.push("thresholds".to_owned());
    if height_m > rules.appliance_gap.si() {
        let gap = words.small(rules.appliance_gap.si());
        suffers.push(format!("appliances below counters (feet give {gap})"));
    }
    suffers
}

fn weight(floor: &Floor<'_>, built: &mut FloorBuildUp, findings: &mut Vec<Finding>) {
    let (Some(added), words) = (&built.added_weight, floor.words()) else {
        return built.verdict.push("weight cannot be told: a density is missing".to_owned());
    };
    let shown = |si: f64| words.both(si, Measure::ArealMass);
    let message = format!("{} are laid on its structural floor", shown(added.si()));
    let rule = &floor.job.rules.added_weight;
    if let Some(allowed) = &floor.room.allowance.weight {
        let over = added.si() - allowed.value.si();
        if over <= LIGHT_KG_M2 {
            return built.verdict.push(format!("within {}", shown(allowed.value.si())));
        }
        built.verdict.push(format!("{} too heavy", shown(over)));
        let advice = "take a lighter build-up, or have an engineer look at what carries it";
        findings.push(
            Finding::new(Severity::Stop, "floor-too-heavy", room(floor), message, advice)
                .at(allowed.place())
                .amount(over)
                .limit(shown(allowed.value.si()), "added weight that the job allows"),
        );
    } else if on_joists(floor) && !on_ground(floor) && added.si() > rule.si() {
        built.verdict.push("engineer: heavier than joists bear unasked".to_owned());
        let advice = "have an engineer look at the joists before anything is ordered; then write \
                      `added_weight` as he allows";
        findings.push(
            Finding::new(Severity::Warn, "heavy-floor", room(floor), message, advice)
                .at(floor.room.floor.as_ref().map_or(floor.room.place, |floor| floor.place))
                .amount(added.si() - rule.si())
                .limit(shown(rule.si()), rule.citation()),
        );
    }
}

fn on_ground(floor: &Floor<'_>) -> bool {
    let mut faces = floor.enclosure.faces.iter();
    faces.any(|face| face.kind == FaceKind::Floor && face.behind == Behind::Ground)
}

/// Floors that get higher although nobody said by how much they may: each build-up told once.
pub(super) fn raised(floors: &[Floor<'_>], built: &[FloorBuildUp], findings: &mut Vec<Finding>) {
    let mut told: Vec<(&str, f64, Vec<&str>, &Floor<'_>)> = Vec::new();
    for (floor, built) in floors.iter().zip(built) {
        let height_m = built.height.as_ref().map_or(0.0, |height| height.si());
        let unasked = floor.room.allowance.height.is_none() && super::added::count(floor) > 0;
        if !unasked || height_m <= floor.job.rules.riser_difference.si() {
            continue;
        }
        match told.iter_mut().find(|(assembly, ..)| *assembly == built.assembly) {
            Some((_, most, rooms, _)) => {
                *most = most.max(height_m);
                rooms.push(&built.room);
            }
            None => told.push((&built.assembly, height_m, vec![&built.room], floor)),
        }
    }
    for (_, most_m, rooms, floor) in told {
        let message = format!(
            "floors get up to {} higher in {}; what suffers if the house stands already: {}",
            floor.words().small(most_m),
            rooms.join(", "),
            what_suffers(floor.job, most_m).join(", ")
        );
        let advice = "measure doors, stairs and counters, and write `added_height` for the room";
        let place = floor.room.floor.as_ref().map_or(floor.room.place, |floor| floor.place);
        findings.push(
            Finding::new(Severity::Note, "raised-floor", room(floor), message, advice)
                .at(place)
                .amount(most_m),
        );
    }
}

fn room(floor: &Floor<'_>) -> String {
    format!("room.{}", floor.room.key)
}
