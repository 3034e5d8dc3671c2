//! Walls of a room, with the names by which a person calls them.

use job::Room;
use plane::{Point, Region};

/// How near corners of text and geometry are the same, metres.
const SAME_M: f64 = 1e-3;

/// One straight stretch of wall; its room lies on the left.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Wall {
    pub(crate) from: Point,
    pub(crate) to: Point,
    /// Its own name, or the compass side that it stands on.
    pub(crate) name: String,
}

impl Wall {
    /// The walls around a room; those of islands are left out.
    pub(crate) fn all(room: &Room, region: &Region) -> Vec<Wall> {
        let corners = region.outer();
        let next = corners.iter().cycle().skip(1);
        let legs = corners.iter().zip(next).filter(|(from, to)| from.distance(**to) > SAME_M);
        legs.map(|(from, to)| {
            let name = own_name(room, *from, *to).unwrap_or_else(|| side(*from, *to).to_owned());
            Wall { from: *from, to: *to, name }
        })
        .collect()
    }

    pub(crate) fn length_m(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Unit vector along the wall.
    pub(crate) fn along(&self) -> Point {
        (self.to - self.from).unit()
    }

    /// Unit vector from the wall into its room.
    pub(crate) fn inward(&self) -> Point {
        self.along().left()
    }

    /// How far along the wall a place is, from the wall's beginning, metres.
    pub(crate) fn at_m(&self, place: Point) -> f64 {
        (place - self.from).dot(self.along())
    }

    /// How far into the room a place is, square to the wall, metres.
    pub(crate) fn off_m(&self, place: Point) -> f64 {
        (place - self.from).dot(self.inward())
    }

    /// The point of the wall's line that lies square to a place.
    pub(crate) fn foot(&self, place: Point) -> Point {
        self.from + self.along() * self.at_m(place)
    }

    /// Whether a place lies square to the wall itself, not beyond its ends.
    pub(crate) fn faces(&self, place: Point) -> bool {
        let at = self.at_m(place);
        -SAME_M <= at && at <= self.length_m() + SAME_M
    }

    /// Distance of a place from the wall, its ends included, metres.
    pub(crate) fn distance_m(&self, place: Point) -> f64 {
        let at = self.at_m(place).clamp(0.0, self.length_m());
        place.distance(self.from + self.along() * at)
    }
}

/// The text's name of the wall between two corners, whichever way the text goes round.
fn own_name(room: &Room, from: Point, to: Point) -> Option<String> {
    let outline = room.outline.as_ref()?;
    let next = outline.corners.iter().cycle().skip(1);
    let near = |a: Point, b: Point| a.distance(b) < SAME_M;
    let mut legs = outline.corners.iter().zip(next).zip(&outline.wall_names);
    let leg = legs
        .find(|((a, b), _)| near(**a, from) && near(**b, to) || near(**a, to) && near(**b, from));
    leg.and_then(|(_, name)| name.clone())
}

/// The compass side of a wall whose room is on its left; north is up the plan.
fn side(from: Point, to: Point) -> &'static str {
    const SIDES: [&str; 8] =
        ["east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"];
    let outward = -(to - from).left();
    let eighths = outward.y.atan2(outward.x) / std::f64::consts::FRAC_PI_4;
    SIDES[(eighths.round() as i64).rem_euclid(8) as usize]
}
