//! Rooms on, under and beside each other.

use super::*;
use crate::close;
use design::envelope::FaceKind;

/// Two storeys of 10 × 8 m on each other: the floor between is whole, walls are 36 × 2.5 m each.
#[test]
fn two_storeys_on_each_other() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let loss = loss(&house(&rooms.concat()));
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(keyed(&loss, "down", "ceiling under up"), 80.0, 1e-9);
    close(keyed(&loss, "up", "floor over down"), 80.0, 1e-9);
    close(outside_wall(&loss, "down"), 90.0, 1e-9);
    close(outside_wall(&loss, "up"), 90.0, 1e-9);
    close(keyed(&loss, "up", "ceiling"), 80.0, 1e-9);
    close(keyed(&loss, "down", "floor"), 80.0, 1e-9);
    let up = room(&loss, "up");
    close(up.level_m, 2.8, 1e-12);
    close(up.volume.as_ref().unwrap().si(), 200.0, 1e-9);
    // Walls and ceiling; the lower room has no ceiling to outdoors.
    close(up.outside_area.si(), 170.0, 1e-9);
    close(room(&loss, "down").outside_area.si(), 90.0, 1e-9);
    let ground = loss.envelope.ground.as_ref().unwrap();
    close(ground.area.si(), 80.0, 1e-9);
    close(ground.exposed_edge.si(), 36.0, 1e-9);
    assert!(ground.depth.is_none());
}

/// The upper room set 3 m east: 7 × 8 m on each other, 3 × 8 m hang out, 3 × 8 m lie bare.
#[test]
fn a_shifted_upper_room() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [3.0, 0.0, 10.0, 8.0]),
    ];
    let loss = loss(&house(&rooms.concat()));
    close(keyed(&loss, "down", "ceiling under up"), 56.0, 1e-4);
    close(keyed(&loss, "up", "floor over down"), 56.0, 1e-4);
    close(keyed(&loss, "down", "ceiling"), 24.0, 1e-4);
    close(keyed(&loss, "up", "floor"), 24.0, 1e-4);
    told(&loss, "overhang", "24.0");
    both_sides_alike(&loss);
}

/// Wall tops: an upper room 10 cm smaller all round leaves no ceiling bare.
#[test]
fn the_tops_of_walls_are_nothing() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("west", "upper", [0.1, 0.1, 4.8, 7.8]),
        block("east", "upper", [5.0, 0.1, 4.9, 7.8]),
    ];
    let loss = loss(&house(&rooms.concat()));
    close(keyed(&loss, "down", "ceiling"), 0.0, 0.0);
    close(keyed(&loss, "down", "ceiling under west"), 4.8 * 7.8, 1e-4);
    both_sides_alike(&loss);
}

/// A hall 5.3 m high beside a room below and one above: 4 × 2.5 m of wall each, and the end of the
/// floor between them is nothing. Its other walls: (4 + 4 + 4) × 5.3 m.
#[test]
fn a_hall_of_two_storeys() {
    let hall = block("hall", "lower", [0.0, 0.0, 4.0, 4.0]) + "height = 5.3\n";
    let rooms = [
        hall,
        block("below", "lower", [4.1, 0.0, 5.0, 4.0]),
        block("above", "upper", [4.1, 0.0, 5.0, 4.0]),
    ];
    let loss = loss(&house(&rooms.concat()));
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(towards(&loss, "hall", "below"), 10.0, 1e-9);
    close(towards(&loss, "hall", "above"), 10.0, 1e-9);
    close(outside_wall(&loss, "hall"), 12.0 * 5.3, 1e-9);
    close(keyed(&loss, "above", "floor over below"), 20.0, 1e-9);
    both_sides_alike(&loss);
}

/// A room sunk by 1 m beside another: 1.5 m of wall in common; below it ground, above it outdoors.
#[test]
fn a_split_level() {
    let rooms = [
        block("den", "lower", [0.0, 0.0, 4.0, 4.0]),
        block("kitchen", "lower", [4.1, 0.0, 5.0, 4.0]),
    ];
    let mut job = house(&rooms.concat());
    job.rooms[0].offset = fact(-1.0);
    let loss = loss(&job);
    close(towards(&loss, "den", "kitchen"), 4.0 * 1.5, 1e-9);
    close(keyed(&loss, "den", "wall east, in the ground"), 4.0, 1e-9);
    // The ground line is level with the kitchen's floor, so all of the den stands 1 m in it.
    let buried =
        area(&loss, "den", |face| face.behind == Behind::Ground && face.kind == FaceKind::Wall);
    close(buried, 16.0, 1e-9);
    close(outside_wall(&loss, "den"), 12.0 * 1.5, 1e-9);
    // 1 m of the kitchen's wall stands over the den's ceiling.
    close(
        area(&loss, "kitchen", |f| f.key == "wall west" && f.behind == Behind::Outdoors),
        4.0,
        1e-9,
    );
    both_sides_alike(&loss);
    let ground = loss.envelope.ground.as_ref().unwrap();
    // Edges: den 12 m and its step 4 m, all 1 m deep; kitchen 14 m at grade.
    close(ground.exposed_edge.si(), 30.0, 1e-9);
    close(ground.depth.as_ref().unwrap().si(), 16.0 / 30.0, 1e-9);
}

/// A stair hole of 2 × 3 m: out of the floor above, the ceiling below, and the tube.
#[test]
fn a_hole_in_a_floor() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let mut job = house(&rooms.concat());
    job.voids.push(job::Void {
        key: "stair".to_owned(),
        place: Place::default(),
        room: words("up"),
        outline: Some(outline(&[(1.0, 1.0), (3.0, 1.0), (3.0, 4.0), (1.0, 4.0)])),
    });
    let open = loss(&job);
    assert_eq!(kinds(&open), [] as [&str; 0]);
    close(keyed(&open, "down", "ceiling under up"), 74.0, 1e-4);
    close(keyed(&open, "up", "floor over down"), 74.0, 1e-4);
    close(keyed(&open, "up", "floor"), 0.0, 0.0);
    let free: f64 = room(&open, "up").free.iter().map(plane::Region::area_m2).sum();
    close(free, 74.0, 1e-4);
    let mut colder = job.clone();
    colder.rooms[1].indoor.value = quantity::Temperature::from_si(288.15);
    told(&loss(&colder), "void-between-temperatures", "not to be equally warm");
    job.rooms.remove(0);
    told(&loss(&job), "void-over-nothing", "no room below");
}

/// Whole rooms of another storey in the same air are told, with how much.
#[test]
fn rooms_that_reach_through_floors() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]) + "height = 4\n",
        block("up", "upper", [8.0, 0.0, 10.0, 8.0]),
    ];
    told(&loss(&house(&rooms.concat())), "rooms-overlap", "down reaches up through the floor");
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]) + "height = 4\n",
        block("up", "upper", [10.2, 0.0, 10.0, 8.0]),
    ];
    let beside = loss(&house(&rooms.concat()));
    close(towards(&beside, "down", "up"), 8.0 * 1.2, 1e-9);
}

#[test]
fn a_point_that_two_storeys_share_asks_for_the_room() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
        "[opening.view]\nkind = \"window\"\nat = [5, 0]\nwidth = 1\nheight = 1\n".to_owned(),
    ];
    let text = rooms.concat();
    told(&loss(&house(&text)), "opening-nowhere", "two storeys");
    let named = text.replace("at = [5, 0]", "at = [5, 0]\nroom = \"up\"");
    let loss = loss(&house(&named));
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(keyed(&loss, "up", "window view"), 1.0, 1e-9);
    close(outside_wall(&loss, "up"), 89.0, 1e-9);
}

/// A level that no text states rests on a floor of 300 mm, and the finding says so.
#[test]
fn an_assumed_floor_thickness_is_told() {
    let rooms = [
        block("down", "lower", [0.0, 0.0, 10.0, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let mut job = house(&rooms.concat());
    job.storeys[0].floor_to_floor = None;
    let loss = loss(&job);
    close(room(&loss, "up").level_m, 2.8, 1e-12);
    told(&loss, "level-assumed", "0.30 m");
}
