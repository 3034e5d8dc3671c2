//! Conventions: where two honest calculations of the same house differ.

use super::basis::{Rows, columns};
use crate::block::{Cell, Column, Row, Table, Units};
use crate::source::{Source, spoken};
use job::{
    BlowerDoorMethod, Dimensions, Films, GroundMethod, NextHouse, Rule, UnheatedMethod,
    WarmerNeighbours,
};
use quantity::Measure;

/// The conventions that hold, each with its source.
pub(crate) fn conventions(source: &Source) -> Table {
    let rules = &source.job.rules;
    let mut rows = Rows::of(source);
    word(&mut rows, "dimensions", "areas are taken from", &rules.dimensions, dimensions);
    let u = Units::of(Measure::Transmittance);
    let bridges = "allowance for thermal bridges";
    rows.rule("thermal_bridges", bridges, &rules.thermal_bridges, u);
    word(&mut rows, "films", "air films of surfaces", &rules.films, films);
    let item = "heat from warmer neighbours";
    word(&mut rows, "warmer_neighbours", item, &rules.warmer_neighbours, warmer);
    ground(source, &mut rows);
    let item = "temperature of what nobody heats";
    word(&mut rows, "unheated_method", item, &rules.unheated_method, unheated);
    word(&mut rows, "next_house", "the next house is", &rules.next_house, next_house);
    air(source, &mut rows);
    let mut columns = columns();
    columns[0].heading = "convention";
    columns[1].heading = "what holds";
    let notes = vec![
        format!("Rule set: {}.", rules.name),
        "The allowance for thermal bridges goes on the U-value of surfaces to outdoors and to \
         unheated spaces, not on those in the ground. Under a heated slab the ground is taken as \
         cold as its method says; what the slab sends down goes with its water."
            .to_owned(),
        "Two honest calculations of one house differ by these; how much, the doubt below tells."
            .to_owned(),
    ];
    let title = "Conventions that hold".to_owned();
    Table { key: "conventions".to_owned(), title, columns, rows: rows.done(), notes }
}

fn word<T: Copy>(
    rows: &mut Rows,
    key: &str,
    item: &str,
    rule: &Rule<T>,
    words: fn(T) -> &'static str,
) {
    let reason = rows.cited(key, rule.citation());
    rows.push(key, item, Cell::text(words(rule.value)), reason);
}

fn ground(source: &Source, rows: &mut Rows) {
    let rules = &source.job.rules;
    let item = "loss to the ground";
    word(rows, "ground_method", item, &rules.ground_method, ground_method);
    let ratio = Units { us: &quantity::unit::ONE, si: &quantity::unit::ONE };
    if rules.ground_method.value == GroundMethod::Iso13370 {
        let item = "ground, design day over mean of the year";
        rows.rule("ground_swing", item, &rules.ground_swing, ratio);
        rows.rule("ground_water", "factor for ground water", &rules.ground_water, ratio);
    }
}

fn air(source: &Source, rows: &mut Rows) {
    let (rules, house) = (&source.job.rules, &source.job.house);
    let share = Units::of(Measure::Ratio);
    let item = "share of all rooms' leaks at one time";
    rows.rule("leakage_share", item, &rules.leakage_share, share);
    if house.blower_door.is_some() {
        word(rows, "blower_door", "air from a blower-door test", &rules.blower_door, blower_door);
        let ratio = Units { us: &quantity::unit::ONE, si: &quantity::unit::ONE };
        match rules.blower_door.value {
            BlowerDoorMethod::Divisor => {
                let item = "divisor of the air change at 50 Pa";
                rows.rule("blower_divisor", item, &rules.blower_divisor, ratio);
            }
            BlowerDoorMethod::Shielding => {
                rows.rule("shielding", "shielding of the site", &rules.shielding, ratio);
            }
        }
    }
    if house.blower_door.is_some() || house.leakage_area.is_some() {
        let item = "least air change where leaks are known";
        rows.rule("air_least", item, &rules.air_least, Units::of(Measure::AirChange));
    }
}

const fn dimensions(value: Dimensions) -> &'static str {
    match value {
        Dimensions::Inside => "inside faces; ends of floors between storeys are not counted",
        Dimensions::Outside => "outer faces, floor to floor; middle of walls between rooms",
    }
}

const fn films(value: Films) -> &'static str {
    match value {
        Films::Iso => "ISO 6946, by direction of the heat",
        Films::Ashrae => "ASHRAE, winter",
    }
}

const fn warmer(value: WarmerNeighbours) -> &'static str {
    match value {
        WarmerNeighbours::Credited => "lowers a room's loss",
        WarmerNeighbours::Shown => "is shown, and not taken off",
    }
}

const fn ground_method(value: GroundMethod) -> &'static str {
    match value {
        GroundMethod::Iso13370 => "ISO 13370 for the whole floor, to the mean of the year",
        GroundMethod::EdgeFactor => {
            "factor of the exposed edge, to outdoors; averages in the ground"
        }
    }
}

const fn unheated(value: UnheatedMethod) -> &'static str {
    match value {
        UnheatedMethod::Factor => "by a tabled factor",
        UnheatedMethod::Balance => "by the balance of its gains and losses",
    }
}

const fn next_house(value: NextHouse) -> &'static str {
    match value {
        NextHouse::SameTemperature => "as warm as the room",
        NextHouse::Halfway => "halfway from the room to the mean of the year",
        NextHouse::AnnualMean => "as cold as the mean of the year",
    }
}

const fn blower_door(value: BlowerDoorMethod) -> &'static str {
    match value {
        BlowerDoorMethod::Divisor => "air change at 50 Pa over a divisor",
        BlowerDoorMethod::Shielding => "twice the air change at 50 Pa times shielding",
    }
}

/// What the job sets otherwise than its rule set, and why; none where it sets nothing.
pub(crate) fn overrides(source: &Source) -> Option<Table> {
    let all = &source.job.rules.overrides;
    let row = |it: &job::Override| {
        let now = format!("{}, {}", it.now, source.line(it.place));
        let cells = vec![
            Cell::Text(spoken(&it.rule)),
            Cell::Text(it.was.clone()),
            Cell::Text(it.citation.clone()),
            Cell::Text(now),
            Cell::Text(it.why.clone()),
        ];
        Row::new(it.rule.clone(), cells)
    };
    let columns = vec![
        Column::words("rule", "limit or convention"),
        Column::words("was", "the rule set says"),
        Column::words("citation", "after"),
        Column::words("now", "the job says"),
        Column::words("why", "why"),
    ];
    let (key, title) = ("overrides".to_owned(), "What this job sets otherwise".to_owned());
    let rows = all.iter().map(row).collect();
    (!all.is_empty()).then_some(Table { key, title, columns, rows, notes: Vec::new() })
}
