//! The faces of every room, from its outline or from its stated surfaces.

mod group;
mod stated;

use super::elevation::pieces;
use super::exposed;
use super::face_rules;
use super::grade::GroundLines;
use super::house::House;
use super::openings::{Hole, Plan};
use super::outer::Outer;
use super::patch::{self, Patch};
use super::stack::{Stack, clashes};
use super::{Behind, Enclosure, Envelope, FaceKind, built, neighbours, plan, sides};
use crate::figure::{Figure, How};
use job::{Dimensions, Faces, Finding, Job};
use quantity::{AirVolume, Length};

/// What touches what, with every doubt as a finding.
pub(crate) fn envelope(job: &Job, findings: &mut Vec<Finding>) -> Envelope {
    let house = House::of(job, findings);
    let stack = Stack::of(&house, findings);
    clashes(&house, &stack, findings);
    let ground = GroundLines::of(&house, findings);
    let walls = pieces(&house, &stack, &ground).into_iter().enumerate();
    let walls: Vec<Vec<Patch>> =
        walls.map(|(room, pieces)| patch::walls(&house, room, pieces)).collect();
    let outer = match job.rules.dimensions.value {
        Dimensions::Inside => None,
        Dimensions::Outside => Some(outward(&house, &stack, &walls, findings)),
    };
    let (measured, stacked, walls) = match &outer {
        Some((outer, stacked, walls)) => (outer, stacked, walls),
        None => (&house, &stack, &walls),
    };
    let mut patches = bounded(measured, stacked, walls);
    face_rules::apply(&house, &mut patches, findings);
    neighbours::judge(&house, &stack, &patches, findings);
    neighbours::overhangs(&house, &patches, findings);
    let (openings, holes) = Plan { house: &house, patches: &patches }.place(findings);
    let mut builder =
        Builder { house: &house, measured, stack: &stack, patches: &patches, findings };
    let by_room = by_room(holes, patches.len());
    let mut enclosures: Vec<Enclosure> =
        by_room.iter().enumerate().map(|(room, holes)| builder.enclosure(room, holes)).collect();
    let whole = exposed::whole(&house, &stack, &patches, &mut enclosures);
    for enclosure in &mut enclosures {
        enclosure.outside_area = outside_area(&house, enclosure);
        exposed::deepen(whole.as_ref(), enclosure);
    }
    sides::judge(&house, &enclosures, &patches, findings);
    let mut envelope = Envelope { enclosures, openings, ground: whole };
    built::build(job, &mut envelope, findings);
    envelope
}

/// Walls, and what else bounds each room.
fn bounded(house: &House<'_>, stack: &Stack, walls: &[Vec<Patch>]) -> Vec<Vec<Patch>> {
    let rooms = walls.iter().enumerate();
    rooms.map(|(room, walls)| [walls.clone(), patch::flats(house, stack, room)].concat()).collect()
}

/// The house by outside dimensions, what lies on what in it, and its walls.
fn outward<'a>(
    house: &House<'a>,
    stack: &Stack,
    walls: &[Vec<Patch>],
    findings: &mut Vec<Finding>,
) -> (House<'a>, Stack, Vec<Vec<Patch>>) {
    // How thick a wall is depends on what the text says of single faces.
    let mut ruled = bounded(house, stack, walls);
    face_rules::apply(house, &mut ruled, &mut Vec::new());
    let outer = Outer::of(house, stack, &ruled, findings);
    let mut longer = walls.to_vec();
    outer.walls(&mut longer);
    let outside = house.with_floors(outer.floors());
    // Holes that are amiss were told by inside faces.
    let stacked = Stack::of(&outside, &mut Vec::new());
    (outside, stacked, longer)
}

fn by_room(holes: Vec<Hole>, rooms: usize) -> Vec<Vec<Hole>> {
    let mut by_room = vec![Vec::new(); rooms];
    for hole in holes {
        by_room[hole.room].push(hole);
    }
    by_room
}

/// Builds the faces room by room.
struct Builder<'a> {
    house: &'a House<'a>,
    /// The house by the dimensions of the rule set.
    measured: &'a House<'a>,
    stack: &'a Stack,
    patches: &'a [Vec<Patch>],
    findings: &'a mut Vec<Finding>,
}

impl Builder<'_> {
    fn enclosure(&mut self, number: usize, holes: &[Hole]) -> Enclosure {
        let house = self.house;
        let (room, floor) = (house.room(number), house.floors[number].as_ref());
        let area = match floor {
            Some(floor) => {
                let what = "inside faces of the room".to_owned();
                Some(Figure::taken_off("floor area", floor.area_m2(), what))
            }
            None => room.area.as_ref().map(|area| Figure::fact("floor area", area)),
        };
        let free = floor.map_or(Vec::new(), |floor| {
            plan::free(house.job, room, floor, &self.stack.holes[number], self.findings)
        });
        if let Some(floor) = floor {
            plan::parts(house.job, room, floor, self.findings);
        }
        let mut enclosure = Enclosure {
            room: room.key.clone(),
            floor: floor.cloned(),
            free,
            area,
            height: room.height.as_ref().map(|height| Figure::fact("ceiling height", height)),
            volume: None,
            level_m: house.levels.over_lowest_m(room),
            outside_area: Figure::sum("outside faces", &[]),
            unheated: room.unheated.value,
            faces: Vec::new(),
            exposed_edge: None,
            indoor: Figure::fact("indoor temperature", &room.indoor),
            place: room.place,
        };
        self.air(number, &mut enclosure);
        if floor.is_some() {
            self.faces(number, holes, &mut enclosure);
        } else {
            self.stated_faces(room, &mut enclosure);
        }
        enclosure
    }

    /// Volume, and under slopes the mean height.
    fn air(&self, number: usize, enclosure: &mut Enclosure) {
        let ceiling = &self.house.ceilings[number];
        let Some(area) = &enclosure.area else { return };
        let level = enclosure.floor.is_none() || ceiling.level_m.is_some();
        if level && ceiling.dormers.is_empty() {
            let height = enclosure.height.as_ref();
            enclosure.volume = height
                .map(|height| Figure::product("air in the room", &[&area.work, &height.work]));
        } else if ceiling.is_known() {
            let how = "floor between inside faces, up to the slopes".to_owned();
            let volume =
                Figure::<AirVolume>::taken_off("air in the room", ceiling.volume_m3(), how);
            let height = Figure::<Length>::quotient("mean height", &volume.work, &area.work);
            enclosure.height = (area.si() > 0.0).then_some(height);
            enclosure.volume = Some(volume);
        } else {
            enclosure.height = None;
        }
    }
}

/// Faces through which outdoor air leaks in.
fn outside_area(house: &House<'_>, enclosure: &Enclosure) -> Figure<quantity::Area> {
    let outside = enclosure.faces.iter().filter(|face| {
        let cold = match &face.behind {
            Behind::Outdoors | Behind::Space(_) => true,
            Behind::Room(key) => {
                house.number(key).is_some_and(|number| house.room(number).unheated.value)
            }
            Behind::Ground | Behind::Heated | Behind::NextHouse => false,
        };
        cold && face.kind != FaceKind::Floor
    });
    let areas: Vec<_> = outside.map(|face| face.area.clone()).collect();
    Figure::sum("outside faces", &areas)
}

/// How a part taken off the drawing is described.
fn drawn(what: impl Into<String>) -> How {
    How::TakenOff(what.into())
}

/// What is behind a face, as the text says it.
pub(super) fn behind(faces: &Faces) -> Behind {
    match faces {
        Faces::Outdoors => Behind::Outdoors,
        Faces::Ground => Behind::Ground,
        Faces::Heated => Behind::Heated,
        Faces::NextHouse => Behind::NextHouse,
        Faces::Space(key) => Behind::Space(key.clone()),
        Faces::Room(key) => Behind::Room(key.clone()),
    }
}
