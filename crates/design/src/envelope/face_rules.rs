//! Faces that the text knows better than the rules that hold for all.

use super::assemblies::by_rule;
use super::faces::behind;
use super::house::House;
use super::patch::{Part, Patch};
use super::walls::{Wall, meant};
use job::{FaceRule, Finding, Severity};

/// Sets what the text says of single faces; a rule that meets no face gives a finding.
pub(super) fn apply(house: &House<'_>, patches: &mut [Vec<Patch>], findings: &mut Vec<Finding>) {
    for rule in &house.job.face_rules {
        // What the text lacks was told when it was read.
        let Some(part) = &rule.part else { continue };
        let Some(number) = house.number(&rule.room.value) else { continue };
        let own = job::Faces::Room(rule.room.value.clone());
        if let Some(faces) = rule.faces.as_ref().filter(|faces| faces.value == own) {
            findings.push(faces_itself(rule).at(faces.place));
            continue;
        }
        let towards = rule.towards.as_ref().map(|towards| behind(&towards.value));
        let parts = parts(house, number, &part.value);
        let mut met = false;
        for patch in &mut patches[number] {
            let there = towards.as_ref().is_none_or(|towards| *towards == patch.behind);
            if there && parts.contains(&patch.part) {
                met = true;
                set(house, number, rule, patch);
            }
        }
        if !met {
            findings.push(nowhere(house, number, rule, &part.value).at(part.place));
        }
    }
}

fn faces_itself(rule: &FaceRule) -> Finding {
    let message = format!("room {} cannot face itself; the face is left as drawn", rule.room.value);
    let advice = "name what is behind this face: another room, a space, or outdoors";
    let subject = format!("face.{}", rule.key);
    Finding::new(Severity::Stop, "faces-itself", subject, message, advice)
}

fn set(house: &House<'_>, number: usize, rule: &FaceRule, patch: &mut Patch) {
    if let Some(faces) = &rule.faces {
        patch.behind = behind(&faces.value);
        patch.stated = true;
        // A wall that the text puts into the ground is in it from top to bottom at least.
        let height_m = patch.shape.map(|shape| shape.mean_height_m());
        patch.depth_m = match patch.behind {
            super::Behind::Ground => patch.depth_m.or(height_m.map(|height_m| [height_m; 2])),
            _ => None,
        };
        patch.assembly = by_rule(house, house.room(number), patch.part, &patch.behind);
    }
    if let Some(assembly) = &rule.assembly {
        patch.assembly = Some(assembly.value.clone());
    }
}

/// The parts of a room that a name means.
fn parts(house: &House<'_>, number: usize, name: &str) -> Vec<Part> {
    let job = house.job;
    let walls = meant(&house.walls[number], name).into_iter().map(Part::Wall);
    let mut parts: Vec<Part> = walls.collect();
    if name.eq_ignore_ascii_case("ceiling") {
        parts.push(Part::Ceiling);
    }
    if name.eq_ignore_ascii_case("floor") {
        parts.push(Part::Floor);
    }
    let slopes = job.slopes.iter().enumerate().filter(|(_, slope)| slope.key == name);
    parts.extend(slopes.map(|(slope, _)| Part::Slope(slope)));
    let dormers = job.dormers.iter().enumerate().filter(|(_, dormer)| dormer.key == name);
    parts.extend(dormers.flat_map(|(dormer, _)| {
        [Part::DormerFront(dormer), Part::DormerCheeks(dormer), Part::DormerRoof(dormer)]
    }));
    parts
}

fn nowhere(house: &House<'_>, number: usize, rule: &FaceRule, part: &str) -> Finding {
    let room = &house.room(number).key;
    let message = match &rule.towards {
        Some(towards) => {
            let words = behind(&towards.value).words();
            format!("room {room} has no {part} towards {words}")
        }
        None => format!("room {room} has no part `{part}`"),
    };
    let mut known: Vec<String> = house.walls[number].iter().map(Wall::called).collect();
    known.extend(["ceiling".to_owned(), "floor".to_owned()]);
    known.extend(house.job.slopes_of(room).map(|slope| slope.key.clone()));
    known.dedup();
    let advice = format!("write one of: {}", known.join(", "));
    Finding::new(Severity::Stop, "face-nowhere", format!("face.{}", rule.key), message, advice)
}
