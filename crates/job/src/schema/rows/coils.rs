//! Coils of tube, and loops as they were laid.

use super::super::{Absent, Form, Role, Row, Target};
use super::{assumed, long, row, tube_mark};

use Absent::{Inherited, Needed, Nothing};
use Form::{Count, Named, Reference, Text};
use Role::Fact;

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
];
