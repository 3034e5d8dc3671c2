//! Which construction a part of a room has by rule, and how thick it is.

use super::Behind;
use super::house::House;
use super::patch::Part;
use job::{Construction, Job, Layer, Room, Stated};
use quantity::Quantity;

type Key<'a> = Option<&'a Stated<String>>;

/// The construction of a part of a room, by key; none where the text names none.
pub(super) fn by_rule(
    house: &House<'_>,
    room: &Room,
    part: Part,
    behind: &Behind,
) -> Option<String> {
    let job = house.job;
    let key = match part {
        Part::Wall(_) => wall(house, room, behind),
        Part::Ceiling => match behind {
            Behind::Room(upper) => between(job, house.number(upper).map(|n| house.room(n))),
            _ => room.ceiling.as_ref().or(job.house.ceiling.as_ref()),
        },
        Part::Floor => match behind {
            Behind::Room(_) => between(job, Some(room)),
            _ => room.floor.as_ref().or(job.house.floor.as_ref()),
        },
        Part::Slope(slope) => roof(job, room, slope),
        Part::DormerFront(dormer) | Part::DormerCheeks(dormer) => {
            let own = job.dormers.get(dormer).and_then(|dormer| dormer.wall.as_ref());
            own.or(outside_wall(job, room))
        }
        Part::DormerRoof(dormer) => {
            let dormer = job.dormers.get(dormer);
            let own = dormer.and_then(|dormer| dormer.roof.as_ref());
            let slope = dormer.and_then(|dormer| {
                job.slopes.iter().position(|slope| slope.key == dormer.slope.value)
            });
            own.or_else(|| roof(job, room, slope?))
        }
    };
    key.map(|stated| stated.value.clone())
}

fn outside_wall<'a>(job: &'a Job, room: &'a Room) -> Key<'a> {
    room.wall.as_ref().or(job.house.wall.as_ref())
}

fn wall<'a>(house: &'a House<'_>, room: &'a Room, behind: &Behind) -> Key<'a> {
    let of_house = &house.job.house;
    match behind {
        Behind::Outdoors | Behind::Space(_) => outside_wall(house.job, room),
        Behind::Ground => of_house.wall_in_ground.as_ref().or(outside_wall(house.job, room)),
        Behind::NextHouse => of_house.party_wall.as_ref().or(outside_wall(house.job, room)),
        Behind::Heated => of_house.partition.as_ref(),
        // Between rooms that are equally warm it does not matter, and none is asked for.
        Behind::Room(other) => {
            let same = house.number(other).map(|number| house.room(number)).is_some_and(|other| {
                other.indoor.value == room.indoor.value
                    && other.unheated.value == room.unheated.value
            });
            of_house.partition.as_ref().filter(|_| !same)
        }
    }
}

fn roof<'a>(job: &'a Job, room: &'a Room, slope: usize) -> Key<'a> {
    let own = job.slopes.get(slope).and_then(|slope| slope.assembly.as_ref());
    let roof = own.or(room.roof.as_ref()).or(job.house.roof.as_ref());
    roof.or(room.ceiling.as_ref()).or(job.house.ceiling.as_ref())
}

/// Between storeys: the upper room's floor.
fn between<'a>(job: &'a Job, upper: Option<&'a Room>) -> Key<'a> {
    let own = upper.and_then(|room| room.floor.as_ref());
    own.or(job.house.floor_between.as_ref()).or(job.house.floor.as_ref())
}

/// Thickness of a construction: all its layers, if every one of them says.
pub(super) fn thickness_m(job: &Job, key: &str) -> Option<f64> {
    match &job.assembly(key)?.construction {
        Some(Construction::Layers(layers)) => {
            layers.value.iter().map(|layer| Layer::thickness(layer).map(Quantity::si)).sum()
        }
        _ => None,
    }
}

/// The thickest outside wall that the text describes; nought if none says how thick it is.
pub(super) fn thickest_outside_wall_m(job: &Job) -> f64 {
    let of_house = [&job.house.wall, &job.house.wall_in_ground, &job.house.party_wall];
    let stated = of_house.into_iter().flatten().chain(job.rooms.iter().flat_map(|r| &r.wall));
    stated.filter_map(|key| thickness_m(job, &key.value)).fold(0.0, f64::max)
}
