//! Where the tubes of a manifold come down to the floor of a storey.

use crate::envelope::{Enclosure, Envelope};
use crate::words::Words;
use job::{Finding, Job, Manifold, Passage, PassageKind, Severity};
use plane::{Point, Region};
use quantity::Quantity;

/// A manifold or riser may stand in the wall of its room, this deep at most, metres.
const IN_WALL_M: f64 = 0.5;
/// Two tubes of one loop side by side at the wall take this much of it, metres.
///
/// Common practice: ports at 50 mm, each loop with two.
const PER_LOOP_M: f64 = 0.11;
/// Room that tubes need between the end of a wall and the first of them, metres.
const FROM_CORNER_M: f64 = 0.12;

/// A place where tubes of one manifold reach one storey.
#[derive(Clone, Debug)]
pub(crate) struct Access<'a> {
    pub(crate) manifold: &'a Manifold,
    /// The riser or way under the floor, unless the manifold hangs in this room.
    pub(crate) through: Option<&'a Passage>,
    /// Number of the room in the envelope.
    pub(crate) room: usize,
    pub(crate) at: Point,
    /// Tube between manifold and the passage's end here, one way, metres.
    pub(crate) way_m: f64,
}

impl Access<'_> {
    /// Tube of each loop that does not lie on this floor, both ends together, metres.
    pub(crate) fn extra_m(&self) -> f64 {
        2.0 * (self.manifold.height.value.si() + self.manifold.tail.value.si() + self.way_m)
    }

    /// The stretch of wall for that many loops, around its place as far as the wall goes.
    pub(crate) fn ports(&self, floor: &Region, loops: usize) -> [Point; 2] {
        let at = floor.nearest_boundary(self.at);
        let wall = floor
            .edges()
            .filter(|(a, b)| a.distance(*b) > 1e-3)
            .min_by(|x, y| off(*x, at).total_cmp(&off(*y, at)));
        let Some((a, b)) = wall else { return [at, at] };
        let (length, along) = (a.distance(b), (b - a).unit());
        let half = 0.5 * (PER_LOOP_M * loops as f64).min((length - 2.0 * FROM_CORNER_M).max(0.1));
        let least = (FROM_CORNER_M + half).min(length / 2.0);
        let middle = (at - a).dot(along).clamp(least, (length - least).max(least));
        [a + along * (middle - half), a + along * (middle + half)]
    }
}

/// Distance of a place from a stretch of wall.
fn off((a, b): (Point, Point), p: Point) -> f64 {
    let along = (b - a).unit();
    let share = (p - a).dot(along).clamp(0.0, a.distance(b));
    p.distance(a + along * share)
}

/// All places where manifolds reach a storey; what hangs nowhere gives findings.
///
/// A manifold whose place the text does not give was told when the text was read.
pub(crate) fn accesses<'a>(
    job: &'a Job,
    envelope: &Envelope,
    findings: &mut Vec<Finding>,
) -> Vec<Access<'a>> {
    let mut all: Vec<Access<'a>> = Vec::new();
    for manifold in &job.manifolds {
        all.extend(hung(job, envelope, manifold, findings));
    }
    let at_manifolds = all.clone();
    for passage in job.passages.iter().filter(|passage| leaves_the_floor(passage)) {
        all.extend(through(job, envelope, &at_manifolds, passage, findings));
    }
    all
}

/// Whether tubes in a passage run in another plane than the floor.
fn leaves_the_floor(passage: &Passage) -> bool {
    match passage.kind.value {
        PassageKind::Riser | PassageKind::UnderJoists | PassageKind::ThroughJoists => true,
        PassageKind::Doorway | PassageKind::Sleeve => false,
    }
}

fn hung<'a>(
    job: &Job,
    envelope: &Envelope,
    manifold: &'a Manifold,
    findings: &mut Vec<Finding>,
) -> Option<Access<'a>> {
    let at = manifold.at.as_ref()?.value;
    let room = match manifold.room.as_ref() {
        Some(room) => number(envelope, &room.value)?,
        None => nearest_room(envelope, at)?,
    };
    let away_m = away(&envelope.enclosures[room], at)?;
    if away_m > IN_WALL_M {
        let words = Words { first: job.units.value };
        let key = &envelope.enclosures[room].room;
        findings.push(
            Finding::new(
                Severity::Stop,
                "manifold-outside",
                format!("manifold.{}", manifold.key),
                format!("hangs {} outside room {key}", words.tape(away_m)),
                "check `at`, or name the room it hangs in",
            )
            .at(manifold.at.as_ref().and_then(|at| at.place()))
            .amount(away_m),
        );
        return None;
    }
    Some(Access { manifold, through: None, room, at, way_m: 0.0 })
}

/// The far end of a riser or of a way under the floor, for the manifold at its near end.
fn through<'a>(
    job: &Job,
    envelope: &Envelope,
    hung: &[Access<'a>],
    passage: &'a Passage,
    findings: &mut Vec<Finding>,
) -> Option<Access<'a>> {
    let subject = format!("passage.{}", passage.key);
    let tell = |message: &str, advice: &str| {
        let message = format!("passage {} {message}", passage.key);
        Finding::new(Severity::Note, "passage-unused", &subject, message, advice).at(passage.place)
    };
    let (Some(from), Some(to), Some(at)) = (&passage.from, &passage.to, &passage.at) else {
        let message = "says not where it starts, leads to and stands, so no leader takes it";
        findings.push(tell(message, "give it `from`, `to` and `at`"));
        return None;
    };
    let (from, to) = (number(envelope, &from.value)?, number(envelope, &to.value)?);
    // Tubes may go either way; the end with a manifold is where they start.
    let starts_at = |room: usize| hung.iter().find(|access| access.room == room);
    let (near, far) = match (starts_at(from), starts_at(to)) {
        (Some(access), _) => (access, to),
        (None, Some(access)) => (access, from),
        (None, None) => {
            let message = "leads from no room with a manifold, so no leader takes it";
            findings.push(tell(message, "let it start in the room that a manifold hangs in"));
            return None;
        }
    };
    let away_m = away(&envelope.enclosures[far], at.value)?;
    if away_m > IN_WALL_M {
        let words = Words { first: job.units.value };
        let room = &envelope.enclosures[far].room;
        let message = format!("ends {} outside room {room}", words.tape(away_m));
        findings.push(tell(&message, "check its `at`"));
        return None;
    }
    let rise_m = envelope.enclosures[far].level_m - envelope.enclosures[near.room].level_m;
    let way_m = near.at.distance(at.value) + rise_m.abs();
    Some(Access { manifold: near.manifold, through: Some(passage), room: far, at: at.value, way_m })
}

fn number(envelope: &Envelope, key: &str) -> Option<usize> {
    envelope.enclosures.iter().position(|one| one.room == key)
}

/// Distance of a place from a room's floor; none for a room without an outline.
fn away(enclosure: &Enclosure, at: Point) -> Option<f64> {
    let floor = enclosure.floor.as_ref()?;
    Some(if floor.contains(at) { 0.0 } else { floor.boundary_distance_m(at) })
}

fn nearest_room(envelope: &Envelope, at: Point) -> Option<usize> {
    let rooms = envelope.enclosures.iter().enumerate();
    rooms
        .filter_map(|(number, enclosure)| Some((number, away(enclosure, at)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, metres)| *metres < IN_WALL_M)
        .map(|(number, _)| number)
}
