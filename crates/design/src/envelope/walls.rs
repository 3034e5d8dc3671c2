//! The walls of a room, and what they are called.

use job::Room;
use plane::{Point, Region};

/// One edge of a room's region: a wall, with its own name or compass side.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Wall {
    pub(super) from: Point,
    pub(super) to: Point,
    /// Its own name in the text, if it has one.
    pub(super) name: Option<String>,
    /// The compass side that it stands on.
    pub(super) side: &'static str,
}

impl Wall {
    pub(super) fn length_m(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Unit vector out of the room.
    pub(super) fn outward(&self) -> Point {
        -(self.to - self.from).unit().left()
    }

    /// The name that a paper calls it by.
    pub(super) fn called(&self) -> String {
        self.name.clone().unwrap_or_else(|| self.side.to_owned())
    }
}

/// The walls of a room, counter-clockwise, named.
pub(super) fn walls(room: &Room, floor: &Region) -> Vec<Wall> {
    let ring = floor.outer();
    let next = |index: usize| ring[(index + 1) % ring.len()];
    (0..ring.len())
        .map(|index| {
            let (from, to) = (ring[index], next(index));
            Wall { from, to, name: name_of(room, from, to), side: side(from, to) }
        })
        .collect()
}

/// The text's name of the wall between two corners, whichever way the text goes round.
fn name_of(room: &Room, from: Point, to: Point) -> Option<String> {
    let outline = room.outline.as_ref()?;
    let corners = &outline.corners;
    let near = |a: Point, b: Point| a.distance(b) < 1e-4;
    outline.wall_names.iter().enumerate().find_map(|(index, name)| {
        let (start, end) = (*corners.get(index)?, corners[(index + 1) % corners.len()]);
        let same = near(start, from) && near(end, to) || near(start, to) && near(end, from);
        if same { name.clone() } else { None }
    })
}

/// The compass side of a wall whose room is on its left; north is up the plan.
fn side(from: Point, to: Point) -> &'static str {
    let outward = -(to - from).left();
    if outward.x.abs() > outward.y.abs() {
        if outward.x > 0.0 { "east" } else { "west" }
    } else if outward.y > 0.0 {
        "north"
    } else {
        "south"
    }
}

/// The walls that a name means: of that own name, else on that compass side.
pub(super) fn meant(walls: &[Wall], name: &str) -> Vec<usize> {
    let numbers = |wanted: &dyn Fn(&Wall) -> bool| -> Vec<usize> {
        walls.iter().enumerate().filter(|(_, wall)| wanted(wall)).map(|(n, _)| n).collect()
    };
    let own =
        numbers(&|wall| wall.name.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(name)));
    if own.is_empty() { numbers(&|wall| wall.side.eq_ignore_ascii_case(name)) } else { own }
}

/// The one wall that a name means; otherwise what is wrong, and what to do.
pub(super) fn named(room: &str, walls: &[Wall], name: &str) -> Result<usize, (String, String)> {
    if walls.is_empty() {
        return Err((
            format!("room {room} has no outline to look for its walls"),
            "give the room an outline, or state its surfaces instead".to_owned(),
        ));
    }
    match meant(walls, name).as_slice() {
        [wall] => Ok(*wall),
        [] => {
            let known: Vec<String> = walls.iter().map(Wall::called).collect();
            Err((
                format!("room {room} has no wall `{name}`"),
                format!("write one of: {}", known.join(", ")),
            ))
        }
        several => Err((
            format!("room {room} has {} walls on the {name}", several.len()),
            "name the wall in the outline".to_owned(),
        )),
    }
}
