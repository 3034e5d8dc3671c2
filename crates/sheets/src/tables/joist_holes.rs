//! Holes through joists: lanes to drill, and every hole with what the rule says.

use super::SMALL;
use crate::block::{Cell, Column, Row, RowKind, Table, Units};
use crate::source::Source;
use design::Figure;
use design::loops::{HoleVerdict, JoistFloor, JoistHole};
use quantity::{Length, Measure};

/// Places that differ by less are one lane, metres.
const SAME_M: f64 = 1e-3;

fn name(source: &Source, floor: &JoistFloor) -> String {
    let several = source.design.joist_floors.iter().filter(|it| it.framing == floor.framing);
    let key = floor.framing.replace('_', " ");
    if several.count() > 1 { format!("{key}, span {}", floor.span) } else { key }
}

fn verdict(verdict: &HoleVerdict) -> Cell {
    match verdict {
        HoleVerdict::Allowed => Cell::text("allowed"),
        HoleVerdict::NotAllowed(why) => Cell::Text(format!("NOT ALLOWED: {why}")),
        HoleVerdict::CannotTell(why) => Cell::CannotTell(why.clone()),
    }
}

/// Holes of one joist span at the same place of every joist.
struct Lane<'a> {
    first: &'a JoistHole,
    joists: Vec<i64>,
    loops: Vec<&'a str>,
}

fn lanes(floor: &JoistFloor) -> Vec<Lane<'_>> {
    let mut lanes: Vec<Lane<'_>> = Vec::new();
    for hole in &floor.holes {
        let same = |lane: &&mut Lane<'_>| {
            let first = lane.first;
            let apart = |a: &Figure<Length>, b: &Figure<Length>| (a.si() - b.si()).abs() > SAME_M;
            first.bearing == hole.bearing
                && !apart(&first.from_bearing, &hole.from_bearing)
                && !apart(&first.below_top, &hole.below_top)
                && first.verdict == hole.verdict
        };
        match lanes.iter_mut().find(same) {
            Some(lane) => {
                lane.joists.push(hole.joist);
                if !lane.loops.contains(&hole.of_loop.as_str()) {
                    lane.loops.push(&hole.of_loop);
                }
            }
            None => lanes.push(Lane {
                first: hole,
                joists: vec![hole.joist],
                loops: vec![&hole.of_loop],
            }),
        }
    }
    let at = |lane: &Lane<'_>| (lane.first.bearing, lane.first.from_bearing.si());
    lanes.sort_by(|a, b| at(a).0.cmp(&at(b).0).then(at(a).1.total_cmp(&at(b).1)));
    lanes
}

/// `3 to 12`, or `3 to 7, 9` where some are left out.
fn runs(mut numbers: Vec<i64>) -> String {
    numbers.sort_unstable();
    numbers.dedup();
    let runs = numbers.chunk_by(|a, b| b - a == 1).map(|run| match run {
        [only] => only.to_string(),
        [first, .., last] => format!("{first} to {last}"),
        [] => String::new(),
    });
    runs.collect::<Vec<_>>().join(", ")
}

/// What to drill, lane by lane; none without tube in joist bays.
pub(crate) fn lane_table(source: &Source) -> Option<Table> {
    let floors = &source.design.joist_floors;
    let columns = vec![
        Column::words("lane", "lane"),
        Column::words("joists", "joists"),
        Column::words("holes", "holes"),
        Column::words("bearing", "from bearing"),
        Column::of("from_bearing", "bearing to middle", SMALL),
        Column::of("below_top", "top to middle", SMALL),
        Column::of("diameter", "diameter", SMALL),
        Column::words("loops", "loops"),
        Column::words("verdict", "rule says"),
    ];
    let mut rows = Vec::new();
    for floor in floors {
        let name = name(source, floor);
        for (number, lane) in lanes(floor).into_iter().enumerate() {
            let first = lane.first;
            let key = format!("{} {}/{}", floor.framing, floor.span, number + 1);
            let cells = vec![
                Cell::Text(format!("{name}: {}", number + 1)),
                Cell::Text(runs(lane.joists.clone())),
                Cell::Count(lane.joists.len()),
                Cell::Text(format!("{}", first.bearing)),
                source.cell_in(&first.from_bearing, SMALL),
                source.cell_in(&first.below_top, SMALL),
                source.cell_in(&first.diameter, SMALL),
                Cell::Text(lane.loops.join(", ")),
                verdict(&first.verdict),
            ];
            rows.push(Row::new(key, cells));
        }
    }
    let count = floors.iter().map(|floor| floor.holes.len()).sum();
    if count > 0 {
        let mut total = vec![Cell::text("total"), Cell::Blank, Cell::Count(count)];
        total.extend((0..6).map(|_| Cell::Blank));
        rows.push(Row::new("total", total).of(RowKind::Total));
    }
    let title = "Lanes to drill through joists".to_owned();
    let table = Table { key: "lanes".to_owned(), title, columns, rows, notes: notes(source) };
    (!floors.is_empty()).then_some(table)
}

fn notes(source: &Source) -> Vec<String> {
    let mut notes = vec![
        "Joists are counted from the one at the stated place, number 0: to its right looking the \
         way they run, and with a minus to its left. Bearing 1 is where they begin, 2 where they end."
            .to_owned(),
    ];
    let mut rules: Vec<&str> = source.design.joist_floors.iter().map(|it| &*it.rule).collect();
    rules.dedup();
    notes.extend(rules.iter().map(|rule| format!("Limits of holes: {rule}.")));
    notes
}

/// Every hole by itself; none without tube in joist bays.
pub(crate) fn hole_table(source: &Source) -> Option<Table> {
    let floors = &source.design.joist_floors;
    let feet = Units::of(Measure::Length);
    let columns = vec![
        Column::words("hole", "hole"),
        Column::words("joist", "joist"),
        Column::of("across", "from joist 0", feet),
        Column::words("bearing", "from bearing"),
        Column::of("from_bearing", "bearing to middle", SMALL),
        Column::of("below_top", "top to middle", SMALL),
        Column::of("diameter", "diameter", SMALL),
        Column::of("edge", "wood to the edge", SMALL),
        Column::of("to_next", "wood to the next", SMALL),
        Column::words("loop", "loop"),
        Column::words("verdict", "rule says"),
    ];
    let mut rows = Vec::new();
    for floor in floors {
        let name = name(source, floor);
        for (number, hole) in floor.holes.iter().enumerate() {
            let key = format!("{} {}/{}", floor.framing, floor.span, number + 1);
            let cells = vec![
                Cell::Text(format!("{name}: {}", number + 1)),
                Cell::Text(hole.joist.to_string()),
                source.cell_in(&hole.across, feet),
                Cell::Text(hole.bearing.to_string()),
                source.cell_in(&hole.from_bearing, SMALL),
                source.cell_in(&hole.below_top, SMALL),
                source.cell_in(&hole.diameter, SMALL),
                source.cell_in(&hole.edge, SMALL),
                hole.to_next.as_ref().map_or(Cell::Blank, |next| source.cell_in(next, SMALL)),
                Cell::text(hole.of_loop.clone()),
                verdict(&hole.verdict),
            ];
            rows.push(Row::new(key, cells));
        }
    }
    let title = "Hole schedule".to_owned();
    let table = Table { key: "holes".to_owned(), title, columns, rows, notes: notes(source) };
    (!floors.is_empty()).then_some(table)
}
