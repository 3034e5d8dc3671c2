//! Joints, and what is set or fixed into a floor.

use super::super::{Absent, Form, Role, Row};
use super::{ROOM, assumed, key_of, row, short};

use Absent::{Needed, Nothing};
use Form::{Choice, Point, Points};
use Role::Fact;

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("joint.*", "kind", Fact, Choice(&["movement", "saw cut"]),
        assumed("movement", "tube may cross it least of all"),
        "What it is: through the whole layer, or cut into its top."),
    row("joint.*", "line", Fact, Points, Needed(&[]),
        "Places along it on the plan, from end to end; it is drawn straight between them, and on to a wall that is near."),
    row("joint.*", "room", Fact, ROOM, Nothing,
        "The only room that it lies in; every room of its storey that it crosses if absent."),
    row("joint.*", "storey", Fact, key_of("storey"), Nothing,
        "Its storey; that of its room, or the only one there is, if absent."),
    row("joint.*", "width", Fact, short((0.003, 0.05)),
        Absent::Assumed { us: "3/8 in", si: "10 mm", why: "usual filler of movement joints" },
        "How wide a movement joint is."),
    row("joint.*", "depth", Fact, short((0.005, 0.15)), Nothing,
        "How deep a saw cut reaches below the top of the slab or screed."),

    row("fixture.*", "kind", Fact, Choice(&["toilet flange", "wall plate", "shot pins", "door sill"]), Needed(&[]),
        "What it is: a plate below a wall that is shot or screwed down, pins along a line, the sill or saddle of a door."),
    row("fixture.*", "room", Fact, ROOM, Needed(&[]),
        "The room that it lies in; for a sill, either room."),
    row("fixture.*", "at", Fact, Point, Nothing,
        "The middle of a toilet's flange."),
    row("fixture.*", "line", Fact, Points, Nothing,
        "Places along the middle of anything long, from end to end."),
    row("fixture.*", "size", Fact, short((0.01, 0.5)), Nothing,
        "Diameter of a flange, width of a plate or sill; as in the rule set if absent."),
    row("fixture.*", "clearance", Fact, short((0.02, 0.5)), Nothing,
        "Least distance from its edge to the middle of a tube; as in the rule set if absent."),
];
