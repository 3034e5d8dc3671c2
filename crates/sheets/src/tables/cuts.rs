//! The coil-cut card: which loop from which coil, and the marks to expect.

use super::{column, shown_both};
use crate::block::{Cell, Column, Row, RowKind, Table};
use crate::source::Source;
use design::coils::{CoilCuts, Cut, TubeCuts};
use quantity::{Measure, Quantity};

fn columns() -> Vec<Column> {
    vec![
        Column::words("coil", "coil"),
        Column::words("from", "taken from"),
        Column::words("order", "order"),
        Column::words("loop", "loop"),
        Column::words("manifold", "manifold"),
        column("drawn", "drawn length", Measure::Length),
        column("cut", "cut length", Measure::Length),
        column("start_mark", "start mark", Measure::Length),
        column("end_mark", "end mark", Measure::Length),
        column("left", "left on coil", Measure::Length),
    ]
}

/// The coil-cut card; none where there is nothing to cut.
pub(crate) fn cuts(source: &Source) -> Option<Table> {
    let tubes = &source.design.coils.tubes;
    let mut rows = Vec::new();
    let mut order = 0;
    for tube in tubes {
        for coil in &tube.coils {
            for cut in &coil.cuts {
                order += 1;
                rows.push(row(source, tube, coil, cut, order));
            }
        }
        rows.push(total(source, tube));
    }
    let notes = tubes.iter().flat_map(|tube| of_tube(source, tube)).chain(how(source)).collect();
    let title = "Coil cuts".to_owned();
    let key = "cuts".to_owned();
    (!tubes.is_empty()).then(|| Table { key, title, columns: columns(), rows, notes })
}

fn row(source: &Source, tube: &TubeCuts, coil: &CoilCuts, cut: &Cut, order: usize) -> Row {
    let cells = vec![
        Cell::Count(coil.number),
        Cell::Text(taken_from(source, tube, coil)),
        Cell::Count(order),
        Cell::text(cut.key.clone()),
        Cell::text(cut.manifold.clone()),
        source.cell(&cut.drawn),
        source.cell(&cut.length),
        source.cell(&cut.start),
        source.cell(&cut.end),
        source.cell(&cut.left),
    ];
    Row::new(cut.key.clone(), cells)
}

fn total(source: &Source, tube: &TubeCuts) -> Row {
    let mut cells = vec![Cell::text("total"), Cell::Text(source.tube_name(&tube.tube))];
    cells.extend([Cell::Blank, Cell::Blank, Cell::Blank, Cell::Blank]);
    cells.extend([source.cell(&tube.cut), Cell::Blank, Cell::Blank, source.cell(&tube.left)]);
    // Each tube is a kind of goods of its own, so nothing sums up several of them.
    let one = source.design.coils.tubes.len() == 1;
    let kind = if one { RowKind::Total } else { RowKind::Subtotal };
    Row::new(format!("total {}", tube.tube), cells).of(kind)
}

/// The size of a coil to buy, or the name of one on hand.
fn taken_from(source: &Source, tube: &TubeCuts, coil: &CoilCuts) -> String {
    let length = length(source, coil.length.si());
    match (&coil.coil, coil.on_hand) {
        (Some(key), true) => format!("{key}, {length} on hand"),
        _ if tube.sizes_assumed => format!("{length}, usual size"),
        _ => format!("{length}, to buy"),
    }
}

fn length(source: &Source, metres: f64) -> String {
    shown_both(metres, Measure::Length, source.job.units.value)
}

fn of_tube(source: &Source, tube: &TubeCuts) -> Vec<String> {
    let name = source.tube_name(&tube.tube);
    let mut notes = vec![to_buy(source, tube, &name), how_good(source, tube)];
    if tube.sizes_assumed {
        let citation = source.job.rules.coil_lengths.citation();
        notes.push(format!(
            "The job names no coils of {name}, so the usual sizes are taken ({citation}): state \
             what can be had as [coil.*]."
        ));
    }
    if !tube.without.is_empty() {
        let without = tube.without.join(", ");
        notes.push(format!("No coil has tube for {without}: see the findings."));
    }
    notes
}

/// The coils to buy, each size with its number.
fn to_buy(source: &Source, tube: &TubeCuts, name: &str) -> String {
    let mut sizes: Vec<(f64, usize)> = Vec::new();
    for coil in tube.coils.iter().filter(|coil| !coil.on_hand) {
        let metres = coil.length.si();
        match sizes.iter_mut().find(|(size, _)| *size == metres) {
            Some((_, count)) => *count += 1,
            None => sizes.push((metres, 1)),
        }
    }
    sizes.sort_by(|a, b| b.0.total_cmp(&a.0));
    let size = |(metres, count): &(f64, usize)| format!("{count} × {}", length(source, *metres));
    let list: Vec<String> = sizes.iter().map(size).collect();
    match sizes.len() {
        0 => format!("To buy: no {name}."),
        _ => format!("To buy of {name}: {}.", list.join(", ")),
    }
}

/// What is known of better plans.
fn how_good(source: &Source, tube: &TubeCuts) -> String {
    let gap_m = tube.bought.si() - tube.least_bought_m;
    if tube.exact {
        return "No other plan buys less tube, or as little with fewer coils cut; of equal ones \
                the longest piece that stays decides."
            .to_owned();
    }
    if gap_m < 0.001 {
        return "No other plan buys less tube.".to_owned();
    }
    format!(
        "With this many loops not every plan was tried: none buys less than {}, and this one buys \
         {} more than that.",
        length(source, tube.least_bought_m),
        length(source, gap_m)
    )
}

/// How to cut, whatever the tube.
fn how(source: &Source) -> Vec<String> {
    let (job, rule) = (source.job, &source.job.rules.cut_allowance);
    let order = match job.heating.laying_order.is_empty() {
        true => {
            "The longest loop of a coil goes first, while most tube is left to give should it come \
             out longer than drawn; the last and shortest is the easiest to cut from another coil."
        }
        false => "Loops go in the order that the job states; the longest first where it is silent.",
    };
    vec![
        format!(
            "Each loop is one piece of one coil: no joint lies under the floor. A cut is the drawn \
             length, tails included, and {} for the way it is really laid ({}).",
            length(source, rule.value.si()),
            rule.citation()
        ),
        order.to_owned(),
        "Marks are those to expect on the tube. A coil that begins with another mark shifts all of \
         its marks by as much. Write down both marks of each loop once it is connected."
            .to_owned(),
    ]
}
