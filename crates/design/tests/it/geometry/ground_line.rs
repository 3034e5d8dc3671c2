//! Cellars, slopes of the ground, walk-outs.

use super::*;
use crate::close;
use job::Grade;

fn grade(room: &str, wall: &str, left: f64, right: f64) -> Grade {
    Grade {
        key: format!("{room}_{wall}"),
        place: Place::default(),
        room: words(room),
        wall: Some(words(wall)),
        left: Some(fact(left)),
        right: Some(fact(right)),
    }
}

/// A cellar of 10 × 8 × 2.5 m, 2 m in the ground all round: 36 × 2 m² in it, 36 × 0.5 m² over it.
#[test]
fn a_cellar() {
    let rooms = [
        block("cellar", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let mut job = house(&rooms.concat());
    job.storeys[0].ground = Some(fact(2.0));
    job.house.wall_in_ground = Some(words("partition"));
    let loss = loss(&job);
    close(area(&loss, "cellar", |face| face.key.ends_with("in the ground")), 72.0, 1e-9);
    close(outside_wall(&loss, "cellar"), 18.0, 1e-9);
    close(outside_wall(&loss, "up"), 90.0, 1e-9);
    let north = &room(&loss, "cellar").faces;
    let north = north.iter().find(|face| face.key == "wall north, in the ground").unwrap();
    assert_eq!(north.behind, Behind::Ground);
    assert_eq!(north.assembly.as_deref(), Some("partition"));
    close(north.depth.as_ref().unwrap().si(), 2.0, 1e-9);
    close(loss.envelope.ground.unwrap().depth.unwrap().si(), 2.0, 1e-9);
}

/// A walk-out: 2 m of ground in the north, none in the south, falling along both sides. By hand:
/// north 20 m², each side 8 × 2 / 2 m² in the ground, with 2/3 of 2 m as its mean depth over the
/// area; along the edge the mean is (10 × 2 + 2 × 8 × 1) / 36 m.
#[test]
fn a_walk_out() {
    let mut job = house(&block("cellar", "lower", [0.0, 0.0, 10.0, 8.0]));
    // Seen from inside, north is on the left hand of who looks east, on the right looking west.
    job.grades = vec![
        grade("cellar", "north", 2.0, 2.0),
        grade("cellar", "east", 2.0, 0.0),
        grade("cellar", "west", 0.0, 2.0),
    ];
    let loss = loss(&job);
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(keyed(&loss, "cellar", "wall north, in the ground"), 20.0, 1e-9);
    close(keyed(&loss, "cellar", "wall east, in the ground"), 8.0, 1e-9);
    close(keyed(&loss, "cellar", "wall west, in the ground"), 8.0, 1e-9);
    close(keyed(&loss, "cellar", "wall south"), 25.0, 1e-9);
    close(outside_wall(&loss, "cellar"), 90.0 - 36.0, 1e-9);
    let faces = &room(&loss, "cellar").faces;
    let east = faces.iter().find(|face| face.key == "wall east, in the ground").unwrap();
    close(east.depth.as_ref().unwrap().si(), 4.0 / 3.0, 1e-9);
    close(loss.envelope.ground.unwrap().depth.unwrap().si(), 1.0, 1e-9);
    job.grades[1].wall = Some(words("moon"));
    told(&super::loss(&job), "grade-nowhere", "no wall `moon`");
}

/// A room of the lower storey over a crawlspace beside one that stands on the ground.
#[test]
fn a_crawlspace_under_one_room() {
    let rooms = [
        block("porch", "lower", [0.0, 0.0, 4.0, 4.0]),
        block("cellar", "lower", [4.2, 0.0, 4.0, 4.0]),
    ];
    let mut job = house(&rooms.concat());
    job.rooms[0].below = stated_fact(space("crawl"));
    job.rooms[1].offset = fact(-1.0);
    let loss = loss(&job);
    let crawl = Behind::Space("crawl".to_owned());
    close(area(&loss, "porch", |face| face.behind == crawl), 16.0, 1e-9);
    // The cellar's wall below the porch's floor looks into the crawlspace.
    close(area(&loss, "cellar", |face| face.behind == crawl), 4.0, 1e-9);
    close(loss.envelope.ground.as_ref().unwrap().area.si(), 16.0, 1e-9);
    // Three sides to outdoors, one to the crawlspace: all exposed (ISO 13370, from memory).
    close(loss.envelope.ground.as_ref().unwrap().exposed_edge.si(), 16.0, 1e-9);
}

/// A room half over a cellar: only the edge of its other half lies on the ground.
#[test]
fn half_over_a_cellar() {
    let rooms = [
        block("cellar", "lower", [0.0, 0.0, 5.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let mut job = house(&rooms.concat());
    job.storeys[0].ground = Some(fact(2.8));
    let loss = loss(&job);
    close(keyed(&loss, "up", "floor over cellar"), 40.0, 1e-4);
    close(keyed(&loss, "up", "floor"), 40.0, 1e-4);
    let edge = room(&loss, "up").exposed_edge.as_ref().unwrap().si();
    close(edge, 5.0 + 8.0 + 5.0, 1e-4);
    close(room(&loss, "cellar").exposed_edge.as_ref().unwrap().si(), 26.0, 1e-9);
}
