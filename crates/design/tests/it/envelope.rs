//! What touches what, and what cannot be.

use crate::{CABIN, ONE_ROOM, close, design, read, with};
use design::Memo;
use design::envelope::{Behind, FaceKind};

fn findings(text: &str) -> Vec<(String, String)> {
    let (job, _) = read(text);
    let design = design::design(&job, &mut Memo::new());
    design.findings.iter().map(|f| (f.kind.to_owned(), f.message.clone())).collect()
}

#[track_caller]
fn told(text: &str, kind: &str, words: &str) {
    let findings = findings(text);
    let found = findings.iter().any(|(k, message)| k == kind && message.contains(words));
    assert!(found, "no {kind} with `{words}` in {findings:#?}");
}

/// The cabin's outside wall, taped round the whole footprint of inside faces: 35' × 25' less the
/// notch that the partitions' ends take is what its rooms must add up to.
#[test]
fn outside_walls_of_the_cabin() {
    let design = design(CABIN);
    let edge = design.envelope.ground.as_ref().unwrap().exposed_edge.si();
    // 2 × (35' + 25') inside; three partition ends of 4 1/2 in stand in the north, two in the
    // south and two in the east wall at most.
    let round = 2.0 * (35.0 + 25.0) * 0.3048;
    assert!(edge < round && edge > round - 8.0 * 0.1143, "{edge} of {round}");
}

#[test]
fn both_sides_of_a_partition_see_each_other() {
    let design = design(CABIN);
    for one in &design.envelope.enclosures {
        for face in &one.faces {
            let Behind::Room(key) = &face.behind else { continue };
            let other = design.envelope.enclosures.iter().find(|o| o.room == *key).unwrap();
            let back = other.faces.iter().any(|f| f.behind == Behind::Room(one.room.clone()));
            assert!(back, "{} sees {key}, not the other way", one.room);
        }
    }
}

/// Every doorway cuts the same hole out of the partition on both sides.
#[test]
fn doorways_cut_both_sides() {
    let design = design(CABIN);
    let area = |room: &str, other: &str| -> f64 {
        let one = design.envelope.enclosures.iter().find(|e| e.room == room).unwrap();
        let towards = |f: &&design::envelope::Face| f.behind == Behind::Room(other.to_owned());
        let doors = one.faces.iter().filter(towards).filter(|f| f.kind == FaceKind::Door);
        doors.map(|f| f.area.si()).sum()
    };
    let hole = 2.0 * 12.0 + 8.0; // 2'8 in inches
    let expected = hole * 80.0 * 0.0254 * 0.0254;
    close(area("hall", "south_bedroom"), expected, 1e-9);
    close(area("south_bedroom", "hall"), expected, 1e-9);
}

#[test]
fn outlines_that_cannot_be() {
    let bow = with(ONE_ROOM, "\"E 5, N 4, W 5, S 4\"", "[[0,0],[5,4],[5,0],[0,3]]");
    told(&bow, "outline-flaw", "crosses itself");
    let second =
        format!("{ONE_ROOM}\n[room.second]\nstart = [4, 0]\noutline = \"E 5, N 4, W 5, S 4\"\n");
    told(&second, "rooms-overlap", "overlaps room second by 4.00 m²");
    let second = |start: &str| {
        format!("{ONE_ROOM}\n[room.second]\nstart = {start}\noutline = \"E 5, N 4, W 5, S 4\"\n")
    };
    told(&second("[5.5, 0]"), "wide-gap", "stands 0.50 m (1' 7 5/8\") from room second");
    told(&second("[30, 0]"), "room-alone", "touches no other room");
    let wide = with(ONE_ROOM, "width = 2", "width = 6");
    told(&wide, "opening-too-wide", "is 6.00 m (19' 8 1/4\") wide");
    let tall = with(ONE_ROOM, "height = 1.25", "height = 9");
    told(&tall, "openings-fill-wall", "larger than it");
    let lost = with(ONE_ROOM, "room = \"only\"\nwall = \"south\"", "at = [50, 50]");
    told(&lost, "opening-nowhere", "no wall is near");
}

#[test]
fn a_missing_construction_is_told_and_the_rest_stands() {
    let text = with(CABIN, "window = \"window\"\n", "");
    told(&text, "no-construction", "lake_window");
    let (job, _) = read(&text);
    let design = design::design(&job, &mut Memo::new());
    // Rooms without windows keep their loads.
    let keys: Vec<&str> = design.loads.rooms.iter().map(|room| room.room.as_str()).collect();
    assert_eq!(keys, ["hall"]);
    let told: Vec<_> = design.findings.iter().filter(|f| f.kind == "no-heat-loss").collect();
    assert_eq!(told.len(), 4, "{told:#?}");
    assert!(told.iter().all(|finding| finding.message.contains("cannot tell")));
}
