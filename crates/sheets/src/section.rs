//! The section of a heated floor: its picture, and the same in numbers.

use crate::block::{Block, Cell, Column, Facts, Row, Sheet, Table, Value};
use crate::drawing;
use crate::source::Source;
use crate::tables::{SMALL, column};
use design::Design;
use design::emitters::{HeatedFloor, PictureLayer, SectionPicture};
use job::Job;
use quantity::{Measure, System};

/// Figures of a room that its floor's section explains, beside those of the floor as built and its
/// response.
const OF_SECTION: [&str; 12] = [
    "section",
    "output_coefficient",
    "passing",
    "excess_needed",
    "flux",
    "flux_down",
    "up_share",
    "warmest",
    "coolest",
    "water",
    "output",
    "surface",
];

/// The room whose floor's section explains the figure at a path: `room.bath.flux`, and
/// `room.bath.section` for the section alone.
pub fn section_of<'a>(design: &Design, path: &'a str) -> Option<&'a str> {
    let of_room = path.strip_prefix("room.")?;
    design.emitters.floors.iter().find_map(|floor| {
        let name = of_room.strip_prefix(floor.room.as_str())?.strip_prefix('.')?;
        let of_floor = name.starts_with("floor.") || name.starts_with("response.");
        (of_floor || OF_SECTION.contains(&name)).then(|| &of_room[..floor.room.len()])
    })
}

/// The section of a room's floor as a sheet of its own; none where the room has no heated floor.
pub fn section_sheet(
    job: &Job,
    design: &Design,
    text: &str,
    room: &str,
    first: System,
) -> Option<Sheet> {
    let source = Source::new(job, design, text);
    let floor = source.heated_floor(room)?;
    let name = source.room_name(room);
    let blocks = match floor.section.as_ref()?.picture(first) {
        Ok(picture) => blocks(&source, floor, &picture, first),
        Err(why) => vec![crate::sheet::prose("section-untold", "Section", vec![why])],
    };
    let title = format!("Floor of {name}");
    Some(Sheet { key: format!("section-{room}"), title, head: Vec::new(), first, blocks })
}

fn blocks(
    source: &Source,
    floor: &HeatedFloor,
    picture: &SectionPicture,
    first: System,
) -> Vec<Block> {
    let name = source.room_name(&floor.room);
    vec![
        Block::Drawing(drawing::section(floor, picture, &name, first)),
        Block::Facts(facts(source, floor)),
        Block::Table(layers(floor, picture)),
    ]
}

fn facts(source: &Source, floor: &HeatedFloor) -> Facts {
    let items = vec![
        ("heat up", source.cell(&floor.flux)),
        ("heat down", source.cell(&floor.flux_down)),
        ("share that goes up", source.cell(&floor.up_share)),
        ("floor over a tube", source.cell(&floor.warmest)),
        ("floor midway", source.cell(&floor.coolest)),
        ("mean water", source.cell(&floor.water)),
    ];
    Facts { key: "section-heat".to_owned(), items }
}

fn layers(floor: &HeatedFloor, picture: &SectionPicture) -> Table {
    let columns = vec![
        Column::words("layer", "layer, from the room down"),
        Column::of("thickness", "thickness", SMALL),
        column("conductivity", "conductivity", Measure::Conductivity),
        column("resistance", "resistance", Measure::AreaResistance),
        column("over_tube", "its top over a tube", Measure::Temperature),
        column("midway", "its top midway", Measure::Temperature),
    ];
    let rows = picture.layers.iter().enumerate().map(|(number, it)| row(floor, number, it));
    let mut notes = vec![
        "Temperatures at the top of each layer, over a tube and midway between two, at the mean water \
         temperature of the design day."
            .to_owned(),
    ];
    if picture.layers.iter().any(|layer| !layer.to_scale) {
        notes.push("A layer of unknown height is drawn 10 mm (3/8 in) high.".to_owned());
    }
    let (key, title) = ("section-layers".to_owned(), "Layers".to_owned());
    Table { key, title, columns, rows: rows.collect(), notes }
}

fn row(floor: &HeatedFloor, number: usize, layer: &PictureLayer) -> Row {
    let standing = floor.flux.work.standing();
    let cell = |si: f64, units| Cell::Quantity(Value { si, units, explain: None, standing });
    let of = |si: f64, measure| cell(si, crate::block::Units::of(measure));
    let thickness_m = layer.between_m[1] - layer.between_m[0];
    let unknown = || Cell::CannotTell("only its resistance is known".to_owned());
    let with = if layer.holds_tube { ", with the tube" } else { "" };
    let known = |it: Cell| if layer.to_scale { it } else { unknown() };
    let cells = vec![
        Cell::text(format!("{}{with}", layer.name)),
        known(cell(thickness_m, SMALL)),
        known(of(layer.conductivity_w_mk, Measure::Conductivity)),
        of(thickness_m / layer.conductivity_w_mk, Measure::AreaResistance),
        of(layer.over_tube_k, Measure::Temperature),
        of(layer.midway_k, Measure::Temperature),
    ];
    Row::new(format!("layer-{}", number + 1), cells)
}
