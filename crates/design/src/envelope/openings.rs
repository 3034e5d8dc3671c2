//! Windows, doors and doorways in the walls of the plan.

use super::PlacedOpening;
use super::walls::{Stretch, Wall};
use crate::words::Words;
use job::{Finding, Job, Opening, OpeningKind, Severity, Where};
use plane::Point;
use quantity::Quantity;

/// An opening in a wall: where, and how much of the wall it takes.
#[derive(Clone, Debug)]
pub(super) struct InWall {
    /// Number of the room.
    pub(super) room: usize,
    /// Number of the wall.
    pub(super) wall: usize,
    /// Number of the wall of the room behind, for a doorway.
    pub(super) far_wall: Option<usize>,
    /// Number of the opening in the job.
    pub(super) opening: usize,
    /// Number of the room behind; none for outdoors.
    pub(super) behind: Option<usize>,
}

/// The plan as openings see it.
pub(super) struct Plan<'a> {
    pub(super) job: &'a Job,
    pub(super) walls: &'a [Vec<Wall>],
    pub(super) stretches: &'a [Vec<Stretch>],
}

/// The stretch of a wall that an opening takes.
struct Taken {
    room: usize,
    wall: usize,
    span_m: [f64; 2],
    number: usize,
}

/// A place on a wall: room, wall, metres from the wall's start.
type OnWall = (usize, usize, f64);

impl Plan<'_> {
    /// Sets every opening into its wall; those without one give a finding.
    pub(super) fn place(&self, findings: &mut Vec<Finding>) -> (Vec<PlacedOpening>, Vec<InWall>) {
        let (mut placed, mut in_walls) = (Vec::new(), Vec::new());
        let mut taken: Vec<Taken> = Vec::new();
        for (number, opening) in self.job.openings.iter().enumerate() {
            // An opening that sits nowhere was told when the text was read.
            let Some(at) = &opening.at else { continue };
            let subject = format!("opening.{}", opening.key);
            match self.find(&at.value) {
                Err((message, advice)) => findings.push(
                    Finding::new(Severity::Stop, "opening-nowhere", subject, message, advice)
                        .at(at.place),
                ),
                Ok((room, wall, along_m)) => {
                    let width_m = opening.width.as_ref().map(|width| width.value.si());
                    let along_m = self.fit(opening, (room, wall, along_m), width_m, findings);
                    self.too_tall(opening, room, findings);
                    let half = width_m.unwrap_or(0.0) / 2.0;
                    let here =
                        Taken { room, wall, span_m: [along_m - half, along_m + half], number };
                    self.beside(&here, &taken, findings);
                    taken.push(here);
                    let here = self.set(number, (room, wall, along_m), width_m);
                    placed.push(here.0);
                    in_walls.push(here.1);
                }
            }
        }
        (placed, in_walls)
    }

    fn find(&self, at: &Where) -> Result<OnWall, (String, String)> {
        match at {
            Where::Point { at: point, room } => {
                self.nearest(*point, room.as_deref()).ok_or_else(|| {
                    let words = Words { first: self.job.units.value };
                    let (x, y) = (words.tape(point.x), words.tape(point.y));
                    (
                        format!("no wall is near {x}, {y}"),
                        "move the point to a wall, or name `room` and `wall`".to_owned(),
                    )
                })
            }
            Where::Slope(key) | Where::Ceiling(key) | Where::Dormer(key) => Err((
                format!("an opening of {key} has no place in a wall"),
                "name a wall".to_owned(),
            )),
            Where::Wall { room, wall, along } => self.named(room, wall, along.map(Quantity::si)),
        }
    }

    /// The wall nearest to a point, within the thickest wall.
    fn nearest(&self, point: Point, room: Option<&str>) -> Option<OnWall> {
        let reach = self.job.house.thickest_wall.value.si();
        let mut best: Option<(f64, OnWall)> = None;
        let meant = |number: usize| room.is_none_or(|key| self.job.rooms[number].key == key);
        for (room, walls) in self.walls.iter().enumerate().filter(|(number, _)| meant(*number)) {
            for (number, wall) in walls.iter().enumerate() {
                let along = (point - wall.from).dot((wall.to - wall.from).unit());
                let along = along.clamp(0.0, wall.length_m());
                let foot = wall.from + (wall.to - wall.from).unit() * along;
                let distance = foot.distance(point);
                if distance <= reach && best.is_none_or(|(least, _)| distance < least - 1e-9) {
                    best = Some((distance, (room, number, along)));
                }
            }
        }
        best.map(|(_, on_wall)| on_wall)
    }

    fn named(
        &self,
        room: &str,
        name: &str,
        along_m: Option<f64>,
    ) -> Result<OnWall, (String, String)> {
        let number = self.job.rooms.iter().position(|candidate| candidate.key == room);
        let walls = number.map(|number| (number, &self.walls[number]));
        let Some((number, walls)) = walls.filter(|(_, walls)| !walls.is_empty()) else {
            return Err((
                format!("room {room} has no outline to set an opening in"),
                "give the room an outline, or state its surfaces instead".to_owned(),
            ));
        };
        let matches = |wall: &Wall| match &wall.name {
            Some(own) if own.eq_ignore_ascii_case(name) => true,
            _ => wall.side.eq_ignore_ascii_case(name),
        };
        let by_name: Vec<usize> = (0..walls.len())
            .filter(|i| walls[*i].name.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(name)))
            .collect();
        let found: Vec<usize> = if by_name.is_empty() {
            (0..walls.len()).filter(|i| matches(&walls[*i])).collect()
        } else {
            by_name
        };
        match found.as_slice() {
            [wall] => {
                let length = walls[*wall].length_m();
                // Along is told from the left end, looking at the wall from inside the room.
                let along = along_m.map_or(length / 2.0, |along| length - along);
                Ok((number, *wall, along))
            }
            [] => {
                let known: Vec<String> = walls.iter().map(Wall::called).collect();
                Err((
                    format!("room {room} has no wall `{name}`"),
                    format!("write one of: {}", known.join(", ")),
                ))
            }
            several => Err((
                format!("room {room} has {} walls on the {name}", several.len()),
                "name the wall in the outline, or give `at = [x, y]`".to_owned(),
            )),
        }
    }

    /// Keeps an opening inside its wall; one that is wider gives a finding.
    fn fit(
        &self,
        opening: &Opening,
        (room, wall, along_m): OnWall,
        width_m: Option<f64>,
        findings: &mut Vec<Finding>,
    ) -> f64 {
        let length = self.walls[room][wall].length_m();
        let Some(width) = width_m else { return along_m };
        let words = Words { first: self.job.units.value };
        let subject = format!("opening.{}", opening.key);
        if width > length + 1e-3 {
            let message = format!(
                "is {} wide, but its wall is {} long",
                words.tape(width),
                words.tape(length)
            );
            findings.push(
                Finding::new(
                    Severity::Stop,
                    "opening-too-wide",
                    subject,
                    message,
                    "check the width, and whether this is the right wall",
                )
                .at(opening.width.as_ref().and_then(|width| width.place()))
                .amount(width - length),
            );
            return length / 2.0;
        }
        let kept = along_m.clamp(width / 2.0, (length - width / 2.0).max(width / 2.0));
        if (kept - along_m).abs() > 0.02 {
            let message = format!(
                "runs {} past the end of its wall; set back to the corner",
                words.tape((kept - along_m).abs())
            );
            findings.push(
                Finding::new(
                    Severity::Warn,
                    "opening-past-corner",
                    subject,
                    message,
                    "check where its middle is",
                )
                .at(opening.at.as_ref().map(|at| at.place)),
            );
        }
        kept
    }

    /// Tells an opening that is taller than its wall.
    fn too_tall(&self, opening: &Opening, room: usize, findings: &mut Vec<Finding>) {
        let height = opening.height.as_ref().map(|height| height.value.si());
        let wall = self.job.rooms[room].height.as_ref().map(|height| height.value.si());
        let (Some(height), Some(wall)) = (height, wall) else { return };
        if height <= wall + 1e-3 {
            return;
        }
        let words = Words { first: self.job.units.value };
        let (height, wall_words) = (words.tape(height), words.tape(wall));
        findings.push(
            Finding::new(
                Severity::Stop,
                "opening-too-tall",
                format!("opening.{}", opening.key),
                format!("is {height} tall, but its wall is {wall_words} high"),
                "check the height of the opening, and the ceiling height",
            )
            .at(opening.height.as_ref().and_then(|height| height.place())),
        );
    }

    /// Tells an opening that lies over one set before it in the same wall.
    fn beside(&self, here: &Taken, taken: &[Taken], findings: &mut Vec<Finding>) {
        let over = taken.iter().find(|other| {
            let [from, to] = here.span_m;
            (other.room, other.wall) == (here.room, here.wall)
                && to.min(other.span_m[1]) - from.max(other.span_m[0]) > 0.01
        });
        let Some(over) = over else { return };
        let (opening, other) = (&self.job.openings[here.number], &self.job.openings[over.number]);
        findings.push(
            Finding::new(
                Severity::Warn,
                "openings-overlap",
                format!("opening.{}", opening.key),
                format!("lies over opening {} in the same wall", other.key),
                "check where both sit; one above the other is fine",
            )
            .at(opening.at.as_ref().map(|at| at.place)),
        );
    }

    fn set(
        &self,
        number: usize,
        (room, wall, along_m): OnWall,
        width_m: Option<f64>,
    ) -> (PlacedOpening, InWall) {
        let opening = &self.job.openings[number];
        let edge = &self.walls[room][wall];
        let along = (edge.to - edge.from).unit();
        let half = width_m.unwrap_or(0.0) / 2.0;
        let jambs = [along_m - half, along_m + half].map(|at| edge.from + along * at);
        let stretch = self.stretches[room].iter().find(|stretch| {
            stretch.edge == wall && (stretch.span_m[0]..=stretch.span_m[1]).contains(&along_m)
        });
        let behind = stretch.and_then(|stretch| stretch.neighbour.map(|n| (n, stretch.gap_m)));
        let mut rooms = vec![self.job.rooms[room].key.clone()];
        rooms.extend(behind.map(|(other, _)| self.job.rooms[other].key.clone()));
        // A room without an outline has no face to set the far jambs in.
        let far = behind.filter(|(other, _)| !self.walls[*other].is_empty());
        let far_jambs = far.map(|(_, gap)| jambs.map(|jamb| jamb + edge.outward() * gap.max(0.0)));
        let far_wall = far.zip(far_jambs).and_then(|((other, _), jambs)| {
            nearest_wall(&self.walls[other], jambs[0].lerp(jambs[1], 0.5))
        });
        let in_wall = InWall {
            room,
            wall,
            far_wall,
            opening: number,
            behind: behind.map(|(other, _)| other),
        };
        let kind = opening.kind.value;
        (PlacedOpening { key: opening.key.clone(), kind, rooms, jambs, far_jambs }, in_wall)
    }
}

/// The wall that a point lies on or nearest to.
fn nearest_wall(walls: &[Wall], point: Point) -> Option<usize> {
    let distance = |wall: &Wall| {
        let direction = (wall.to - wall.from).unit();
        let along = (point - wall.from).dot(direction).clamp(0.0, wall.length_m());
        (wall.from + direction * along).distance(point)
    };
    (0..walls.len()).min_by(|a, b| distance(&walls[*a]).total_cmp(&distance(&walls[*b])))
}

/// What an opening is made of: its own construction, or that of the house for its kind.
pub(super) fn construction_key<'a>(job: &'a Job, opening: &'a Opening) -> Option<&'a str> {
    let of_house = match opening.kind.value {
        OpeningKind::Window | OpeningKind::Skylight => &job.house.window,
        OpeningKind::Door => &job.house.door,
    };
    opening.assembly.as_ref().or(of_house.as_ref()).map(|stated| stated.value.as_str())
}
