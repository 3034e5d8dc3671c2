//! What is built for tube under a subfloor or in boards: joists, holes, plates, boards.

use plane::Point;
use plane::bays::Joists;
use quantity::{Area, Length};

use crate::figure::Figure;

/// Joists over one span with the tube in their bays.
#[derive(Clone, Debug, PartialEq)]
pub struct JoistFloor {
    /// The framing, by key.
    pub framing: String,
    /// Number of the span among those of the framing, from 1, along the joists.
    pub span: usize,
    /// The manifold that its loops hang on, by key.
    pub manifold: String,
    /// Rooms with loops here, by key.
    pub rooms: Vec<String>,
    /// The joists as they are counted.
    pub joists: Joists,
    /// The joists below these rooms, by number.
    pub numbers: [i64; 2],
    /// Holes, joist by joist.
    pub holes: Vec<JoistHole>,
    /// What the limits of holes rest on: clause and source of the rule set.
    pub rule: String,
    /// Plates, loop by loop.
    pub plates: Vec<Plates>,
    /// Floor over bays that no row reaches.
    pub without_tube: Vec<WithoutTube>,
}

/// A hole that tube passes a joist by.
#[derive(Clone, Debug, PartialEq)]
pub struct JoistHole {
    /// Number of the joist: 0 for that at the stated place, counted to its right looking along.
    pub joist: i64,
    /// From the joist at the stated place, across the joists, on either side.
    pub across: Figure<Length>,
    /// The bearing it is measured from: 1 where the joists begin, 2 where they end.
    pub bearing: usize,
    /// From that bearing's face to the middle of the hole.
    pub from_bearing: Figure<Length>,
    /// From the top of the joist to the middle of the hole.
    pub below_top: Figure<Length>,
    /// Diameter.
    pub diameter: Figure<Length>,
    /// Wood between the hole and the nearer edge.
    pub edge: Figure<Length>,
    /// Wood between the hole and the nearest other one in the joist; none if it is alone.
    pub to_next: Option<Figure<Length>>,
    /// The loop that passes, by key.
    pub of_loop: String,
    /// Its place on the plan, in metres.
    pub at: Point,
    /// What the rule says.
    pub verdict: HoleVerdict,
}

/// What the rule set says about a hole.
#[derive(Clone, Debug, PartialEq)]
pub enum HoleVerdict {
    /// All limits are kept.
    Allowed,
    /// Limits that are broken, in words.
    NotAllowed(String),
    /// No published rule speaks of it; whom to ask.
    CannotTell(String),
}

/// Plates on the tube of one loop.
#[derive(Clone, Debug, PartialEq)]
pub struct Plates {
    /// The loop, by key.
    pub of_loop: String,
    /// Plates laid whole.
    pub whole: usize,
    /// Plates that are cut.
    pub cut: usize,
    /// Length of tube in plates.
    pub length: Figure<Length>,
    /// Both ends of each plated stretch on the plan, in metres.
    pub stretches: Vec<[Point; 2]>,
}

/// Floor over a bay that no row reaches.
#[derive(Clone, Debug, PartialEq)]
pub struct WithoutTube {
    /// The room, by key.
    pub room: String,
    /// The bay, by number of the joist before it.
    pub bay: i64,
    /// Length of bay without tube.
    pub length: Length,
    /// Why, in words.
    pub why: &'static str,
}

/// Boards of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomBoards {
    /// The room, by key.
    pub room: String,
    /// The material, by its name in the catalogue.
    pub board: String,
    /// Distance of the grooves in use.
    pub pitch: Figure<Length>,
    /// Floor that its loops heat.
    pub area: Figure<Area>,
    /// Counts; none where the size of a board is not known.
    pub bill: Option<BoardBill>,
    /// Tube of leaders in or through the room, which lies in leader boards or grooves cut on site.
    pub leaders: Figure<Length>,
}

/// Boards counted from the finished tube.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardBill {
    /// Length and width of a board.
    pub size: [Length; 2],
    /// Straight boards laid whole.
    pub whole: usize,
    /// Pieces cut from straight boards.
    pub cut_pieces: usize,
    /// Straight boards that the pieces are cut from, offcuts used again.
    pub cut_boards: usize,
    /// Half turns.
    pub turns: usize,
    /// Turn pieces of two half turns each.
    pub turn_pieces: usize,
}
