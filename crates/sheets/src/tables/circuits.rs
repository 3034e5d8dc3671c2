//! Which manifolds one water could serve.

use super::column;
use crate::block::{Cell, Column, Row, Table};
use crate::source::Source;
use quantity::{Measure, System};

/// The table of manifolds grouped by their water; none where the job has fewer than two.
pub(crate) fn circuits(source: &Source) -> Option<Table> {
    let groups = &source.design.emitters.groups;
    let columns = vec![
        Column::words("manifold", "manifold"),
        column("needs", "its floors need", Measure::Temperature),
        Column::words("now", "on circuit"),
        Column::words("group", "could share"),
    ];
    let mut rows = Vec::new();
    for (number, group) in groups.iter().enumerate() {
        for (manifold, circuit, needs) in &group.manifolds {
            let cells = vec![
                Cell::text(manifold.clone()),
                source.cell(needs),
                Cell::text(circuit.clone().unwrap_or_else(|| "–".to_owned())),
                Cell::text(format!("circuit {}", number + 1)),
            ];
            rows.push(Row::new(manifold.clone(), cells));
        }
    }
    let spread = source.job.rules.circuit_spread.value;
    let show = |system: System| {
        quantity::show(quantity::Quantity::si(spread), Measure::TemperatureDifference, system)
    };
    let first = source.job.units.value;
    let notes = vec![format!(
        "A proposal: manifolds whose waters differ by no more than {} ({}) share a circuit. Baths \
         without a say in the water are left out.",
        show(first),
        show(first.other())
    )];
    let (key, title) = ("circuits".to_owned(), "Manifolds by their water".to_owned());
    (!rows.is_empty()).then_some(Table { key, title, columns, rows, notes })
}
