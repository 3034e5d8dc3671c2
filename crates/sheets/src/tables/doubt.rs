//! How far the heat loss may be off, and what would move it.

use super::column;
use crate::block::{Cell, Column, Row, Table, Units, Value};
use design::{Doubt, DoubtItem, Standing};
use quantity::{Measure, Power, Quantity, System};

/// The table of doubts, most telling first.
pub fn doubt_table(doubt: &Doubt, first: System) -> Table {
    let columns = vec![
        Column::words("what", "what may differ"),
        Column::words("taken", "taken as"),
        Column::words("low", "might be"),
        column("effect_low", "changes the loss by", Measure::Power),
        Column::words("high", "or might be"),
        column("effect_high", "changes the loss by", Measure::Power),
        Column::words("kind", "kind"),
    ];
    let rows = doubt.items.iter().enumerate().map(|(place, item)| row(place, item)).collect();
    let [least, most] = doubt.band.map(|power| both(power, first));
    let notes = vec![
        format!(
            "With all of these open, the heat loss of the house lies between {least} and {most}: \
             the effects are added as the root of their squares, since they do not hang together. \
             Worked out with all free floor heated: {}.",
            both(doubt.house.value, first)
        ),
        "What can be found out is worth finding out from the top. A convention can not be found \
         out: another honest calculation may simply hold another one."
            .to_owned(),
    ];
    let title = "How sure is this?".to_owned();
    Table { key: "doubt".to_owned(), title, columns, rows, notes }
}

fn row(place: usize, item: &DoubtItem) -> Row {
    let [low, high] = item.effect.map(watts);
    let words = |words: &str, effect: Power| match effect.si() == 0.0 {
        true => Cell::text("–"),
        false => Cell::text(words),
    };
    let kind = if item.convention { "convention" } else { "to find out" };
    let cells = vec![
        Cell::text(item.what.clone()),
        Cell::text(item.taken.clone()),
        words(&item.low, item.effect[0]),
        low,
        words(&item.high, item.effect[1]),
        high,
        Cell::text(kind),
    ];
    Row::new((place + 1).to_string(), cells)
}

/// A change in watts; a dash where nothing changes.
fn watts(power: Power) -> Cell {
    if power.si() == 0.0 {
        return Cell::text("–");
    }
    let units = Units::of(Measure::Power);
    let standing = Standing::Estimated;
    Cell::Quantity(Value { si: power.si(), units, explain: None, standing })
}

fn both(power: Power, first: System) -> String {
    quantity::show_both(power.si(), Measure::Power, first)
}
