//! House summary and room sheets, on designs of the example jobs.

use crate::{CABIN, fixture};
use design::loads::Part;
use design::{Design, Figure, How, Memo};
use job::{Job, Library};
use quantity::Power;
use sheets::{Cell, Papers, RowKind, Sheet, Table, csv_of_all, svg};

fn read(text: &str) -> Job {
    job::read(text, &Library::built_in()).0
}

fn designed(text: &str) -> (Job, Design) {
    let job = read(text);
    let design = design::design(&job, &mut Memo::new());
    (job, design)
}

fn papers(text: &str) -> (Design, Papers) {
    let (job, design) = designed(text);
    let doubt = design::doubt(&job);
    let papers = Papers::of(&job, &design, doubt.as_ref(), &[], text);
    (design, papers)
}

fn watts(table: &Table, row: usize) -> f64 {
    let place = table.columns.iter().position(|it| it.key == "loss").expect("the column");
    match &table.rows[row].cells[place] {
        Cell::Quantity(value) => value.si,
        _ => 0.0,
    }
}

fn surfaces(room: &Sheet) -> &Table {
    room.tables().next().expect("its surfaces")
}

#[test]
fn rows_add_up_to_subtotals_and_those_and_air_to_the_total() {
    let (design, papers) = papers(CABIN);
    assert_eq!(papers.rooms.len(), 5);
    for room in &papers.rooms {
        let table = surfaces(room);
        let (mut part, mut whole) = (0.0, 0.0);
        for (place, row) in table.rows.iter().enumerate() {
            let watts = watts(table, place);
            match row.kind {
                RowKind::Plain => part += watts,
                RowKind::Subtotal => {
                    assert!((part - watts).abs() < 1e-6, "{}: {}", room.title, row.key);
                    whole += std::mem::take(&mut part);
                }
                RowKind::Total => assert!((whole + part - watts).abs() < 1e-6, "{}", room.title),
                RowKind::Aside | RowKind::Heading => {}
            }
        }
        let key = room.key.trim_start_matches("room-");
        let loss = design.loads.room(key).expect("its loss").heat.total.si();
        assert!((whole + part - loss).abs() < 1e-6, "{}: {whole} + {part}, {loss}", room.title);
    }
}

#[test]
fn heated_floor_is_shown_and_left_out() {
    let (_, papers) = papers(CABIN);
    let bath = papers.rooms.iter().find(|it| it.key == "room-bath").expect("the bath");
    let row = surfaces(bath).rows.iter().find(|it| it.key == "tubed floor").expect("its floor");
    assert_eq!(row.kind, RowKind::Aside);
    let words = sheets::text(bath, 110);
    assert!(words.contains("left out here") && words.contains("in no total"), "{words}");
    assert!(words.contains('['), "what counts in no total stands in brackets");
}

#[test]
fn every_number_of_the_house_leads_to_its_working() {
    let (design, papers) = papers(CABIN);
    let known: Vec<String> = design.figures().into_iter().map(|(path, _)| path).collect();
    for key in ["groups", "per_degree"] {
        let table = papers.house.table(key).expect(key);
        for cell in table.rows.iter().flat_map(|row| &row.cells) {
            if let Cell::Quantity(value) = cell {
                let path = value.explain.as_ref().expect("a path");
                assert!(known.contains(path), "{path}");
            }
        }
    }
    let table = surfaces(&papers.rooms[0]);
    for row in &table.rows {
        for cell in &row.cells {
            if let Cell::Quantity(value) = cell {
                assert!(value.explain.is_some(), "{}: {value:?}", row.key);
            }
        }
    }
}

#[test]
fn paths_are_unique_and_may_leave_out_the_only_thing_behind() {
    let (_, design) = designed(CABIN);
    let figures = design.figures();
    let mut paths: Vec<&String> = figures.iter().map(|(path, _)| path).collect();
    let count = paths.len();
    paths.sort();
    paths.dedup();
    assert_eq!(paths.len(), count);
    for path in ["house.loss", "house.per_degree.air", "storey.main.loss", "room.bath.air_flow"] {
        assert!(paths.iter().any(|it| *it == path), "{path}");
    }
    let known = sheets::Paths::of(&figures);
    let whole = known.work("room.bath.ceiling.outdoors.u").expect("a U-value");
    assert_eq!(known.work("room.bath.ceiling.u"), Some(whole));
    assert!(known.work("room.bath.attic.u").is_none() && known.work("room.bath.los").is_none());
}

#[test]
fn the_chart_shows_losses_gains_and_nothing_for_nought() {
    let (job, mut design) = designed(CABIN);
    let part = |name, si| {
        let loss = Figure::<Power>::new(name, si, How::Decided("by hand".to_owned()));
        Part { name, loss }
    };
    design.loads.parts = vec![part("walls", 900.0), part("doors", 0.0), part("air", -100.0)];
    let papers = Papers::of(&job, &design, None, &[], CABIN);
    let chart = papers.house.drawings().next().expect("the chart");
    assert_eq!(chart.marks.iter().filter(|mark| mark.class == "bar").count(), 2);
    let written = svg(chart);
    assert_eq!(written.matches("where-heat-goes-hatch)").count(), 1, "a gain is hatched");
    assert!(!written.contains("NaN"));
    design.loads.parts.clear();
    let papers = Papers::of(&job, &design, None, &[], CABIN);
    assert!(papers.house.drawings().next().is_none());
}

#[test]
fn doubt_conventions_and_their_sources_stand_on_the_summary() {
    let (_, papers) = papers(CABIN);
    assert!(papers.house.table("doubt").is_some_and(|it| it.rows.len() > 3));
    let conventions = papers.house.table("conventions").expect("conventions");
    for key in ["dimensions", "thermal_bridges", "films", "ground_method", "leakage_share"] {
        let Some(Cell::Text(source)) = conventions.cell(key, "reason") else { panic!("{key}") };
        assert!(!source.is_empty() && !source.contains("to be stated"), "{key}: {source}");
    }
}

#[test]
fn what_a_job_sets_otherwise_is_printed_with_its_reason() {
    let text =
        format!("{CABIN}\n[rule.floor_wood]\nvalue = \"82 F\"\nwhy = \"the maker allows it\"\n");
    let (job, design) = designed(&text);
    assert_eq!(job.rules.overrides.len(), 1, "the text is understood");
    let papers = Papers::of(&job, &design, None, &[], &text);
    let table = papers.house.table("overrides").expect("overrides");
    assert_eq!(table.cell("floor_wood", "why"), Some(&Cell::text("the maker allows it")));
    let limits = papers.design.table("limits").and_then(|it| it.cell("floor_wood", "reason"));
    let Some(Cell::Text(reason)) = limits else { panic!("{limits:?}") };
    assert!(reason.contains("the maker allows it") && reason.contains("80"), "{reason}");
}

#[test]
fn surfaces_of_all_rooms_make_one_file() {
    let (_, papers) = papers(CABIN);
    let tables: Vec<(&str, &Table)> =
        papers.rooms.iter().map(|room| (room.title.as_str(), surfaces(room))).collect();
    let rows: usize = tables.iter().map(|(_, table)| table.rows.len()).sum();
    let written = csv_of_all("room", &tables);
    assert!(written.starts_with("room,kind,surface,"), "{}", &written[..60]);
    assert_eq!(written.lines().count(), rows + 1);
    assert!(csv_of_all("room", &[]).is_empty());
}

#[test]
fn nothing_to_tell_gives_papers_all_the_same() {
    for text in ["", "[room.attic_store]\nindoor = 60\n"] {
        let job = read(text);
        let design = fixture::design(&job);
        let papers = Papers::of(&job, &design, None, &[], text);
        assert!(sheets::text(&papers.house, 100).contains("cannot tell"));
        for room in &papers.rooms {
            assert!(!surfaces(room).notes.is_empty(), "says why there is nothing");
        }
    }
}
