//! The house as the geometry sees it: floors, walls, levels and ceilings of all rooms.

use super::assemblies::thickest_outside_wall_m;
use super::ceiling::Ceiling;
use super::levels::Levels;
use super::walls::{Wall, walls};
use super::{Behind, plan};
use job::{Finding, Job, Room};
use plane::{Point, Region, near};
use quantity::Quantity;
use std::collections::BTreeMap;

/// Gaps up to this many thickest walls are taken for a slip of the tape.
pub(super) const SLIP_WALLS: f64 = 2.5;

/// All rooms by their number in the job.
pub(super) struct House<'a> {
    pub(super) job: &'a Job,
    pub(super) levels: Levels,
    /// Floors between inside faces; none where no outline can be used.
    pub(super) floors: Vec<Option<Region>>,
    pub(super) walls: Vec<Vec<Wall>>,
    pub(super) ceilings: Vec<Ceiling>,
    /// Level of each room's floor, metres.
    pub(super) level_m: Vec<f64>,
    /// What is below each room where no other room is.
    pub(super) below: Vec<Behind>,
    /// Pairs of rooms that come near each other on the plan, of any storeys.
    pub(super) near: Vec<[usize; 2]>,
    thickest_outside_wall_m: f64,
    numbers: BTreeMap<&'a str, usize>,
}

impl<'a> House<'a> {
    pub(super) fn of(job: &'a Job, findings: &mut Vec<Finding>) -> House<'a> {
        let levels = Levels::of(job, findings);
        let floors: Vec<Option<Region>> =
            job.rooms.iter().map(|room| plan::floor(room, findings)).collect();
        let outlined = job.rooms.iter().zip(&floors);
        let walls: Vec<Vec<Wall>> = outlined
            .map(|(room, floor)| floor.as_ref().map_or(Vec::new(), |floor| walls(room, floor)))
            .collect();
        let ceilings = job.rooms.iter().zip(&floors).zip(&walls).map(|((room, floor), walls)| {
            let ceiling = |floor| Ceiling::of(job, room, floor, walls, findings);
            floor.as_ref().map_or_else(Ceiling::default, ceiling)
        });
        let ceilings = ceilings.collect();
        let reach_m = SLIP_WALLS * job.house.thickest_wall.value.si().max(0.0);
        House {
            level_m: job.rooms.iter().map(|room| levels.room_m(room)).collect(),
            below: job.rooms.iter().map(|room| levels.below(job, room)).collect(),
            near: near::pairs(&floors, reach_m),
            thickest_outside_wall_m: thickest_outside_wall_m(job),
            numbers: job.rooms.iter().enumerate().map(|(n, room)| (&*room.key, n)).collect(),
            job,
            levels,
            floors,
            walls,
            ceilings,
        }
    }

    /// The same house with other edges of its floors, such as the outer faces.
    pub(super) fn with_floors(&self, floors: Vec<Option<Region>>) -> House<'a> {
        let ceilings = self.ceilings.iter().zip(&floors);
        let over = |(ceiling, floor): (&Ceiling, &Option<Region>)| {
            floor.as_ref().map_or_else(Ceiling::default, |floor| ceiling.over_floor(floor))
        };
        House {
            ceilings: ceilings.map(over).collect(),
            floors,
            levels: self.levels.clone(),
            walls: self.walls.clone(),
            level_m: self.level_m.clone(),
            below: self.below.clone(),
            near: self.near.clone(),
            numbers: self.numbers.clone(),
            ..*self
        }
    }

    pub(super) fn room(&self, number: usize) -> &'a Room {
        &self.job.rooms[number]
    }

    /// The number of the room with that key.
    pub(super) fn number(&self, key: &str) -> Option<usize> {
        self.numbers.get(key).copied()
    }

    pub(super) fn thickest_wall_m(&self) -> f64 {
        self.job.house.thickest_wall.value.si()
    }

    /// The thickest outside wall that the text describes.
    pub(super) fn thickest_outside_wall_m(&self) -> f64 {
        self.thickest_outside_wall_m
    }

    /// Level of a room's ceiling at a place; where its height is not known, as its storey's.
    pub(super) fn top_m(&self, number: usize, at: Point) -> f64 {
        match self.ceilings[number].height_m(at) {
            Some(height_m) => self.level_m[number] + height_m,
            None => self.levels.ceiling_m(self.room(number)),
        }
    }

    /// Whether two rooms stand on the same storey.
    pub(super) fn same_storey(&self, one: usize, other: usize) -> bool {
        plan::same_storey(self.room(one), self.room(other))
    }

    /// The room of a storey whose outline is still missing, if there is one.
    ///
    /// A room that states its area was surveyed without an outline; it is not missing.
    pub(super) fn missing(&self, storey_of: usize) -> Option<usize> {
        (0..self.floors.len()).find(|number| {
            self.floors[*number].is_none()
                && self.room(*number).area.is_none()
                && self.same_storey(storey_of, *number)
        })
    }
}
