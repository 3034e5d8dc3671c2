//! What else the house summary holds: parts, unheated spaces, a check for sanity.

use super::column;
use crate::block::{Cell, Column, Row, Spot, Table, Units};
use crate::source::{Source, spoken};
use design::Figure;
use job::SpaceKind;
use quantity::{Measure, Quantity};

/// What the heat goes through, largest first.
pub(crate) fn parts(source: &Source) -> Table {
    let loads = &source.design.loads;
    let row = |part: &design::loads::Part| {
        let share = loads.house.as_ref().and_then(|house| part.share(house));
        let share = source.cell_or(share.as_ref(), "the house loses nothing");
        Row::new(part.name, vec![Cell::text(part.name), source.cell(&part.loss), share])
    };
    let columns = vec![
        Column::words("part", "through"),
        column("loss", "heat loss", Measure::Power),
        column("share", "share of the house", Measure::Ratio),
    ];
    let rows = loads.parts.iter().map(row).collect();
    let title = "Where the heat goes, in numbers".to_owned();
    Table { key: "through".to_owned(), title, columns, rows, notes: Vec::new() }
}

/// Spaces and rooms that nobody heats; none where there are none.
pub(crate) fn unheated(source: &Source) -> Option<Table> {
    let all = &source.design.loads.unheated;
    let row = |it: &design::loads::Unheated| {
        let (name, kind) = match source.job.space(&it.key) {
            Some(space) => (source.space_name(&it.key), space_kind(space.kind.value)),
            None => (source.room_name(&it.key), "room"),
        };
        let cells = vec![
            Cell::Text(name),
            Cell::text(kind),
            source.cell(&it.temperature),
            source.cell_in(&it.factor, ONE),
        ];
        Row::new(it.key.clone(), cells)
    };
    let columns = vec![
        Column::words("space", "space or room"),
        Column::words("kind", "kind"),
        column("temperature", "settles at, design day", Measure::Temperature),
        Column::of("factor", "factor", ONE),
    ];
    let rows = all.iter().map(row).collect();
    let note = "Factor: 0 is as warm as the rooms beside it, 1 is as cold as outdoors.";
    let (key, title) = ("unheated".to_owned(), "What nobody heats".to_owned());
    let table = Table { key, title, columns, rows, notes: vec![note.to_owned()] };
    (!all.is_empty()).then_some(table)
}

/// Factors stand as plain numbers, not as per cent.
const ONE: Units = Units { us: &quantity::unit::ONE, si: &quantity::unit::ONE };

pub(crate) const fn space_kind(kind: SpaceKind) -> &'static str {
    match kind {
        SpaceKind::Attic => "attic",
        SpaceKind::Crawlspace => "crawlspace",
        SpaceKind::Garage => "garage",
        SpaceKind::Basement => "basement",
        SpaceKind::Store => "store, porch or stair",
    }
}

/// The loss against what is usual, and against what was burnt; none where neither is known.
pub(crate) fn sanity(source: &Source) -> Option<Table> {
    let loads = &source.design.loads;
    let house = loads.house.as_ref()?;
    let mut rows = Vec::new();
    if let Some([least, most]) = &loads.sanity.usual {
        let built = source.job.house.built.as_ref().map(|it| it.value.to_string());
        let what = format!("usual for a house of {}", built.unwrap_or_default());
        rows.push(line(source, "usual_least", &format!("least {what}"), least));
        rows.push(line(source, "usual_most", &format!("most {what}"), most));
        rows.extend(house.per_area.as_ref().map(|it| line(source, "per_area", "this house", it)));
    }
    if let Some(billed) = &loads.sanity.billed {
        rows.push(line(source, "billed", "by the fuel bill and its degree-days", billed));
        let here = &house.per_degree.total;
        rows.push(line(source, "per_degree", "this house, heat per degree in all", here));
    }
    let columns = vec![
        Column::words("what", "what"),
        Column::words("value", "value"),
        Column::words("source", "where it comes from"),
    ];
    let notes = vec![
        "Rough by nature: houses of an age differ, and so do sun, people and habits behind a fuel \
         bill. A number far off says that something was missed."
            .to_owned(),
    ];
    let (key, title) = ("sanity".to_owned(), "Is it likely?".to_owned());
    (!rows.is_empty()).then_some(Table { key, title, columns, rows, notes })
}

fn line<Q: Quantity>(source: &Source, key: &str, what: &str, figure: &Figure<Q>) -> Row {
    let from = match &figure.work.how {
        design::How::Rule(citation) => citation.clone(),
        design::How::Stated(place) | design::How::Supposed(place) => {
            format!("the job, {}", Spot::of(*place, source.text))
        }
        _ => "worked out from the job".to_owned(),
    };
    Row::new(key, vec![Cell::Text(spoken(what)), source.cell(figure), Cell::Text(from)])
}
