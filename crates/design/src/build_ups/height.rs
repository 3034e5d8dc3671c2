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
            let suffers = what_suffers(floor.job, height.si()).into_iter().map(|(word, _)| word);
            let suffers = suffers.collect::<Vec<_>>().join(", ");
            built.verdict.push(format!("raised: {suffers}"));
        }
        return;
    };
    let over_m = height.si() - allowed.value.si();
    if over_m <= LEVEL_M {
        return built.verdict.push(format!("fits under {}", words.rise(allowed.value.si())));
    }
    built.verdict.push(format!("{} too high", words.rise(over_m)));
    let message = format!(
        "its floor gets {} higher, {} more than it may; what suffers: {}",
        words.rise(height.si()),
        words.rise(over_m),
        suffering(floor.job, height.si())
    );
    let advice = "take a thinner build-up or finish, plates from below, or agree more height";
    findings.push(
        Finding::new(Severity::Stop, "floor-too-high", room(floor), message, advice)
            .at(allowed.place())
            .amount(over_m)
            .limit(words.rise(allowed.value.si()), "added height that the job allows"),
    );
}

/// What a floor that much higher spoils: in a word, and with what it may be.
fn what_suffers(job: &Job, height_m: f64) -> Vec<(&'static str, String)> {
    let (rules, words) = (&job.rules, Words { first: job.units.value });
    let (door, riser, feet) = (&rules.door_gap, &rules.riser_difference, &rules.appliance_gap);
    let [gap, most, give] = [door, riser, feet].map(|rule| words.rise(rule.si()));
    let suffers = [
        (door.si(), "doors", format!("doors (gap usually {gap})")),
        (riser.si(), "stair", format!("first and last riser of a stair ({most} of difference)")),
        (0.0, "thresholds", "thresholds".to_owned()),
        (feet.si(), "appliances", format!("appliances below counters (feet give {give})")),
    ];
    let over = suffers.into_iter().filter(|(bears_m, ..)| height_m > *bears_m);
    over.map(|(_, word, words)| (word, words)).collect()
}

/// The same as one sentence.
fn suffering(job: &Job, height_m: f64) -> String {
    let each = what_suffers(job, height_m).into_iter().map(|(_, words)| words);
    each.collect::<Vec<_>>().join(", ")
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
            floor.words().rise(most_m),
            rooms.join(", "),
            suffering(floor.job, most_m)
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
