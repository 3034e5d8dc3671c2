//! How near tube comes to each wall, and the strip along it where fixing is allowed.

use super::walls::Wall;
use crate::drawing::Plan;
use job::Room;
use plane::Point;

/// Tube is looked at in steps of this along it, metres.
const STEP_M: f64 = 0.02;
/// Tube farther from a wall than this is not looked for, metres.
const LOOK_M: f64 = 0.5;
/// A strip narrower than this is of no use to anybody, metres.
const NARROWEST_M: f64 = 0.02;
/// A stretch of wall shorter than this is not worth a number, metres.
const SHORTEST_M: f64 = 0.25;
/// How near two distances are the same, metres.
const SAME_M: f64 = 1e-6;
/// Strips are told in full steps of this, rounded down, metres.
const WHOLE_M: f64 = 0.005;

/// A stretch of wall that no tube crosses.
pub(crate) struct Stretch<'a> {
    pub(crate) room: &'a Room,
    pub(crate) wall: Wall,
    /// Where it begins and ends along the wall, metres.
    pub(crate) along_m: [f64; 2],
    /// Distance of the nearest tube's centre from the wall, metres; none if it is far.
    pub(crate) nearest_m: Option<f64>,
    /// Depth of the strip where fixing is allowed, metres.
    pub(crate) free_m: f64,
}

impl Stretch<'_> {
    /// Its beginning and end on the wall.
    pub(crate) fn ends(&self) -> [Point; 2] {
        self.along_m.map(|at_m| self.wall.from + self.wall.along() * at_m)
    }

    /// The corners of the strip where fixing is allowed.
    pub(crate) fn strip(&self) -> Vec<Point> {
        let ([a, b], deep) = (self.ends(), self.wall.inward() * self.free_m);
        vec![a, b, b + deep, a + deep]
    }
}

/// The free stretches along the walls of all rooms with tube on a storey.
pub(crate) fn stretches<'a>(plan: &Plan<'a>) -> Vec<Stretch<'a>> {
    let safety_m = plan.source.job.rules.fastener_clearance.si();
    let tube: Vec<Point> =
        plan.loops.iter().flat_map(|(tube, _)| tube.path.sample(STEP_M)).collect();
    let mut all = Vec::new();
    for (room, _, region) in &plan.rooms {
        let (low, high) = region.bounds();
        let within =
            |it: &&Point| low.x <= it.x && it.x <= high.x && low.y <= it.y && it.y <= high.y;
        let here: Vec<Point> = tube.iter().filter(within).copied().collect();
        let here: Vec<Point> = here.into_iter().filter(|it| region.contains(*it)).collect();
        if here.is_empty() {
            continue;
        }
        for wall in Wall::all(room, region) {
            along_wall(room, &wall, &here, safety_m, &mut all);
        }
    }
    all
}

fn along_wall<'a>(
    room: &'a Room,
    wall: &Wall,
    tube: &[Point],
    safety_m: f64,
    all: &mut Vec<Stretch<'a>>,
) {
    let places = tube.iter().map(|it| (wall.at_m(*it), wall.off_m(*it)));
    let near: Vec<(f64, f64)> = places.filter(|(_, off)| (0.0..=LOOK_M).contains(off)).collect();
    let closed = near.iter().filter(|(_, off)| *off < safety_m + NARROWEST_M).map(|(at, _)| *at);
    // What closes a stretch lies exactly the margin beyond its end.
    let margin_m = safety_m - SAME_M;
    // Who faces the wall has its end on the left.
    for [begin, end] in left_open(wall.length_m(), closed.collect(), safety_m).into_iter().rev() {
        if end - begin < SHORTEST_M {
            continue;
        }
        let beside = near.iter().filter(|(at, _)| begin - margin_m < *at && *at < end + margin_m);
        let nearest_m = beside.map(|(_, off)| *off).reduce(f64::min);
        let free_m = ((nearest_m.unwrap_or(LOOK_M) - safety_m) / WHOLE_M + 1e-6).floor() * WHOLE_M;
        all.push(Stretch {
            room,
            wall: wall.clone(),
            along_m: [begin, end],
            nearest_m,
            free_m: free_m.max(0.0),
        });
    }
}

/// The stretches between places that are closed, each with a margin to both sides.
fn left_open(length_m: f64, mut closed: Vec<f64>, margin_m: f64) -> Vec<[f64; 2]> {
    closed.sort_by(f64::total_cmp);
    let mut open = Vec::new();
    let mut begin = 0.0;
    for at in closed {
        let end = (at - margin_m).min(length_m);
        if end > begin {
            open.push([begin, end]);
        }
        begin = f64::max(begin, at + margin_m);
    }
    if begin < length_m {
        open.push([begin, length_m]);
    }
    open
}
