//! The tube of a storey in short pieces that know what they belong to.

use super::ground::{Ground, Place, Stretch};
use super::pieces::{Piece, Pieces};
use super::turns::{Turn, turns};
use crate::path::Path;
use crate::point::{Point, segment_distance};
use crate::storey::{Layout, Loop, Pattern, Plan, Room};

/// Longest piece, metres.
pub(super) const PIECE_M: f64 = 0.025;

/// Turns beyond this are bulbs: wider than the two strands that lead into them, radians.
const BULB_RAD: f64 = 185.0 * std::f64::consts::PI / 180.0;

/// How far a bulb's neck reaches beyond its head, in bend radii: two arcs of a sixth of a turn lead
/// from strands that touch into the head, √3 radii long.
const NECK_RADII: f64 = 1.75;

/// A short straight piece of tube.
#[derive(Clone, Copy, Debug)]
pub(super) struct Strand {
    pub(super) piece: Piece,
    pub(super) place: Place,
    /// Whether it is on its way to or from its field.
    pub(super) leader: bool,
    /// Whether it is part of a turn wider than the spacing.
    pub(super) bulb: bool,
    /// Spacing asked for where it lies, metres.
    pub(super) spacing_m: f64,
}

impl Strand {
    pub(super) fn middle(&self) -> Point {
        self.piece.a.lerp(self.piece.b, 0.5)
    }
}

/// All strands of a layout, loop after loop.
pub(super) fn strands(
    plan: &Plan,
    layout: &Layout,
    paths: &[Path],
    stretches: &[Vec<Stretch>],
) -> Vec<Strand> {
    let runs: Vec<Run> = layout.loops.iter().map(|l| Run::of(plan, l)).collect();
    let pieces = Pieces::of(paths, PIECE_M);
    let known = |piece: &Piece| {
        let run = runs.get(piece.path)?;
        Some(run.strand(piece, stretches.get(piece.path)?))
    };
    pieces.iter().filter_map(known).collect()
}

/// What is known of a loop along its way.
struct Run<'a> {
    /// The room that it heats, and those that share it.
    homes: Vec<usize>,
    room: Option<&'a Room>,
    /// Where its field begins and ends along it, metres.
    field_m: [f64; 2],
    bulbs: Vec<Turn>,
}

impl<'a> Run<'a> {
    fn of(plan: &'a Plan, tube: &Loop) -> Run<'a> {
        let room = plan.rooms.get(tube.room);
        let neck_m = NECK_RADII * room.map_or(0.0, |r| r.tube.bend_radius_m);
        let mut bulbs = turns(&tube.path);
        bulbs.retain(|t| t.turn_rad.abs() > BULB_RAD);
        for bulb in &mut bulbs {
            bulb.from_m -= neck_m;
            bulb.to_m += neck_m;
        }
        let field_m = [tube.supply_leader_m, tube.path.length_m() - tube.return_leader_m];
        let sharing = plan.held.shared.iter().filter(|s| s.with == tube.room).map(|s| s.room);
        let homes = std::iter::once(tube.room).chain(sharing).collect();
        Run { homes, room, field_m, bulbs }
    }

    fn strand(&self, piece: &Piece, stretches: &[Stretch]) -> Strand {
        let along = piece.along;
        let before = stretches.partition_point(|s| s.to_m < along);
        let place = stretches.get(before).map_or(Place::Outside, |s| s.place);
        let in_field = self.field_m[0] <= along && along <= self.field_m[1];
        let at_home = matches!(place, Place::Room(room) if self.homes.contains(&room));
        Strand {
            piece: *piece,
            place,
            leader: !(in_field && at_home),
            bulb: self.bulbs.iter().any(|t| t.from_m <= along && along <= t.to_m),
            spacing_m: self.room.map_or(0.0, |r| spacing_m(r, piece.a.lerp(piece.b, 0.5))),
        }
    }
}

/// Spacing asked for at a place of a room: closer in a band along outside walls.
fn spacing_m(room: &Room, p: Point) -> f64 {
    let Pattern::Band { spacing_m, depth_m } = room.pattern else { return room.spacing_m };
    let walls = room.outside_walls.iter().map(|[a, b]| segment_distance(*a, *b, p));
    let from_wall_m = if room.outside_walls.is_empty() {
        room.floor.boundary_distance_m(p)
    } else {
        walls.fold(f64::INFINITY, f64::min)
    };
    if from_wall_m <= depth_m { spacing_m.min(room.spacing_m) } else { room.spacing_m }
}

/// Distance to the nearest manifold, metres.
pub(super) fn manifold_distance_m(plan: &Plan, p: Point) -> f64 {
    let ports = plan.manifolds.iter().map(|m| segment_distance(m.ports[0], m.ports[1], p));
    ports.fold(f64::INFINITY, f64::min)
}

/// Distance to the nearest manifold or door, metres.
pub(super) fn opening_distance_m(plan: &Plan, ground: &Ground, p: Point) -> f64 {
    manifold_distance_m(plan, p).min(ground.door_distance_m(p))
}
