//! Walls of an outline, and the windows and doors in them.

use super::Builder;
use crate::envelope::openings::construction_key;
use crate::envelope::{Behind, Enclosure, Face, FaceKind};
use crate::figure::Figure;
use crate::words::Words;
use job::{Faces, Finding, OpeningKind, Room, Severity, Stated};
use quantity::{Area, Length};

impl Builder<'_> {
    /// The stated partition, where it matters; none is assumed.
    fn partition(&self, behind: &Behind, room: &Room) -> Option<&Stated<String>> {
        let Behind::Room(other) = behind else { return None };
        let same = self.job.room(other).is_some_and(|o| o.indoor.value == room.indoor.value);
        self.job.house.partition.as_ref().filter(|_| !same)
    }

    /// Walls and what sits in them, grouped by wall name and by what is behind.
    pub(super) fn wall_faces(&mut self, number: usize, enclosure: &mut Enclosure) {
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

    pub(super) fn wall_group(
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
            let words = Words { first: self.job.units.value };
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
        let stated = match inside(&behind) {
            true => self.partition(&behind, room),
            false => room.wall.as_ref().or(self.job.house.wall.as_ref()),
        };
        let assembly = stated.map(|stated| stated.value.clone());
        let face = Face {
            key: key.clone(),
            kind: FaceKind::Wall,
            behind: behind.clone(),
            area: net,
            assembly: assembly.clone(),
            depth: None,
            edge_loss: None,
            pitch: None,
            transmittance: None,
        };
        enclosure.faces.push(face);
        for (opening, area) in openings {
            let opening = &self.job.openings[opening];
            let kind = match opening.kind.value {
                OpeningKind::Window => FaceKind::Window,
                OpeningKind::Door => FaceKind::Door,
                OpeningKind::Skylight => FaceKind::Skylight,
            };
            let assembly = match inside(&behind) {
                true => assembly.clone(),
                false => construction_key(self.job, opening).map(str::to_owned),
            };
            enclosure.faces.push(Face {
                key: format!("{} {}", kind.word(), opening.key),
                kind,
                behind: behind.clone(),
                area,
                assembly,
                depth: None,
                edge_loss: None,
                pitch: None,
                transmittance: None,
            });
        }
    }

    /// Openings of a room in the wall of that name with that neighbour, with their areas.
    pub(super) fn openings_in(
        &self,
        room: usize,
        key: &str,
        behind: &Behind,
    ) -> Vec<(usize, Figure<Area>)> {
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
}

/// Width times height, if the text gives both.
fn opening_area(opening: &job::Opening) -> Option<Figure<Area>> {
    let width = Figure::fact("width", opening.width.as_ref()?);
    let height = Figure::fact("height", opening.height.as_ref()?);
    let name = format!("opening {}", opening.key);
    Some(Figure::product(name, &[&width.work, &height.work]))
}
