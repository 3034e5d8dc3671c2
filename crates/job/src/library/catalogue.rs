//! Tubes, materials and finishes.

use super::entry::{Part, Reader};
use crate::model::{Catalogue, Finish, Material, Sheet, Tube};
use crate::tree::{Entry, Kind};

/// Adds the parts of a text to a catalogue; its build-ups stay in the reader.
pub(crate) fn read(reader: &mut Reader, parts: &mut Catalogue) {
    for kind in std::mem::take(&mut reader.table) {
        if kind.key == "build_up" {
            reader.table.push(kind);
            continue;
        }
        let Kind::Table(entries) = &kind.node.kind else {
            reader.tell(&kind.key, kind.key_place, "a table of parts is needed");
            continue;
        };
        for entry in entries {
            let subject = format!("{}.{}", kind.key, entry.key);
            let Kind::Table(table) = &entry.node.kind else {
                reader.tell(&subject, entry.key_place, "a table is needed");
                continue;
            };
            let mut part = Part::new(subject, entry.node.place, table);
            match kind.key.as_str() {
                "tube" => add(&mut parts.tubes, tube(entry, &mut part), |tube| &tube.key),
                "material" => add(&mut parts.materials, material(entry, &mut part), |it| &it.key),
                "finish" => add(&mut parts.finishes, finish(entry, &mut part), |it| &it.key),
                _ => {
                    reader.tell(&kind.key, kind.key_place, "no such kind of part");
                    break;
                }
            }
            part.finish(reader);
        }
    }
}

/// Adds a part unless its key is taken.
pub(super) fn add<T>(parts: &mut Vec<T>, part: Option<T>, key: impl Fn(&T) -> &String) {
    if let Some(part) = part
        && !parts.iter().any(|known| key(known) == key(&part))
    {
        parts.push(part);
    }
}

fn tube(entry: &Entry, part: &mut Part<'_>) -> Option<Tube> {
    let (name, outside, inside) =
        (part.text("name"), part.quantity("outside"), part.quantity("inside"));
    let (conductivity, roughness) = (part.quantity("conductivity"), part.quantity("roughness"));
    let (bend_radius, source) = (part.quantity("bend_radius"), part.source());
    Some(Tube {
        key: entry.key.clone(),
        name: name?,
        outside: outside?,
        inside: inside?,
        conductivity: conductivity?,
        roughness: roughness?,
        bend_radius: bend_radius?,
        source: source?,
    })
}

fn material(entry: &Entry, part: &mut Part<'_>) -> Option<Material> {
    let (name, conductivity, source) =
        (part.text("name"), part.quantity("conductivity"), part.source());
    let (density, specific_heat) = (part.optional("density"), part.optional("specific_heat"));
    let (family, carrier) = (part.optional_word("family"), part.optional_word("carrier"));
    let (sheet, grooves) = (sheet(part), part.optional("grooves"));
    let (piece_length, piece_width) = (part.optional("piece_length"), part.optional("piece_width"));
    Some(Material {
        key: entry.key.clone(),
        name: name?,
        conductivity: conductivity?,
        density,
        specific_heat,
        family: family.unwrap_or_default(),
        carrier: carrier.unwrap_or_default(),
        sheet,
        grooves,
        piece_length,
        piece_width,
        source: source?,
    })
}

/// The sheet of a carrier, which a catalogue tells in full; its width is left out where it reaches
/// from groove to groove.
fn sheet(part: &mut Part<'_>) -> Option<Sheet> {
    let (thickness, width) = (part.optional("sheet"), part.optional("sheet_width"));
    let thickness = thickness?;
    let (conductivity, contact) = (part.quantity("sheet_conductivity"), part.quantity("contact"));
    Some(Sheet { thickness, width, conductivity: conductivity?, contact: contact? })
}

fn finish(entry: &Entry, part: &mut Part<'_>) -> Option<Finish> {
    let (name, resistance) = (part.text("name"), part.quantity("resistance"));
    let (thickness, weight) = (part.quantity("thickness"), part.quantity("weight"));
    let (kind, source) = (part.word("kind"), part.source());
    let specific_heat = part.optional("specific_heat");
    Some(Finish {
        key: entry.key.clone(),
        name: name?,
        resistance: resistance?,
        kind: kind?,
        thickness: thickness?,
        weight: weight?,
        specific_heat,
        source: source?,
    })
}
