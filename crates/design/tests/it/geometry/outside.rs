//! Outside dimensions, by hand.

use super::*;
use crate::close;
use design::envelope::FaceKind;
use job::Dimensions;

/// Walls 300 mm and ceilings 200 mm thick, areas by outside dimensions.
fn outside(rooms: &str) -> HeatLoss {
    let text = format!("{FRAME}{rooms}")
        .replace("[assembly.wall]\nu = 0.3", "[assembly.wall]\nlayers = [\"aerated block 300 mm\"]")
        .replace(
            "[assembly.ceiling]\nu = 0.2",
            "[assembly.ceiling]\nlayers = [\"mineral wool 200 mm\"]",
        );
    let mut job = crate::job(&text);
    job.rules.dimensions.value = Dimensions::Outside;
    for storey in &mut job.storeys {
        storey.floor_to_floor = Some(fact(2.8));
    }
    loss(&job)
}

/// 10 × 8 × 2.5 m inside is 10.6 × 8.6 × 2.7 m outside; volume and floor stay inside.
#[test]
fn a_plain_box() {
    let loss = outside(&block("only", "lower", [0.0, 0.0, 10.0, 8.0]));
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(keyed(&loss, "only", "wall north"), 10.6 * 2.7, 1e-9);
    close(outside_wall(&loss, "only"), 38.4 * 2.7, 1e-9);
    close(keyed(&loss, "only", "ceiling"), 10.6 * 8.6, 1e-6);
    close(keyed(&loss, "only", "floor"), 10.6 * 8.6, 1e-6);
    close(loss.envelope.ground.as_ref().unwrap().exposed_edge.si(), 38.4, 1e-9);
    let only = room(&loss, "only");
    close(only.area.as_ref().unwrap().si(), 80.0, 1e-9);
    close(only.volume.as_ref().unwrap().si(), 200.0, 1e-9);
}

/// Two storeys, floor to floor 2.8 m; the lower one cut by a partition of 100 mm.
#[test]
fn floor_to_floor_and_middle_of_walls() {
    let rooms = [
        block("west", "lower", [0.0, 0.0, 4.0, 8.0]),
        block("east", "lower", [4.1, 0.0, 5.9, 8.0]),
        block("up", "upper", [0.0, 0.0, 10.0, 8.0]),
    ];
    let loss = outside(&rooms.concat());
    close(outside_wall(&loss, "west"), (2.0 * 4.35 + 8.6) * 2.8, 1e-9);
    close(outside_wall(&loss, "east"), (2.0 * 6.25 + 8.6) * 2.8, 1e-9);
    close(outside_wall(&loss, "up"), 38.4 * 2.7, 1e-9);
    close(area(&loss, "west", |f| f.key == "wall east"), 8.6 * 2.8, 1e-9);
    close(keyed(&loss, "up", "floor over west"), 4.35 * 8.6, 1e-4);
    close(keyed(&loss, "up", "floor over east"), 6.25 * 8.6, 1e-4);
    both_sides_alike(&loss);
}

/// A wing set against a long wall. By hand the outer edge is an L of 10.6 × 8.7 m, so 38.6 m round;
/// its area 10.6 × 4.35 + 6 × 0.25 + 4.6 × 4.35 = 67.62 m².
#[test]
fn a_wing() {
    let rooms = [
        block("long", "lower", [0.0, 0.0, 10.0, 4.0]),
        block("wing", "lower", [0.0, 4.1, 4.0, 4.0]),
    ];
    let loss = outside(&rooms.concat());
    let walls = outside_wall(&loss, "long") + outside_wall(&loss, "wing");
    close(walls, 38.6 * 2.7, 1e-9);
    let floors = keyed(&loss, "long", "floor") + keyed(&loss, "wing", "floor");
    close(floors, 67.62, 1e-6);
    close(towards(&loss, "long", "wing"), 4.6 * 2.7, 1e-9);
    both_sides_alike(&loss);
}

/// A ridge roof moves out with its walls: 12.6 × 8.6 m of plan at a pitch of 3 : 4.
#[test]
fn a_roof() {
    let text = block("hall", "lower", [0.0, 0.0, 12.0, 8.0]);
    let mut job = house(&text);
    job.rules.dimensions.value = Dimensions::Outside;
    job.rooms[0].height = None;
    for wall in ["south", "north"] {
        job.slopes.push(job::Slope {
            key: wall.to_owned(),
            place: Place::default(),
            room: words("hall"),
            wall: Some(words(wall)),
            low: Some(fact(4.0)),
            pitch: Some(fact(0.75)),
            assembly: None,
        });
    }
    let loss = loss(&job);
    let roof = area(&loss, "hall", |face| face.kind == FaceKind::Roof);
    close(roof, 12.6 * 8.6 * 1.25, 1e-6);
    told(&loss, "thickness-assumed", "0.30 m");
}
