//! How high floors lie, and the ground beside them.

use super::Behind;
use super::faces::behind;
use crate::words::Words;
use job::{Finding, Job, Room, Severity, Storey};
use quantity::{Quantity, System};

/// A floor between storeys where nothing tells its thickness: 12 in, or 300 mm.
const FLOOR_US_M: f64 = 0.3048;
const FLOOR_SI_M: f64 = 0.3;
/// A storey's height where nothing tells it and another stands on it, metres.
const HEIGHT_M: f64 = 2.4;
/// A ceiling of unknown height under no other storey is taken to lie above its neighbours', metres.
const UNKNOWN_M: f64 = 100.0;
/// How much lower than its storey's a ceiling may hang and still be one floor with what is above,
/// metres.
const HUNG_M: f64 = 0.3;

/// Levels of all storeys, in metres over the floor of the lowest.
#[derive(Clone, Debug)]
pub(super) struct Levels {
    storeys: Vec<Stacked>,
    /// The lowest storey's level.
    lowest_m: f64,
    /// Thickness of a floor that nothing tells.
    usual_floor_m: f64,
}

#[derive(Clone, Debug)]
struct Stacked {
    key: String,
    level_m: f64,
    /// Level of the ground along its outside walls.
    ground_m: f64,
    /// Thickness of the floor above it.
    floor_above_m: f64,
    /// Where the ceilings of its rooms lie if they do not say.
    ceiling_m: f64,
}

impl Levels {
    pub(super) fn of(job: &Job, findings: &mut Vec<Finding>) -> Levels {
        let usual_floor_m = match job.units.value {
            System::Us => FLOOR_US_M,
            System::Si => FLOOR_SI_M,
        };
        let mut storeys: Vec<Stacked> = Vec::new();
        for (number, storey) in job.storeys.iter().enumerate() {
            let above = number.checked_sub(1).and_then(|below| job.storeys.get(below));
            let level_m = match (&storey.level, above, storeys.last()) {
                (Some(level), ..) => level.value.si(),
                (None, Some(below), Some(stacked)) => {
                    findings.extend(assumed(job, storey, below, usual_floor_m));
                    stacked.level_m + floor_to_floor(below, usual_floor_m)
                }
                _ => 0.0,
            };
            let ground = storey.ground.as_ref().map(|ground| level_m + ground.value.si());
            let ground_m = ground.or(storeys.last().map(|below| below.ground_m));
            let height = storey.height.as_ref().map(|height| height.value.si());
            let floor_above = storey.floor_to_floor.as_ref().zip(height);
            let floor_above_m = floor_above.map(|(floors, height)| floors.value.si() - height);
            storeys.push(Stacked {
                key: storey.key.clone(),
                level_m,
                ground_m: ground_m.unwrap_or(f64::NAN),
                floor_above_m: floor_above_m.unwrap_or(usual_floor_m).max(0.0),
                ceiling_m: level_m + UNKNOWN_M,
            });
        }
        for number in 1..storeys.len() {
            storeys[number - 1].ceiling_m = storeys[number].level_m - usual_floor_m;
        }
        let lowest_m = storeys.iter().map(|storey| storey.level_m).fold(f64::INFINITY, f64::min);
        let lowest_m = if lowest_m.is_finite() { lowest_m } else { 0.0 };
        for storey in &mut storeys {
            if storey.ground_m.is_nan() {
                storey.ground_m = lowest_m;
            }
        }
        Levels { storeys, lowest_m, usual_floor_m }
    }

    fn storey(&self, room: &Room) -> Option<&Stacked> {
        let key = &room.storey.as_ref()?.value;
        self.storeys.iter().find(|storey| storey.key == *key)
    }

    /// Level of a room's floor.
    pub(super) fn room_m(&self, room: &Room) -> f64 {
        self.storey(room).map_or(self.lowest_m, |storey| storey.level_m) + room.offset.value.si()
    }

    /// Level of a room's floor over that of the lowest storey.
    pub(super) fn over_lowest_m(&self, room: &Room) -> f64 {
        self.room_m(room) - self.lowest_m
    }

    /// Level of the ground beside a room, where no wall says otherwise.
    pub(super) fn ground_m(&self, room: &Room) -> f64 {
        self.storey(room).map_or(self.lowest_m, |storey| storey.ground_m)
    }

    /// Where a ceiling is taken to lie, for its neighbours, if the room does not say.
    pub(super) fn ceiling_m(&self, room: &Room) -> f64 {
        match self.storey(room) {
            Some(storey) => storey.ceiling_m + room.offset.value.si(),
            None => self.room_m(room) + UNKNOWN_M,
        }
    }

    /// The most that may lie between a room's ceiling and a floor that rests on it.
    pub(super) fn thickest_floor_m(&self, room: &Room) -> f64 {
        self.storey(room).map_or(self.usual_floor_m, |storey| storey.floor_above_m) + HUNG_M
    }

    /// What is below a room where no other room is: as stated, or as its level shows.
    pub(super) fn below(&self, job: &Job, room: &Room) -> Behind {
        if room.below.place().is_some() {
            return behind(&room.below.value);
        }
        let level_m = self.room_m(room);
        let lowest = self.storey(room).is_none_or(|storey| storey.level_m <= self.lowest_m + 1e-6);
        let graded = job.grades.iter().filter(|grade| grade.room.value == room.key).any(|grade| {
            [&grade.left, &grade.right].into_iter().flatten().any(|it| it.value.si() > 0.0)
        });
        match lowest || graded || level_m <= self.ground_m(room) + 1e-6 {
            true => Behind::Ground,
            false => Behind::Outdoors,
        }
    }
}

fn floor_to_floor(storey: &Storey, usual_floor_m: f64) -> f64 {
    let stated = storey.floor_to_floor.as_ref().map(|floors| floors.value.si());
    let height = storey.height.as_ref().map_or(HEIGHT_M, |height| height.value.si());
    stated.unwrap_or(height + usual_floor_m)
}

/// Tells that a level rests on an assumption.
fn assumed(job: &Job, storey: &Storey, below: &Storey, usual_floor_m: f64) -> Option<Finding> {
    if below.floor_to_floor.is_some() {
        return None;
    }
    let words = Words { first: job.units.value };
    let message = match &below.height {
        Some(_) => format!(
            "its level rests on a floor of {} over storey {}, which nothing states",
            words.tape(usual_floor_m),
            below.key
        ),
        None => format!(
            "its level cannot be told: storey {} states neither its height nor how far it is from \
             floor to floor; {} is taken",
            below.key,
            words.tape(HEIGHT_M + usual_floor_m)
        ),
    };
    let severity = if below.height.is_some() { Severity::Note } else { Severity::Warn };
    let advice = format!("write `floor_to_floor` below [storey.{}]", below.key);
    let subject = format!("storey.{}", storey.key);
    Some(Finding::new(severity, "level-assumed", subject, message, advice).at(storey.place))
}
