//! Slopes, dormers, ground against walls, holes in floors, faces known better.

use super::super::{Absent, Form, Role, Row};
use super::{ASSEMBLY, ORIGIN, ROOM, assumed, distance, key_of, level, long, row};

use Absent::{Inherited, Needed, Nothing};
use Form::{Faces, Named, Outline, Pitch, Point, Text};
use Role::Fact;

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("slope.*", "room", Fact, ROOM, Needed(&[]),
        "The room."),
    row("slope.*", "wall", Fact, Text, Needed(&[]),
        "The wall that it rises from: its own name, or north, east, south or west."),
    row("slope.*", "low", Fact, distance((0.0, 4.0)), Needed(&[]),
        "Height over the room's floor at that wall: of the knee wall, or the eaves."),
    row("slope.*", "pitch", Fact, Pitch, Needed(&[]),
        "How steep it rises from that wall."),
    row("slope.*", "assembly", Fact, ASSEMBLY, Inherited("house.roof"),
        "Its construction, from the room outward."),

    row("dormer.*", "slope", Fact, key_of("slope"), Needed(&[]),
        "The slope that it breaks."),
    row("dormer.*", "width", Fact, long((0.5, 10.0)), Needed(&[]),
        "Its inside width."),
    row("dormer.*", "height", Fact, long((1.2, 5.0)), Needed(&[]),
        "Its ceiling over the room's floor."),
    row("dormer.*", "set_back", Fact, distance((0.0, 5.0)), assumed("0 m", "its front stands over the wall"),
        "From the slope's wall to its front."),
    row("dormer.*", "wall", Fact, ASSEMBLY, Inherited("room.*.wall"),
        "Construction of its front and cheeks."),
    row("dormer.*", "roof", Fact, ASSEMBLY, Inherited("slope.*.assembly"),
        "Construction of its ceiling."),

    row("grade.*", "room", Fact, ROOM, Needed(&[]),
        "The room."),
    row("grade.*", "wall", Fact, Text, Needed(&[]),
        "The wall: its own name, or north, east, south or west."),
    row("grade.*", "left", Fact, level((-6.0, 6.0)), Needed(&[]),
        "Height of the ground over the room's floor at the wall's left end, seen from inside; below zero where it lies deeper."),
    row("grade.*", "right", Fact, level((-6.0, 6.0)), Inherited("grade.*.left"),
        "The same at the wall's right end."),

    row("void.*", "room", Fact, ROOM, Needed(&[]),
        "The upper room."),
    row("void.*", "start", Fact, Point, ORIGIN,
        "Where the taped legs begin."),
    row("void.*", "outline", Fact, Outline, Needed(&[]),
        "Its edge on the plan: taped legs or corners."),

    row("face.*", "room", Fact, ROOM, Needed(&[]),
        "The room."),
    row("face.*", "part", Fact, Named(&["slope", "dormer"]), Needed(&[]),
        "Which part: a wall's own name, north, east, south or west, ceiling, floor, or the key of a slope or dormer."),
    row("face.*", "towards", Fact, Faces, Nothing,
        "Only where that part looks at this; all of the part if absent."),
    row("face.*", "faces", Fact, Faces, Nothing,
        "What is behind it, instead of what the plan says."),
    row("face.*", "assembly", Fact, ASSEMBLY, Nothing,
        "Its construction, instead of that of the room or the house."),
];
