//! Heated floors as they are built: height, weight, heat capacity, resistances, verdict.

use super::{SMALL, column};
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use design::build_ups::FloorBuildUp;
use quantity::Measure;

fn columns() -> Vec<Column> {
    vec![
        Column::words("room", "room"),
        Column::words("build_up", "build-up"),
        Column::of("height", "over structural floor", SMALL),
        column("weight", "weight", Measure::ArealMass),
        column("added_weight", "of it added", Measure::ArealMass),
        column("capacity", "heat capacity", Measure::ArealHeatCapacity),
        column("above", "resistance over tube", Measure::AreaResistance),
        column("below", "resistance below tube", Measure::AreaResistance),
        Column::words("verdict", "verdict"),
    ]
}

/// The table of heated floors; none where no floor can be told.
pub(crate) fn floors(source: &Source) -> Option<Table> {
    let floors = &source.design.build_ups;
    if floors.is_empty() {
        return None;
    }
    let mut notes = vec![
        "Height and weight take the finish in; a slab on the ground is the structural floor itself. \
         A raised floor touches what the verdict names. Heat capacity: layers that the tube warms, \
         down to the first insulation, without the finish. Resistances are without air films, as \
         if heat went straight."
            .to_owned(),
    ];
    notes.extend(of_catalogue(source));
    let rows = floors.iter().map(|floor| row(source, floor)).collect();
    let (key, title) = ("floors".to_owned(), "Floors".to_owned());
    Some(Table { key, title, columns: columns(), rows, notes })
}

fn row(source: &Source, floor: &FloorBuildUp) -> Row {
    let height = match &floor.height {
        Some(height) => source.cell_in(height, SMALL),
        None => Cell::CannotTell("a layer has no thickness".to_owned()),
    };
    let (no_density, no_layer) = ("a density is not known", "a layer cannot be told");
    let verdict = match floor.verdict.is_empty() {
        true => "–".to_owned(),
        false => floor.verdict.join("; "),
    };
    let cells = vec![
        Cell::Text(source.room_name(&floor.room)),
        Cell::text(floor.name.clone()),
        height,
        source.cell_or(floor.weight.as_ref(), no_density),
        source.cell_or(floor.added_weight.as_ref(), no_density),
        source.cell_or(floor.capacity.as_ref(), no_density),
        source.cell_or(floor.above.as_ref(), no_layer),
        source.cell_or(floor.below.as_ref(), no_layer),
        Cell::Text(verdict),
    ];
    Row::new(floor.room.clone(), cells)
}

/// What the catalogue says of each of its build-ups that is used, once.
fn of_catalogue(source: &Source) -> Vec<String> {
    let named = source.job.assemblies.iter().filter_map(|it| it.build_up.as_deref());
    let used = named
        .filter(|key| source.design.build_ups.iter().any(|floor| floor.assembly == *key))
        .filter_map(|key| source.job.catalogue.build_up(key));
    used.map(|it| format!("{}: suits {}. To know: {}.", it.name, it.suits, it.cannot)).collect()
}
