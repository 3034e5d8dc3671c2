//! Windows, doors, doorways and skylights: where each sits, and the hole that it makes.

use super::house::House;
use super::patch::{Part, Patch};
use super::walls::{Wall, named};
use super::{Behind, PlacedOpening};
use crate::words::Words;
use job::{Finding, Job, Opening, OpeningKind, Severity, Where};
use plane::Point;
use quantity::Quantity;

/// An opening in a piece of what bounds a room.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hole {
    /// Number of the room.
    pub(super) room: usize,
    /// Number of the patch in that room.
    pub(super) patch: usize,
    /// Number of the opening in the job.
    pub(super) opening: usize,
}

/// The house as openings see it.
pub(super) struct Plan<'a> {
    pub(super) house: &'a House<'a>,
    pub(super) patches: &'a [Vec<Patch>],
}

/// The stretch of a wall that an opening takes.
struct Taken {
    on: (usize, usize),
    span_m: [f64; 2],
    number: usize,
}

/// A place on a wall: room, wall, metres from the wall's start.
type OnWall = (usize, usize, f64);

/// Where an opening was found to sit.
enum Seat {
    Wall(OnWall),
    Overhead { room: usize, patch: usize },
}

/// What is wrong, and what to do.
type Trouble = (String, String);

impl Plan<'_> {
    /// Sets every opening into its place; those without one give a finding.
    pub(super) fn place(&self, findings: &mut Vec<Finding>) -> (Vec<PlacedOpening>, Vec<Hole>) {
        let (mut placed, mut holes) = (Vec::new(), Vec::new());
        let mut taken: Vec<Taken> = Vec::new();
        for (number, opening) in self.house.job.openings.iter().enumerate() {
            // An opening that sits nowhere was told when the text was read.
            let Some(at) = &opening.at else { continue };
            match self.find(&at.value) {
                Err((message, advice)) => {
                    findings.push(
                        finding(Severity::Stop, "opening-nowhere", opening, message, advice)
                            .at(at.place),
                    );
                }
                Ok(Seat::Overhead { room, patch }) => {
                    findings.extend(self.beyond_dormer(opening, room, patch));
                    holes.push(Hole { room, patch, opening: number });
                }
                Ok(Seat::Wall((room, wall, along_m))) => {
                    let width_m = opening.width.as_ref().map(|width| width.value.si());
                    let along_m = self.fit(opening, (room, wall, along_m), width_m, findings);
                    let half = width_m.unwrap_or(0.0) / 2.0;
                    let span_m = [along_m - half, along_m + half];
                    self.too_tall(opening, (room, wall), span_m, findings);
                    let here = Taken { on: (room, wall), span_m, number };
                    self.beside(&here, &taken, findings);
                    taken.push(here);
                    placed.push(self.set(number, (room, wall, along_m), half, &mut holes));
                }
            }
        }
        (placed, holes)
    }

    fn find(&self, at: &Where) -> Result<Seat, Trouble> {
        match at {
            Where::Point { at: point, room } => {
                self.nearest(*point, room.as_deref()).map(Seat::Wall)
            }
            Where::Wall { room, wall, along } => {
                let along_m = along.map(Quantity::si);
                self.named(room, wall, along_m).map(Seat::Wall)
            }
            Where::Slope(key) => {
                let slope = self.house.job.slopes.iter().position(|slope| slope.key == *key);
                let room = slope.map(|slope| &self.house.job.slopes[slope].room.value);
                self.overhead(room, slope.map(Part::Slope))
            }
            Where::Ceiling(room) => self.overhead(Some(room), Some(Part::Ceiling)),
            Where::Dormer(key) => {
                let dormer = self.house.job.dormers.iter().position(|dormer| dormer.key == *key);
                let slope = dormer.map(|dormer| &self.house.job.dormers[dormer].slope.value);
                let slope =
                    slope.and_then(|key| self.house.job.slopes.iter().find(|s| s.key == *key));
                self.overhead(slope.map(|slope| &slope.room.value), dormer.map(Part::DormerFront))
            }
        }
    }

    /// The largest piece of that part of a room that is not under another room.
    fn overhead(&self, room: Option<&String>, part: Option<Part>) -> Result<Seat, Trouble> {
        let number = room.and_then(|room| self.house.number(room));
        let found = number.zip(part).and_then(|(room, part)| {
            let patches = self.patches[room].iter().enumerate();
            let under_none = |patch: &Patch| !matches!(patch.behind, Behind::Room(_));
            let fitting = patches.filter(|(_, it)| it.part == part && under_none(it));
            let largest = fitting.max_by(|a, b| a.1.area_m2.total_cmp(&b.1.area_m2));
            largest.map(|(patch, _)| Seat::Overhead { room, patch })
        });
        found.ok_or_else(|| {
            (
                "sits in no ceiling or slope that could hold it".to_owned(),
                "name a slope, a dormer, or a room with a level ceiling under no other room"
                    .to_owned(),
            )
        })
    }

    /// The wall nearest to a point, within the thickest wall.
    fn nearest(&self, point: Point, room: Option<&str>) -> Result<OnWall, Trouble> {
        let reach = self.house.thickest_wall_m();
        let mut best: Option<(f64, OnWall)> = None;
        let mut other_storey = None;
        let meant = |number: usize| room.is_none_or(|key| self.house.room(number).key == key);
        for (room, walls) in self.house.walls.iter().enumerate().filter(|(n, _)| meant(*n)) {
            let bounds = self.house.floors[room].as_ref().map(plane::Region::bounds);
            if !bounds.is_some_and(|bounds| within(point, bounds, reach)) {
                continue;
            }
            for (number, wall) in walls.iter().enumerate() {
                let (distance, along) = foot(wall, point);
                if distance > reach {
                    continue;
                }
                if let Some((_, (held, ..))) = best
                    && !self.house.same_storey(held, room)
                {
                    other_storey = Some([held, room]);
                }
                if best.is_none_or(|(least, _)| distance < least - 1e-9) {
                    best = Some((distance, (room, number, along)));
                }
            }
        }
        let words = Words { first: self.house.job.units.value };
        let (x, y) = (words.tape(point.x), words.tape(point.y));
        if let Some([one, other]) = other_storey {
            let [one, other] = [one, other].map(|number| &self.house.room(number).key);
            return Err((
                format!("walls of two storeys are near {x}, {y}: of {one} and of {other}"),
                "name the `room` whose wall is meant".to_owned(),
            ));
        }
        best.map(|(_, on_wall)| on_wall).ok_or_else(|| {
            (
                format!("no wall is near {x}, {y}"),
                "move the point to a wall, or name `room` and `wall`".to_owned(),
            )
        })
    }

    fn named(&self, room: &str, name: &str, along_m: Option<f64>) -> Result<OnWall, Trouble> {
        let number = self.house.number(room);
        let walls = number.map_or(&[][..], |number| &self.house.walls[number]);
        let wall = named(room, walls, name).map_err(|(message, advice)| match walls {
            [] => (message, advice),
            _ if message.contains("walls on") => {
                (message, format!("{advice}, or give `at = [x, y]`"))
            }
            _ => (message, advice),
        })?;
        let length = walls[wall].length_m();
        // Along is told from the left end, looking at the wall from inside the room.
        let along = along_m.map_or(length / 2.0, |along| length - along);
        Ok((number.unwrap_or(0), wall, along))
    }

    /// Keeps an opening inside its wall; one that is wider gives a finding.
    fn fit(
        &self,
        opening: &Opening,
        (room, wall, along_m): OnWall,
        width_m: Option<f64>,
        findings: &mut Vec<Finding>,
    ) -> f64 {
        let length = self.house.walls[room][wall].length_m();
        let Some(width) = width_m else { return along_m };
        let words = Words { first: self.house.job.units.value };
        if width > length + 1e-3 {
            findings.push(too_wide(opening, words, width, length));
            return length / 2.0;
        }
        let kept = along_m.clamp(width / 2.0, (length - width / 2.0).max(width / 2.0));
        if (kept - along_m).abs() > 0.02 {
            let message = format!(
                "runs {} past the end of its wall; set back to the corner",
                words.tape((kept - along_m).abs())
            );
            let advice = "check where its middle is";
            findings.push(
                finding(Severity::Warn, "opening-past-corner", opening, message, advice)
                    .at(opening.at.as_ref().map(|at| at.place)),
            );
        }
        kept
    }

    /// Tells an opening that reaches higher than its wall does there.
    fn too_tall(
        &self,
        opening: &Opening,
        (room, wall): (usize, usize),
        span_m: [f64; 2],
        findings: &mut Vec<Finding>,
    ) {
        let (wall, ceiling) = (&self.house.walls[room][wall], &self.house.ceilings[room]);
        let along = (wall.to - wall.from).unit();
        let jambs = span_m.map(|at| ceiling.height_m(wall.from + along * at));
        let lowest = jambs.into_iter().flatten().reduce(f64::min);
        let (Some(height), Some(lowest_m)) = (&opening.height, lowest) else { return };
        let sill_m = opening.sill.as_ref().map_or(0.0, |sill| sill.value.si());
        if sill_m + height.value.si() <= lowest_m + 1e-3 {
            return;
        }
        let words = Words { first: self.house.job.units.value };
        let tall = words.tape(height.value.si());
        let over = if sill_m > 0.0 {
            format!("is {tall} tall from {} up", words.tape(sill_m))
        } else {
            format!("is {tall} tall")
        };
        let message = format!("{over}, but its wall is {} high", words.tape(lowest_m));
        let advice = "check the height of the opening, and that of the wall where it sits";
        findings.push(
            finding(Severity::Stop, "opening-too-tall", opening, message, advice)
                .at(height.place()),
        );
    }

    /// Tells a window that is wider or taller than the front of its dormer.
    fn beyond_dormer(&self, opening: &Opening, room: usize, patch: usize) -> Option<Finding> {
        let Part::DormerFront(dormer) = self.patches[room].get(patch)?.part else { return None };
        let size = self.house.ceilings[room].dormers.iter().find(|it| it.dormer == dormer)?;
        let words = Words { first: self.house.job.units.value };
        let width = opening.width.as_ref()?.value.si();
        if width > size.width_m() + 1e-3 {
            return Some(too_wide(opening, words, width, size.width_m()));
        }
        let height = opening.height.as_ref()?;
        let [tall, front] = [height.value.si(), size.rise_m()];
        (tall > front + 1e-3).then(|| {
            let message = format!(
                "is {} tall, but the front of its dormer is {} high over the slope",
                words.tape(tall),
                words.tape(front)
            );
            let advice = "check the height of the opening, and that of the dormer";
            finding(Severity::Stop, "opening-too-tall", opening, message, advice).at(height.place())
        })
    }

    /// Tells an opening that lies over one set before it in the same wall.
    fn beside(&self, here: &Taken, taken: &[Taken], findings: &mut Vec<Finding>) {
        let over = taken.iter().find(|other| {
            let [from, to] = here.span_m;
            other.on == here.on && to.min(other.span_m[1]) - from.max(other.span_m[0]) > 0.01
        });
        let Some(over) = over else { return };
        let openings = &self.house.job.openings;
        let (opening, other) = (&openings[here.number], &openings[over.number]);
        if one_over_the_other(opening, other) {
            return;
        }
        let message = format!("lies over opening {} in the same wall", other.key);
        let advice = "check where both sit; one above the other is fine";
        findings.push(
            finding(Severity::Warn, "openings-overlap", opening, message, advice)
                .at(opening.at.as_ref().map(|at| at.place)),
        );
    }

    /// Cuts the opening out of the wall on both sides.
    fn set(
        &self,
        number: usize,
        (room, wall, along_m): OnWall,
        half_m: f64,
        holes: &mut Vec<Hole>,
    ) -> PlacedOpening {
        let opening = &self.house.job.openings[number];
        let edge = &self.house.walls[room][wall];
        let along = (edge.to - edge.from).unit();
        let jambs = [along_m - half_m, along_m + half_m].map(|at| edge.from + along * at);
        let patch = self.patch_at((room, wall, along_m), opening);
        holes.extend(patch.map(|patch| Hole { room, patch, opening: number }));
        let beyond = patch.and_then(|patch| self.patches[room][patch].beyond);
        let mut rooms = vec![self.house.room(room).key.clone()];
        rooms.extend(beyond.map(|beyond| self.house.room(beyond.room).key.clone()));
        // A room without an outline has no face to set the far jambs in.
        let far = beyond.and_then(|beyond| Some((beyond, beyond.wall?)));
        let far_jambs =
            far.map(|(to, _)| jambs.map(|jamb| jamb + edge.outward() * to.gap_m.max(0.0)));
        if let Some(((beyond, far_wall), jambs)) = far.zip(far_jambs) {
            let middle = jambs[0].lerp(jambs[1], 0.5);
            let patch = self.back((beyond.room, far_wall), room, middle);
            holes.extend(patch.map(|patch| Hole { room: beyond.room, patch, opening: number }));
        }
        PlacedOpening {
            key: opening.key.clone(),
            kind: opening.kind.value,
            rooms,
            jambs,
            far_jambs,
        }
    }

    /// The piece of wall that an opening sits in.
    fn patch_at(&self, (room, wall, along_m): OnWall, opening: &Opening) -> Option<usize> {
        let on_wall = self.on_wall(room, wall);
        let off = |patch: &Patch| {
            patch.shape.map_or(f64::INFINITY, |shape| {
                (shape.span_m[0] - along_m).max(along_m - shape.span_m[1]).max(0.0)
            })
        };
        let nearest = on_wall.iter().map(|(_, patch)| off(patch)).fold(f64::INFINITY, f64::min);
        let here = on_wall.into_iter().filter(|(_, patch)| off(patch) <= nearest + 1e-9);
        let middle_m = opening.height.as_ref().map(|height| {
            let sill_m = opening.sill.as_ref().map_or(0.0, |sill| sill.value.si());
            self.house.level_m[room] + sill_m + height.value.si() / 2.0
        });
        let at_height = opening.sill.is_some() || opening.kind.value == OpeningKind::Door;
        // How badly a piece would suit: ground never has windows; a window seldom looks into a room.
        let ill = |patch: &Patch| {
            let [low, high] = patch.shape.map_or([0.0; 2], |shape| shape.at(along_m));
            let off_m = middle_m.map_or(0.0, |z| (low - z).max(z - high).max(0.0));
            let buried = patch.behind == Behind::Ground;
            let inside = patch.beyond.is_some();
            match at_height {
                true => (buried, false, off_m),
                false => (buried, inside, low - high),
            }
        };
        let best = here.min_by(|(_, a), (_, b)| {
            let (a, b) = (ill(a), ill(b));
            a.0.cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2))
        });
        best.map(|(number, _)| number)
    }

    /// The piece of the far wall that looks back through a doorway.
    fn back(&self, (room, wall): (usize, usize), from: usize, middle: Point) -> Option<usize> {
        let (_, along_m) = foot(&self.house.walls[room][wall], middle);
        let back = self
            .on_wall(room, wall)
            .into_iter()
            .filter(|(_, patch)| patch.beyond.is_some_and(|beyond| beyond.room == from));
        let off = |patch: &Patch| {
            patch.shape.map_or(f64::INFINITY, |shape| {
                (shape.span_m[0] - along_m).max(along_m - shape.span_m[1]).max(0.0)
            })
        };
        back.min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b))).map(|(number, _)| number)
    }

    fn on_wall(&self, room: usize, wall: usize) -> Vec<(usize, &Patch)> {
        let patches = self.patches[room].iter().enumerate();
        patches.filter(|(_, patch)| patch.part == Part::Wall(wall)).collect()
    }
}

/// Distance of a point to a wall, and how far along the wall its foot is.
fn foot(wall: &Wall, point: Point) -> (f64, f64) {
    let direction = (wall.to - wall.from).unit();
    let along = (point - wall.from).dot(direction).clamp(0.0, wall.length_m());
    ((wall.from + direction * along).distance(point), along)
}

fn within(point: Point, (low, high): (Point, Point), reach: f64) -> bool {
    low.x - reach <= point.x
        && point.x <= high.x + reach
        && low.y - reach <= point.y
        && point.y <= high.y + reach
}

/// Whether the text says of both how high they sit, and that they do not overlap.
fn one_over_the_other(one: &Opening, other: &Opening) -> bool {
    let span = |opening: &Opening| {
        let sill_m = opening.sill.as_ref()?.value.si();
        Some([sill_m, sill_m + opening.height.as_ref()?.value.si()])
    };
    span(one)
        .zip(span(other))
        .is_some_and(|(one, other)| one[1] <= other[0] + 1e-3 || other[1] <= one[0] + 1e-3)
}

fn finding(
    severity: Severity,
    kind: &'static str,
    opening: &Opening,
    message: String,
    advice: impl Into<String>,
) -> Finding {
    Finding::new(severity, kind, format!("opening.{}", opening.key), message, advice)
}

fn too_wide(opening: &Opening, words: Words, width_m: f64, wall_m: f64) -> Finding {
    let message =
        format!("is {} wide, but its wall is {} long", words.tape(width_m), words.tape(wall_m));
    let advice = "check the width, and whether this is the right wall";
    finding(Severity::Stop, "opening-too-wide", opening, message, advice)
        .at(opening.width.as_ref().and_then(|width| width.place()))
        .amount(width_m - wall_m)
}

/// What an opening is made of: its own construction, or that of the house for its kind.
pub(super) fn construction_key<'a>(job: &'a Job, opening: &'a Opening) -> Option<&'a str> {
    let of_house = match opening.kind.value {
        OpeningKind::Window => job.house.window.as_ref(),
        OpeningKind::Skylight => job.house.skylight.as_ref().or(job.house.window.as_ref()),
        OpeningKind::Door => job.house.door.as_ref(),
    };
    opening.assembly.as_ref().or(of_house).map(|stated| stated.value.as_str())
}
