//! One paper for each room: what it loses, surface by surface.

use crate::block::{Block, Cell, Facts, HeadLine, Sheet};
use crate::source::Source;
use crate::tables;
use job::Room;

/// The room sheets, in the order of the text.
pub(crate) fn room_sheets(source: &Source) -> Vec<Sheet> {
    source.job.rooms.iter().map(|room| room_sheet(source, room)).collect()
}

fn room_sheet(source: &Source, room: &Room) -> Sheet {
    let facts = Facts { key: room.key.clone(), items: facts(source, room) };
    let table = tables::surfaces(source, room);
    Sheet {
        key: format!("room-{}", room.key),
        title: room.name.value.clone(),
        head: Vec::<HeadLine>::new(),
        first: source.job.units.value,
        blocks: vec![Block::Facts(facts), Block::Table(table)],
    }
}

fn facts(source: &Source, room: &Room) -> Vec<(&'static str, Cell)> {
    let enclosure = source.enclosure(&room.key);
    let loss = source.design.loads.room(&room.key);
    let floor = source.heated_floor(&room.key);
    let why = "see the findings";
    let mut items = Vec::new();
    if let Some(storey) = &room.storey {
        items.push(("storey", Cell::Text(source.storey_name(&storey.value))));
    }
    if room.unheated.value {
        let settled = source.settled(&room.key).map(|it| &it.temperature);
        items.push(("unheated, settles at", source.cell_or(settled, why)));
    } else {
        items.push(("indoor", source.cell_or(enclosure.map(|it| &it.indoor), why)));
    }
    let area = enclosure.and_then(|it| it.area.as_ref());
    items.push(("floor area", source.cell_or(area, "the room has neither outline nor area")));
    if let Some(height) = enclosure.and_then(|it| it.height.as_ref()) {
        items.push(("ceiling height", source.cell(height)));
    }
    if let Some(volume) = enclosure.and_then(|it| it.volume.as_ref()) {
        items.push(("air in it", source.cell(volume)));
    }
    if loss.is_some() || !room.unheated.value {
        items.push(("heat loss", source.cell_or(loss.map(|it| &it.heat.total), why)));
    }
    if let Some(floor) = floor {
        items.push(("floor sends down", source.cell(&floor.flux_down)));
    }
    items
}
