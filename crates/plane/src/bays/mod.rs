//! Tube in joist bays under a subfloor: rows along the bays, links through drilled joists.
//!
//! A loop runs in one lane beside a bearing to its farthest bay and comes back row by row, each
//! row up a bay and down again in plates below the subfloor. Lanes are nested: the loop that goes
//! farthest lies nearest the bearing. Supply lane and return lane lie at two depths, or side by
//! side where a joist has room for one hole only. So no tube crosses another at its own depth, and
//! every crossing of a joist is a hole, straight through, that the schedule lists.
//!
//! Depths count downwards from the underside of the subfloor. Dips from one depth to another are
//! two arcs of the tube's bend radius in the upright plane.

mod banks;
mod fit;
pub(crate) mod frame;
pub(crate) mod group;
mod holes;
mod parts;
mod place;
mod plan;
mod rows;
mod tube;
mod walk;

use std::fmt;

use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

pub use holes::{Fault, Hole, HoleLimits, JoistKind, Mend, Verdict, judge, largest_hole_m, mends};

/// A floor on joists that is to get tube from below.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// The joists.
    pub joists: Joists,
    /// The heated rooms over them.
    pub rooms: Vec<Room>,
    /// What is in the way between the joists.
    pub blocks: Vec<Block>,
    /// Where the loops start.
    pub manifold: Manifold,
    /// The plates that hold the tube.
    pub plate: Plate,
    /// The tube.
    pub tube: Tube,
    /// The holes that the tube passes joists by.
    pub drilling: Drilling,
    /// Whether leaders may pass below the joists to bays that cannot be reached otherwise.
    pub under_joists: bool,
}

/// Parallel joists over one span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joists {
    /// How they are made.
    pub kind: JoistKind,
    /// Direction that they run in, any length.
    pub along: Point,
    /// A place on the centreline of one of them.
    pub on: Point,
    /// From joist to joist, centre to centre.
    pub pitch_m: f64,
    /// Thickness of a joist.
    pub width_m: f64,
    /// Actual depth of a joist.
    pub depth_m: f64,
    /// Faces of the two bearings, as distances from `on` along the joists.
    pub bearings_m: [f64; 2],
}

impl Joists {
    /// The place of a hole on the plan.
    pub fn place_of(&self, hole: &Hole) -> Point {
        let along = self.along.unit();
        let [low, high] = self.bearings_m;
        let from_m = hole.from_bearing_m;
        let along_m = if hole.bearing == 0 { low + from_m } else { high - from_m };
        self.on - along.left() * (hole.joist as f64 * self.pitch_m) + along * along_m
    }

    /// Centreline of a joist between the bearings, by its number.
    pub fn line(&self, joist: i64) -> [Point; 2] {
        let along = self.along.unit();
        let on = self.on - along.left() * (joist as f64 * self.pitch_m);
        self.bearings_m.map(|m| on + along * m)
    }
}

/// A heated room.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// Its name.
    pub key: String,
    /// Its floor from wall to wall.
    pub floor: Region,
    /// Length that its loops should keep, below the longest: less makes more loops, metres.
    pub loop_aim_m: f64,
}

/// Something between the joists.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Its outline in plan.
    pub outline: Vec<Point>,
    /// What it leaves free.
    pub kind: BlockKind,
}

/// What a block leaves free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// Nothing: no tube passes at any depth.
    Full,
    /// No plate fits, but tube may pass at the depth of the holes.
    Plate,
}

/// Where loops start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Manifold {
    /// Its place in plan.
    pub at: Point,
    /// Tube between the manifold and the bay, one way.
    pub rise_m: f64,
}

/// Plates that spread the tube's heat under the subfloor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// Distance of the two strands in a bay, centre to centre.
    pub strands_m: f64,
    /// Length of a whole plate.
    pub length_m: f64,
    /// Gap between plates, for their expansion.
    pub joint_m: f64,
    /// Shortest piece that is worth cutting.
    pub shortest_m: f64,
}

/// What the tube is and allows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Outside diameter.
    pub outside_m: f64,
    /// Smallest radius it may be bent to, at its centreline.
    pub bend_radius_m: f64,
    /// Longest loop, manifold to manifold.
    pub longest_loop_m: f64,
}

/// How joists are drilled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drilling {
    /// Diameter of a hole.
    pub hole_m: f64,
    /// Nearest and farthest lane from a bearing, hole centres.
    pub lanes_m: [f64; 2],
    /// What the rules allow in a sawn joist.
    pub limits: HoleLimits,
}

/// Tube, plates and holes of a floor on joists.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    /// The loops.
    pub loops: Vec<Loop>,
    /// The plates, strand by strand.
    pub plates: Vec<PlateRun>,
    /// The holes, joist by joist.
    pub holes: Vec<Hole>,
    /// Floor over bays that no row reaches.
    pub unreached: Vec<Unreached>,
}

/// One loop from supply port to return port.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    /// The room that it heats, by number.
    pub room: usize,
    /// Its number in the room, from 1.
    pub number: usize,
    /// The tube in plan.
    pub path: Path,
    /// Depth below the subfloor where each piece of the path begins and ends, metres.
    pub depths_m: Vec<[f64; 2]>,
    /// True length in space, manifold to manifold, metres.
    pub length_m: f64,
    /// What of it lies between its ports and the manifold, both ways, metres.
    pub outside_m: f64,
    /// Tube below each room, metres, to a centimetre; elsewhere is the rest.
    pub lengths_m: Vec<(usize, f64)>,
    /// The bays of its rows, by number of the joist before them, farthest first.
    pub bays: Vec<i64>,
}

/// Plates along one straight strand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateRun {
    /// The loop, by number in the layout.
    pub of_loop: usize,
    /// Both ends of the plated stretch in plan.
    pub ends: [Point; 2],
    /// Whole plates.
    pub whole: usize,
    /// Length of the cut plate at its end, metres; 0 for none.
    pub cut_m: f64,
}

/// Floor that no row reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unreached {
    /// The room, by number.
    pub room: usize,
    /// The bay, by number of the joist before it.
    pub bay: i64,
    /// Length of bay without tube, metres.
    pub length_m: f64,
    /// Why.
    pub why: Why,
}

/// Why floor over a bay gets no tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// The leaders of all loops lie in this bay.
    LeaderBay,
    /// A block lies between it and the lanes, or across the lanes on the way.
    Blocked,
    /// It lies between the lanes and their bearing.
    BehindLanes,
    /// Rows of another loop use the bays in between.
    OtherLoop,
    /// Too little floor for a loop of its own.
    TooLittle,
    /// The leader bay holds no more leaders.
    LeadersFull,
}

/// Why a floor on joists cannot be laid at all.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoBays {
    /// A figure is not usable.
    UnusableFigure,
    /// The tube cannot turn inside a bay.
    BayTooNarrow {
        /// Clear width between joists that the turns need, metres.
        needed_m: f64,
        /// Clear width that is there, metres.
        clear_m: f64,
    },
    /// The joist has no place for such a hole.
    HoleTooLarge {
        /// Largest hole allowed in this joist, metres; 0 if none.
        most_m: f64,
        /// Least depth of a joist that takes the hole, metres.
        depth_m: f64,
    },
    /// No lane fits between the nearest and the farthest one allowed.
    NoLane,
    /// No bay under the rooms is long enough for a row.
    NoBay,
    /// One row alone is longer than the longest loop.
    OverLimit {
        /// Its length, metres.
        length_m: f64,
    },
}

impl Why {
    /// The reason in words.
    pub fn words(self) -> &'static str {
        match self {
            Why::LeaderBay => "the leaders of all loops lie in this bay",
            Why::Blocked => "something in the bays blocks the way",
            Why::BehindLanes => "it lies between the lanes and their bearing",
            Why::OtherLoop => "rows of another loop use the bays in between",
            Why::TooLittle => "too little floor for a loop of its own",
            Why::LeadersFull => "the leader bay holds no more leaders",
        }
    }
}

impl fmt::Display for NoBays {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = |m: f64| m * 1e3;
        match *self {
            NoBays::UnusableFigure => write!(f, "a figure is not usable"),
            NoBays::BayTooNarrow { needed_m, clear_m } => write!(
                f,
                "turns of this tube need {:.0} mm between joists, there are {:.0} mm",
                mm(needed_m),
                mm(clear_m)
            ),
            NoBays::HoleTooLarge { most_m, depth_m } => write!(
                f,
                "this joist takes holes of {:.0} mm at most; the hole needs a joist {:.0} mm deep",
                mm(most_m),
                mm(depth_m)
            ),
            NoBays::NoLane => write!(f, "no lane fits between the places allowed for holes"),
            NoBays::NoBay => write!(f, "no bay under the rooms is long enough for a row"),
            NoBays::OverLimit { length_m } => {
                write!(f, "one row alone makes a loop of {length_m:.1} m")
            }
        }
    }
}

impl std::error::Error for NoBays {}

/// Lays tube in the bays of a floor.
///
/// # Errors
/// [`NoBays`] when joists, holes, bays and tube rule every layout out.
pub fn lay(floor: &Floor) -> Result<Layout, NoBays> {
    let fit = fit::Fit::of(floor)?;
    let bays = rows::Bays::of(floor, &fit);
    if bays.all.iter().all(|bay| bay.pieces.iter().all(Vec::is_empty)) {
        return Err(NoBays::NoBay);
    }
    let plan = plan::best(floor, &fit, &bays)?;
    Ok(parts::layout(floor, &fit, &bays, plan))
}
