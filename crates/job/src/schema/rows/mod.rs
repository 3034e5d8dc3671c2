//! Every table and key of the job file, by topic.

mod coils;
mod floor;
mod heating;
mod house;
mod made;
mod plant;
mod rooms;
mod shape;

use super::{Absent, Form, Number, Role, Row, TableRow, Target};
use quantity::unit::{self, Unit};
use quantity::{Measure, System};

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
    Form::Quantity(numeric(measure, bare, possible, plausible))
}

const fn numeric(
    measure: Measure,
    bare: (&'static Unit, &'static Unit),
    possible: (f64, f64),
    plausible: (f64, f64),
) -> Number {
    Number { measure, bare_us: bare.0, bare_si: bare.1, possible, plausible }
}

/// A large length, bare in feet or metres, that must be above nothing.
const fn long(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.001, 1000.0), plausible)
}

/// A large length, bare in feet or metres, on either side of nought.
const fn level(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::FOOT, &unit::METRE), (-100.0, 100.0), plausible)
}

/// A distance, bare in feet or metres, that may be nought.
const fn distance(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.0, 1000.0), plausible)
}

/// A mark printed on a tube, bare in feet or metres.
const fn tube_mark() -> Form {
    number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.0, 1e5), (0.0, 2000.0))
}

/// A small length, bare in inches or millimetres, that must be above nothing.
const fn short(plausible: (f64, f64)) -> Form {
    number(Measure::Length, (&unit::INCH, &unit::MILLIMETRE), (0.001, 100.0), plausible)
}

/// A temperature on a scale, with its ranges in °C.
const fn temperature(possible: (f64, f64), plausible: (f64, f64)) -> Form {
    Form::Quantity(temperatures(possible, plausible))
}

const fn temperatures(possible: (f64, f64), plausible: (f64, f64)) -> Number {
    numeric(
        Measure::Temperature,
        (&unit::FAHRENHEIT, &unit::CELSIUS),
        (possible.0 + ICE, possible.1 + ICE),
        (plausible.0 + ICE, plausible.1 + ICE),
    )
}

/// A share, bare in per cent.
const fn share(possible: (f64, f64), plausible: (f64, f64)) -> Form {
    number(Measure::Ratio, (&unit::PERCENT, &unit::PERCENT), possible, plausible)
}

/// An air flow, bare in cfm or m³/h, with its plausible range in m³/h.
const fn air_flow(plausible_m3_h: (f64, f64)) -> Form {
    number(
        Measure::AirFlow,
        (&unit::CFM, &unit::AIR_CUBIC_METRE_HOUR),
        (0.0, 100.0),
        (plausible_m3_h.0 / HOUR, plausible_m3_h.1 / HOUR),
    )
}

/// A heat output, bare in Btu/h or W, with its plausible range in W.
const fn output(plausible: (f64, f64)) -> Form {
    number(Measure::Power, (&unit::BTU_HOUR, &unit::WATT), (0.1, 1e7), plausible)
}

/// A volume of water, bare in gallons or litres, with its plausible range in litres.
const fn water(plausible_l: (f64, f64)) -> Form {
    number(
        Measure::Volume,
        (&unit::GALLON_US, &unit::LITRES),
        (0.0, 100.0),
        (plausible_l.0 / 1000.0, plausible_l.1 / 1000.0),
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

const CONDUCTIVITY: Form = number(
    Measure::Conductivity,
    (&unit::CONDUCTIVITY_US, &unit::CONDUCTIVITY_SI),
    (1e-3, 500.0),
    (0.015, 400.0),
);

/// The key of another table.
const fn key_of(table: &'static str) -> Form {
    Form::Reference(Target::Table(table))
}

const ASSEMBLY: Form = key_of("assembly");
const ROOM: Form = key_of("room");
/// An assembly of the job, or a build-up of the catalogue.
const FLOOR: Form = Form::Reference(Target::Floor);

const fn assumed(value: &'static str, why: &'static str) -> Absent {
    Absent::Assumed { us: value, si: value, why }
}

const ORIGIN: Absent = assumed("the origin", "no start was given");

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

const fn table(pattern: &'static str, doc: &'static str) -> TableRow {
    TableRow { pattern, doc }
}

/// The words of `units`, in the order of [`System`].
pub(crate) const UNITS: &[(&str, System)] = &[("us", System::Us), ("si", System::Si)];

/// Every table, in the order of the work: house, construction, rooms, their shape, air, heating.
#[rustfmt::skip]
pub(crate) const TABLES: &[TableRow] = &[
    table("job", "The job as a whole."),
    table("outdoors", "The climate at the site."),
    table("house", "What holds for the house unless a room says otherwise."),
    table("storey.*", "One storey. Storeys stand in the text from the lowest up."),
    table("assembly.*", "How a wall, floor, ceiling, window or door is made."),
    table("material.*", "A material that the catalogue lacks; layers name it like those of the catalogue."),
    table("framing.*", "Framing of a floor. Tube under a subfloor is drawn where kind, depth, spacing, direction, `at` and `bearings` are told."),
    table("bay_block.*", "What is in the way between the joists: a duct, a drain, bridging, a box."),
    table("room.*", "One room: the unit of the heat balance."),
    table("space.*", "A space that nobody heats: attic, crawlspace, garage, basement, store."),
    table("surface.*", "One surface of a room that has no outline yet, or of a space."),
    table("opening.*", "A window, door, doorway or skylight."),
    table("slope.*", "A sloped part of a room's ceiling, rising from one of its walls. Two slopes from opposite walls make a ridge."),
    table("dormer.*", "A dormer: a box with a level ceiling set into a slope."),
    table("grade.*", "How high the ground stands against one wall of a room, where it differs from that of its storey."),
    table("void.*", "A hole in the floor of a room, open to the room below: a stair, a gallery."),
    table("face.*", "What is known of one face of a room better than the rules that hold for all."),
    table("ventilation", "Air that is moved on purpose, for the house as a whole."),
    table("fan.*", "An exhaust fan."),
    table("fuel", "What the house used in a year, to hold the heat loss against."),
    table("heating", "Tube and water, for the heating as a whole."),
    table("rate.*", "What something costs in the job's own money, by which the design chooses among tubes and floors. Its key is that of a tube, an assembly or build-up, or `port`: `[rate.\"pex-1/2\"]`."),
    table("circuit.*", "A circuit of one water temperature."),
    table("manifold.*", "A manifold."),
    table("manifold_place.*", "A place where a manifold may hang; the design takes the best of them."),
    table("coil.*", "A coil of tube: a size that can be bought, or coils and rest pieces on hand. Without any, the sizes of the rule set are taken."),
    table("loop.*", "What is held of one loop. Its key is that of the loop: `[loop.\"kitchen/1\"]`."),
    table("laid.*", "One loop as it lies: the marks printed on the tube, read at its two ports. Its key is that of the loop: `[laid.\"kitchen/1\"]`."),
    table("floor_part.*", "Part of a room's floor under another finish than the rest."),
    table("keep_out.*", "Floor that takes no tube: island, hearth, flange."),
    table("fixture.*", "Something set or fixed into a floor: tube stays away from it by the distance of the rule set."),
    table("joint.*", "A joint in a slab or screed. Only leaders cross a movement joint, in sleeves; loops lie on either side of it."),
    table("emitter.*", "An emitter other than a floor, by its rating."),
    table("zone.*", "What one thermostat calls."),
    table("zone_part.*", "A part of an open room that another zone serves."),
    table("passage.*", "A way that tube and pipe can take."),
    table("main.*", "A main or riser between two parts."),
    table("part.*", "A part of the plant."),
    table("rule.*", "A limit or convention of the rule set that this job sets otherwise, by its name there: `[rule.floor_wood]`, `[rule.\"loop_length.pex-1/2\"]`."),
];

/// Every key, by topic.
const TOPICS: &[&[Row]] = &[
    house::ROWS,
    made::ROWS,
    rooms::ROWS,
    floor::ROWS,
    shape::ROWS,
    heating::ROWS,
    coils::ROWS,
    plant::ROWS,
];

/// The keys that any table may hold beside its own.
pub(crate) const MARKS: &[Row] = &[
    row(
        "",
        "measured",
        Role::Fact,
        Form::Keys,
        Absent::Nothing,
        "Keys of this table that were measured.",
    ),
    row(
        "",
        "assumed",
        Role::Fact,
        Form::Keys,
        Absent::Nothing,
        "Keys of this table that are a guess.",
    ),
];

/// Every key of the job file.
pub(crate) fn all() -> impl Iterator<Item = &'static Row> {
    TOPICS.iter().copied().flatten()
}

/// How thin a layer may be, and how thick.
pub(crate) const LAYER_THICKNESS: (f64, f64) = (0.0001, 5.0);

/// How small the unit of a bare layer thickness is.
pub(crate) const LAYER_BARE: (&Unit, &Unit) = (&unit::INCH, &unit::MILLIMETRE);

/// The least and the most pitch that is usual, rise over run.
pub(crate) const PITCH_USUAL: (f64, f64) = (1.0 / 12.0, 24.0 / 12.0);

/// The smallest gap of taped legs that is worth a word: an eighth of an inch.
pub(crate) const GAP_SILENT: f64 = INCH / 8.0 + 1e-6;

/// The gap of taped legs that is spread even over a short way round.
pub(crate) const GAP_SPREAD: f64 = 2.0 * INCH;
