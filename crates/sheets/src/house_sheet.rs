//! The house on one paper: its heat loss, where it goes, and what the number rests on.

use crate::block::{Block, Cell, Facts, HeadLine, Sheet};
use crate::drawing;
use crate::sheet::prose;
use crate::source::Source;
use crate::tables;
use design::Doubt;

/// The house summary; the doubt goes with it where it was worked out.
pub(crate) fn house_sheet(source: &Source, doubt: Option<&Doubt>) -> Sheet {
    let first = source.job.units.value;
    let mut blocks = vec![Block::Facts(facts(source))];
    match drawing::parts(source) {
        Some(chart) => blocks.push(Block::Drawing(chart)),
        None => {
            let why = "There is nothing to show yet: the heat loss could not be worked out.";
            blocks.push(prose("no-chart", "Where the heat goes", vec![why.to_owned()]));
        }
    }
    let mut add = |table| blocks.push(Block::Table(table));
    add(tables::groups(source));
    add(tables::parts(source));
    add(tables::per_degree(source));
    tables::unheated(source).into_iter().for_each(&mut add);
    tables::sanity(source).into_iter().for_each(&mut add);
    doubt.map(|doubt| tables::doubt_table(doubt, first)).into_iter().for_each(&mut add);
    add(tables::conventions(source));
    tables::overrides(source).into_iter().for_each(&mut add);
    let title = format!("Heat loss of the house: {}", source.job.name.value);
    let head: Vec<HeadLine> = crate::sheet::head(source.job);
    Sheet { key: "house".to_owned(), title, head, first, blocks }
}

fn facts(source: &Source) -> Facts {
    let (loads, totals) = (&source.design.loads, &source.design.totals);
    let why = "the heat loss could not be worked out";
    let house = loads.house.as_ref();
    let mut items = vec![
        ("heat loss of the house", source.cell_or(house.map(|it| &it.heat.total), why)),
        ("per floor area", source.cell_or(house.and_then(|it| it.per_area.as_ref()), why)),
        ("heat per degree, in all", source.cell_or(house.map(|it| &it.per_degree.total), why)),
    ];
    let mut maybe = |name, cell: Option<Cell>| items.extend(cell.map(|cell| (name, cell)));
    maybe("floors send down, lost", totals.lost_below.as_ref().map(|it| source.cell(it)));
    maybe("the source must make", totals.to_make.as_ref().map(|it| source.cell(it)));
    let reheat = house.and_then(|it| it.reheat.as_ref());
    maybe("warming up, on top", reheat.map(|it| source.cell(it)));
    let outdoors = source.job.outdoors.design.as_ref();
    let outdoors = outdoors.map(|it| {
        let units = crate::block::Units::of(quantity::Measure::Temperature);
        source.stated(quantity::Quantity::si(it.value), units, "")
    });
    maybe("outdoors, design day", outdoors);
    maybe("floor area", house.map(|it| source.cell(&it.area)));
    Facts { key: "house".to_owned(), items }
}
