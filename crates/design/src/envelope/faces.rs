//! The faces of every room, from its outline or from its stated surfaces.

use super::construction::transmittance;
use super::openings::{InWall, Plan, construction_key};
use super::walls::{Stretch, Wall};
use super::{Behind, Enclosure, Envelope, Face, FaceKind, ground, neighbours, plan, walls};
use crate::figure::{Figure, Given};
use job::{Faces, Finding, Job, OpeningKind, Room, Severity, Stated};
use plane::Region;
use quantity::{Area, Length, Transmittance};

/// U-value taken for a partition between rooms of different temperature.
const PARTITION_W_M2K: f64 = 1.9;

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
        builder.floor_face(number, enclosure, whole.as_ref());
    }
    Envelope { enclosures, openings, ground: whole }
}

struct Builder<'a> {
    job: &'a Job,
    walls: &'a [Vec<Wall>],
    stretches: &'a [Vec<Stretch>],
    in_walls: Vec<InWall>,
    findings: &'a mut Vec<Finding>,
}

impl<'a> Builder<'a> {
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

    /// Walls and what sits in them, grouped by wall name and by what is behind.
    fn wall_faces(&mut self, number: usize, enclosure: &mut Enclosure) {
        let room = &self.job.rooms[number];
        let mut exposed = Vec::new();
        let mut groups: Vec<(String, Behind, f64)> = Vec::new();
        for stretch in &self.stretches[number] {
            let wall = &self.walls[number][stretch.edge];
            let behind = match stretch.neighbour {
                None => Behind::Outdoors,
                Some(other) => Behind::Room(self.job.rooms[other].key.clone()),
            };
            if behind == Behind::Outdoors {
                exposed.push(Figure::taken_off(
                    format!("outside wall {}", wall.called()),
                    stretch.length_m(),
                    "inside face of the wall",
                ));
            }
            let key = format!("wall {}", wall.called());
            match groups.iter_mut().find(|(name, other, _)| *name == key && *other == behind) {
                Some(group) => group.2 += stretch.length_m(),
                None => groups.push((key, behind, stretch.length_m())),
            }
        }
        if room.below.value == Faces::Ground {
            enclosure.exposed_edge = Some(Figure::sum("exposed edge", &exposed));
        }
        // Without a height the room's loss says that it cannot tell.
        let Some(height) = enclosure.height.clone() else { return };
        for (key, behind, length_m) in groups {
            self.wall_group(number, enclosure, &height, (key, behind, length_m));
        }
    }

    fn wall_group(
        &mut self,
        number: usize,
        enclosure: &mut Enclosure,
        height: &Figure<Length>,
        (key, behind, length_m): (String, Behind, f64),
    ) {
        let room = &self.job.rooms[number];
        let inside = |behind: &Behind| matches!(behind, Behind::Room(_));
        let openings = self.openings_in(number, &key, &behind);
        let length = Figure::<Length>::taken_off("length", length_m, "inside face of the wall");
        let gross = Figure::<Area>::product(format!("{key}, gross"), &[&length.work, &height.work]);
        let cut = Figure::sum(
            "openings in it",
            &openings.iter().map(|o| o.1.clone()).collect::<Vec<_>>(),
        );
        let mut net = if openings.is_empty() { gross } else { gross.less(&*key, &cut) };
        if net.si() < 0.0 {
            let words = crate::words::Words { first: self.job.units.value };
            let message =
                format!("the openings in {key} are {} larger than it", words.area(-net.si()));
            self.findings.push(
                Finding::new(
                    Severity::Stop,
                    "openings-fill-wall",
                    format!("room.{}", room.key),
                    message,
                    "check the sizes of windows and doors, and the ceiling height",
                )
                .at(room.place)
                .amount(-net.si()),
            );
            net = Figure::taken_off(&*key, 0.0, "nothing left beside the openings");
        }
        let u = if inside(&behind) {
            self.partition(&behind, room)
        } else {
            self.built(
                room,
                room.wall.as_ref().or(self.job.house.wall.as_ref()),
                FaceKind::Wall,
                &behind,
                "wall",
            )
        };
        let face = Face {
            key: key.clone(),
            kind: FaceKind::Wall,
            behind: behind.clone(),
            area: net,
            transmittance: u,
        };
        enclosure.faces.push(face);
        for (opening, area) in openings {
            let opening = &self.job.openings[opening];
            let (kind, word) = match opening.kind.value {
                OpeningKind::Window => (FaceKind::Window, "window"),
                OpeningKind::Door => (FaceKind::Door, "door"),
            };
            let transmittance = if inside(&behind) {
                self.partition(&behind, room)
            } else {
                let stated = construction_key(self.job, opening).map(str::to_owned);
                self.opening_built(&opening.key, stated, kind, word)
            };
            let key = format!("{word} {}", opening.key);
            enclosure.faces.push(Face { key, kind, behind: behind.clone(), area, transmittance });
        }
    }

    /// Openings of a room in the wall of that name with that neighbour, with their areas.
    fn openings_in(&self, room: usize, key: &str, behind: &Behind) -> Vec<(usize, Figure<Area>)> {
        let mut found = Vec::new();
        for in_wall in &self.in_walls {
            // A doorway takes its hole out of the wall on either side.
            let seen_from = if in_wall.room == room {
                in_wall.behind
            } else if in_wall.behind == Some(room) {
                Some(in_wall.room)
            } else {
                continue;
            };
            let same_behind = match seen_from {
                None => *behind == Behind::Outdoors,
                Some(other) => *behind == Behind::Room(self.job.rooms[other].key.clone()),
            };
            let wall = if in_wall.room == room { Some(in_wall.wall) } else { in_wall.far_wall };
            let wall = wall.and_then(|wall| self.walls[room].get(wall));
            if same_behind && wall.is_some_and(|wall| format!("wall {}", wall.called()) == key) {
                // A missing size was told when the text was read.
                let area = opening_area(&self.job.openings[in_wall.opening]);
                found.extend(area.map(|area| (in_wall.opening, area)));
            }
        }
        found
    }

    fn ceiling_face(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let Some(area) = enclosure.area.clone() else { return };
        let behind = behind(&room.above.value);
        let transmittance = match behind {
            Behind::Heated => None,
            _ => {
                let stated = room.ceiling.as_ref().or(self.job.house.ceiling.as_ref());
                self.built(room, stated, FaceKind::Ceiling, &behind, "ceiling")
            }
        };
        if behind != Behind::Heated {
            let key = "ceiling".to_owned();
            enclosure.faces.push(Face {
                key,
                kind: FaceKind::Ceiling,
                behind,
                area,
                transmittance,
            });
        }
    }

    /// The floor, whose loss to the ground depends on the whole.
    fn floor_face(
        &mut self,
        number: usize,
        enclosure: &mut Enclosure,
        whole: Option<&super::GroundFloor>,
    ) {
        let room = &self.job.rooms[number];
        if enclosure.floor.is_none() {
            return;
        }
        let (Some(area), behind) = (enclosure.area.clone(), behind(&room.below.value)) else {
            return;
        };
        let stated = room.floor.as_ref().or(self.job.house.floor.as_ref());
        let transmittance = match (&behind, whole) {
            (Behind::Heated, _) => return,
            (Behind::Ground, Some(whole)) => {
                let job = self.job;
                let assembly = self.assembly_of(room, stated, "floor");
                assembly.and_then(|assembly| {
                    let built = ground::transmittance(job, assembly, whole);
                    self.told(room, "floor", built)
                })
            }
            _ => self.built(room, stated, FaceKind::Floor, &behind, "floor"),
        };
        let key = "floor".to_owned();
        enclosure.faces.push(Face { key, kind: FaceKind::Floor, behind, area, transmittance });
    }

    fn stated_faces(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let job = self.job;
        for surface in job.surfaces_of(&room.key) {
            let Some(area) = &surface.area else { continue };
            let area = Figure::fact(format!("area of {}", surface.key), area);
            let (behind, kind) = match surface.faces.value {
                Faces::Ground => (Behind::Ground, FaceKind::Floor),
                ref other => (behind(other), FaceKind::Wall),
            };
            let transmittance = if behind == Behind::Ground {
                // The ground loss needs the whole floor; a lone one is its own whole.
                let stated = surface.exposed_edge.iter();
                let edges: Vec<_> = stated.map(|edge| Figure::fact("exposed edge", edge)).collect();
                let edge = Figure::sum("exposed edge", &edges);
                let assembly = self.assembly_of(room, surface.assembly.as_ref(), "floor");
                assembly.and_then(|assembly| {
                    let dimension = Figure::by_law(
                        "characteristic dimension of the floor",
                        &laws::ground::CHARACTERISTIC_DIMENSION,
                        &[Given::from(&area), Given::from(&edge)],
                    );
                    let whole = super::GroundFloor {
                        area: area.clone(),
                        exposed_edge: edge.clone(),
                        dimension: dimension.ok(),
                    };
                    let built = ground::transmittance(job, assembly, &whole);
                    self.told(room, "floor", built)
                })
            } else {
                self.built(room, surface.assembly.as_ref(), kind, &behind, "surface")
            };
            let key = surface.key.clone();
            enclosure.faces.push(Face { key, kind, behind, area, transmittance });
        }
    }

    /// A partition: stated for the house, or assumed.
    fn partition(&mut self, behind: &Behind, room: &Room) -> Option<Figure<Transmittance>> {
        let Behind::Room(other) = behind else { return None };
        let same = self.job.room(other).is_some_and(|o| o.indoor.value == room.indoor.value);
        match &self.job.house.partition {
            Some(stated) if !same => {
                self.built(room, Some(stated), FaceKind::Wall, behind, "partition")
            }
            _ => Some(Figure::assumed(
                "U of a partition",
                PARTITION_W_M2K,
                "board, stud space, board, with films both sides (ISO 6946 layers)",
            )),
        }
    }

    fn built(
        &mut self,
        room: &Room,
        stated: Option<&Stated<String>>,
        kind: FaceKind,
        behind: &Behind,
        word: &str,
    ) -> Option<Figure<Transmittance>> {
        let job = self.job;
        let assembly = self.assembly_of(room, stated, word)?;
        let built = transmittance(assembly, kind, *behind == Behind::Outdoors, &job.catalogue);
        self.told(room, word, built)
    }

    fn assembly_of(
        &mut self,
        room: &Room,
        stated: Option<&Stated<String>>,
        word: &str,
    ) -> Option<&'a job::Assembly> {
        let job = self.job;
        let found = stated.and_then(|stated| job.assembly(&stated.value));
        if found.is_none() {
            let message = format!("the text does not say how its {word} is made");
            let advice =
                format!("add `{word} = …` to [house] or to the room, naming an [assembly.…]");
            self.missing(room, "no-construction", message, advice);
        }
        found
    }

    fn opening_built(
        &mut self,
        opening: &str,
        stated: Option<String>,
        kind: FaceKind,
        word: &str,
    ) -> Option<Figure<Transmittance>> {
        let assembly = stated.and_then(|key| self.job.assembly(&key));
        let built = match assembly {
            Some(assembly) => transmittance(assembly, kind, true, &self.job.catalogue),
            None => Err(format!("the text does not say how {word} {opening} is made")),
        };
        built
            .map_err(|message| {
                let subject = format!("opening.{opening}");
                let advice =
                    format!("add `{word} = …` to [house], naming an [assembly.…] with its U");
                let place = self.job.openings.iter().find(|o| o.key == opening).map(|o| o.place);
                let severity = Severity::Stop;
                self.findings.push(
                    Finding::new(severity, "no-construction", subject, message, advice).at(place),
                );
            })
            .ok()
    }

    fn told<T>(&mut self, room: &Room, word: &str, built: Result<T, String>) -> Option<T> {
        built
            .map_err(|message| {
                let advice = format!("complete the construction of the {word}");
                self.missing(room, "no-construction", message, advice);
            })
            .ok()
    }

    fn missing(
        &mut self,
        room: &Room,
        kind: &'static str,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) {
        let subject = format!("room.{}", room.key);
        let finding = Finding::new(Severity::Stop, kind, subject, message, advice).at(room.place);
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }
}

/// Width times height, if the text gives both.
fn opening_area(opening: &job::Opening) -> Option<Figure<Area>> {
    let width = Figure::fact("width", opening.width.as_ref()?);
    let height = Figure::fact("height", opening.height.as_ref()?);
    let name = format!("opening {}", opening.key);
    Some(Figure::product(name, &[&width.work, &height.work]))
}

fn behind(faces: &Faces) -> Behind {
    match faces {
        Faces::Outdoors => Behind::Outdoors,
        Faces::Ground => Behind::Ground,
        Faces::Heated => Behind::Heated,
        Faces::Room(key) => Behind::Room(key.clone()),
    }
}
