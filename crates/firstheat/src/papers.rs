//! The papers of a job as files: what there is, and what stands in each.

use crate::web::print_page;
use sheets::{Drawing, Papers, Sheet, Table};

/// Width of printed tables, in letters.
pub(crate) const WIDTH: usize = 110;

/// Tables of the design sheet that have a file of their own.
const DESIGN_TABLES: [&str; 11] = [
    "rooms",
    "floors",
    "loops",
    "laid",
    "manifolds",
    "cuts",
    "boards",
    "plates",
    "lanes",
    "holes",
    "setting_out",
];
/// Tables of the house summary that have a file of their own, and its name.
const HOUSE_TABLES: [(&str, &str); 3] =
    [("house", "groups"), ("heat-per-degree", "per_degree"), ("doubt", "doubt")];

/// All drawings of these papers.
fn drawings(papers: &Papers) -> impl Iterator<Item = &Drawing> {
    let sheets = [&papers.design, &papers.house, &papers.no_drilling].into_iter();
    sheets.chain(&papers.floor_temperatures).flat_map(Sheet::drawings)
}

/// Names of all files of these papers.
pub(crate) fn names(papers: &Papers) -> Vec<String> {
    let mut names: Vec<String> =
        drawings(papers).map(|drawing| format!("{}.svg", file_name(&drawing.key))).collect();
    let own = |sheet: &Sheet, key: &str| sheet.table(key).is_some();
    let tables = DESIGN_TABLES.iter().filter(|key| own(&papers.design, key));
    names.extend(tables.map(|key| format!("{key}.csv")));
    let tables = HOUSE_TABLES.iter().filter(|(_, key)| own(&papers.house, key));
    names.extend(tables.map(|(name, _)| format!("{name}.csv")));
    let rest = [
        "room-sheets.csv",
        "sheet.html",
        "sheet.txt",
        "design.json",
        "house.html",
        "house.txt",
        "house.json",
        "room-sheets.html",
        "room-sheets.txt",
        "room-sheets.json",
        "no-drilling.html",
        "no-drilling.txt",
        "no-drilling.json",
        "port-cards.html",
        "port-cards.txt",
        "port-cards.json",
    ];
    names.extend(rest.map(str::to_owned));
    if papers.floor_temperatures.is_some() {
        names.extend(["html", "txt", "json"].map(|ending| format!("floor-temperatures.{ending}")));
    }
    names
}

/// Kind and content of the file with that name; none if there is no such paper.
pub(crate) fn content(papers: &Papers, name: &str) -> Option<(&'static str, String)> {
    let (stem, ending) = name.rsplit_once('.')?;
    match (stem, ending) {
        ("room-sheets", "csv") => Some(("text/csv", surfaces(papers))),
        (_, "csv") => table(papers, stem).map(|it| ("text/csv", sheets::csv(it))),
        (_, "svg") => {
            let drawing = drawings(papers).find(|it| file_name(&it.key) == stem)?;
            Some(("image/svg+xml", sheets::svg(drawing)))
        }
        ("sheet", "txt") => Some(("text/plain", sheets::text(&papers.design, WIDTH))),
        ("house", "txt") => Some(("text/plain", sheets::text(&papers.house, WIDTH))),
        ("no-drilling", "txt") => Some(("text/plain", sheets::text(&papers.no_drilling, WIDTH))),
        ("port-cards", "txt") => Some(("text/plain", sheets::text(&papers.ports, WIDTH))),
        ("floor-temperatures", "txt") => {
            let sheet = papers.floor_temperatures.as_ref()?;
            Some(("text/plain", sheets::text(sheet, WIDTH)))
        }
        ("floor-temperatures", "json") => {
            Some(("application/json", sheets::json(papers.floor_temperatures.as_ref()?)))
        }
        ("floor-temperatures", "html") if papers.floor_temperatures.is_none() => None,
        ("room-sheets", "txt") => Some(("text/plain", rooms_text(papers))),
        ("design", "json") => Some(("application/json", sheets::json(&papers.design))),
        ("house", "json") => Some(("application/json", sheets::json(&papers.house))),
        ("no-drilling", "json") => Some(("application/json", sheets::json(&papers.no_drilling))),
        ("port-cards", "json") => Some(("application/json", sheets::json(&papers.ports))),
        ("room-sheets", "json") => Some(("application/json", rooms_json(papers))),
        (_, "html") => {
            let paper = Paper::named(if stem == "sheet" { "design" } else { stem })?;
            Some(("text/html", print_page(papers, paper).into_string()))
        }
        _ => None,
    }
}

/// Which paper is meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Paper {
    /// The design on one sheet: plan, rooms, loops, manifolds, limits.
    #[default]
    Design,
    /// The heat loss of the house, and what it rests on.
    House,
    /// The heat loss of each room, surface by surface.
    RoomSheets,
    /// Where other trades must not drill or nail.
    NoDrilling,
    /// The ports of each manifold.
    PortCards,
    /// The floors as a thermal camera would see them, on the coldest and on a mild day.
    FloorTemperatures,
}

impl Paper {
    /// The paper of that name.
    pub(crate) fn named(name: &str) -> Option<Paper> {
        match name {
            "design" | "" => Some(Paper::Design),
            "house" => Some(Paper::House),
            "room-sheets" => Some(Paper::RoomSheets),
            "no-drilling" => Some(Paper::NoDrilling),
            "port-cards" => Some(Paper::PortCards),
            "floor-temperatures" => Some(Paper::FloorTemperatures),
            _ => None,
        }
    }

    /// The paper as text for a terminal.
    pub(crate) fn text(self, papers: &Papers) -> String {
        match self {
            Paper::Design => sheets::text(&papers.design, WIDTH),
            Paper::House => sheets::text(&papers.house, WIDTH),
            Paper::RoomSheets => rooms_text(papers),
            Paper::NoDrilling => sheets::text(&papers.no_drilling, WIDTH),
            Paper::PortCards => sheets::text(&papers.ports, WIDTH),
            Paper::FloorTemperatures => of_floors(papers, |sheet| sheets::text(sheet, WIDTH)),
        }
    }

    /// The paper as JSON.
    pub(crate) fn json(self, papers: &Papers) -> String {
        match self {
            Paper::Design => sheets::json(&papers.design),
            Paper::House => sheets::json(&papers.house),
            Paper::RoomSheets => rooms_json(papers),
            Paper::NoDrilling => sheets::json(&papers.no_drilling),
            Paper::PortCards => sheets::json(&papers.ports),
            Paper::FloorTemperatures => of_floors(papers, sheets::json),
        }
    }
}

/// The paper of floor temperatures, written; nothing where it was not made.
fn of_floors(papers: &Papers, write: impl Fn(&Sheet) -> String) -> String {
    papers.floor_temperatures.as_ref().map(write).unwrap_or_default()
}

fn table<'a>(papers: &'a Papers, name: &str) -> Option<&'a Table> {
    let of_house = HOUSE_TABLES.iter().find(|(known, _)| *known == name);
    match of_house {
        Some((_, key)) => papers.house.table(key),
        None => papers.design.table(name),
    }
}

/// The surfaces of all rooms as one table.
fn surfaces(papers: &Papers) -> String {
    let tables = papers.rooms.iter().flat_map(|room| {
        let name = room.title.as_str();
        room.tables().map(move |table| (name, table))
    });
    sheets::csv_of_all("room", &tables.collect::<Vec<_>>())
}

fn rooms_text(papers: &Papers) -> String {
    let rooms: Vec<String> = papers.rooms.iter().map(|room| sheets::text(room, WIDTH)).collect();
    rooms.join("\n\n")
}

fn rooms_json(papers: &Papers) -> String {
    let rooms: Vec<String> = papers.rooms.iter().map(sheets::json).collect();
    format!("[{}]\n", rooms.join(","))
}

/// A key as a file name: nothing in it leads out of the folder.
fn file_name(key: &str) -> String {
    key.chars().map(|c| if c.is_alphanumeric() || c == '_' { c } else { '-' }).collect()
}
