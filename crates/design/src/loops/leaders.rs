//! The way from the manifold to a room, through doorways.
//!
//! The shortest way only: leaders that are laid beside each other without crossing come with
//! `plane::route`, whose answer replaces this one at the same place.

use super::Leader;
use crate::envelope::{Enclosure, Envelope};
use crate::words::Words;
use job::{Finding, Job, Manifold, OpeningKind, Severity};
use plane::Point;
use plane::route::{Door, Floor, shortest};

/// A manifold may hang in the wall of its room, this deep at most, metres.
const IN_WALL_M: f64 = 0.5;

/// The plan of all rooms with an outline, as leaders see it.
pub(crate) struct Ways<'a> {
    job: &'a Job,
    floor: Floor,
    /// Number in the envelope of each room on the plan.
    rooms: Vec<usize>,
    /// Opening key of each door on the plan.
    doors: Vec<String>,
}

/// A manifold that hangs in a known place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hung<'a> {
    pub(crate) manifold: &'a Manifold,
    /// Number of its room in the envelope.
    pub(crate) room: usize,
    pub(crate) at: Point,
}

impl<'a> Ways<'a> {
    pub(crate) fn new(job: &'a Job, envelope: &Envelope) -> Self {
        let (mut rooms, mut floors) = (Vec::new(), Vec::new());
        for (number, enclosure) in envelope.enclosures.iter().enumerate() {
            if let Some(region) = walkable(enclosure) {
                rooms.push(number);
                floors.push(region.clone());
            }
        }
        let (mut doors, mut names) = (Vec::new(), Vec::new());
        for opening in &envelope.openings {
            let ([one, other], Some(far)) = (opening.rooms.as_slice(), opening.far_jambs) else {
                continue;
            };
            let place = |key: &str| {
                rooms.iter().position(|number| envelope.enclosures[*number].room == *key)
            };
            let (Some(one), Some(other)) = (place(one), place(other)) else { continue };
            if opening.kind == OpeningKind::Door {
                let at = [opening.jambs[0].lerp(far[0], 0.5), opening.jambs[1].lerp(far[1], 0.5)];
                let width_m = at[0].distance(at[1]);
                doors.push(Door { rooms: [one, other], at, width_m, passable: true });
                names.push(opening.key.clone());
            }
        }
        Ways { job, floor: Floor { rooms: floors, doors }, rooms, doors: names }
    }

    /// The manifold with its room and place; one that hangs nowhere gives a finding.
    ///
    /// A manifold whose place the text does not give was told when the text was read.
    pub(crate) fn hang(
        &self,
        envelope: &Envelope,
        manifold: &'a Manifold,
        findings: &mut Vec<Finding>,
    ) -> Option<Hung<'a>> {
        let at = manifold.at.as_ref()?.value;
        let named = manifold.room.as_ref().map(|room| room.value.as_str());
        let room = match named {
            Some(key) => envelope.enclosures.iter().position(|one| one.room == key)?,
            None => self.nearest_room(envelope, at)?,
        };
        let floor = envelope.enclosures[room].floor.as_ref()?;
        let away_m = if floor.contains(at) { 0.0 } else { floor.boundary_distance_m(at) };
        if away_m > IN_WALL_M {
            let words = Words { first: self.job.units.value };
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
        self.rooms.contains(&room).then_some(Hung { manifold, room, at })
    }

    fn nearest_room(&self, envelope: &Envelope, at: Point) -> Option<usize> {
        let distance = |number: usize| {
            let floor = envelope.enclosures[number].floor.as_ref()?;
            Some(if floor.contains(at) { 0.0 } else { floor.boundary_distance_m(at) })
        };
        self.rooms
            .iter()
            .filter_map(|number| Some((*number, distance(*number)?)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, metres)| *metres < 0.5)
            .map(|(number, _)| number)
    }

    /// The way from a manifold to a place in a room.
    pub(crate) fn to(&self, hung: Hung<'_>, room: usize, place: Point) -> Option<Leader> {
        let from = self.rooms.iter().position(|number| *number == hung.room)?;
        let to = self.rooms.iter().position(|number| *number == room)?;
        let route = shortest(&self.floor, (from, hung.at), (to, place))?;
        let key = |on_plan: usize| self.job.rooms[self.rooms[on_plan]].key.clone();
        Some(Leader {
            points: route.points,
            length_m: route.length_m,
            doorways: route.doors.iter().map(|door| self.doors[*door].clone()).collect(),
            lengths: route.rooms.iter().map(|(room, metres)| (key(*room), *metres)).collect(),
            routed: false,
        })
    }

    /// Where a leader from that manifold first comes onto a floor of the room.
    pub(crate) fn entry(&self, hung: Hung<'_>, room: usize, place: Point) -> Option<Point> {
        let leader = self.to(hung, room, place)?;
        let Some(last) = leader.doorways.last() else { return Some(hung.at) };
        let door = self.doors.iter().position(|key| key == last)?;
        let [one, other] = self.floor.doors[door].at;
        Some(one.lerp(other, 0.5))
    }
}

/// Where leaders can go in a room: round its keep-outs if they leave it in one piece.
fn walkable(enclosure: &Enclosure) -> Option<&plane::Region> {
    match enclosure.free.as_slice() {
        [one] => Some(one),
        _ => enclosure.floor.as_ref(),
    }
}
