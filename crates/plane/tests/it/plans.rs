//! Rooms as they are built, for tests, pictures and timing.
//!
//! Tests, picture and timing each use a part of it.
#![allow(dead_code)]

use plane::fill::{FillSpec, Port, Zone};
use plane::storey::Pattern;
use plane::{Point, Region};

/// A room with the place where its tube comes in.
pub(crate) struct Plan {
    pub(crate) name: &'static str,
    pub(crate) region: Region,
    pub(crate) entry: Point,
    pub(crate) spacing_m: f64,
    pub(crate) clearance_m: f64,
}

impl Plan {
    pub(crate) fn spec(&self) -> FillSpec {
        FillSpec {
            spacing_m: self.spacing_m,
            wall_clearance_m: self.clearance_m,
            bend_radius_m: 0.08,
        }
    }
}

pub(crate) fn points(corners: &[(f64, f64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

fn plan(name: &'static str, corners: &[(f64, f64)], entry: (f64, f64), spacing_m: f64) -> Plan {
    let region = Region::simple(points(corners)).expect("a sound plan");
    Plan { name, region, entry: Point::new(entry.0, entry.1), spacing_m, clearance_m: 0.1 }
}

/// Cuts fixtures out of a plan and keeps the largest piece.
fn without(mut plan: Plan, fixtures: &[&[(f64, f64)]]) -> Plan {
    let rings: Vec<Vec<Point>> = fixtures.iter().map(|f| points(f)).collect();
    let mut left = plan.region.difference(&rings).expect("sound fixtures");
    left.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
    plan.region = left.swap_remove(0);
    plan
}

pub(crate) fn rectangle() -> Plan {
    plan("rectangle", &[(0.0, 0.0), (4.0, 0.0), (4.0, 5.0), (0.0, 5.0)], (1.2, 0.0), 0.15)
}

pub(crate) fn all() -> Vec<Plan> {
    let l_room = [(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.2, 3.0), (3.2, 5.5), (0.0, 5.5)];
    let t_room = [
        (0.0, 0.0),
        (6.0, 0.0),
        (6.0, 2.4),
        (4.2, 2.4),
        (4.2, 5.0),
        (1.9, 5.0),
        (1.9, 2.4),
        (0.0, 2.4),
    ];
    let kitchen =
        plan("island", &[(0.0, 0.0), (5.0, 0.0), (5.0, 5.5), (0.0, 5.5)], (1.2, 0.0), 0.15);
    let bath = plan("bath", &[(0.0, 0.0), (1.5, 0.0), (1.5, 2.0), (0.0, 2.0)], (0.5, 0.0), 0.1);
    let fitted =
        plan("fitted bath", &[(0.0, 0.0), (2.4, 0.0), (2.4, 2.2), (0.0, 2.2)], (0.6, 0.0), 0.1);
    let mut bay = vec![(0.0, 0.0), (5.0, 0.0), (5.0, 4.0)];
    bay.extend((0..=12).map(|k| {
        let angle = std::f64::consts::PI * f64::from(k) / 12.0;
        (2.5 + 1.6 * angle.cos(), 4.0 + 1.6 * angle.sin())
    }));
    bay.push((0.0, 4.0));
    let mut fifth =
        plan("column", &[(0.0, 0.0), (5.2, 0.0), (5.2, 4.4), (0.0, 4.4)], (0.0, 2.0), 0.2);
    fifth = without(fifth, &[&[(2.0, 2.0), (2.4, 2.0), (2.4, 2.4), (2.0, 2.4)]]);
    vec![
        rectangle(),
        plan("l room", &l_room, (0.7, 0.0), 0.15),
        plan("t room", &t_room, (3.0, 5.0), 0.15),
        without(kitchen, &[&[(1.8, 2.0), (3.2, 2.0), (3.2, 2.9), (1.8, 2.9)]]),
        bath,
        without(
            fitted,
            &[
                &[(1.7, 0.7), (2.4, 0.7), (2.4, 2.2), (1.7, 2.2)],
                &[(0.4, 1.7), (1.0, 1.7), (1.0, 2.2), (0.4, 2.2)],
            ],
        ),
        plan("skew", &[(0.0, 0.0), (4.2, 0.74), (4.2, 5.0), (0.0, 5.0)], (1.0, 5.0), 0.15),
        plan("corridor", &[(0.0, 0.0), (8.0, 0.0), (8.0, 1.2), (0.0, 1.2)], (0.6, 0.0), 0.15),
        plan("bay", &bay, (4.3, 0.0), 0.15),
        plan("triangle", &[(0.0, 0.0), (7.0, 0.0), (3.2, 5.2)], (5.4, 0.0), 0.15),
        fifth,
        plan("wide", &[(0.0, 0.0), (3.6, 0.0), (3.6, 4.2), (0.0, 4.2)], (3.6, 0.05), 0.3),
    ]
}

/// A cabin of five rooms, each with one loop.
pub(crate) fn cabin() -> Vec<Plan> {
    let l_room = [(0.0, 0.0), (5.0, 0.0), (5.0, 2.6), (3.0, 2.6), (3.0, 4.4), (0.0, 4.4)];
    vec![
        plan("living", &l_room, (4.7, 2.6), 0.15),
        plan("bedroom", &[(0.0, 0.0), (3.2, 0.0), (3.2, 3.6), (0.0, 3.6)], (3.2, 0.6), 0.2),
        plan("child", &[(0.0, 0.0), (2.8, 0.0), (2.8, 3.2), (0.0, 3.2)], (0.0, 0.5), 0.2),
        plan("bath", &[(0.0, 0.0), (2.2, 0.0), (2.2, 1.8), (0.0, 1.8)], (0.7, 0.0), 0.1),
        plan("hall", &[(0.0, 0.0), (3.4, 0.0), (3.4, 1.3), (0.0, 1.3)], (1.7, 1.3), 0.15),
    ]
}

/// A zone of floor with what it asks for.
pub(crate) struct Floor {
    pub(crate) name: String,
    pub(crate) region: Region,
    pub(crate) port: Port,
    pub(crate) spacing_m: f64,
    pub(crate) bend_radius_m: f64,
    pub(crate) pattern: Pattern,
    pub(crate) outside_walls: Vec<[Point; 2]>,
}

impl Floor {
    /// A plan's floor less the strip along its walls, the port at its entry.
    pub(crate) fn of(plan: &Plan, gap_m: f64) -> Floor {
        let strip = (plan.clearance_m - plan.spacing_m / 2.0).max(0.0);
        let mut pieces = plan.region.offset_inward(strip);
        pieces.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
        let region = pieces.swap_remove(0);
        Floor {
            name: plan.name.to_string(),
            port: port_near(&region, plan.entry, gap_m),
            region,
            spacing_m: plan.spacing_m,
            bend_radius_m: 0.08,
            pattern: Pattern::Auto,
            outside_walls: Vec::new(),
        }
    }

    pub(crate) fn zone(&self) -> Zone<'_> {
        Zone {
            floor: &self.region,
            port: self.port,
            spacing_m: self.spacing_m,
            bend_radius_m: self.bend_radius_m,
            pattern: self.pattern,
            outside_walls: &self.outside_walls,
        }
    }
}

/// The port nearest to a place, a gap off the corners of its edge.
pub(crate) fn port_near(region: &Region, place: Point, gap_m: f64) -> Port {
    let mut best = (f64::INFINITY, place, Point::new(0.0, 1.0));
    for (a, b) in region.edges() {
        let length = a.distance(b);
        if length < 2.2 * gap_m {
            continue;
        }
        let along = (b - a).unit();
        let at = a + along * (place - a).dot(along).clamp(gap_m, length - gap_m);
        if at.distance(place) < best.0 {
            best = (at.distance(place), at, along.left());
        }
    }
    Port { at: best.1, inward: best.2, gap_m }
}

/// The plans as zones, and floors that leaders have been taken off.
pub(crate) fn floors() -> Vec<Floor> {
    let mut floors: Vec<Floor> = all().iter().map(|p| Floor::of(p, 0.06)).collect();
    let ragged = [
        (0.0, 0.0),
        (2.6, 0.0),
        (2.6, 0.12),
        (3.1, 0.12),
        (3.1, 0.24),
        (4.4, 0.24),
        (4.4, 3.2),
        (4.2, 3.2),
        (4.2, 4.0),
        (0.0, 4.0),
    ];
    floors.push(Floor::of(&plan("ragged", &ragged, (2.3, 0.0), 0.15), 0.06));
    let hall = [(0.0, 0.0), (4.8, 0.0), (4.8, 0.9), (0.0, 0.9)];
    floors.push(Floor::of(&plan("hall", &hall, (0.4, 0.0), 0.15), 0.06));
    let neck = [
        (0.0, 0.0),
        (2.4, 0.0),
        (2.4, 1.1),
        (3.2, 1.1),
        (3.2, 0.0),
        (5.8, 0.0),
        (5.8, 3.0),
        (3.2, 3.0),
        (3.2, 1.6),
        (2.4, 1.6),
        (2.4, 3.0),
        (0.0, 3.0),
    ];
    floors.push(Floor::of(&plan("neck", &neck, (0.8, 0.0), 0.15), 0.06));
    let corner = [(0.0, 0.0), (3.4, 0.0), (3.4, 3.9), (0.0, 3.9)];
    let mut at_corner = Floor::of(&plan("corner port", &corner, (0.0, 0.0), 0.15), 0.06);
    at_corner.port = port_near(&at_corner.region, Point::new(0.0, 0.1), 0.06);
    floors.push(at_corner);
    let small = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.5), (0.0, 1.5)];
    let small = without(
        plan("small bath", &small, (0.3, 0.0), 0.1),
        &[
            &[(1.3, 0.0), (2.0, 0.0), (2.0, 0.8), (1.3, 0.8)],
            &[(0.1, 1.1), (0.5, 1.1), (0.5, 1.5), (0.1, 1.5)],
        ],
    );
    floors.push(Floor::of(&small, 0.06));
    for (name, spacing_m) in [("wide bends 152", 0.152), ("wide bends 229", 0.229)] {
        let mut wide = Floor::of(&Plan { spacing_m, ..rectangle() }, 0.06);
        wide.name = name.to_string();
        wide.bend_radius_m = 0.127;
        floors.push(wide);
    }
    floors.extend(patterned());
    floors
}

/// Zones with a pattern held and outside walls known.
fn patterned() -> Vec<Floor> {
    let mut floors = Vec::new();
    let rows = [Pattern::Serpentine, Pattern::DoubledSerpentine];
    let band = Pattern::Band { spacing_m: 0.1, depth_m: 0.6 };
    let l_room = [(0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.2, 3.0), (3.2, 5.5), (0.0, 5.5)];
    for (sides, pattern) in [(1, rows[0]), (2, rows[0]), (3, rows[0]), (2, band), (1, rows[1])] {
        let mut floor = Floor::of(&rectangle(), 0.06);
        floor.name = format!("{sides} outside");
        floor.pattern = pattern;
        let corners = points(&[(4.0, 0.0), (4.0, 5.0), (0.0, 5.0), (0.0, 0.0)]);
        let walls: Vec<[Point; 2]> = corners.windows(2).map(|w| [w[0], w[1]]).collect();
        floor.outside_walls =
            if sides == 1 { vec![walls[1]] } else { walls.into_iter().take(sides).collect() };
        floors.push(floor);
    }
    for pattern in rows {
        let mut floor = Floor::of(&plan("l rows", &l_room, (0.7, 0.0), 0.2), 0.06);
        floor.pattern = pattern;
        floors.push(floor);
    }
    for mut floor in all().iter().map(|p| Floor::of(p, 0.06)).filter(|f| {
        ["island", "skew", "bay", "triangle", "column", "fitted bath"].contains(&f.name.as_str())
    }) {
        floor.pattern = Pattern::Serpentine;
        floors.push(floor);
    }
    floors
}
