//! Tube in grooved boards over an old floor: a locked grid of grooves, turns at row ends.
//!
//! Grooves run square to the wall with the door, a fixed pitch apart. Two neighbouring grooves are
//! a row; a loop is the outline of a tree of rows and links on the grid, so it never meets itself.
//! Loops share the floor in slabs of whole rows. Leaders run along one wall, the loop that goes
//! farthest nearest to it: slab and leaders of one loop never meet those of another.

mod bill;
pub(crate) mod grid;
mod grooves;
mod leaders;
mod slabs;

use std::fmt;

use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

pub use bill::{Bill, bill, bill_of};
pub use grooves::grooves;

/// A floor that is to get grooved boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// The room from wall to wall.
    pub room: Region,
    /// Places without boards: columns, stoves, fixed cupboards.
    pub keep_outs: Vec<Vec<Point>>,
    /// The stretch of wall through which leaders come, end to end.
    pub door: [Point; 2],
    /// Least distance of tube from walls and keep-outs, metres.
    pub wall_clearance_m: f64,
    /// The boards.
    pub board: Board,
    /// Smallest radius that the tube may be bent to, metres.
    pub bend_radius_m: f64,
    /// Longest loop, manifold to manifold, metres.
    pub longest_loop_m: f64,
    /// Tube of each loop outside the room, both ways, metres.
    pub outside_m: f64,
}

/// Boards of one pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    /// From groove to groove.
    pub pitch_m: f64,
    /// Width of a straight board, across the grooves.
    pub width_m: f64,
    /// Length of a straight board, along the grooves.
    pub length_m: f64,
    /// Half turns on one turn board.
    pub turns: usize,
    /// From groove to groove on leader boards.
    pub leader_pitch_m: f64,
    /// Grooves on one leader board.
    pub leader_grooves: usize,
}

/// Tube in grooved boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The loops, slab after slab.
    pub loops: Vec<Loop>,
    /// Direction of the grooves, of length one.
    pub along: Point,
    /// From groove to groove, metres.
    pub pitch_m: f64,
    /// A place on the middle of a row, between its two grooves.
    pub on: Point,
    /// Floor that whole rows serve, square metres.
    pub served_m2: f64,
    /// Floor that the best place of the grid serves more than the worst, square metres.
    pub gain_m2: f64,
    /// Length of rows that could not be linked to a loop, metres.
    pub lost_m: f64,
    /// Which wall the leaders run along, in words for the paper.
    pub why: &'static str,
}

/// One loop, from the door and back to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    /// The tube in the room.
    pub path: Path,
    /// Length with the tube outside the room, metres.
    pub length_m: f64,
    /// Tube between the door and the loop's own rows, metres.
    pub leader_m: f64,
}

/// Why grooved boards do not suit a floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoBoards {
    /// A figure is not usable.
    UnusableFigure,
    /// The half turns of these boards are tighter than the tube may be bent.
    TurnTooTight {
        /// Radius of a half turn: half the pitch, metres.
        turn_m: f64,
        /// Smallest radius of the tube, metres.
        needs_m: f64,
    },
    /// No row fits between the walls.
    NoRow,
    /// The door is too narrow for the leaders.
    DoorTooNarrow {
        /// Number of loops.
        loops: usize,
        /// Width that they need, metres.
        needs_m: f64,
        /// Width that is there, metres.
        has_m: f64,
    },
    /// No number of loops tried keeps the limit with all rows linked.
    NoLayout,
}

impl fmt::Display for NoBoards {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            NoBoards::UnusableFigure => write!(f, "a figure is not usable"),
            NoBoards::TurnTooTight { turn_m, needs_m } => write!(
                f,
                "half turns of these boards have a radius of {:.0} mm, the tube asks for {:.0} mm",
                turn_m * 1e3,
                needs_m * 1e3
            ),
            NoBoards::NoRow => write!(f, "no row fits between the walls"),
            NoBoards::DoorTooNarrow { loops, needs_m, has_m } => write!(
                f,
                "door too narrow for {loops} loops: needs {needs_m:.2} m, has {has_m:.2} m"
            ),
            NoBoards::NoLayout => {
                write!(f, "no number of loops keeps the limit with all rows linked")
            }
        }
    }
}

impl std::error::Error for NoBoards {}

/// Lays loops in grooved boards over one room.
///
/// # Errors
/// [`NoBoards`] with the figures that rule boards out.
pub fn lay(floor: &Floor) -> Result<Layout, NoBoards> {
    check(floor)?;
    let (turn_m, needs_m) = (floor.board.pitch_m / 2.0, floor.bend_radius_m);
    if turn_m < needs_m - 1e-9 {
        return Err(NoBoards::TurnTooTight { turn_m, needs_m });
    }
    let mut best: Option<Layout> = None;
    let mut reason = NoBoards::NoLayout;
    for from_door in [true, false] {
        match slabs::lay(floor, from_door) {
            Ok(layout) => {
                if best.as_ref().is_none_or(|b| worth(&layout) > worth(b) + 0.05) {
                    best = Some(layout);
                }
            }
            Err(other) if reason == NoBoards::NoLayout => reason = other,
            Err(_) => {}
        }
    }
    best.ok_or(reason)
}

/// Floor that a layout really serves, less a little for every loop, square metres.
fn worth(layout: &Layout) -> f64 {
    let lost = layout.lost_m * 2.0 * layout.pitch_m;
    layout.served_m2 - lost - 0.6 * layout.loops.len() as f64
}

fn check(floor: &Floor) -> Result<(), NoBoards> {
    let board = &floor.board;
    let positive = [
        board.pitch_m,
        board.width_m,
        board.length_m,
        board.leader_pitch_m,
        floor.bend_radius_m,
        floor.longest_loop_m,
        floor.door[0].distance(floor.door[1]),
    ];
    let nought = [floor.wall_clearance_m, floor.outside_m];
    let sound = positive.iter().all(|v| *v > 0.01 && *v < 1e4)
        && nought.iter().all(|v| *v >= 0.0 && *v < 1e4)
        && board.width_m >= board.pitch_m
        && floor.door.iter().all(|p| p.x.abs() < 1e5 && p.y.abs() < 1e5)
        && board.turns > 0
        && board.leader_grooves > 0;
    // More rows than this are no room.
    let (low, high) = floor.room.bounds();
    let rows = (high - low).norm() / board.pitch_m.max(1e-6);
    if sound && rows < 1000.0 { Ok(()) } else { Err(NoBoards::UnusableFigure) }
}
