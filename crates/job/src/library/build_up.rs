//! Build-ups: layers in the language of a job's assemblies.

use super::catalogue::add;
use super::entry::{Part, Reader};
use crate::model::{BuildUp, Layer, Library};
use crate::read::library_layers;
use crate::tree::{Entry, Kind};

/// Adds the build-ups of a text, of materials on that shelf.
pub(super) fn read(reader: &mut Reader, build_ups: &mut Vec<BuildUp>, shelf: &Library) {
    for kind in std::mem::take(&mut reader.table) {
        let Kind::Table(entries) = &kind.node.kind else {
            reader.tell(&kind.key, kind.key_place, "a table of build-ups is needed");
            continue;
        };
        for entry in entries {
            let subject = format!("{}.{}", kind.key, entry.key);
            let Kind::Table(table) = &entry.node.kind else {
                reader.tell(&subject, entry.key_place, "a table is needed");
                continue;
            };
            let mut part = Part::new(subject, entry.node.place, table);
            add(build_ups, build_up(entry, &mut part, shelf), |it| &it.key);
            part.finish(reader);
        }
    }
}

/// One build-up; what is wrong with it is told in the part.
fn build_up(entry: &Entry, part: &mut Part<'_>, shelf: &Library) -> Option<BuildUp> {
    let (name, kind) = (part.text("name"), part.word("kind"));
    let (written, layers) = (part.texts("layers"), layers(part, shelf));
    let added = part.count("added");
    let (suits, cannot) = (part.text("suits"), part.text("cannot"));
    let (bears, source) = (part.texts("bears"), part.source());
    Some(BuildUp {
        key: entry.key.clone(),
        name: name?,
        kind: kind?,
        layers: layers?,
        written: written?,
        added: added?,
        suits: suits?,
        bears: bears?,
        cannot: cannot?,
        source: source?,
    })
}

fn layers(part: &mut Part<'_>, shelf: &Library) -> Option<Vec<Layer>> {
    let node = part.needed("layers")?;
    let (layers, troubles) = library_layers(node, shelf);
    part.troubles.extend(troubles);
    layers
}
