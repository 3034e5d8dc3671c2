//! What a storey looks like to somebody who lays tube in it.

use super::held::Held;
use crate::point::Point;
use crate::region::Region;

/// A storey that is to get tube.
///
/// All lengths are metres, all places in one plane. Rooms, doors and manifolds
/// name each other by their number in these lists.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The rooms, heated or only passed through.
    pub rooms: Vec<Room>,
    /// The ways from room to room.
    pub doors: Vec<Door>,
    /// The manifolds from which loops start.
    pub manifolds: Vec<Manifold>,
    /// Least distance between neighbouring leader tubes, centre to centre.
    pub leader_gap_m: f64,
    /// What somebody has taken in hand; all else is laid around it.
    pub held: Held,
}

/// One room.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// Its name in messages and loop keys.
    pub key: String,
    /// Its floor from wall to wall.
    pub floor: Region,
    /// Places no tube may lie in; they may touch or cross walls and each other.
    pub keep_outs: Vec<Vec<Point>>,
    /// Whether it gets loops of its own; leaders may pass in any case.
    pub heated: bool,
    /// Wanted distance between strands.
    pub spacing_m: f64,
    /// Wanted distance of the outermost strand from walls and keep-outs.
    pub wall_clearance_m: f64,
    /// How the tube is laid.
    pub pattern: Pattern,
    /// Stretches of wall with outdoors behind them, which warm strands go to first.
    pub outside_walls: Vec<[Point; 2]>,
    /// The tube of its loops.
    pub tube: Tube,
    /// A number of loops that is held; otherwise the fewest that keep the limit.
    pub loops: Option<usize>,
    /// Least number of loops where none is held, 1 unless something else asks for more.
    pub least_loops: usize,
    /// The manifold that it must hang on, if held, or another of the same key.
    pub manifold: Option<usize>,
}

/// What the tube allows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Smallest radius it may be bent to, at its centreline.
    pub bend_radius_m: f64,
    /// Longest loop, leaders and the manifold's `extra_m` included.
    pub longest_loop_m: f64,
}

/// How the tube of a room is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// Whatever suits the room best; the layout says which and why.
    Auto,
    /// Supply and return side by side, ring within ring.
    Counterflow,
    /// Row after row, from the outside walls inwards.
    Serpentine,
    /// Rows of supply and return side by side.
    DoubledSerpentine,
    /// Closer strands along the outside walls (all walls if none is known), then normal ones.
    Band {
        /// Distance between strands in the band.
        spacing_m: f64,
        /// Depth of the band from the wall.
        depth_m: f64,
    },
    /// Row after row in the grooves of boards, whose pitch is the spacing.
    Grooves(Grooves),
}

/// Where the grooves of a room's boards lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grooves {
    /// Direction of the grooves, of length one.
    pub along: Point,
    /// A place midway between two neighbouring grooves.
    pub on: Point,
}

/// A way for leaders from one room to another in the plane of the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Door {
    /// Its name in messages.
    pub key: String,
    /// The rooms on either side.
    pub rooms: [usize; 2],
    /// Its middle, in the wall.
    pub at: Point,
    /// Its clear width.
    pub width_m: f64,
}

/// Where loops start.
#[derive(Clone, Debug, PartialEq)]
pub struct Manifold {
    /// Its name in messages; one that comes to the floor in several places stands here once for each.
    pub key: String,
    /// The room it hangs in.
    pub room: usize,
    /// The stretch of wall, end to end, where its tubes come down to the floor.
    pub ports: [Point; 2],
    /// Most loops that it takes.
    pub most_loops: usize,
    /// Tube of each loop between ports and floor, both ends together; part of its length.
    pub extra_m: f64,
}
