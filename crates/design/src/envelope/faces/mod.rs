//! The faces of every room, from its outline or from its stated surfaces.

mod horizontal;
mod stated;
mod upright;

use super::openings::{InWall, Plan};
use super::walls::{Stretch, Wall};
use super::{Behind, Enclosure, Envelope, built, ground, neighbours, plan, walls};
use crate::figure::Figure;
use job::{Faces, Finding, Job};
use plane::Region;

/// What touches what, with every doubt as a finding.
pub(crate) fn envelope(job: &Job, findings: &mut Vec<Finding>) -> Envelope {
    let floors: Vec<Option<Region>> =
        job.rooms.iter().map(|room| plan::floor(room, findings)).collect();
    plan::overlaps(job, &floors, findings);
    let walls: Vec<Vec<Wall>> = job
        .rooms
        .iter()
        .zip(&floors)
        .map(|(room, floor)| floor.as_ref().map_or(Vec::new(), |floor| walls::walls(room, floor)))
        .collect();
    let stretches = walls::stretches(job, &floors);
    neighbours::judge(job, &floors, &stretches, findings);
    let plan = Plan { job, walls: &walls, stretches: &stretches };
    let (openings, in_walls) = plan.place(findings);
    let mut builder = Builder { job, walls: &walls, stretches: &stretches, in_walls, findings };
    let mut enclosures: Vec<Enclosure> = (0..job.rooms.len())
        .map(|number| builder.enclosure(number, floors[number].as_ref()))
        .collect();
    let whole = ground::whole(job, &enclosures);
    for (number, enclosure) in enclosures.iter_mut().enumerate() {
        builder.floor_face(number, enclosure);
    }
    let mut envelope = Envelope { enclosures, openings, ground: whole };
    built::build(job, &mut envelope, findings);
    envelope
}

/// Builds the faces room by room.
struct Builder<'a> {
    job: &'a Job,
    walls: &'a [Vec<Wall>],
    stretches: &'a [Vec<Stretch>],
    in_walls: Vec<InWall>,
    findings: &'a mut Vec<Finding>,
}

impl Builder<'_> {
    fn enclosure(&mut self, number: usize, floor: Option<&Region>) -> Enclosure {
        let job = self.job;
        let room = &job.rooms[number];
        let height = room.height.as_ref().map(|height| Figure::fact("ceiling height", height));
        let area = match floor {
            Some(floor) => {
                let what = "inside faces of the room".to_owned();
                Some(Figure::taken_off("floor area", floor.area_m2(), what))
            }
            None => room.area.as_ref().map(|area| Figure::fact("floor area", area)),
        };
        let mut enclosure = Enclosure {
            room: room.key.clone(),
            floor: floor.cloned(),
            free: floor.map_or(Vec::new(), |floor| plan::free(job, room, floor, self.findings)),
            area,
            height,
            volume: None,
            level_m: 0.0,
            outside_area: Figure::sum("outside faces", &[]),
            unheated: room.unheated.value,
            faces: Vec::new(),
            exposed_edge: None,
            indoor: Figure::fact("indoor temperature", &room.indoor),
            place: room.place,
        };
        if floor.is_some() {
            self.wall_faces(number, &mut enclosure);
            self.ceiling_face(room, &mut enclosure);
        } else {
            self.stated_faces(room, &mut enclosure);
        }
        enclosure
    }
}

fn behind(faces: &Faces) -> Behind {
    match faces {
        Faces::Outdoors => Behind::Outdoors,
        Faces::Ground => Behind::Ground,
        Faces::Heated => Behind::Heated,
        Faces::NextHouse => Behind::NextHouse,
        Faces::Space(key) => Behind::Space(key.clone()),
        Faces::Room(key) => Behind::Room(key.clone()),
    }
}
