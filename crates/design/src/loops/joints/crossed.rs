//! Where tube crosses joints, measured on the tube as it is laid.

use super::super::TubeLoop;
use super::{drawn_on, may_lie_in};
use crate::figure::Figure;
use job::{Job, Joint, JointKind};
use plane::{Path, Point, Segment};
use quantity::{Length, Quantity};

/// Arcs are cut into pieces of this length at most to find where they cross, metres.
const PIECE_M: f64 = 0.005;

/// A part of a loop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoopPart {
    /// From the supply port to its field.
    Supply,
    /// On the floor that it heats.
    Field,
    /// From its field to the return port.
    Return,
}

impl LoopPart {
    /// The part in one word.
    pub const fn word(self) -> &'static str {
        match self {
            LoopPart::Supply => "supply",
            LoopPart::Field => "field",
            LoopPart::Return => "return",
        }
    }

    /// The part of a loop at that distance from its supply port, metres on the floor.
    fn at(tube: &TubeLoop, along_m: f64) -> LoopPart {
        let [begin, end] = tube.field_m();
        match along_m {
            early if early < begin => LoopPart::Supply,
            late if late > end => LoopPart::Return,
            _ => LoopPart::Field,
        }
    }
}

/// A tube over or under a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointCrossing {
    /// The joint, by key.
    pub joint: String,
    /// What it is.
    pub kind: JointKind,
    /// The loop, by key.
    pub of_loop: String,
    /// The part of the loop that crosses.
    pub part: LoopPart,
    /// Its place on the plan, in metres.
    pub at: Point,
    /// Unit direction of the water.
    pub direction: Point,
    /// Tube on the floor from the supply port to the joint.
    pub along: Figure<Length>,
    /// Tube of the loop on the floor, from port to port, in metres.
    pub tube_m: f64,
    /// Length of the sleeve, half of it to each side; none at a saw cut.
    pub sleeve: Option<Figure<Length>>,
}

impl JointCrossing {
    /// Where the sleeve begins and ends, in metres of tube on the floor from the supply port; beside
    /// a port it ends there.
    pub fn sleeved_m(&self) -> Option<[f64; 2]> {
        let half_m = self.sleeve.as_ref()?.si() / 2.0;
        let (from_m, to_m) = (self.along.si() - half_m, self.along.si() + half_m);
        Some([from_m.max(0.0), to_m.min(self.tube_m)])
    }
}

/// All places where tube in the floor crosses a joint: joint by joint, loop by loop.
pub(crate) fn crossings(
    job: &Job,
    loops: &[TubeLoop],
    is_wet: &dyn Fn(&str) -> bool,
) -> Vec<JointCrossing> {
    let reach_m = job.house.thickest_wall.value.si();
    let mut all = Vec::new();
    for joint in &job.joints {
        for tube in loops.iter().filter(|tube| is_wet(&tube.room)) {
            let Some(room) = job.rooms.iter().position(|room| room.key == tube.room) else {
                continue;
            };
            let only = joint.room.as_ref().map(|room| room.value.as_str());
            let may = match only {
                Some(only) => touches(tube, only),
                None => may_lie_in(job, joint, room),
            };
            if may {
                all.extend(of_loop(job, joint, reach_m, tube));
            }
        }
    }
    all
}

/// Whether a loop heats or passes a room.
fn touches(tube: &TubeLoop, room: &str) -> bool {
    let heats = tube.rooms.iter().any(|part| part.room == room);
    heats || tube.leader.passed.iter().any(|passed| passed.room == room)
}

fn of_loop(job: &Job, joint: &Joint, reach_m: f64, tube: &TubeLoop) -> Vec<JointCrossing> {
    let rule = &job.rules.joint_sleeve;
    let mut all: Vec<JointCrossing> = Vec::new();
    for leg in drawn_on(joint, reach_m) {
        for (along_m, at, direction) in meets(&tube.path, leg) {
            all.push(JointCrossing {
                joint: joint.key.clone(),
                kind: joint.kind.value,
                of_loop: tube.key.clone(),
                part: LoopPart::at(tube, along_m),
                at,
                direction,
                along: Figure::taken_off(
                    "tube from the supply port to the joint",
                    along_m,
                    "lines and arcs as drawn, on the floor",
                ),
                tube_m: tube.path.length_m(),
                sleeve: (joint.kind.value == JointKind::Movement)
                    .then(|| Figure::rule("sleeve at a movement joint", rule)),
            });
        }
    }
    all.sort_by(|a, b| a.along.si().total_cmp(&b.along.si()));
    // Two legs of a joint may both hold the corner between them.
    all.dedup_by(|a, b| (a.along.si() - b.along.si()).abs() < 1e-6);
    all
}

/// Distances, places and directions at which a path crosses a line.
fn meets(path: &Path, [a, b]: [Point; 2]) -> Vec<(f64, Point, Point)> {
    let mut all = Vec::new();
    let mut along = 0.0;
    for segment in &path.segments {
        let length = segment.length_m();
        let pieces = match segment {
            Segment::Line { .. } => 1,
            Segment::Arc { .. } => (length / PIECE_M).ceil().clamp(1.0, 1e4) as usize,
        };
        let step = length / pieces as f64;
        for number in 0..pieces {
            let begin = step * number as f64;
            let (from, to) = (segment.point_at(begin), segment.point_at(begin + step));
            if let Some(share) = meet([from, to], [a, b]) {
                all.push((along + begin + step * share, from.lerp(to, share), (to - from).unit()));
            }
        }
        along += length;
    }
    all
}

/// The share of the first line at which it crosses the second; its end belongs to the next.
fn meet([from, to]: [Point; 2], [a, b]: [Point; 2]) -> Option<f64> {
    let side = |it: Point| (b - a).cross(it - a);
    let (one, other) = (side(from), side(to));
    if (one >= 0.0) == (other >= 0.0) {
        return None;
    }
    let share = one / (one - other);
    let along = (from.lerp(to, share) - a).dot(b - a);
    (0.0..=(b - a).dot(b - a)).contains(&along).then_some(share)
}
