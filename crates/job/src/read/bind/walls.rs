//! Walls of rooms, by their own names or by compass sides.

use crate::decision::Stated;
use crate::finding::{Finding, Severity};
use crate::model::{Outline, Room};
use crate::nearest::nearest;
use crate::read::Context;
use crate::read::refer::path_of;
use crate::read::sheet::Group;
use crate::read::tables::short;

pub(super) const SIDES: [&str; 4] = ["north", "east", "south", "west"];

/// The wall of a room that a key names, compass sides spelt out; none, told, if it has no such wall.
pub(super) fn named(
    wall: Stated<String>,
    room: &str,
    rooms: &[Room],
    group: &Group,
    context: &mut Context<'_>,
) -> Option<Stated<String>> {
    let outline = rooms.iter().find(|it| it.key == room).and_then(|it| it.outline.as_ref());
    if let Some(outline) = outline
        && !is_wall(&wall.value, outline)
    {
        unknown(group, "wall", &wall, names(outline), "wall", context);
        return None;
    }
    let value = spelt(&wall.value);
    Some(Stated { value, place: wall.place })
}

/// The compass side of a word, `N` or `North` as `north`; any other word as it is.
pub(super) fn spelt(word: &str) -> String {
    side(word).map_or_else(|| word.to_owned(), str::to_owned)
}

/// The compass side of a word: `North` or `N`.
fn side(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    SIDES.into_iter().find(|side| *side == word || side[..1] == word)
}

/// Whether a word names a wall of an outline.
pub(super) fn is_wall(word: &str, outline: &Outline) -> bool {
    side(word).is_some()
        || outline.wall_names.iter().flatten().any(|name| name.eq_ignore_ascii_case(word))
}

/// What the walls of an outline can be called.
pub(super) fn names(outline: &Outline) -> Vec<&str> {
    outline.wall_names.iter().flatten().map(String::as_str).chain(SIDES).collect()
}

/// Tells a name that none of the room's walls, or parts, has.
pub(super) fn unknown(
    group: &Group,
    key: &str,
    stated: &Stated<String>,
    names: Vec<&str>,
    what: &str,
    context: &mut Context<'_>,
) {
    const NAMES_MOST: usize = 12;
    let path = format!("{}.{key}", path_of(group));
    let near = nearest(&stated.value, names.iter().copied());
    let some: Vec<&str> = names.iter().copied().take(NAMES_MOST).collect();
    let mut finding = Finding::new(
        Severity::Stop,
        "unknown-reference",
        format!("{}.{key}", group.subject()),
        format!("the room has no {what} called `{}`", short(&stated.value)),
        format!("write {}", crate::schema::one_of(&some)),
    )
    .at(stated.place);
    if let Some(near) = near {
        finding = finding.mend(crate::Mend {
            words: format!("write {near} for the {key}"),
            edits: vec![crate::Edit::Set { path, value: near.to_owned() }],
            promise: crate::Promise::Goes,
        });
    }
    context.findings.push(finding);
}
