//! What one room loses, surface by surface.

use super::column;
use crate::block::{Cell, Column, Row, RowKind, Table};
use crate::source::{Source, spoken};
use design::Figure;
use design::envelope::{Behind, Enclosure, Face, FaceKind};
use design::loads::{FaceLoss, RoomLoss, Split};
use job::{Construction, Room};
use quantity::{HeatLossCoefficient, Measure, Power};

fn columns() -> Vec<Column> {
    vec![
        Column::words("surface", "surface"),
        Column::words("behind", "what is behind"),
        column("area", "area", Measure::Area),
        column("u", "U-value", Measure::Transmittance),
        column("difference", "temperature difference", Measure::TemperatureDifference),
        column("per_degree", "heat per degree", Measure::HeatLossCoefficient),
        column("loss", "heat loss", Measure::Power),
        Column::words("made_of", "made of; remarks"),
    ]
}

/// Where heat goes, in the order of the sheet.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Outdoors,
    Unheated,
    Ground,
    Neighbours,
}

impl Way {
    const ALL: [Way; 4] = [Way::Outdoors, Way::Unheated, Way::Ground, Way::Neighbours];

    fn of(source: &Source, behind: &Behind) -> Way {
        let unheated = |room: &str| source.enclosure(room).is_some_and(|it| it.unheated);
        match behind {
            Behind::Outdoors => Way::Outdoors,
            Behind::Ground => Way::Ground,
            Behind::Space(_) => Way::Unheated,
            Behind::Room(room) if unheated(room) => Way::Unheated,
            Behind::Room(_) | Behind::Heated | Behind::NextHouse => Way::Neighbours,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Way::Outdoors => "to outdoors",
            Way::Unheated => "to unheated spaces",
            Way::Ground => "into the ground",
            Way::Neighbours => "to neighbours",
        }
    }

    fn part<Q>(self, split: &Split<Q>) -> &Figure<Q> {
        match self {
            Way::Outdoors => &split.outdoors,
            Way::Unheated => &split.unheated,
            Way::Ground => &split.ground,
            Way::Neighbours => &split.neighbours,
        }
    }
}

/// The surface table of a room.
pub(crate) fn surfaces(source: &Source, room: &Room) -> Table {
    let enclosure = source.enclosure(&room.key);
    let loss = source.design.loads.room(&room.key);
    let rows = loss.map(|loss| rows(source, enclosure, loss)).unwrap_or_default();
    let notes = notes(source, room, loss);
    let (key, title) = (format!("surfaces-{}", room.key), "What it loses, and where to".to_owned());
    Table { key, title, columns: columns(), rows, notes }
}

fn rows(source: &Source, enclosure: Option<&Enclosure>, loss: &RoomLoss) -> Vec<Row> {
    let mut rows = Vec::new();
    for way in Way::ALL {
        let here: Vec<&FaceLoss> =
            loss.faces.iter().filter(|it| Way::of(source, &it.behind) == way).collect();
        rows.extend(here.iter().map(|face| surface(source, enclosure, loss, face)));
        if !here.is_empty() {
            let (watts, per_degree) = (way.part(&loss.heat), way.part(&loss.per_degree));
            let row = sum(source, way.words(), per_degree, watts, Cell::Blank);
            rows.push(row.of(RowKind::Subtotal));
        }
    }
    rows.extend(tubed_floor(source, &loss.room));
    let air = source.cell(&loss.air_flow);
    rows.push(sum(source, "outdoor air", &loss.per_degree.air, &loss.heat.air, air));
    let per_area = source.cell_if(loss.per_area.as_ref());
    let total = sum(source, "heat loss", &loss.per_degree.total, &loss.heat.total, per_area);
    rows.push(total.of(RowKind::Total));
    let asides = [
        ("warming up after a setback", &loss.reheat, "on top of the loss, as agreed"),
        ("heat from floors above", &loss.from_above, "not taken off: that floor may be off"),
    ];
    for (words, watts, remark) in asides {
        rows.extend(watts.as_ref().map(|watts| aside(source, words, watts, remark)));
    }
    rows
}

fn surface(
    source: &Source,
    enclosure: Option<&Enclosure>,
    room: &RoomLoss,
    loss: &FaceLoss,
) -> Row {
    let mut faces = enclosure.iter().flat_map(|it| &it.faces);
    let face = faces.find(|it| it.key == loss.face && it.behind == loss.behind);
    let by_edge = "its loss goes by its edge, not by a U-value";
    let cells = vec![
        Cell::Text(spoken(&loss.face)),
        Cell::Text(source.behind(&loss.behind)),
        source.cell(&loss.area),
        loss.transmittance.as_ref().map_or(Cell::text("–"), |u| source.cell(u)),
        source.cell(&loss.difference),
        source.cell(&loss.coefficient),
        source.cell(&loss.loss),
        Cell::Text(remarks(&[
            face.and_then(|face| made_of(source, face)),
            loss.transmittance.is_none().then(|| by_edge.to_owned()),
            left_out(source, room, face, loss).map(str::to_owned),
            (!loss.counts).then(|| "shown only: heat from warmer rooms is not credited".to_owned()),
        ])),
    ];
    let kind = if loss.counts { RowKind::Plain } else { RowKind::Aside };
    let key = format!("{} {}", loss.face, loss.behind.words());
    Row::new(key, cells).of(kind)
}

fn remarks(all: &[Option<String>]) -> String {
    all.iter().flatten().map(String::as_str).collect::<Vec<_>>().join("; ")
}

/// The construction of a face and where the job tells it.
fn made_of(source: &Source, face: &Face) -> Option<String> {
    let assembly = source.job.assembly(face.assembly.as_deref()?)?;
    let rated = match assembly.construction {
        Some(Construction::Rated(_)) => ", rated",
        Some(Construction::Layers(_)) | None => "",
    };
    Some(format!("{}{rated}, {}", spoken(&assembly.key), source.line(assembly.place)))
}

/// What is left out of a face because tube warms it.
fn left_out(
    source: &Source,
    room: &RoomLoss,
    face: Option<&Face>,
    loss: &FaceLoss,
) -> Option<&'static str> {
    let whole = face?.area.si();
    if whole - loss.area.si() < 0.005 {
        return None;
    }
    match loss.kind {
        FaceKind::Floor if source.heated_floor(&room.room).is_some() => Some("floor without tube"),
        FaceKind::Floor => None,
        _ => Some("without what lies under heated floor"),
    }
}

/// The heated part of the floor, whose loss goes with its water.
fn tubed_floor(source: &Source, room: &str) -> Option<Row> {
    let floor = source.heated_floor(room)?;
    let mut cells = vec![Cell::text("floor with tube"), Cell::Blank, source.cell(&floor.area)];
    cells.resize(7, Cell::Blank);
    cells.push(Cell::text("left out here: what it sends down its water carries, see above"));
    Some(Row::new("tubed floor", cells).of(RowKind::Aside))
}

fn sum(
    source: &Source,
    words: &str,
    per_degree: &Figure<HeatLossCoefficient>,
    watts: &Figure<Power>,
    remark: Cell,
) -> Row {
    let mut cells = vec![Cell::text(words)];
    cells.resize(5, Cell::Blank);
    cells.extend([source.cell(per_degree), source.cell(watts), remark]);
    Row::new(words, cells)
}

fn aside(source: &Source, words: &str, watts: &Figure<Power>, remark: &str) -> Row {
    let mut cells = vec![Cell::text(words)];
    cells.resize(6, Cell::Blank);
    cells.extend([source.cell(watts), Cell::text(remark)]);
    Row::new(words, cells).of(RowKind::Aside)
}

fn notes(source: &Source, room: &Room, loss: Option<&RoomLoss>) -> Vec<String> {
    let Some(loss) = loss else {
        let why = match room.unheated.value {
            true => "Nobody heats this room: what it takes from rooms beside it, it loses.",
            false => "The loss of this room could not be worked out: see the findings.",
        };
        return vec![why.to_owned()];
    };
    let mut notes = Vec::new();
    if loss.faces.iter().any(|it| !it.counts)
        || loss.reheat.is_some()
        || loss.from_above.is_some()
        || source.heated_floor(&loss.room).is_some()
    {
        notes.push("Numbers in brackets are shown and are in no total.".to_owned());
    }
    let same = source.enclosure(&loss.room).is_some_and(|it| it.faces.len() > loss.faces.len());
    if same {
        let words = "Surfaces with the same warmth on both sides lose nothing and are not listed.";
        notes.push(words.to_owned());
    }
    notes
}
