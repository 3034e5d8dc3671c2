//! Where the two ends of a loop lie, and the short way in from there.

use crate::chain;
use crate::clip;
use crate::point::{Point, segments_distance};
use crate::region::Region;

/// The short double strand from the wall to the first ring.
#[derive(Clone, Debug)]
pub(super) struct Stub {
    /// Middle between both ends, on the boundary.
    pub(super) foot: Point,
    /// Unit direction in which the strands come in.
    pub(super) inward: Point,
    /// Distance between the two strands, centre to centre.
    pub(super) gap: f64,
}

/// Farthest that the ends move along the wall from the entry, metres.
const FARTHEST_MOVE_M: f64 = 1.0;

/// Steps in which the ends move along the wall, metres.
const MOVE_STEP_M: f64 = 0.01;

/// The place nearest to the entry where two strands fit in at the wall.
///
/// They fit where both stand on the wall and, at the depth of the first strand,
/// keep `clearance` from every other wall.
/// Places from which `reaches` says no are passed over.
pub(super) fn stub(
    region: &Region,
    entry: Point,
    spacing: f64,
    clearance: f64,
    reaches: impl Fn(Point) -> bool,
) -> Option<Stub> {
    let mut best: Option<(f64, Stub)> = None;
    for (a, b) in region.edges() {
        let length = a.distance(b);
        if length < MOVE_STEP_M {
            continue;
        }
        let along = (b - a).unit();
        let nearest = (entry - a).dot(along).clamp(0.0, length);
        let away = a.lerp(b, nearest / length).distance(entry);
        let bound = best.as_ref().map_or(away + FARTHEST_MOVE_M, |b| b.0 - 1e-9);
        // Outwards from the nearest place of this edge, both ways in turn.
        let steps = (length.min(2.0 * FARTHEST_MOVE_M) / MOVE_STEP_M).ceil() as usize;
        'edge: for k in 0..=2 * steps {
            let shift = k.div_ceil(2) as f64 * MOVE_STEP_M * if k % 2 == 0 { 1.0 } else { -1.0 };
            let at = nearest + shift;
            if !(0.0..=length).contains(&at) {
                continue;
            }
            let foot = a + along * at;
            let distance = foot.distance(entry);
            if distance > bound {
                if shift.abs() > bound {
                    break 'edge;
                }
                continue;
            }
            if fits(region, foot, along, spacing, clearance) && reaches(foot) {
                best = Some((distance, Stub { foot, inward: along.left(), gap: spacing }));
                break 'edge;
            }
        }
    }
    let (distance, stub) = best?;
    let away = region.boundary_distance_m(entry);
    (distance <= away + FARTHEST_MOVE_M).then_some(stub)
}

fn fits(region: &Region, foot: Point, along: Point, spacing: f64, clearance: f64) -> bool {
    [-0.5, 0.5].into_iter().all(|side| {
        let end = foot + along * (side * spacing);
        let inside = end + along.left() * clearance;
        region.boundary_distance_m(end) < 1e-4
            && region.encloses(inside)
            && region.boundary_distance_m(inside) > 0.93 * clearance
    })
}

/// The way from the port to a track.
pub(super) struct Way {
    /// Its centreline, beginning at the port.
    pub(super) line: Vec<Point>,
    /// The place of the track that is nearest to its end, mostly the end itself.
    pub(super) meets: Point,
}

impl Stub {
    /// The centreline from the wall to a track: straight in where that is free,
    /// else along the wall as far as it takes.
    pub(super) fn way(&self, floor: &Region, tracks: &[Vec<Point>], s: f64) -> Option<Way> {
        let straight = self.straight(tracks, s).filter(|end| self.is_clear(floor, self.foot, *end));
        let line = match straight {
            Some(end) => (end.distance(self.foot) > 1e-3).then(|| vec![self.foot, end]),
            None => self.along_walls(floor, tracks, s),
        }?;
        let meets = project(tracks, *line.last()?).0;
        Some(Way { line, meets })
    }

    /// Where the way straight in meets a track, or the depth of a track that begins
    /// a little to one side, as beside a corner.
    fn straight(&self, tracks: &[Vec<Point>], s: f64) -> Option<Point> {
        let far = self.foot + self.inward * (6.0 * s);
        let hits = tracks
            .iter()
            .flat_map(|track| chain::edges(track))
            .filter_map(|(a, b)| crate::point::crossing(self.foot, far, a, b))
            .map(|(t, _)| t);
        let straight = hits.fold(f64::INFINITY, f64::min) * 6.0 * s;
        let (foot, distance) = project(tracks, self.foot);
        let depth = (foot - self.foot).dot(self.inward);
        let aside = (foot - self.foot).cross(self.inward).abs();
        if straight <= 1.5 * distance {
            Some(self.foot + self.inward * straight)
        } else if depth > 0.0 && aside < 1.05 * s {
            Some(self.foot + self.inward * depth)
        } else {
            None
        }
    }

    /// Whether both strands of a straight stretch keep off the walls.
    fn is_clear(&self, floor: &Region, from: Point, to: Point) -> bool {
        let along = (to - from).unit();
        // At the wall itself the strands come from outside.
        let begin = from + along * self.gap;
        from.distance(to) <= self.gap
            || (floor.encloses(to)
                && floor
                    .edges()
                    .all(|(a, b)| segments_distance(begin, to, a, b) >= 0.9 * self.gap / 2.0))
    }

    /// Along the wall at the distance of one gap until a track is in free reach.
    fn along_walls(&self, floor: &Region, tracks: &[Vec<Point>], s: f64) -> Option<Vec<Point>> {
        let mut best: Option<(f64, Vec<Point>)> = None;
        for piece in clip::erode(std::slice::from_ref(floor), 0.98 * self.gap) {
            for ring in piece.rings() {
                let closed = chain::opened(ring);
                let (on, distance, along) = chain::project(&closed, self.foot);
                if distance > 2.5 * self.gap || !self.is_clear(floor, self.foot, on) {
                    continue;
                }
                let mut walk = chain::restarted(&closed, along);
                for _ in 0..2 {
                    let bound = best.as_ref().map_or(0.7 * chain::length(&walk), |b| b.0 - 1e-6);
                    if let Some((length, link)) = self.walked(floor, &walk, tracks, bound, s) {
                        let mut line = vec![self.foot];
                        for p in chain::slice(&walk, 0.0, length).into_iter().chain([link]) {
                            chain::push_new(&mut line, p);
                        }
                        best = Some((length, chain::thinned(&line, 1e-4)));
                    }
                    walk.reverse();
                }
            }
        }
        best.map(|(_, line)| line).filter(|line| line.len() > 1)
    }

    /// How far to walk until the track is in free reach, and where it is met.
    fn walked(
        &self,
        floor: &Region,
        walk: &[Point],
        tracks: &[Vec<Point>],
        bound: f64,
        s: f64,
    ) -> Option<(f64, Point)> {
        let step = 0.1 * s;
        let steps = (bound / step).floor() as usize;
        (0..=steps).map(|k| k as f64 * step).find_map(|length| {
            let here = chain::at(walk, length);
            let (foot, distance) = project(tracks, here);
            (distance <= 3.0 * s && self.is_clear(floor, here, foot)).then_some((length, foot))
        })
    }

    /// The two ends of the loop on the wall: where it starts and where it ends.
    pub(super) fn ends(&self) -> (Point, Point) {
        let half = self.inward.left() * (-self.gap / 2.0);
        (self.foot + half, self.foot - half)
    }
}

/// The nearest place of several tracks and its distance.
fn project(tracks: &[Vec<Point>], p: Point) -> (Point, f64) {
    let mut best = (p, f64::INFINITY);
    for track in tracks {
        let (foot, distance, _) = chain::project(track, p);
        if distance < best.1 - 1e-9 {
            best = (foot, distance);
        }
    }
    best
}
