//! Pieces alike made into faces, openings taken out of them.

use super::{Builder, drawn};
use crate::envelope::house::House;
use crate::envelope::openings::{Hole, construction_key};
use crate::envelope::patch::{Part, Patch};
use crate::envelope::{Behind, Enclosure, Face, FaceKind};
use crate::figure::Figure;
use crate::words::Words;
use job::{Dimensions, Finding, OpeningKind, Severity};
use quantity::{Area, Length, Ratio};

/// Pieces of one part with one thing behind them, made the same way.
struct Group<'a> {
    key: String,
    part: Part,
    pieces: Vec<(usize, &'a Patch)>,
}

impl Group<'_> {
    fn behind(&self) -> Behind {
        self.pieces.first().map_or(Behind::Outdoors, |(_, patch)| patch.behind.clone())
    }

    fn assembly(&self) -> Option<String> {
        self.pieces.first().and_then(|(_, patch)| patch.assembly.clone())
    }

    fn area_m2(&self) -> f64 {
        self.pieces.iter().map(|(_, patch)| patch.area_m2).sum()
    }

    fn length_m(&self) -> f64 {
        self.pieces.iter().map(|(_, patch)| patch.length_m).sum()
    }

    /// Mean depth of the room's floor below the ground, over the area.
    fn depth(&self) -> Option<Figure<Length>> {
        self.in_ground("depth of the floor below the ground", Patch::mean_depth_m)
    }

    /// Mean depth of its upper edge below the ground, over the area.
    fn top(&self) -> Option<Figure<Length>> {
        self.in_ground("depth of the wall's upper edge", Patch::mean_top_m)
    }

    /// A depth as a mean over the pieces that are in the ground.
    fn in_ground(&self, name: &str, of: impl Fn(&Patch) -> Option<f64>) -> Option<Figure<Length>> {
        let pieces = || self.pieces.iter().filter_map(|(_, it)| Some((it.area_m2, of(it)?)));
        let area_m2: f64 = pieces().map(|(area, _)| area).sum();
        let moment: f64 = pieces().map(|(area, depth)| area * depth).sum();
        (area_m2 > 0.0).then(|| {
            let how = drawn("ground line along the wall, as a mean over its part in the ground");
            Figure::new(name, moment / area_m2, how)
        })
    }
}

impl Builder<'_> {
    /// All faces of a room with an outline.
    pub(super) fn faces(&mut self, number: usize, holes: &[Hole], enclosure: &mut Enclosure) {
        let known = self.house.ceilings[number].is_known();
        for group in groups(self.house, number, &self.patches[number]) {
            let flat = matches!(group.part, Part::Ceiling | Part::Floor);
            let unseen = flat && group.behind() == Behind::Heated;
            // Without a height the room's loss says that it cannot tell.
            if !unseen && (known || flat) {
                self.face(number, &group, holes, enclosure);
            }
        }
    }

    fn face(
        &mut self,
        number: usize,
        group: &Group<'_>,
        holes: &[Hole],
        enclosure: &mut Enclosure,
    ) {
        let gross = self.gross(number, group, enclosure);
        let openings = self.openings_in(group, holes);
        let areas: Vec<_> = openings.iter().map(|(_, area)| area.clone()).collect();
        let cut = Figure::sum("openings in it", &areas);
        let mut net = if openings.is_empty() { gross } else { gross.less(&*group.key, &cut) };
        if net.si() < 0.0 {
            self.overfilled(number, group, -net.si());
            net = Figure::taken_off(&*group.key, 0.0, "nothing left beside the openings");
        }
        let pitch = match group.part {
            Part::Slope(slope) => {
                let slope = self.house.job.slopes.get(slope);
                slope.and_then(|slope| slope.pitch.as_ref()).map(|it| Figure::fact("pitch", it))
            }
            _ => None,
        };
        let wall = Face {
            key: group.key.clone(),
            kind: kind(group.part),
            behind: group.behind(),
            area: net,
            assembly: group.assembly(),
            depth: group.depth(),
            top: group.top(),
            edge_loss: None,
            pitch,
            transmittance: None,
        };
        let sloped = wall.pitch.clone();
        enclosure.faces.push(wall);
        for (number, area) in openings {
            let opening = &self.house.job.openings[number];
            let kind = match opening.kind.value {
                OpeningKind::Window => FaceKind::Window,
                OpeningKind::Door => FaceKind::Door,
                OpeningKind::Skylight => FaceKind::Skylight,
            };
            let own = opening.assembly.as_ref().map(|stated| stated.value.clone());
            let assembly = match group.behind() {
                Behind::Room(_) => own.or_else(|| group.assembly()),
                _ => construction_key(self.house.job, opening).map(str::to_owned),
            };
            enclosure.faces.push(Face {
                key: format!("{} {}", kind.word(), opening.key),
                kind,
                behind: seen_through(group.behind()),
                area,
                assembly,
                depth: None,
                top: None,
                edge_loss: None,
                pitch: sloped.clone(),
                transmittance: None,
            });
        }
    }

    /// Area of a group with its openings, and how it came about.
    fn gross(&self, number: usize, group: &Group<'_>, enclosure: &Enclosure) -> Figure<Area> {
        let name = format!("{}, gross", group.key);
        match group.part {
            Part::Wall(_) => self.wall_area(number, group, enclosure, name),
            Part::Slope(slope) => self.roof_area(number, slope, name),
            Part::Ceiling | Part::Floor => match &enclosure.area {
                Some(area) if (area.si() - group.area_m2()).abs() < 1e-12 => area.clone(),
                _ => {
                    let what = match group.behind() {
                        Behind::Room(other) => format!("where it lies on room {other}"),
                        _ => "where no other room lies on it".to_owned(),
                    };
                    Figure::new(&*group.key, group.area_m2(), drawn(what))
                }
            },
            Part::DormerFront(_) => self.plain(group, "its width times its height over the slope"),
            Part::DormerCheeks(_) => self.plain(group, "two triangles between ceiling and slope"),
            Part::DormerRoof(_) => self.plain(group, "its width times its depth"),
        }
    }

    fn plain(&self, group: &Group<'_>, what: &str) -> Figure<Area> {
        Figure::new(&*group.key, group.area_m2(), drawn(what))
    }

    fn wall_area(
        &self,
        number: usize,
        group: &Group<'_>,
        enclosure: &Enclosure,
        name: String,
    ) -> Figure<Area> {
        let length = group.length_m();
        let what = match self.house.job.rules.dimensions.value {
            Dimensions::Inside => "inside face of the wall",
            Dimensions::Outside => "outer face of the wall, or the middle of one between rooms",
        };
        let what = Figure::<Length>::taken_off("length", length, what);
        let level = self.house.ceilings[number].level_m;
        let full = |patch: &Patch| {
            let height_m = patch.shape.filter(|it| it.is_level()).map(|it| it.mean_height_m());
            level.zip(height_m).is_some_and(|(level, height)| (level - height).abs() < 1e-9)
        };
        let inside = self.house.job.rules.dimensions.value == Dimensions::Inside;
        let whole = inside && group.pieces.iter().all(|(_, patch)| full(patch));
        let height = match &enclosure.height {
            Some(height) if whole => height.clone(),
            _ => {
                let mean = if length > 0.0 { group.area_m2() / length } else { 0.0 };
                Figure::new("mean height", mean, drawn("this part of the wall, seen square on"))
            }
        };
        Figure::product(name, &[&what.work, &height.work])
    }

    fn roof_area(&self, number: usize, slope: usize, name: String) -> Figure<Area> {
        let ceiling = &self.measured.ceilings[number];
        let piece = ceiling.pieces.iter().find(|piece| piece.slope == Some(slope));
        let (plan_m2, pitch) = piece.map_or((0.0, 0.0), |piece| (piece.area_m2, piece.pitch));
        let plan = Figure::<Area>::new("floor under the slope", plan_m2, drawn("where it governs"));
        let how = "square root of 1 + pitch²".to_owned();
        let along = Figure::<Ratio>::taken_off("slope over plan", pitch.hypot(1.0), how);
        let whole = Figure::product(name.clone(), &[&plan.work, &along.work]);
        let boxes = ceiling.dormers.iter().filter(|dormer| dormer.slope == slope);
        let cut_m2: f64 = boxes.map(|dormer| dormer.cut_m2()).sum();
        if cut_m2 > 0.0 {
            let how = drawn("width times depth, along the slope");
            whole.less(name, &Figure::new("dormers in it", cut_m2, how))
        } else {
            whole
        }
    }

    /// Openings in the pieces of a group, with their areas.
    fn openings_in(&self, group: &Group<'_>, holes: &[Hole]) -> Vec<(usize, Figure<Area>)> {
        let inside = |hole: &&Hole| group.pieces.iter().any(|(piece, _)| *piece == hole.patch);
        // A missing size was told when the text was read.
        let sized = |hole: &Hole| {
            let area = opening_area(&self.house.job.openings[hole.opening])?;
            Some((hole.opening, area))
        };
        holes.iter().filter(inside).filter_map(sized).collect()
    }

    fn overfilled(&mut self, number: usize, group: &Group<'_>, over_m2: f64) {
        let words = Words { first: self.house.job.units.value };
        let room = self.house.room(number);
        let over = words.area(over_m2);
        self.findings.push(
            Finding::new(
                Severity::Stop,
                "openings-fill-wall",
                format!("room.{}", room.key),
                format!("the openings in {} are {over} larger than it", group.key),
                "check the sizes of windows and doors, and the ceiling height",
            )
            .at(room.place)
            .amount(over_m2),
        );
    }
}

/// Pieces alike together, in the order in which the first of each stands.
fn groups<'a>(house: &House<'_>, number: usize, patches: &'a [Patch]) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for (index, patch) in patches.iter().enumerate() {
        let key = key(house, number, patch);
        let alike = groups.iter_mut().find(|group| {
            group.key == key && group.behind() == patch.behind && group.assembly() == patch.assembly
        });
        match alike {
            Some(group) => group.pieces.push((index, patch)),
            None => groups.push(Group { key, part: patch.part, pieces: vec![(index, patch)] }),
        }
    }
    groups
}

/// The key of a piece inside its room: readable, and the same whatever else the house has.
fn key(house: &House<'_>, number: usize, patch: &Patch) -> String {
    let job = house.job;
    let dormer = |dormer: usize| job.dormers.get(dormer).map_or("", |dormer| &dormer.key);
    match patch.part {
        Part::Wall(wall) => {
            let name = house.walls[number].get(wall).map_or_else(String::new, |it| it.called());
            match patch.behind {
                Behind::Ground => format!("wall {name}, in the ground"),
                _ => format!("wall {name}"),
            }
        }
        Part::DormerFront(number) => format!("dormer {} front", dormer(number)),
        Part::DormerCheeks(number) => format!("dormer {} cheeks", dormer(number)),
        Part::DormerRoof(number) => format!("dormer {} roof", dormer(number)),
        Part::Slope(slope) => {
            format!("roof {}", job.slopes.get(slope).map_or("", |slope| &slope.key))
        }
        Part::Ceiling => match &patch.behind {
            Behind::Room(upper) => format!("ceiling under {upper}"),
            _ => "ceiling".to_owned(),
        },
        Part::Floor => match &patch.behind {
            Behind::Room(lower) => format!("floor over {lower}"),
            _ => "floor".to_owned(),
        },
    }
}

fn kind(part: Part) -> FaceKind {
    match part {
        Part::Wall(_) | Part::DormerFront(_) | Part::DormerCheeks(_) => FaceKind::Wall,
        Part::DormerRoof(_) | Part::Ceiling => FaceKind::Ceiling,
        Part::Slope(_) => FaceKind::Roof,
        Part::Floor => FaceKind::Floor,
    }
}

/// What is behind an opening: a window in a wall in the ground looks out through its well.
fn seen_through(behind: Behind) -> Behind {
    if behind == Behind::Ground { Behind::Outdoors } else { behind }
}

/// Width times height, if the text gives both.
fn opening_area(opening: &job::Opening) -> Option<Figure<Area>> {
    let width = Figure::fact("width", opening.width.as_ref()?);
    let height = Figure::fact("height", opening.height.as_ref()?);
    let name = format!("opening {}", opening.key);
    Some(Figure::product(name, &[&width.work, &height.work]))
}
