//! Coils of tube, and loops as they were laid.

use super::super::{Absent, Form, Role, Row, Target};
use super::{ORIGIN, assumed, long, row, tube_mark};

use Absent::{Inherited, Needed, Nothing, Open};
use Form::{Count, Named, Outline, Point, Points, Reference, Text};
use Role::{Decision, Fact};

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("coil.*", "tube", Fact, Reference(Target::Tube), Inherited("heating.tube"),
        "The tube on it, by its catalogue key."),
    row("coil.*", "length", Fact, long((3.0, 700.0)), Needed(&["end"]),
        "Tube on it; a rest piece may state `start` and `end` instead."),
    row("coil.*", "start", Fact, tube_mark(),
        assumed("0", "a new coil is taken to be marked from nought"),
        "The mark printed at the end that is laid first."),
    row("coil.*", "end", Fact, tube_mark(), Nothing,
        "The mark printed at its other end; lower than `start` where the marks count down."),
    row("coil.*", "on_hand", Fact, Count(0, 500), Nothing,
        "How many such coils are on hand; if absent, as many as it takes can be bought."),

    row("laid.*", "start", Fact, tube_mark(), Needed(&[]),
        "The mark read at the supply port. Marks count as measured unless `assumed` names them."),
    row("laid.*", "end", Fact, tube_mark(), Needed(&[]),
        "The mark read at the return port."),
    row("laid.*", "coil", Fact, Named(&["coil"]), Nothing,
        "The coil it was cut from: the key of a coil, or words."),
    row("laid.*", "date", Fact, Text, Nothing,
        "When it was read, in words."),

    row("loop.*", "start", Fact, Point, ORIGIN,
        "Where the taped legs of its outline begin."),
    row("loop.*", "outline", Decision, Outline, Open,
        "Floor of its room that is set apart for it: taped legs or corners. The other loops of the room share the rest."),
    row("loop.*", "way", Decision, Points, Open,
        "The way of its leaders, place after place from the manifold to where its field begins; supply and return lie side by side along it."),
];
