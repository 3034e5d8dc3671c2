//! Each storey as those see it who lay tube: no heat, only floor, doors and manifolds.

use super::access::{Access, accesses};
use super::held::{Taken, held};
use super::limit;
use crate::emitters::{BAND_CLOSER, Floor};
use crate::envelope::Envelope;
use job::{Decision, Finding, Job, OpeningKind, PassageKind, TubePattern};
use plane::Region;
use plane::boards;
use plane::edges::facing;
use plane::storey::{Door, Manifold, Pattern, Plan, Room, Tube};
use quantity::Quantity;

/// Most loops on one manifold where the job does not say; bigger ones are not sold (common
/// practice).
const PORTS_MOST: usize = 16;
/// Spacing of rooms that only let leaders pass, metres.
const PASSING_SPACING_M: f64 = 0.15;

/// The plan of one storey, with what its numbers stand for.
pub(crate) struct StoreyPlan<'a> {
    pub(crate) plan: Plan,
    /// Number in the envelope of each room on the plan.
    pub(crate) rooms: Vec<usize>,
    /// Opening or passage key of each door on the plan.
    pub(crate) doors: Vec<String>,
    /// What stands behind each manifold on the plan.
    pub(crate) accesses: Vec<Access<'a>>,
}

/// One plan for each storey that has a heated floor.
///
/// `more` asks for more loops in each floor than the length limit does.
pub(crate) fn storeys<'a>(
    job: &'a Job,
    envelope: &Envelope,
    floors: &[Floor],
    more: &[usize],
    findings: &mut Vec<Finding>,
) -> Vec<StoreyPlan<'a>> {
    let all = accesses(job, envelope, findings);
    let mut names: Vec<Option<&str>> = Vec::new();
    for floor in floors {
        let name = storey_of(job, floor.number);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let one = |name| storey(job, envelope, floors, more, &all, name);
    names.into_iter().map(one).collect()
}

fn storey_of(job: &Job, room: usize) -> Option<&str> {
    job.rooms[room].storey.as_ref().map(|storey| storey.value.as_str())
}

fn storey<'a>(
    job: &'a Job,
    envelope: &Envelope,
    floors: &[Floor],
    more: &[usize],
    all: &[Access<'a>],
    name: Option<&str>,
) -> StoreyPlan<'a> {
    let rooms: Vec<usize> = (0..job.rooms.len())
        .filter(|number| storey_of(job, *number) == name)
        .filter(|number| envelope.enclosures[*number].floor.is_some())
        .collect();
    let here = |room: usize| rooms.iter().position(|number| *number == room);
    let accesses: Vec<Access<'a>> =
        all.iter().filter(|access| here(access.room).is_some()).cloned().collect();
    let (doors, names) = doors_of(job, envelope, &rooms);
    let plan_rooms: Vec<Room> = rooms
        .iter()
        .filter_map(|number| {
            let floor = envelope.enclosures[*number].floor.clone()?;
            Some(room(job, envelope, floors, more, &accesses, (*number, floor)))
        })
        .collect();
    let access_rooms: Vec<usize> = accesses.iter().filter_map(|access| here(access.room)).collect();
    let likely = likely_loops(&plan_rooms, &doors, &access_rooms).div_ceil(accesses.len().max(1));
    let manifolds = accesses
        .iter()
        .filter_map(|access| {
            let floor = envelope.enclosures[access.room].floor.as_ref()?;
            Some(Manifold {
                key: access.manifold.key.clone(),
                room: here(access.room)?,
                ports: access.ports(floor, likely),
                most_loops: PORTS_MOST,
                extra_m: access.extra_m(),
            })
        })
        .collect();
    let leader_gap_m = job.rules.leader_gap.value.si();
    let held = held(&Taken {
        job,
        floors,
        rooms: &rooms,
        doors: &names,
        accesses: &accesses,
        plan_rooms: &plan_rooms,
        plan_doors: &doors,
    });
    let plan = Plan { rooms: plan_rooms, doors, manifolds, leader_gap_m, held };
    StoreyPlan { plan, rooms, doors: names, accesses }
}

/// Loops for which the manifolds' stretch of wall is made long enough.
///
/// From the geometry alone, with some to spare, so that a count that is held or raised later
/// moves no port; only counts held far beyond that make it longer.
fn likely_loops(rooms: &[Room], doors: &[Door], accesses: &[usize]) -> usize {
    let reached = reached(rooms.len(), doors, accesses);
    let own = || rooms.iter().zip(&reached).filter(|(room, reached)| room.heated && **reached);
    let fewest = own().map(|(room, _)| {
        let tube_m = room.floor.area_m2() / room.spacing_m;
        (tube_m / (0.8 * room.tube.longest_loop_m)).ceil().max(1.0) as usize
    });
    let fewest: usize = fewest.sum();
    let held: usize = own().filter_map(|(room, _)| room.loops).sum();
    let likely = fewest + fewest.div_ceil(3);
    // Ports of as many again by a third still find room, closer side by side.
    if held > likely + likely.div_ceil(3) { held } else { likely.max(1) }
}

/// Whether each room can be reached through doors from a room with a manifold.
fn reached(rooms: usize, doors: &[Door], accesses: &[usize]) -> Vec<bool> {
    let mut reached: Vec<bool> = (0..rooms).map(|room| accesses.contains(&room)).collect();
    for _ in 0..rooms {
        for door in doors {
            if door.rooms.iter().any(|room| reached[*room]) {
                door.rooms.iter().for_each(|room| reached[*room] = true);
            }
        }
    }
    reached
}

fn room(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    more: &[usize],
    accesses: &[Access<'_>],
    (number, region): (usize, Region),
) -> Room {
    let (stated, enclosure) = (&job.rooms[number], &envelope.enclosures[number]);
    let heated = floors.iter().position(|floor| floor.number == number);
    let floor = heated.map(|index| &floors[index]);
    let held = stated.manifold.held();
    let keep_outs = keep_outs(&region, &enclosure.free);
    let wall_clearance_m = job.rules.wall_clearance.value.si();
    let grooves = floor.filter(|floor| floor.build_up.grooves.is_some()).and_then(|floor| {
        boards::grooves(&region, &keep_outs, floor.spacing.value.si(), wall_clearance_m)
    });
    let manifold =
        held.and_then(|held| accesses.iter().position(|access| access.manifold.key == held.value));
    Room {
        key: stated.key.clone(),
        keep_outs,
        floor: region,
        heated: floor.is_some_and(|floor| floor.build_up.is_in_floor()),
        spacing_m: floor.map_or(PASSING_SPACING_M, |floor| floor.spacing.value.si()),
        wall_clearance_m,
        pattern: grooves.map_or_else(|| pattern(stated, floor), Pattern::Grooves),
        outside_walls: outside_walls(job, envelope, number),
        tube: floor.or(floors.first()).map_or(
            Tube { bend_radius_m: 0.1, longest_loop_m: f64::INFINITY },
            |floor| Tube {
                bend_radius_m: floor.build_up.tube.bend_radius.si(),
                longest_loop_m: limit(job, floor).map_or(f64::INFINITY, |rule| rule.value.si()),
            },
        ),
        loops: stated.loops.held().map(|held| held.value as usize),
        least_loops: 1 + heated.map_or(0, |index| more[index]),
        manifold,
    }
}

/// The pattern that the text holds; open otherwise.
fn pattern(stated: &job::Room, floor: Option<&Floor>) -> Pattern {
    let Decision::Held(held) = &stated.pattern else { return Pattern::Auto };
    match held.value {
        TubePattern::Counterflow => Pattern::Counterflow,
        TubePattern::Serpentine => Pattern::Serpentine,
        TubePattern::DoubledSerpentine => Pattern::DoubledSerpentine,
        TubePattern::PerimeterBand => {
            let normal_m = floor.map_or(PASSING_SPACING_M, |floor| floor.spacing.value.si());
            let own = stated.edge_spacing.as_ref().map(|fact| fact.value.si());
            Pattern::Band {
                spacing_m: own.unwrap_or(normal_m * BAND_CLOSER).min(normal_m),
                depth_m: stated.edge_depth.value.si(),
            }
        }
    }
}

/// Walls that no other room of the storey faces along half of them or more.
pub(crate) fn outside_walls(
    job: &Job,
    envelope: &Envelope,
    number: usize,
) -> Vec<[plane::Point; 2]> {
    let floor_of = |room: usize| envelope.enclosures[room].floor.as_ref();
    let Some(floor) = floor_of(number) else { return Vec::new() };
    let ring = floor.outer();
    let mut faced_m = vec![0.0; ring.len()];
    let others = (0..job.rooms.len())
        .filter(|other| *other != number && storey_of(job, *other) == storey_of(job, number))
        .filter_map(floor_of);
    for other in others {
        for facing in facing(ring, other.outer(), job.house.thickest_wall.value.si()) {
            faced_m[facing.edges[0]] += facing.length_m();
        }
    }
    let wall = |edge: usize| [ring[edge], ring[(edge + 1) % ring.len()]];
    let mostly_free = |edge: &usize| {
        let [from, to] = wall(*edge);
        faced_m[*edge] < 0.5 * from.distance(to)
    };
    (0..ring.len()).filter(mostly_free).map(wall).collect()
}

/// What is taken out of a floor: all of it that is not free.
fn keep_outs(floor: &Region, free: &[Region]) -> Vec<Vec<plane::Point>> {
    let taken = plane::areas::difference(std::slice::from_ref(floor), free);
    taken.iter().map(|region| region.outer().to_vec()).collect()
}

/// Doorways between rooms of the storey, and sleeves that the text names.
fn doors_of(job: &Job, envelope: &Envelope, rooms: &[usize]) -> (Vec<Door>, Vec<String>) {
    let place =
        |key: &str| rooms.iter().position(|number| envelope.enclosures[*number].room == *key);
    let (mut doors, mut names) = (Vec::new(), Vec::new());
    for opening in &envelope.openings {
        let ([one, other], Some(far)) = (opening.rooms.as_slice(), opening.far_jambs) else {
            continue;
        };
        let (Some(one), Some(other)) = (place(one), place(other)) else { continue };
        if opening.kind == OpeningKind::Door {
            let jambs = [opening.jambs[0].lerp(far[0], 0.5), opening.jambs[1].lerp(far[1], 0.5)];
            doors.push(Door {
                key: opening.key.clone(),
                rooms: [one, other],
                at: jambs[0].lerp(jambs[1], 0.5),
                width_m: jambs[0].distance(jambs[1]),
            });
            names.push(opening.key.clone());
        }
    }
    for passage in &job.passages {
        let in_floor = matches!(passage.kind.value, PassageKind::Doorway | PassageKind::Sleeve);
        let (Some(from), Some(to), Some(at), Some(width)) =
            (&passage.from, &passage.to, &passage.at, &passage.width)
        else {
            continue;
        };
        let (Some(one), Some(other)) = (place(&from.value), place(&to.value)) else { continue };
        if in_floor {
            let (at, width_m) = (at.value, width.value.si());
            doors.push(Door { key: passage.key.clone(), rooms: [one, other], at, width_m });
            names.push(passage.key.clone());
        }
    }
    (doors, names)
}
