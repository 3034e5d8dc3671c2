//! What a held decision costs, as a table.

use crate::block::{Block, Cell, Column, Row, Sheet, Table, Units, Value};
use design::{HoldCost, Standing};
use quantity::{Measure, Quantity, System};

/// A sheet that sets the design with a hold beside the one with that hold released.
pub fn cost_sheet(cost: &HoldCost, first: System) -> Sheet {
    let pair = |key: &str, what: &str, measure: Measure, [held, released]: [f64; 2]| {
        Row::new(key, vec![Cell::text(what), quantity(held, measure), quantity(released, measure)])
    };
    let supply = cost.supply.map(|both| both.map(Quantity::si));
    let mut rows: Vec<Row> = supply
        .map(|both| pair("supply", "supply temperature", Measure::Temperature, both))
        .into_iter()
        .collect();
    rows.push(pair("tube", "tube", Measure::Length, cost.tube.map(Quantity::si)));
    rows.push(pair("flow", "flow of all manifolds", Measure::Flow, cost.flow.map(Quantity::si)));
    rows.push(pair("head", "head of the worst loop", Measure::Head, cost.head.map(Quantity::si)));
    let [held, released] = cost.stops.map(Cell::Count);
    rows.push(Row::new("stops", vec![Cell::text("findings to stop for"), held, released]));
    let columns = vec![
        Column::words("what", "what"),
        Column::words("held", "held"),
        Column::words("released", "released"),
    ];
    let notes =
        vec!["Released, the design chooses for itself; all else stays as it is.".to_owned()];
    let title = "Held against released".to_owned();
    let table = Table { key: "cost".to_owned(), title, columns, rows, notes };
    let title = format!("What it costs to hold {}", cost.path);
    let blocks = vec![Block::Table(table)];
    Sheet { key: "cost".to_owned(), title, head: Vec::new(), first, blocks }
}

fn quantity(si: f64, measure: Measure) -> Cell {
    let (units, standing) = (Units::of(measure), Standing::Designed);
    Cell::Quantity(Value { si, units, explain: None, standing })
}
