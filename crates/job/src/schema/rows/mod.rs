//! Every table and key of the job file.

use super::{Absent, Form, Number, Role, Row, TableRow, Target};
use quantity::unit::{self, Unit};
use quantity::{Measure, System};

use Absent::{Inherited, Needed, Nothing, Open};
use Form::{Choice, Count, Faces, Flag, Layers, Outline, Point, Quantity, Reference, Text};
use Role::{Decision, Fact, Wish};

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const HOUR: f64 = 3600.0;
/// 0 °C.
const ICE: f64 = 273.15;
/// One R in inch-pound units, m²K/W.
const R: f64 = 0.176_110;

const fn number(
    measure: Measure,
    bare: (&'static Unit, &'static Unit),
    possible: (f64, f64),
    plausible: (f64, f64),
) -> Form {
    Quantity(Number { measure, bare_us: bare.0, bare_si: bare.1, possible, plausible })
}

/// A large length, bare in feet or metres, that must be above nothing.
const fn long(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.001, 1000.0), plausible)
}

/// A small length, bare in inches or millimetres, that must be above nothing.
const fn short(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::INCH, &unit::MILLIMETRE), (0.001, 100.0), plausible)
}

/// A temperature on a scale, with its plausible range in °C.
const fn temperature(possible: (f64, f64), plausible: (f64, f64)) -> Form {
    number(
        Measure::Temperature,
        (&unit::FAHRENHEIT, &unit::CELSIUS),
        (possible.0 + ICE, possible.1 + ICE),
        (plausible.0 + ICE, plausible.1 + ICE),
    )
}

const AIR_CHANGES: Form = number(
    Measure::AirChange,
    (&unit::AIR_CHANGES_HOUR, &unit::AIR_CHANGES_HOUR),
    (0.0, 100.0 / HOUR),
    (0.05 / HOUR, 5.0 / HOUR),
);

const AREA: Form =
    number(Measure::Area, (&unit::SQUARE_FOOT, &unit::SQUARE_METRE), (1e-4, 1e6), (0.1, 1000.0));

const fn assumed(value: &'static str, why: &'static str) -> Absent {
    Absent::Assumed { us: value, si: value, why }
}

const fn row(
    table: &'static str,
    key: &'static str,
    role: Role,
    form: Form,
    absent: Absent,
    doc: &'static str,
) -> Row {
    Row { table, key, role, form, absent, doc }
}

/// The words of `units`, in the order of [`System`].
pub(crate) const UNITS: &[(&str, System)] = &[("us", System::Us), ("si", System::Si)];

/// Every table, in the order of a job file.
pub(crate) const TABLES: &[TableRow] = &[
    TableRow { pattern: "job", doc: "The job as a whole." },
    TableRow { pattern: "outdoors", doc: "The climate at the site." },
    TableRow { pattern: "house", doc: "What holds for the house unless a room says otherwise." },
    TableRow { pattern: "heating", doc: "Tube and water, for the heating as a whole." },
    TableRow { pattern: "storey.*", doc: "One storey." },
    TableRow { pattern: "assembly.*", doc: "How a wall, floor, ceiling, window or door is made." },
    TableRow { pattern: "room.*", doc: "One room: the unit of the heat balance." },
    TableRow { pattern: "surface.*", doc: "One surface of a room that has no outline yet." },
    TableRow { pattern: "opening.*", doc: "A window, door or doorway." },
    TableRow { pattern: "keep_out.*", doc: "Floor that takes no tube: island, hearth, flange." },
    TableRow { pattern: "manifold.*", doc: "A manifold." },
];

/// Every key, by table.
#[rustfmt::skip]
pub(crate) const ROWS: &[Row] = &[
    row("", "firstheat", Fact, Count(1, 1), assumed("1", "the only format there is"),
        "Format of the file."),

    row("job", "name", Fact, Text, assumed("unnamed job", "the job has no name yet"),
        "What the job is called on paper."),
    row("job", "units", Fact, Choice(&["us", "si"]), assumed("us", "the text names no units"),
        "System of numbers without a unit, and the one printed first."),
    row("job", "rules", Fact, Reference(Target::Rules),
        Absent::Assumed { us: "us-residential", si: "eu", why: "the usual one for these units" },
        "The limits that hold, with their sources."),
    row("job", "note", Fact, Text, Nothing,
        "Free words for the paper."),

    row("outdoors", "design", Fact, temperature((-80.0, 40.0), (-50.0, 20.0)), Needed(&[]),
        "Outdoor temperature of the design day."),
    row("outdoors", "annual_mean", Fact, temperature((-60.0, 40.0), (-15.0, 30.0)), Nothing,
        "Mean outdoor temperature of the year, which governs the ground."),
    row("outdoors", "altitude", Fact,
        number(Measure::Length, (&unit::FOOT, &unit::METRE), (-500.0, 9000.0), (-400.0, 4500.0)),
        assumed("0 m", "sea level"),
        "Height above the sea, which thins the air."),
    row("outdoors", "ground", Fact,
        number(Measure::Conductivity, (&unit::CONDUCTIVITY_US, &unit::CONDUCTIVITY_SI),
            (0.01, 20.0), (0.5, 5.0)),
        assumed("2.0 W/mK", "sand or gravel, the usual value where the ground is not known"),
        "Conductivity of the ground."),

    row("house", "air_changes", Fact, AIR_CHANGES,
        assumed("0.5 /h", "the least air change that loads are reckoned with"),
        "How often outdoor air replaces the air of a room."),
    row("house", "thickest_wall", Fact, short((0.05, 0.8)),
        Absent::Assumed { us: "8 in", si: "250 mm", why: "walls between rooms are seldom thicker" },
        "The greatest thickness of a wall between two rooms; rooms closer than that are neighbours."),
    row("house", "wall", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of outside walls."),
    row("house", "partition", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of walls between rooms."),
    row("house", "ceiling", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of ceilings under the attic or roof."),
    row("house", "floor", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of floors, from the room down, without the finish."),
    row("house", "window", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of windows."),
    row("house", "door", Fact, Reference(Target::Table("assembly")), Nothing,
        "Construction of outside doors."),

    row("heating", "tube", Decision, Reference(Target::Tube), Open,
        "Tube, by its catalogue key."),
    row("heating", "fluid", Fact, Choice(&["water", "propylene glycol"]),
        assumed("water", "the text names no antifreeze"),
        "What runs in the tube."),
    row("heating", "glycol", Fact,
        number(Measure::Ratio, (&unit::PERCENT, &unit::PERCENT), (0.0, 0.7), (0.0, 0.6)),
        assumed("0 %", "water"),
        "Share of glycol by volume; needed when the fluid is propylene glycol."),
    row("heating", "supply", Decision, temperature((0.0, 110.0), (25.0, 70.0)), Open,
        "Supply temperature on the design day."),
    row("heating", "drop", Decision,
        number(Measure::TemperatureDifference,
            (&unit::FAHRENHEIT_DEGREE, &unit::KELVIN_DIFFERENCE), (0.1, 80.0), (3.0, 20.0)),
        Open,
        "How far the water cools in the loop that sets the supply temperature."),
    row("heating", "head", Fact,
        number(Measure::Head, (&unit::FOOT_HEAD, &unit::METRE_HEAD), (0.001, 100.0), (0.5, 12.0)),
        Nothing,
        "Head that the pump has for one loop."),

    row("storey.*", "height", Fact, long((1.9, 6.0)), Nothing,
        "Ceiling height of its rooms."),

    row("assembly.*", "layers", Fact, Layers, Needed(&["u"]),
        "Layers from the room outward, or down: material and thickness, or R-value."),
    row("assembly.*", "u", Fact,
        number(Measure::Transmittance, (&unit::U_US, &unit::U_SI), (1e-3, 50.0), (0.08, 7.0)),
        Needed(&["layers"]),
        "Rated U-value with films; instead of layers."),
    row("assembly.*", "edge", Fact,
        number(Measure::AreaResistance, (&unit::R_US, &unit::R_SI), (0.0, 50.0), (R, 30.0 * R)),
        Nothing,
        "For a heated floor: R-value of the insulation at the slab's outer edge."),
    row("assembly.*", "edge_depth", Fact, long((0.05, 2.5)), Nothing,
        "For a heated floor: how deep the edge insulation goes down."),

    row("room.*", "name", Fact, Text, Nothing,
        "What it is called on paper; its key if absent."),
    row("room.*", "storey", Fact, Reference(Target::Table("storey")), Nothing,
        "Its storey; the only one there is if absent."),
    row("room.*", "start", Fact, Point, assumed("the origin", "no start was given"),
        "Where the taped legs begin: x to the east, y to the north."),
    row("room.*", "outline", Fact, Outline, Needed(&["area"]),
        "Its inside faces: taped legs around the room, or corners."),
    row("room.*", "area", Fact, AREA, Needed(&["outline"]),
        "Its floor area, where no outline was taken."),
    row("room.*", "height", Fact, long((1.9, 6.0)), Inherited("storey.*.height"),
        "Its own ceiling height."),
    row("room.*", "indoor", Wish, temperature((-10.0, 50.0), (10.0, 26.0)),
        Absent::Assumed { us: "70 F", si: "20 °C", why: "the usual wish" },
        "Indoor temperature wished on the design day."),
    row("room.*", "use", Fact, Choice(&["living", "bath", "utility"]),
        assumed("living", "people stay in most rooms"),
        "What it is used for; limits of floor temperature depend on it."),
    row("room.*", "air_changes", Fact, AIR_CHANGES, Inherited("house.air_changes"),
        "Its own air changes."),
    row("room.*", "heated", Wish, Flag, assumed("true", "rooms are heated unless the text says no"),
        "Whether its floor is to be heated."),
    row("room.*", "wall", Fact, Reference(Target::Table("assembly")), Inherited("house.wall"),
        "Construction of its outside walls."),
    row("room.*", "ceiling", Fact, Reference(Target::Table("assembly")), Inherited("house.ceiling"),
        "Construction of its ceiling."),
    row("room.*", "above", Fact, Faces, assumed("outdoors", "an attic or roof is as cold as outdoors"),
        "What is above the ceiling."),
    row("room.*", "below", Fact, Faces, assumed("ground", "a slab on the ground"),
        "What is below the floor."),
    row("room.*", "floor", Fact, Reference(Target::Table("assembly")), Inherited("house.floor"),
        "Construction of its floor, without the finish."),
    row("room.*", "finish", Fact, Reference(Target::Finish),
        assumed("bare-concrete", "no finish was named"),
        "Finish on the floor, by its catalogue key."),
    row("room.*", "spacing", Decision, short((0.05, 0.41)), Open,
        "Distance of neighbouring tubes, centre to centre."),
    row("room.*", "loops", Decision, Count(1, 40), Open,
        "How many loops."),
    row("room.*", "manifold", Decision, Reference(Target::Table("manifold")), Open,
        "The manifold that feeds it."),

    row("surface.*", "room", Fact, Reference(Target::Table("room")), Needed(&[]),
        "The room that it bounds."),
    row("surface.*", "faces", Fact, Faces, assumed("outdoors", "the coldest side it can have"),
        "What is behind it."),
    row("surface.*", "area", Fact, AREA, Needed(&[]),
        "Its area, openings included."),
    row("surface.*", "assembly", Fact, Reference(Target::Table("assembly")), Needed(&[]),
        "Its construction."),
    row("surface.*", "exposed_edge", Fact, long((0.3, 100.0)), Nothing,
        "For a floor on the ground: length of its edge along outside walls."),

    row("opening.*", "kind", Fact, Choice(&["window", "door"]),
        assumed("window", "most openings are windows"),
        "What sits in it; a doorway without a door is a door."),
    row("opening.*", "at", Fact, Point, Needed(&["wall"]),
        "A point of the plan in or near the wall it sits in."),
    row("opening.*", "room", Fact, Reference(Target::Table("room")), Nothing,
        "The room whose wall it sits in; instead of a point."),
    row("opening.*", "wall", Fact, Text, Needed(&["at"]),
        "That wall: its own name, or north, east, south or west."),
    row("opening.*", "along", Fact,
        number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.0, 1000.0), (0.0, 60.0)), Nothing,
        "From the wall's left end, seen from inside the room, to the middle of the opening; the middle of the wall if absent."),
    row("opening.*", "width", Fact, long((0.3, 6.0)), Needed(&[]),
        "Its width."),
    row("opening.*", "height", Fact, long((0.3, 4.0)), Needed(&[]),
        "Its height."),
    row("opening.*", "assembly", Fact, Reference(Target::Table("assembly")),
        Inherited("house.window or house.door"),
        "Its construction."),

    row("keep_out.*", "room", Fact, Reference(Target::Table("room")), Needed(&[]),
        "The room that it lies in."),
    row("keep_out.*", "start", Fact, Point, assumed("the origin", "no start was given"),
        "Where the taped legs begin."),
    row("keep_out.*", "outline", Fact, Outline, Needed(&[]),
        "Its edge on the plan: taped legs or corners."),

    row("manifold.*", "room", Fact, Reference(Target::Table("room")), Needed(&[]),
        "The room that it hangs in."),
    row("manifold.*", "at", Fact, Point, Needed(&[]),
        "Its place on the plan."),
    row("manifold.*", "height", Fact, short((0.2, 1.5)),
        Absent::Assumed { us: "24 in", si: "600 mm", why: "18 to 24 in is usual for slabs" },
        "Height of its bars over the floor; each tube end rises by this."),
    row("manifold.*", "tail", Fact,
        number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.0, 50.0), (0.1 * FOOT, 3.0)),
        Absent::Assumed { us: "3 ft", si: "1 m", why: "3 ft at each end to connect and trim" },
        "Free tube beyond the riser at each end, for connection and trimming."),
];

/// How thin a layer may be, and how thick.
pub(crate) const LAYER_THICKNESS: (f64, f64) = (0.0001, 5.0);

/// How small the unit of a bare layer thickness is.
pub(crate) const LAYER_BARE: (&Unit, &Unit) = (&unit::INCH, &unit::MILLIMETRE);

/// The smallest gap of taped legs that is worth a word: an eighth of an inch.
pub(crate) const GAP_SILENT: f64 = INCH / 8.0 + 1e-6;

/// The gap of taped legs that is spread even over a short way round.
pub(crate) const GAP_SPREAD: f64 = 2.0 * INCH;
