//! What another finish does to a floor, as a sheet.

use crate::block::{Block, Cell, Column, FindingList, Row, Sheet, Table, Units, Value};
use crate::sheet::{finding_list, prose};
use crate::tables::column;
use design::{FinishLater, Standing, Underfoot};
use job::Job;
use quantity::{Measure, Quantity, System, show};

/// A sheet that sets a floor under another finish beside the one of the text.
pub fn finish_sheet(job: &Job, text: &str, later: &FinishLater, first: System) -> Sheet {
    let mut blocks = vec![prose("finish-answer", "In short", answer(job, later, first))];
    blocks.push(Block::Table(table(later)));
    let found =
        [("What it brings, with water that follows", &later.comes), ("What it ends", &later.goes)];
    for (title, found) in found.into_iter().filter(|(_, found)| !found.is_empty()) {
        let list = finding_list(found, text);
        blocks.push(Block::Findings(FindingList { title: title.to_owned(), ..list }));
    }
    let title = format!("{} on the floor of {}", name(job, later, 1), room_name(job, later));
    Sheet { key: "finish".to_owned(), title, head: Vec::new(), first, blocks }
}

fn name(job: &Job, later: &FinishLater, which: usize) -> String {
    let key = &later.finishes[which];
    job.catalogue.finish(key).map_or_else(|| key.clone(), |finish| finish.name.clone())
}

fn room_name(job: &Job, later: &FinishLater) -> String {
    let room = job.room(&later.room);
    room.map_or_else(|| later.room.clone(), |room| room.name.value.clone())
}

/// The answer in a few sentences.
fn answer(job: &Job, later: &FinishLater, first: System) -> Vec<String> {
    let both = |si: f64, measure: Measure| {
        let [one, other] = [first, first.other()].map(|system| show(si, measure, system));
        format!("{one} ({other})")
    };
    let mut lines = Vec::new();
    let [was_w, same_w] = [&later.now, &later.same_water].map(|it| it.floor.output.si());
    let less_w = was_w - same_w;
    let (other, was) = (name(job, later, 1), name(job, later, 0));
    lines.push(if less_w.abs() < 1.0 {
        format!("With the water as it is, {other} gives the room as much as {was}.")
    } else {
        let share = 100.0 * less_w.abs() / was_w.abs().max(1.0);
        let more_or_less = if less_w > 0.0 { "less" } else { "more" };
        format!(
            "With the water as it is, the floor gives {} {more_or_less} under {other} than under \
             {was}: {share:.0} %.",
            both(less_w.abs(), Measure::Power)
        )
    });
    let short_w = later.same_water.floor.short.si();
    if short_w >= 1.0 {
        lines.push(format!("The room then lacks {}.", both(short_w, Measure::Power)));
    }
    let supplies = later.now.supply.zip(later.warmer_water.supply);
    if let Some((now, then)) = supplies
        && !later.is_held
    {
        let (by_k, still_w) = (then.si() - now.si(), later.warmer_water.floor.short.si());
        let moved = match by_k {
            by if by.abs() < 0.05 => "The water can stay as it is".to_owned(),
            by if by > 0.0 => format!(
                "Water warmer by {}, {} in place of {}, makes that up",
                both(by, Measure::TemperatureDifference),
                both(then.si(), Measure::Temperature),
                both(now.si(), Measure::Temperature)
            ),
            by => format!(
                "The water may be cooler by {}, at {}",
                both(-by, Measure::TemperatureDifference),
                both(then.si(), Measure::Temperature)
            ),
        };
        lines.push(match still_w >= 1.0 {
            true => format!("{moved}, but {} are missing still.", both(still_w, Measure::Power)),
            false => format!("{moved}."),
        });
    } else if later.is_held {
        lines
            .push("The job holds the supply temperature, so the water does not follow.".to_owned());
    }
    lines.push("Tube, spacing and loops stay as they were designed.".to_owned());
    lines
}

fn table(later: &FinishLater) -> Table {
    let columns = vec![
        Column::words("state", "floor"),
        column("supply", "supply", Measure::Temperature),
        column("over", "resistance over tube", Measure::AreaResistance),
        column("output", "heat it gives", Measure::Power),
        column("needed", "heat needed", Measure::Power),
        column("down", "heat downward", Measure::HeatFlux),
        column("surface", "mean surface", Measure::Temperature),
        column("surface_limit", "its limit", Measure::Temperature),
        column("warmest", "warmest spot", Measure::Temperature),
    ];
    let rows = vec![
        row("now", "as designed", &later.now),
        row("same_water", "other finish, same water", &later.same_water),
        row("warmer_water", "other finish, water follows", &later.warmer_water),
    ];
    let notes = vec![
        "On the design day. Water follows: the supply that the circuit then needs, as the design \
         would choose it. A thermostat holds back what is too much."
            .to_owned(),
    ];
    let title = "The floor under either finish".to_owned();
    Table { key: "finish".to_owned(), title, columns, rows, notes }
}

fn row(key: &str, what: &str, Underfoot { supply, floor }: &Underfoot) -> Row {
    let supply = supply.map(|supply| quantity(supply.si(), Measure::Temperature));
    let cells = vec![
        Cell::text(what),
        supply.unwrap_or(Cell::Blank),
        quantity(floor.finish.si(), Measure::AreaResistance),
        quantity(floor.output.si(), Measure::Power),
        quantity(floor.needed.si(), Measure::Power),
        quantity(floor.flux_down.si(), Measure::HeatFlux),
        quantity(floor.surface.si(), Measure::Temperature),
        quantity(floor.surface_limit.si(), Measure::Temperature),
        quantity(floor.warmest.si(), Measure::Temperature),
    ];
    Row::new(key, cells)
}

fn quantity(si: f64, measure: Measure) -> Cell {
    let (units, standing) = (Units::of(measure), Standing::Designed);
    Cell::Quantity(Value { si, units, explain: None, standing })
}
