//! Outside dimensions: areas by the outer faces of the house and the middle of walls between rooms.
//!
//! Every piece of wall moves out by its thickness, by half of it towards the next house, or by half
//! the gap to the next room, and is as much longer as the walls at its ends move. It stands from floor to floor, or up to the top of
//! the ceiling's construction. Dormers and the volume of air keep their inside faces.

use super::Behind;
use super::assemblies::thickness_m;
use super::house::House;
use super::patch::{Part, Patch};
use super::stack::Stack;
use super::trapezoid::Trapezoid;
use super::walls::Wall;
use crate::words::Words;
use job::{Finding, Severity};
use plane::{Point, Region, areas};
use std::collections::BTreeSet;

/// Thickness of a construction that does not tell it, metres.
const THICKNESS_M: f64 = 0.3;
/// Places as near as this along a wall, or in height, are the same, metres.
const SAME_M: f64 = 0.02;

/// One house seen from outside.
pub(super) struct Outer<'a> {
    house: &'a House<'a>,
    /// Walls of each room, with their constructions.
    patches: &'a [Vec<Patch>],
    /// How far each piece of wall moves out.
    moves_m: Vec<Vec<f64>>,
    /// How much higher than its ceiling each room is to its top.
    rises_m: Vec<f64>,
}

impl<'a> Outer<'a> {
    /// The house with the constructions that its patches have; tells what thickness is assumed.
    pub(super) fn of(
        house: &'a House<'a>,
        stack: &Stack,
        patches: &'a [Vec<Patch>],
        findings: &mut Vec<Finding>,
    ) -> Outer<'a> {
        let mut assumed = BTreeSet::new();
        let mut thickness = |patch: &Patch| match &patch.assembly {
            Some(key) => thickness_m(house.job, key).unwrap_or_else(|| {
                assumed.insert(key.clone());
                THICKNESS_M
            }),
            None => THICKNESS_M,
        };
        let moves_m = patches.iter().map(|patches| {
            let out = |patch: &Patch| match patch.beyond {
                Some(beyond) if beyond.gap_m.is_finite() => beyond.gap_m.max(0.0) / 2.0,
                Some(_) => 0.0,
                // A wall between two houses is shared: each counts to its middle (EN 12831:2003).
                None if patch.behind == Behind::NextHouse => thickness(patch) / 2.0,
                None => thickness(patch),
            };
            patches.iter().map(out).collect()
        });
        let moves_m = moves_m.collect();
        let rises_m = (0..patches.len())
            .map(|room| rise_m(house, stack, room, &patches[room], &mut thickness))
            .collect();
        let outer = Outer { house, patches, moves_m, rises_m };
        findings.extend(assumed.iter().map(|key| assumed_thickness(house, key)));
        outer
    }

    /// Sets outer lengths and areas of all walls.
    pub(super) fn walls(&self, patches: &mut [Vec<Patch>]) {
        for (room, own) in patches.iter_mut().enumerate() {
            for (number, patch) in own.iter_mut().enumerate() {
                let (Part::Wall(_), Some(shape)) = (patch.part, patch.shape) else { continue };
                let longer_m: f64 = [0, 1].map(|end| self.longer_m(room, number, end)).iter().sum();
                let mean_m = shape.mean_height_m() + self.taller_m(room, patch);
                patch.length_m = (patch.length_m + longer_m).max(0.0);
                patch.area_m2 = patch.length_m * mean_m.max(0.0);
            }
        }
    }

    /// Floors by outer faces; a floor whose outer edge cannot be told keeps its inside faces.
    pub(super) fn floors(&self) -> Vec<Option<Region>> {
        let rooms = self.house.floors.iter().enumerate();
        rooms
            .map(|(room, floor)| {
                let floor = floor.as_ref()?;
                Some(Region::simple(self.ring(room)).unwrap_or_else(|_| floor.clone()))
            })
            .collect()
    }

    /// The outer edge of a room's floor.
    fn ring(&self, room: usize) -> Vec<Point> {
        let level_m = self.house.level_m[room];
        let mut ring = Vec::new();
        for (number, patch) in self.patches[room].iter().enumerate() {
            let (Part::Wall(wall), Some(shape)) = (patch.part, patch.shape) else { continue };
            let wall = &self.house.walls[room][wall];
            let at_floor = shape.low_m[0].max(shape.low_m[1]) <= level_m + SAME_M;
            if !at_floor {
                continue;
            }
            let along = (wall.to - wall.from).unit();
            let out = wall.from + wall.outward() * self.moves_m[room][number];
            let [start, end] = [0, 1].map(|end| self.longer_m(room, number, end));
            ring.push(out + along * (shape.span_m[0] - start));
            ring.push(out + along * (shape.span_m[1] + end));
        }
        ring
    }

    /// How much longer a piece is at its start (0) or its end (1).
    fn longer_m(&self, room: usize, number: usize, end: usize) -> f64 {
        let Some(patch) = self.patches[room].get(number) else { return 0.0 };
        match patch.beyond {
            Some(_) => self.shared_m(room, patch, end),
            None => self.open_m(room, patch, end),
        }
    }

    /// A piece shared by two rooms reaches to the corner of the one that ends there.
    fn shared_m(&self, room: usize, patch: &Patch, end: usize) -> f64 {
        let (Part::Wall(wall), Some(shape)) = (patch.part, patch.shape) else { return 0.0 };
        let near = self.corner_m(room, wall, shape.span_m[end], end);
        let far = patch.beyond.and_then(|beyond| {
            let there = &self.house.walls[beyond.room];
            let (here, far) = (&self.house.walls[room][wall], there.get(beyond.wall?)?);
            // The far wall runs the other way: its end is at this one's start.
            let at = here.from.lerp(here.to, shape.span_m[end] / here.length_m());
            let along_m = (at - far.from).dot((far.to - far.from).unit());
            self.corner_m(beyond.room, beyond.wall?, along_m, 1 - end)
        });
        match (near, far) {
            (Some(near), Some(far)) => (near + far) / 2.0,
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => self.beside(room, patch, end).map_or(0.0, |(gap_m, _)| gap_m / 2.0),
        }
    }

    /// A piece that no room shares ends where its neighbour along the wall begins.
    fn open_m(&self, room: usize, patch: &Patch, end: usize) -> f64 {
        let (Part::Wall(wall), Some(shape)) = (patch.part, patch.shape) else { return 0.0 };
        if let Some(corner_m) = self.corner_m(room, wall, shape.span_m[end], end) {
            return self.against_m(room, wall, end).unwrap_or(corner_m);
        }
        match self.beside(room, patch, end) {
            Some((gap_m, other)) if other.beyond.is_some() => {
                gap_m - self.shared_m(room, other, 1 - end)
            }
            _ => 0.0,
        }
    }

    /// A wing's wall ends at the outer face of the longer wall that it is set against; none if the
    /// wall ends otherwise.
    fn against_m(&self, room: usize, wall: usize, end: usize) -> Option<f64> {
        let walls = &self.house.walls[room];
        let next = match end {
            0 => (wall + walls.len() - 1) % walls.len(),
            _ => (wall + 1) % walls.len(),
        };
        let (number, _) = self.corner_piece(room, next, 1 - end)?;
        let beyond = self.patches[room].get(number)?.beyond?;
        let far = self.house.walls[beyond.room].get(beyond.wall?)?;
        let here = walls.get(wall)?;
        let corner = if end == 0 { here.from } else { here.to };
        let along_m = (corner - far.from).dot((far.to - far.from).unit());
        let mut going_on = self.patches[beyond.room].iter().enumerate().filter(|(_, patch)| {
            let met = |[from, to]: [f64; 2]| {
                let begins = if end == 0 { to } else { from };
                (begins - along_m).abs() < SAME_M
            };
            patch.part == Part::Wall(beyond.wall.unwrap_or_default())
                && patch.beyond.is_none()
                && patch.shape.is_some_and(|shape| met(shape.span_m))
        });
        let (number, _) = going_on.next()?;
        Some(beyond.gap_m.max(0.0) - self.moves_m[beyond.room][number])
    }

    /// The piece next along the same wall at the same height, and the gap up to it.
    fn beside(&self, room: usize, patch: &Patch, end: usize) -> Option<(f64, &Patch)> {
        let shape = patch.shape?;
        let next = self.patches[room].iter().filter_map(|other| {
            let there = other.shape.filter(|_| other.part == patch.part)?;
            let gap_m = match end {
                0 => shape.span_m[0] - there.span_m[1],
                _ => there.span_m[0] - shape.span_m[1],
            };
            let (here, there) = (shape.at(shape.span_m[end]), there.at(there.span_m[1 - end]));
            let level = here[0].max(there[0]) < here[1].min(there[1]);
            let near = gap_m > -SAME_M && gap_m <= self.house.thickest_wall_m() + SAME_M;
            (level && near).then_some((gap_m.max(0.0), other))
        });
        next.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// How much longer a wall is at its corner; none if that place is no corner of it.
    fn corner_m(&self, room: usize, wall: usize, along_m: f64, end: usize) -> Option<f64> {
        let walls = &self.house.walls[room];
        let here = walls.get(wall)?;
        let corner_m = if end == 0 { 0.0 } else { here.length_m() };
        if (along_m - corner_m).abs() > SAME_M {
            return None;
        }
        let next = if end == 0 {
            (wall + walls.len() - 1) % walls.len()
        } else {
            (wall + 1) % walls.len()
        };
        let own_m = self.at_corner_m(room, wall, end);
        let next_m = self.at_corner_m(room, next, 1 - end);
        Some(mitre_m(here, walls.get(next)?, end, own_m, next_m))
    }

    /// How far the piece of a wall at its corner moves out.
    fn at_corner_m(&self, room: usize, wall: usize, end: usize) -> f64 {
        let piece = self.corner_piece(room, wall, end);
        piece.map_or(0.0, |(number, _)| self.moves_m[room][number])
    }

    /// The piece of a wall at its corner, nearest the floor, and its number.
    fn corner_piece(&self, room: usize, wall: usize, end: usize) -> Option<(usize, Trapezoid)> {
        let pieces = self.patches[room].iter().enumerate();
        let on_wall = pieces.filter_map(|(number, patch)| {
            let shape = patch.shape.filter(|_| patch.part == Part::Wall(wall))?;
            Some((number, shape))
        });
        let outermost = |a: &f64, b: &f64| if end == 0 { b.total_cmp(a) } else { a.total_cmp(b) };
        on_wall.max_by(|(_, a), (_, b)| {
            let lower = b.low_m[end].total_cmp(&a.low_m[end]);
            outermost(&a.span_m[end], &b.span_m[end]).then(lower)
        })
    }

    /// How much taller a piece is: up to the floor above, or to the top of the ceiling.
    fn taller_m(&self, room: usize, patch: &Patch) -> f64 {
        let Some(shape) = patch.shape else { return 0.0 };
        let (Part::Wall(wall), house) = (patch.part, self.house) else { return 0.0 };
        let middle_m = (shape.span_m[0] + shape.span_m[1]) / 2.0;
        let [low_m, high_m] = shape.at(middle_m);
        let here = &house.walls[room][wall];
        let foot = here.from.lerp(here.to, middle_m / here.length_m());
        let own = (house.top_m(room, foot) - high_m).abs() < SAME_M;
        let far = patch.beyond.filter(|beyond| {
            let at = foot + here.outward() * beyond.gap_m.max(0.0);
            beyond.wall.is_some() && (house.top_m(beyond.room, at) - high_m).abs() < SAME_M
        });
        let up_m = match (own, far) {
            (true, Some(far)) => (self.rises_m[room] + self.rises_m[far.room]) / 2.0,
            (true, None) => self.rises_m[room],
            (false, Some(far)) => self.rises_m[far.room],
            (false, None) => 0.0,
        };
        // What stands on a lower neighbour begins at the top of that one's ceiling.
        let under = self.patches[room].iter().find(|other| {
            other.part == patch.part
                && other.beyond.is_some()
                && other
                    .shape
                    .and_then(|shape| shape.between(middle_m, middle_m + SAME_M))
                    .is_some_and(|shape| (shape.high_m[0] - low_m).abs() < SAME_M)
        });
        let down_m = under.and_then(|under| under.beyond).map_or(0.0, |it| self.rises_m[it.room]);
        up_m - down_m
    }
}

/// How much longer a wall is where it meets another one, both moved out (a mitre).
fn mitre_m(here: &Wall, next: &Wall, end: usize, own_m: f64, next_m: f64) -> f64 {
    let (one, other) = (here.outward(), next.outward());
    let cos = one.dot(other);
    let sin = if end == 0 { other.cross(one) } else { one.cross(other) };
    // Walls that run on nearly straight have no corner to speak of.
    if sin.abs() < 0.1 { 0.0 } else { (next_m - own_m * cos) / sin }
}

/// From a room's ceiling to the floor above it, or to the top of its construction.
fn rise_m(
    house: &House<'_>,
    stack: &Stack,
    room: usize,
    patches: &[Patch],
    thickness: &mut impl FnMut(&Patch) -> f64,
) -> f64 {
    let Some(level_m) = house.ceilings[room].level_m else {
        let roof = patches.iter().find(|patch| matches!(patch.part, Part::Slope(_)));
        return roof.map_or(0.0, thickness);
    };
    let bare_m2 = areas::total_m2(&stack.bare[room].above);
    let covered = stack
        .above(room)
        .max_by(|a, b| areas::total_m2(&a.common).total_cmp(&areas::total_m2(&b.common)));
    match covered.filter(|over| areas::total_m2(&over.common) >= bare_m2) {
        Some(over) => (house.level_m[over.upper] - house.level_m[room] - level_m).max(0.0),
        None => {
            let bare = |patch: &&Patch| {
                patch.part == Part::Ceiling && !matches!(patch.behind, Behind::Room(_))
            };
            patches.iter().find(bare).map_or(0.0, thickness)
        }
    }
}

fn assumed_thickness(house: &House<'_>, key: &str) -> Finding {
    let words = Words { first: house.job.units.value };
    let message = format!(
        "how thick it is cannot be told; {} is taken for outside dimensions",
        words.tape(THICKNESS_M)
    );
    let advice = "write its layers with their thickness";
    let subject = format!("assembly.{key}");
    Finding::new(Severity::Note, "thickness-assumed", subject, message, advice)
        .at(house.job.assembly(key).map(|assembly| assembly.place))
}
