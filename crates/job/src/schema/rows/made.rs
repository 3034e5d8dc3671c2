//! Constructions, materials and framing.

use super::super::{Absent, Form, Role, Row};
use super::{CONDUCTIVITY, R, assumed, long, number, row, short};
use quantity::{Measure, unit};

use Absent::{Needed, Nothing};
use Form::{Choice, Count, Layers, Text};
use Role::Fact;

#[rustfmt::skip]
pub(super) const ROWS: &[Row] = &[
    row("assembly.*", "layers", Fact, Layers, Needed(&["u"]),
        "Layers from the room outward, or down: material and thickness, R-value, air, or what lies between a frame."),
    row("assembly.*", "u", Fact,
        number(Measure::Transmittance, (&unit::U_US, &unit::U_SI), (1e-3, 50.0), (0.08, 7.0)),
        Needed(&["layers"]),
        "Rated U-value with films; instead of layers."),
    row("assembly.*", "edge", Fact,
        number(Measure::AreaResistance, (&unit::R_US, &unit::R_SI), (0.0, 50.0), (R, 30.0 * R)),
        Nothing,
        "For a floor on the ground: R-value of the insulation at the slab's outer edge."),
    row("assembly.*", "edge_depth", Fact, long((0.05, 2.5)), Nothing,
        "For a floor on the ground: how deep the edge insulation goes down."),
    row("assembly.*", "edge_width", Fact, long((0.05, 2.5)), Nothing,
        "For a floor on the ground: how wide insulation lies flat along its edge."),
    row("assembly.*", "gaps", Fact, Count(0, 2), assumed("0", "insulation without gaps"),
        "Level of air gaps in its insulation by ISO 6946: 0 none, 1 some that bridge, 2 some that let air round to the warm side."),
    row("assembly.*", "fixings", Fact,
        number(Measure::Ratio, (&unit::ONE, &unit::ONE), (0.0, 1000.0), (0.5, 20.0)), Nothing,
        "Metal fixings through its insulation: how many on each square metre."),
    row("assembly.*", "fixing_section", Fact,
        number(Measure::Area, (&unit::SQUARE_MILLIMETRE, &unit::SQUARE_MILLIMETRE), (1e-8, 0.01), (1e-6, 1e-3)),
        assumed("12.6 mm²", "a wire tie of 4 mm"),
        "Section of one fixing."),
    row("assembly.*", "fixing_conductivity", Fact, CONDUCTIVITY,
        assumed("50 W/mK", "steel, EN ISO 10456, from memory"),
        "Conductivity of the fixings' metal."),

    row("material.*", "name", Fact, Text, Nothing,
        "What it is called on paper and in layers; its key if absent."),
    row("material.*", "conductivity", Fact, CONDUCTIVITY, Needed(&[]),
        "Its design conductivity."),
    row("material.*", "density", Fact,
        number(Measure::Density, (&unit::POUND_CUFT, &unit::KILOGRAM_CUM), (1.0, 25e3), (8.0, 9e3)), Nothing,
        "Its density, for warm-up."),
    row("material.*", "specific_heat", Fact,
        number(Measure::SpecificHeat, (&unit::BTU_POUND_F, &unit::JOULE_KILOGRAM_K), (50.0, 10e3), (300.0, 4.5e3)),
        Nothing,
        "Its specific heat, for warm-up."),
    row("material.*", "carrier", Fact, Choice(&["screed", "board", "plates"]),
        assumed("screed", "tube lies embedded in most layers that hold it"),
        "How it carries tube: embedded as in screed, a grooved board over the floor, metal plates under it."),

    row("framing.*", "kind", Fact, Choice(&["sawn", "i-joist", "open web"]), Nothing,
        "How the joists are made."),
    row("framing.*", "depth", Fact, short((0.08, 0.7)), Nothing,
        "Depth of a joist."),
    row("framing.*", "spacing", Fact, short((0.2, 1.3)), Nothing,
        "From joist to joist, centre to centre."),
    row("framing.*", "direction", Fact,
        number(Measure::Angle, (&unit::DEGREE, &unit::DEGREE), (-6.3, 6.3), (-3.2, 6.3)), Nothing,
        "Which way the joists run: degrees from east towards north; 0 runs east, 90 north."),
    row("framing.*", "blocked", Fact, Text, Nothing,
        "Bays that nothing can pass, in words."),
];
