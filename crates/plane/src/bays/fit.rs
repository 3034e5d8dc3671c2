//! What fits in a bay: depths of tube and holes, turns, slots for leaders.

use super::holes::{self, JoistKind};
use super::{Floor, NoBays};
use crate::point::Point;

/// Wood that is planned beyond the limit, so that a wandering drill keeps it, metres.
const DRILL_SLACK_M: f64 = 0.003;

/// Distance of a turning tube from the face of a joist where it begins to pass it, metres.
const FACE_M: f64 = 0.002;

/// Air between two tubes side by side, metres.
const AIR_M: f64 = 0.0115;

/// Air between plated tube and subfloor, metres.
const PLATE_M: f64 = 0.002;

/// Depths and sizes that follow from joists, holes and tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    /// Clear width between joists.
    pub(super) clear_m: f64,
    /// Bend radius of the tube.
    pub(super) radius_m: f64,
    /// Half the distance of the strands of a bay.
    pub(super) half_m: f64,
    /// Half the distance of two strands where they turn to pass a joist.
    pub(super) exit_m: f64,
    /// Depth of tube in plates.
    pub(super) plate_z: f64,
    /// Depth of holes of the rows and return lanes.
    pub(super) upper_z: f64,
    /// Depth of holes of the supply lanes.
    pub(super) lower_z: f64,
    /// Depths of leaders below the joists: return, supply.
    pub(super) under_z: [f64; 2],
    /// Distance of neighbouring lanes.
    pub(super) lane_m: f64,
    /// Distance of tubes side by side.
    pub(super) beside_m: f64,
    /// Where rows and lanes lie along the joists: between the bearings, no farther than rooms go.
    pub(super) reach_m: [f64; 2],
    /// Nearest and farthest lane from either end of that; the nearest is the larger where none fits.
    pub(super) zones_m: [[f64; 2]; 2],
}

impl Fit {
    pub(super) fn of(floor: &Floor) -> Result<Fit, NoBays> {
        check(floor)?;
        let (joists, tube, drilling) = (&floor.joists, &floor.tube, &floor.drilling);
        let limits = &drilling.limits;
        let clear_m = joists.pitch_m - joists.width_m;
        let radius_m = tube.bend_radius_m;
        let half_m = floor.plate.strands_m / 2.0;
        let beside_m = tube.outside_m + AIR_M;
        let exit_m = half_m.min(clear_m / 2.0 - radius_m - FACE_M);
        let turn = 2.0 * half_m.max(radius_m) + tube.outside_m + 2.0 * FACE_M;
        let links = 2.0 * radius_m + 2.0 * FACE_M + beside_m;
        let needed_m = turn.max(links);
        if needed_m > clear_m + 1e-9 {
            return Err(NoBays::BayTooNarrow { needed_m, clear_m });
        }
        let [upper_z, lower_z] = depths(floor)?;
        let apart = holes::apart_m(drilling.hole_m, limits);
        let reach_m = reach(floor);
        if reach_m[0] >= reach_m[1] {
            return Err(NoBays::NoBay);
        }
        let zones_m = zones(floor, reach_m);
        let middle_m = (reach_m[1] - reach_m[0]) / 2.0;
        if zones_m.iter().all(|zone| zone[0] > zone[1] || zone[0] > middle_m) {
            return Err(NoBays::NoLane);
        }
        let below = joists.depth_m + tube.outside_m / 2.0 + AIR_M;
        Ok(Fit {
            clear_m,
            radius_m,
            half_m,
            exit_m,
            plate_z: tube.outside_m / 2.0 + PLATE_M,
            upper_z,
            lower_z,
            // Farther apart than side by side: a pair comes nearer to each other in a dip.
            under_z: [below, below + 1.5 * beside_m],
            lane_m: drilling.hole_m + apart + DRILL_SLACK_M,
            beside_m,
            reach_m,
            zones_m,
        })
    }

    /// Whether supply and return pass a joist one above the other.
    pub(super) fn is_two_level(&self) -> bool {
        self.lower_z > self.upper_z
    }

    /// Most lanes' places that one loop takes beside a bearing.
    pub(super) fn lanes_each(&self) -> usize {
        if self.is_two_level() { 1 } else { 2 }
    }

    /// Offset from the middle of the leader bay of the tube nearest the joist.
    pub(super) fn first_slot_m(&self) -> f64 {
        self.clear_m / 2.0 - self.radius_m - FACE_M
    }

    /// Most loops on one side and towards one bearing that a leader bay holds; `alone` without any
    /// on the other side, whose half is theirs as well.
    pub(super) fn slots(&self, alone: bool) -> usize {
        let last_m = if alone { -self.first_slot_m() } else { self.beside_m / 2.0 };
        let room = self.first_slot_m() - last_m + 1e-9;
        let tubes = (room / self.beside_m).floor().max(0.0) as usize + 1;
        tubes / self.lanes_each()
    }
}

/// Lanes keep this far from where rooms begin, metres.
const LANE_EDGE_M: f64 = 0.05;

/// The stretch along the joists that rooms reach over, as far as the bearings where they come near.
fn reach(floor: &Floor) -> [f64; 2] {
    let (joists, nearest_m) = (&floor.joists, floor.drilling.lanes_m[0]);
    let [first, last] = joists.bearings_m;
    let along = joists.along.unit();
    let mut reach = [last, first];
    for room in &floor.rooms {
        let places = room.floor.outer().iter().map(|p| (*p - joists.on).dot(along));
        let (low, high) =
            places.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), y| (a.min(y), b.max(y)));
        let (low, high) = (low.max(first), high.min(last));
        if high > low {
            reach = [reach[0].min(low), reach[1].max(high)];
        }
    }
    [
        if reach[0] - first > nearest_m { reach[0] } else { first },
        if last - reach[1] > nearest_m { reach[1] } else { last },
    ]
}

/// Nearest and farthest lane from either end of the reach.
fn zones(floor: &Floor, reach_m: [f64; 2]) -> [[f64; 2]; 2] {
    let [first, last] = floor.joists.bearings_m;
    let span = last - first;
    let shares = floor.drilling.limits.span_shares;
    let zone = shares.map_or([0.0, span], |shares| shares.map(|share| share * span));
    let lanes = floor.drilling.lanes_m;
    // Rooms that begin beyond the nearest place for lanes have theirs where they begin.
    [reach_m[0] - first, last - reach_m[1]].map(|offset| {
        let nearest = if offset > 0.0 { LANE_EDGE_M } else { lanes[0] };
        let [low, high] = zone.map(|m| m - offset);
        [nearest.max(low), lanes[1].max(low).min(high)]
    })
}

/// Length in plan of a dip by `deep_m`, and its true length: two arcs, upright between them if deep.
pub(super) fn dip(deep_m: f64, radius_m: f64) -> (f64, f64) {
    let deep_m = deep_m.abs();
    if deep_m >= 2.0 * radius_m {
        let straight = deep_m - 2.0 * radius_m;
        return (2.0 * radius_m, std::f64::consts::PI * radius_m + straight);
    }
    let plan = (4.0 * radius_m * deep_m - deep_m * deep_m).max(0.0).sqrt();
    (plan, 2.0 * radius_m * (1.0 - deep_m / (2.0 * radius_m)).clamp(-1.0, 1.0).acos())
}

/// Depths of the centres of upper and lower holes; equal where one level fits only.
fn depths(floor: &Floor) -> Result<[f64; 2], NoBays> {
    let (depth, hole) = (floor.joists.depth_m, floor.drilling.hole_m);
    let limits = &floor.drilling.limits;
    if floor.joists.kind != JoistKind::Sawn {
        // Without a rule for holes: two in the middle of the web, as far apart as the rule asks.
        let apart = (holes::apart_m(hole, limits) + hole + DRILL_SLACK_M) / 2.0;
        return Ok([depth / 2.0 - apart, depth / 2.0 + apart]);
    }
    let most_m = holes::largest_hole_m(depth, limits);
    if hole > most_m + 1e-9 {
        let depth_m = holes::least_depth_m(hole, limits);
        return Err(NoBays::HoleTooLarge { most_m, depth_m });
    }
    let middle = depth / 2.0;
    if limits.mid_depth {
        return Ok([middle, middle]);
    }
    let slack = DRILL_SLACK_M.min((depth - hole) / 2.0 - limits.edge_m).max(0.0);
    let upper = limits.edge_m + hole / 2.0 + slack;
    let lower = upper + hole + holes::apart_m(hole, limits) + DRILL_SLACK_M;
    let fits = lower + hole / 2.0 + limits.edge_m <= depth + 1e-9;
    Ok(if fits { [upper, lower] } else { [upper, upper] })
}

fn check(floor: &Floor) -> Result<(), NoBays> {
    let (joists, plate, tube) = (&floor.joists, &floor.plate, &floor.tube);
    let (drilling, limits) = (&floor.drilling, &floor.drilling.limits);
    let positive = [
        joists.pitch_m,
        joists.width_m,
        joists.depth_m,
        joists.along.norm(),
        joists.bearings_m[1] - joists.bearings_m[0],
        plate.strands_m,
        plate.length_m,
        tube.outside_m,
        tube.bend_radius_m,
        tube.longest_loop_m,
        drilling.hole_m,
        drilling.lanes_m[0],
        limits.diameter_per_depth,
    ];
    let nought = [
        plate.joint_m,
        plate.shortest_m,
        floor.manifold.rise_m,
        limits.edge_m,
        limits.apart_m,
        limits.apart_diameters,
        drilling.lanes_m[1] - drilling.lanes_m[0],
    ];
    let places = [joists.on, floor.manifold.at, Point::new(joists.bearings_m[0], 0.0)];
    let sound = positive.iter().all(|v| *v > 1e-6 && *v < 1e4)
        && nought.iter().all(|v| *v >= 0.0 && *v < 1e4)
        && places.iter().all(|p| p.x.abs() < 1e5 && p.y.abs() < 1e5)
        && joists.pitch_m > joists.width_m + 0.05
        && drilling.hole_m > tube.outside_m;
    if sound { Ok(()) } else { Err(NoBays::UnusableFigure) }
}
