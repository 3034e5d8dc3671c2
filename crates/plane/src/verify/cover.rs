//! How much of the floor lies near tube.

use super::grid::Grid;
use super::strands::{PIECE_M, Strand};
use crate::chain;
use crate::point::{Point, segment_distance};
use crate::storey::{Layout, Plan, Room};

/// Finest and coarsest grid of places looked at, metres.
const PITCH_M: [f64; 2] = [0.02, 0.05];

/// Most places looked at in one room.
const MOST_PLACES: f64 = 4e6;

/// How much of a room's floor lies near tube.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cover {
    /// Number of the room.
    pub room: usize,
    /// Floor less keep-outs and less what the layout reports as dead, square metres.
    pub floor_m2: f64,
    /// Of it near tube: three quarters of the spacing, or the wall clearance if that is more.
    pub covered_m2: f64,
    /// Floor less keep-outs that the layout reports as dead, square metres.
    pub dead_m2: f64,
}

impl Cover {
    /// Share of the floor near tube, 0 to 1; 1 where there is no floor.
    pub fn fraction(&self) -> f64 {
        if self.floor_m2 > 0.0 { self.covered_m2 / self.floor_m2 } else { 1.0 }
    }
}

/// Cover of every heated room.
pub(super) fn cover(plan: &Plan, layout: &Layout, strands: &[Strand]) -> Vec<Cover> {
    let middles: Vec<Point> = strands.iter().map(Strand::middle).collect();
    let grid = Grid::of(&middles, 0.1);
    let is_near = |p: Point, near_m: f64| {
        let mut around = grid.around(p, near_m + PIECE_M / 2.0);
        around.any(|i| segment_distance(strands[i].piece.a, strands[i].piece.b, p) <= near_m)
    };
    let heated = plan.rooms.iter().enumerate().filter(|(_, room)| room.heated);
    heated.map(|(number, room)| cover_of_room(number, room, layout, is_near)).collect()
}

fn cover_of_room(
    number: usize,
    room: &Room,
    layout: &Layout,
    is_near: impl Fn(Point, f64) -> bool,
) -> Cover {
    let near_m = (0.75 * room.spacing_m).max(room.wall_clearance_m);
    let (low, high) = room.floor.bounds();
    let extent = high - low;
    let pitch = (near_m / 5.0)
        .clamp(PITCH_M[0], PITCH_M[1])
        .max((extent.x * extent.y / MOST_PLACES).sqrt());
    let mut cover = Cover { room: number, ..Cover::default() };
    let (columns, rows) = ((extent.x / pitch) as usize + 1, (extent.y / pitch) as usize + 1);
    for row in 0..rows {
        for column in 0..columns {
            let p = low + Point::new(column as f64 + 0.5, row as f64 + 0.5) * pitch;
            let kept_out = |p| room.keep_outs.iter().any(|ring| chain::encloses(ring, p));
            if !room.floor.encloses(p) || kept_out(p) {
                continue;
            }
            let cell_m2 = pitch * pitch;
            if is_near(p, near_m) {
                cover.floor_m2 += cell_m2;
                cover.covered_m2 += cell_m2;
            } else if layout.dead.iter().any(|d| d.room == number && d.region.encloses(p)) {
                cover.dead_m2 += cell_m2;
            } else {
                cover.floor_m2 += cell_m2;
            }
        }
    }
    cover
}
