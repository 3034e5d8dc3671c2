//! Tube, water, circuits, manifolds, other emitters and zones.

use super::super::{Absent, Form, Role, Row, Target};
use super::{FOOT, ORIGIN, ROOM, assumed, key_of, number, output, row, share, short, temperature};
use quantity::{Measure, unit};

use Absent::{Inherited, Needed, Nothing, Open};
use Form::{Choice, Outline, Point, Reference, Text};
use Role::{Decision, Fact, Wish};

const SUPPLY: Form = temperature((0.0, 110.0), (25.0, 70.0));

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("heating", "tube", Decision, Reference(Target::Tube), Open,
        "Tube, by its catalogue key."),
    row("heating", "fluid", Fact, Choice(&["water", "propylene glycol"]),
        assumed("water", "the text names no antifreeze"),
        "What runs in the tube."),
    row("heating", "glycol", Fact, share((0.0, 0.7), (0.0, 0.6)),
        assumed("0 %", "water"),
        "Share of glycol by volume; needed when the fluid is propylene glycol."),
    row("heating", "supply", Decision, SUPPLY, Open,
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
    row("heating", "reheat", Wish,
        number(Measure::HeatFlux, (&unit::BTU_HOUR_SQFT, &unit::WATT_SQM), (0.0, 500.0), (0.0, 50.0)),
        Nothing,
        "Extra heat per floor area to warm up after a setback, agreed with the owner; none if absent."),
    row("heating", "laying_order", Wish, Form::Loops, Nothing,
        "Loops in the order in which they are laid, by key; those not named come after them."),

    row("circuit.*", "name", Fact, Text, Nothing,
        "What it is called on paper; its key if absent."),
    row("circuit.*", "supply", Decision, temperature((0.0, 110.0), (25.0, 90.0)), Open,
        "Supply temperature on the design day."),

    row("manifold.*", "room", Fact, ROOM, Needed(&["at"]),
        "The room that it hangs in; the nearest one if absent."),
    row("manifold.*", "at", Decision, Point, Needed(&[]),
        "Its place on the plan; `auto` chooses among the places that [manifold_place.*] names."),
    row("manifold.*", "height", Fact, short((0.2, 1.5)),
        Absent::Assumed { us: "24 in", si: "600 mm", why: "18 to 24 in is usual for slabs" },
        "Height of its bars over the floor; each tube end rises by this."),
    row("manifold.*", "tail", Fact,
        number(Measure::Length, (&unit::FOOT, &unit::METRE), (0.0, 50.0), (0.1 * FOOT, 3.0)),
        Absent::Assumed { us: "3 ft", si: "1 m", why: "3 ft at each end to connect and trim" },
        "Free tube beyond the riser at each end, for connection and trimming."),
    row("manifold.*", "circuit", Fact, key_of("circuit"), Nothing,
        "The circuit that feeds it; the only one if absent."),

    row("manifold_place.*", "manifold", Fact, key_of("manifold"), Needed(&[]),
        "The manifold that may hang there."),
    row("manifold_place.*", "room", Fact, ROOM, Needed(&[]),
        "The room of the place."),
    row("manifold_place.*", "at", Fact, Point, Needed(&[]),
        "The place on the plan."),

    row("emitter.*", "kind", Fact,
        Choice(&["radiator", "convector", "towel rail", "wall panel", "ceiling panel"]),
        assumed("radiator", "most emitters beside floors are radiators"),
        "What it is; baseboard is a convector."),
    row("emitter.*", "room", Fact, ROOM, Needed(&[]),
        "The room that it warms."),
    row("emitter.*", "circuit", Fact, key_of("circuit"), Nothing,
        "The circuit that feeds it; the only one if absent."),
    row("emitter.*", "output", Fact, output((30.0, 20e3)), Needed(&[]),
        "Its rated output."),
    row("emitter.*", "rated_supply", Fact, temperature((20.0, 130.0), (30.0, 110.0)),
        Absent::Assumed { us: "180 F", si: "75 °C", why: "usual rating: 180/160/68 F in North America, 75/65/20 °C by EN 442; from memory" },
        "Supply temperature of the rating."),
    row("emitter.*", "rated_return", Fact, temperature((15.0, 120.0), (25.0, 100.0)),
        Absent::Assumed { us: "160 F", si: "65 °C", why: "usual rating: 180/160/68 F in North America, 75/65/20 °C by EN 442; from memory" },
        "Return temperature of the rating."),
    row("emitter.*", "rated_room", Fact, temperature((0.0, 40.0), (15.0, 25.0)),
        Absent::Assumed { us: "68 F", si: "20 °C", why: "usual rating: 180/160/68 F in North America, 75/65/20 °C by EN 442; from memory" },
        "Room temperature of the rating."),
    row("emitter.*", "exponent", Fact,
        number(Measure::Ratio, (&unit::ONE, &unit::ONE), (0.5, 2.5), (1.0, 1.6)), Nothing,
        "Exponent of its output with the excess temperature; if absent 1.3 for a radiator or towel rail, 1.35 for a convector, 1.1 for a panel, from memory."),

    row("zone.*", "name", Fact, Text, Nothing,
        "What it is called on paper; its key if absent."),
    row("zone.*", "circuit", Fact, key_of("circuit"), Nothing,
        "The circuit that serves it."),

    row("zone_part.*", "zone", Fact, key_of("zone"), Needed(&[]),
        "The zone."),
    row("zone_part.*", "room", Fact, ROOM, Needed(&[]),
        "The room that it cuts."),
    row("zone_part.*", "start", Fact, Point, ORIGIN,
        "Where the taped legs begin."),
    row("zone_part.*", "outline", Fact, Outline, Inherited("room.*.outline"),
        "Its edge on the plan: taped legs or corners."),
];
