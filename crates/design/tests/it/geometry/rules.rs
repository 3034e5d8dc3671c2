//! What the text says of single faces.

use super::*;
use crate::close;
use job::FaceRule;

fn rule(room: &str, part: &str, faces: Faces) -> FaceRule {
    FaceRule {
        key: format!("{room}_{part}"),
        place: Place::default(),
        room: words(room),
        part: Some(words(part)),
        towards: None,
        faces: Some(stated(faces)),
        assembly: None,
    }
}

#[test]
fn a_party_wall() {
    let mut job = house(&block("only", "lower", [0.0, 0.0, 10.0, 8.0]));
    job.house.party_wall = Some(words("partition"));
    job.face_rules = vec![rule("only", "west", Faces::NextHouse)];
    let loss = loss(&job);
    let faces = &room(&loss, "only").faces;
    let west = faces.iter().find(|face| face.key == "wall west").unwrap();
    assert_eq!((&west.behind, west.assembly.as_deref()), (&Behind::NextHouse, Some("partition")));
    close(west.area.si(), 20.0, 1e-9);
    // The edge along the next house is not exposed.
    close(loss.envelope.ground.as_ref().unwrap().exposed_edge.si(), 28.0, 1e-9);
}

#[test]
fn a_rule_that_meets_nothing() {
    let mut job = house(&block("only", "lower", [0.0, 0.0, 10.0, 8.0]));
    job.face_rules = vec![rule("only", "gable", space("attic"))];
    told(&loss(&job), "face-nowhere", "no part `gable`");
    job.face_rules = vec![rule("only", "west", space("attic"))];
    job.face_rules[0].towards = Some(stated(Faces::Ground));
    told(&loss(&job), "face-nowhere", "no west towards ground");
}

#[test]
fn a_one_sided_neighbour() {
    let rooms = [
        block("one", "lower", [0.0, 0.0, 4.0, 4.0]),
        block("other", "lower", [20.0, 0.0, 4.0, 4.0]),
    ];
    let mut job = house(&rooms.concat());
    job.face_rules = vec![rule("one", "east", Faces::Room("other".to_owned()))];
    told(&loss(&job), "one-sided", "wall east looks at room other");
    job.face_rules.push(rule("other", "west", Faces::Room("one".to_owned())));
    assert!(!kinds(&loss(&job)).contains(&"one-sided"));
}

/// The far walls of three rooms in a row; the middle one's garage is a space of its own.
#[test]
fn a_garage_behind_one_wall() {
    let mut job = house(&block("only", "lower", [0.0, 0.0, 10.0, 8.0]));
    job.face_rules = vec![rule("only", "east", space("garage"))];
    let loss = loss(&job);
    let garage = Behind::Space("garage".to_owned());
    close(area(&loss, "only", |face| face.behind == garage), 20.0, 1e-9);
    close(room(&loss, "only").outside_area.si(), 90.0 + 80.0, 1e-9);
}
