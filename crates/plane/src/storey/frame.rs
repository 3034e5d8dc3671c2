//! A frame of its own for every plan, so that turning or mirroring a plan changes nothing.
//!
//! Numbers in the plan's own frame would decide ties one way for a plan and another way for
//! the same plan turned. So a storey is laid in a frame that hangs on the plan alone: its
//! longest walls along the axes, and of the eight ways that leaves the one with the least
//! list of numbers. The list begins at the first manifold, so that a room added behind the
//! others turns nothing that was laid.

use super::held::{NotTaken, Unheld};
use super::layout::{Layout, Refusal};
use super::plan::{Grooves, Pattern, Plan};
use crate::path::{Path, Segment};
use crate::point::Point;
use crate::region::Region;

/// The way from the plan's own frame to that in which it is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// Where the x axis goes, unit.
    across: Point,
    /// Where the y axis goes, unit.
    along: Point,
    /// Where the plan's origin goes after the turn.
    origin: Point,
}

/// Width of the grid on which plans are laid, metres.
const GRID_M: f64 = 1e-6;

/// Shift of the grid that keeps round figures off its ties.
const GRID_SHIFT: f64 = 0.013_7;

/// Walls whose directions differ by less are parallel, as a sine.
const PARALLEL: f64 = 1e-4;

impl Frame {
    /// The frame of a plan; nothing without a room.
    pub(super) fn of(plan: &Plan) -> Option<Frame> {
        let mut best: Option<(Vec<i64>, Frame)> = None;
        for direction in main_directions(plan) {
            for (across, along) in symmetries(direction) {
                let mut frame = Frame { across, along, origin: Point::default() };
                frame.origin = -frame.to(fixed_place(plan)?);
                let key = frame.key(plan);
                if best.as_ref().is_none_or(|(least, _)| key < *least) {
                    best = Some((key, frame));
                }
            }
        }
        best.map(|(_, frame)| frame).filter(|f| f.origin.is_finite())
    }

    /// A place as the frame has it.
    fn to(&self, p: Point) -> Point {
        let turned = Point::new(p.dot(self.across), p.dot(self.along));
        turned + self.origin
    }

    /// A place on the frame's grid.
    fn onto_grid(&self, p: Point) -> Point {
        let q = self.to(p);
        let snap = |v: f64| (v / GRID_M + GRID_SHIFT).round() * GRID_M + 0.0;
        Point::new(snap(q.x), snap(q.y))
    }

    /// A place of the frame as the plan has it.
    fn back(&self, p: Point) -> Point {
        let q = p - self.origin;
        let columns =
            [Point::new(self.across.x, self.along.x), Point::new(self.across.y, self.along.y)];
        Point::new(q.dot(columns[0]), q.dot(columns[1]))
    }

    fn mirrors(&self) -> bool {
        self.across.cross(self.along) < 0.0
    }

    /// All numbers of a plan that tell one way of looking at it from another.
    fn key(&self, plan: &Plan) -> Vec<i64> {
        let mut key = Vec::new();
        let mut push = |q: Point| {
            key.extend([(q.x / GRID_M).round() as i64, (q.y / GRID_M).round() as i64]);
        };
        plan.manifolds.iter().flat_map(|m| m.ports).for_each(|p| push(self.onto_grid(p)));
        for room in &plan.rooms {
            let ring: Vec<Point> = room.floor.outer().iter().map(|p| self.onto_grid(*p)).collect();
            started_least(ring).into_iter().for_each(&mut push);
        }
        plan.doors.iter().for_each(|door| push(self.onto_grid(door.at)));
        key
    }

    /// The plan in the frame, every ring started at its least corner.
    pub(super) fn plan(&self, plan: &Plan) -> Plan {
        let ring = |points: &[Point]| -> Vec<Point> {
            started_least(points.iter().map(|p| self.onto_grid(*p)).collect())
        };
        let mut framed = plan.clone();
        for room in &mut framed.rooms {
            let mut holes: Vec<Vec<Point>> = room.floor.holes().iter().map(|h| ring(h)).collect();
            holes.sort_by(|a, b| order(a, b));
            room.floor = Region::trusted(ring(room.floor.outer()), holes);
            // Turned the right way round, a ring may start elsewhere.
            let outer = started_least(room.floor.outer().to_vec());
            room.floor = Region::trusted(outer, room.floor.holes().to_vec());
            for keep_out in &mut room.keep_outs {
                *keep_out = ring(keep_out);
                if crate::chain::double_area(keep_out) < 0.0 {
                    keep_out.reverse();
                    *keep_out = started_least(std::mem::take(keep_out));
                }
            }
            room.keep_outs.sort_by(|a, b| order(a, b));
            if let Pattern::Grooves(grooves) = &mut room.pattern {
                let along =
                    Point::new(grooves.along.dot(self.across), grooves.along.dot(self.along));
                *grooves = Grooves { along: upright(along), on: self.onto_grid(grooves.on) };
            }
            for wall in &mut room.outside_walls {
                *wall = wall.map(|p| self.onto_grid(p));
                if order(&wall[1..], &wall[..1]).is_lt() {
                    wall.swap(0, 1);
                }
            }
            room.outside_walls.sort_by(|a, b| order(a, b));
        }
        for held in &mut framed.held.regions {
            held.ring = ring(&held.ring);
        }
        for held in &mut framed.held.ways {
            held.way = held.way.iter().map(|p| self.onto_grid(*p)).collect();
        }
        for entry in &mut framed.held.entries {
            entry.at = entry.at.map(|p| self.onto_grid(p));
        }
        for door in &mut framed.doors {
            door.at = self.onto_grid(door.at);
        }
        for manifold in &mut framed.manifolds {
            manifold.ports = manifold.ports.map(|p| self.onto_grid(p));
        }
        framed
    }

    /// A layout of the frame as the plan has it.
    pub(super) fn layout_back(&self, mut layout: Layout) -> Layout {
        for laid in &mut layout.loops {
            laid.path = self.path_back(&laid.path);
            laid.region = self.region_back(&laid.region);
            if let Pattern::Grooves(grooves) = &mut laid.pattern {
                let on = self.back(grooves.on);
                let along = self.back(grooves.on + grooves.along) - on;
                *grooves = Grooves { along, on };
            }
        }
        for dead in &mut layout.dead {
            dead.region = self.region_back(&dead.region);
        }
        for cut_off in &mut layout.cut_off {
            cut_off.at = self.back(cut_off.at);
        }
        layout.refusals =
            layout.refusals.into_iter().map(|r| Refusal { at: self.back(r.at), ..r }).collect();
        layout
    }

    /// What could not be kept, with its place as the plan has it.
    pub(super) fn unheld_back(&self, unheld: Unheld) -> Unheld {
        let Unheld::Way { name, why } = unheld else { return unheld };
        let why = match why {
            NotTaken::OffTheFloor { at } => NotTaken::OffTheFloor { at: self.back(at) },
            NotTaken::Crosses { other, at } => NotTaken::Crosses { other, at: self.back(at) },
            NotTaken::TooTight { at, radius_m } => {
                NotTaken::TooTight { at: self.back(at), radius_m }
            }
            _ => why,
        };
        Unheld::Way { name, why }
    }

    pub(super) fn path_back(&self, path: &Path) -> Path {
        let sign = if self.mirrors() { -1.0 } else { 1.0 };
        let segments = path.segments.iter().map(|segment| match *segment {
            Segment::Line { from, to } => {
                Segment::Line { from: self.back(from), to: self.back(to) }
            }
            Segment::Arc { from, to, centre, radius_m, turn_rad } => Segment::Arc {
                from: self.back(from),
                to: self.back(to),
                centre: self.back(centre),
                radius_m,
                turn_rad: sign * turn_rad,
            },
        });
        Path { segments: segments.collect() }
    }

    pub(super) fn region_back(&self, region: &Region) -> Region {
        let ring = |points: &[Point]| points.iter().map(|p| self.back(*p)).collect();
        let holes = region.holes().iter().map(|h| ring(h)).collect();
        Region::trusted(ring(region.outer()), holes)
    }
}

/// The place that the frame hangs on: the first manifold, or else the first corner.
fn fixed_place(plan: &Plan) -> Option<Point> {
    let ports =
        plan.manifolds.first().map(|manifold| manifold.ports[0].lerp(manifold.ports[1], 0.5));
    ports.or_else(|| plan.rooms.first()?.floor.outer().first().copied())
}

fn order(a: &[Point], b: &[Point]) -> std::cmp::Ordering {
    a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal)
}

/// A counter-clockwise ring that starts at its least corner.
fn started_least(mut ring: Vec<Point>) -> Vec<Point> {
    if crate::chain::double_area(&ring) < 0.0 {
        ring.reverse();
    }
    let least = (0..ring.len())
        .min_by(|a, b| order(&ring[*a..=*a], &ring[*b..=*b]).then(a.cmp(b)))
        .unwrap_or(0);
    ring.rotate_left(least);
    ring
}

/// Directions of the walls that together are longest, as long as each other.
fn main_directions(plan: &Plan) -> Vec<Point> {
    // Longest wall of each family of parallel and square walls, and the family's length.
    let mut families: Vec<(Point, f64, f64)> = Vec::new();
    for room in &plan.rooms {
        for (a, b) in crate::chain::ring_edges(room.floor.outer()) {
            let (direction, length) = ((b - a).unit(), a.distance(b));
            let turned = |f: &Point| {
                f.cross(direction).abs() < PARALLEL || f.dot(direction).abs() < PARALLEL
            };
            match families.iter_mut().find(|(f, _, _)| turned(f)) {
                Some((f, longest, sum)) => {
                    if length > *longest + GRID_M {
                        (*f, *longest) = (direction, length);
                    }
                    *sum += length;
                }
                None => families.push((direction, length, length)),
            }
        }
    }
    let most = families.iter().map(|f| f.2).fold(0.0, f64::max);
    let chosen = families.into_iter().filter(|f| f.2 > most - 1e-4);
    chosen.map(|(f, _, _)| upright(f)).collect()
}

/// The direction itself, or the axis that it is but for the last digits.
fn upright(direction: Point) -> Point {
    let axis = |v: f64| {
        if v.abs() < 1e-9 {
            0.0
        } else if v.abs() > 1.0 - 1e-9 {
            v.signum()
        } else {
            v
        }
    };
    Point::new(axis(direction.x), axis(direction.y))
}

/// The eight pairs of axes along a direction.
fn symmetries(direction: Point) -> Vec<(Point, Point)> {
    let (d, l) = (direction, direction.left());
    let turned = [(d, l), (l, -d), (-d, -l), (-l, d)];
    turned.into_iter().chain(turned.map(|(x, y)| (x, -y))).collect()
}
