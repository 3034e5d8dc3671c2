//! Ways for pipe, mains, and parts of the plant.

use super::super::{Absent, Form, Role, Row};
use super::{ROOM, assumed, distance, long, output, row, short, water};

use Absent::{Needed, Nothing};
use Form::{Choice, Named, Point, Text};
use Role::Fact;

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("passage.*", "kind", Fact,
        Choice(&["doorway", "sleeve", "through joists", "under joists", "riser"]),
        assumed("doorway", "most leaders pass a doorway"),
        "What it is: a doorway, a sleeve in a wall, bored joists, the way under the joists, or a riser to another storey."),
    row("passage.*", "from", Fact, ROOM, Needed(&[]),
        "The room where it starts."),
    row("passage.*", "to", Fact, ROOM, Needed(&[]),
        "The room where it leads."),
    row("passage.*", "at", Fact, Point, Nothing,
        "Its place on the plan."),
    row("passage.*", "width", Fact, short((0.02, 3.0)), Nothing,
        "Its width."),

    row("main.*", "from", Fact, Named(&["part", "manifold"]), Nothing,
        "What it starts at: the key of a part or manifold, or words."),
    row("main.*", "to", Fact, Named(&["part", "manifold"]), Nothing,
        "What it leads to: the key of a part or manifold, or words."),
    row("main.*", "size", Fact, Text, Nothing,
        "Its nominal size, in words: `1 in copper`."),
    row("main.*", "length", Fact, long((0.1, 200.0)), Nothing,
        "Its length one way."),
    row("main.*", "fittings", Fact, Text, Nothing,
        "Its fittings, in words: `6 elbows, 2 tees`."),

    row("part.*", "kind", Fact,
        Choice(&["heat source", "indirect tank", "buffer", "expansion tank", "pump", "mixing valve", "separator"]),
        Needed(&[]),
        "What it is; a boiler or heat pump is a heat source."),
    row("part.*", "room", Fact, ROOM, Nothing,
        "The room that it stands in."),
    row("part.*", "height", Fact, distance((0.0, 4.0)), Nothing,
        "Its height over that room's floor."),
    row("part.*", "water", Fact, water((0.1, 3000.0)), Nothing,
        "Heating water in it, or in its coil."),
    row("part.*", "storage", Fact, water((10.0, 3000.0)), Nothing,
        "Tap water in it."),
    row("part.*", "output", Fact, output((500.0, 200e3)), Nothing,
        "Its rated output."),
];
