//! Heat between storeys: floors with and without tube, seen from above and from below.

use crate::{close, job};
use design::envelope::{Behind, FaceKind};
use design::loads::{FaceLoss, Loads};
use design::{State, heat_loss};
use quantity::Quantity;

/// Two rooms of 5 × 4 m one on the other, 18 °C below and 22 °C above.
fn stack(upper_heated: bool) -> Loads {
    let text = format!(
        r#"
firstheat = 1
[job]
name = "Two storeys"
units = "si"
rules = "eu"
[outdoors]
design = -10
annual_mean = 8
altitude = 0
ground = 2.0
[house]
wall = "wall"
ceiling = "ceiling"
floor = "between"
floor_between = "between"
[heating]
tube = "pe-x-16x2"
[storey.low]
height = 2.5
floor_to_floor = 2.8
[storey.high]
height = 2.5
[assembly.wall]
u = 0.3
[assembly.ceiling]
u = 0.2
[assembly.between]
layers = ["cement screed 65 mm with tube", "EPS 30 mm"]
[room.below]
storey = "low"
outline = "E 5, N 4, W 5, S 4"
indoor = 18
heated = false
[room.above]
storey = "high"
outline = "E 5, N 4, W 5, S 4"
indoor = 22
heated = {upper_heated}
[keep_out.island]
room = "above"
outline = [[1, 1], [3, 1], [3, 2], [1, 2]]
[rule.dimensions]
value = "inside"
why = "hand calculation"
"#
    );
    heat_loss(&job(&text), &State::default()).loads
}

fn between<'a>(loads: &'a Loads, room: &str, other: &str) -> &'a FaceLoss {
    let room = loads.room(room).unwrap();
    let towards = |face: &&FaceLoss| {
        face.behind == Behind::Room(other.to_owned())
            && matches!(face.kind, FaceKind::Floor | FaceKind::Ceiling)
    };
    room.faces.iter().find(towards).unwrap()
}

/// One floor has one U-value from both sides: heat goes down, with 0.17 m²K/W on either side.
#[test]
fn one_floor_seen_from_both_sides() {
    let loads = stack(false);
    let (down, up) = (between(&loads, "above", "below"), between(&loads, "below", "above"));
    close(down.loss.si() + up.loss.si(), 0.0, 1e-9);
    let catalogue = job::Library::built_in().catalogue;
    let conductivity = |key: &str| catalogue.material(key).unwrap().conductivity.si();
    let layers = 0.065 / conductivity("cement-screed") + 0.03 / conductivity("eps");
    let by_hand = 20.0 * 4.0 / (0.17 + layers + 0.17);
    close(down.loss.si(), by_hand, 1e-6);
    assert_eq!(loads.house.as_ref().unwrap().heat.neighbours.si(), 0.0);
}

/// Only floor without tube exchanges heat as a floor: on both sides the same part of it, so that
/// nothing goes in above and comes out below that the water already carries.
#[test]
fn heated_part_leaves_both_sides() {
    let (bare, heated) = (stack(false), stack(true));
    let available = heated.room("above").unwrap().available.as_ref().unwrap().si();
    let share = 1.0 - available / 20.0;
    assert!(share > 0.09 && share < 0.5, "{share}");
    for (room, other) in [("above", "below"), ("below", "above")] {
        let whole = between(&bare, room, other);
        let part = between(&heated, room, other);
        close(part.area.si(), share * whole.area.si(), 1e-9);
        close(part.loss.si(), share * whole.loss.si(), 1e-9);
    }
}
