//! The last look at every loop before it is handed out.
//!
//! How tube is laid rules these faults out, or the search avoids them; what slips through all
//! the same is withheld with a reason rather than drawn.

use super::draft::Ground;
use super::layout::Reason;
use super::plan::{Door, Plan};
use crate::chain;
use crate::path::{Path, Segment};
use crate::point::{Point, crossing, segment_distance, segments_distance};

/// Radii this little below the limit are rounding, metres.
const ROUNDING_M: f64 = 1e-4;

/// Changes of direction between pieces beyond this are kinks, radians.
const KINK_RAD: f64 = 5e-3;

/// Arcs that turn less are part of the line they lie in, radians.
const LEAST_TURN_RAD: f64 = 5e-3;

/// How far chords stay from arcs, metres.
const SAGITTA_M: f64 = 1e-4;

/// Tube nearer than this touches, metres.
const TOUCH_M: f64 = 1e-6;

/// Walls are passed this far beside the middle of a door beyond half its width, metres.
///
/// The middle lies within a wall's thickness of both its faces.
const WALL_M: f64 = 0.3;

/// Loops that have been let through, and where tube may pass walls.
pub(super) struct Gate<'a> {
    plan: &'a Plan,
    walls: Vec<[Point; 2]>,
    ports: [Point; 2],
    /// Edges of all tube let through, the lesser end first, by that end.
    edges: Vec<[Point; 2]>,
}

impl<'a> Gate<'a> {
    /// A gate for the loops of one manifold, with what others have laid already.
    pub(super) fn of<'p>(ground: &'a Ground, laid: impl IntoIterator<Item = &'p Path>) -> Gate<'a> {
        let free = ground.free.iter().flatten();
        let bare = free.flat_map(|f| f.annexes.iter().map(|a| &a.bare).chain([&f.bare]));
        let walls = bare.flat_map(|floor| floor.edges()).map(|(a, b)| [a, b]).collect();
        let ports = ground.plan.manifolds[ground.manifold].ports;
        let mut gate = Gate { plan: &ground.plan, walls, ports, edges: Vec::new() };
        laid.into_iter().for_each(|path| gate.add(&edges(path)));
        gate
    }

    /// Why a loop of a room must not be handed out; otherwise it counts as laid from now on.
    ///
    /// Lengths are those with the manifold's own tube. Bends are looked at if they are `bent`.
    pub(super) fn passed(
        &mut self,
        room: usize,
        path: &Path,
        extra_m: f64,
        bent: bool,
    ) -> Option<Reason> {
        let tube = self.plan.rooms[room].tube;
        let length_m = path.length_m() + extra_m;
        if length_m > tube.longest_loop_m + 1e-9 {
            return Some(Reason::OverLimit { length_m });
        }
        let radius_m = least_radius_m(path);
        if bent && radius_m < tube.bend_radius_m - ROUNDING_M {
            return Some(Reason::BendTooTight { radius_m });
        }
        let edges = edges(path);
        if !self.is_inside(&edges) || self.meets_others(&edges) {
            return Some(Reason::NoLayout);
        }
        self.add(&edges);
        None
    }

    fn add(&mut self, edges: &[[Point; 2]]) {
        self.edges.extend_from_slice(edges);
        self.edges.sort_by(|a, b| a[0].x.total_cmp(&b[0].x));
    }

    /// Whether tube passes walls and keep-outs only at doors and at the manifold.
    fn is_inside(&self, edges: &[[Point; 2]]) -> bool {
        let opens = |p: Point| {
            let in_door = |d: &Door| d.at.distance(p) < d.width_m / 2.0 + WALL_M;
            self.plan.doors.iter().any(in_door)
                || segment_distance(self.ports[0], self.ports[1], p) < WALL_M
        };
        let walls = self.walls.iter();
        walls.clone().all(|[a, b]| {
            let beside = |[c, d]: &&[Point; 2]| {
                c.x <= a.x.max(b.x)
                    && d.x >= a.x.min(b.x)
                    && c.y.min(d.y) <= a.y.max(b.y)
                    && c.y.max(d.y) >= a.y.min(b.y)
            };
            edges
                .iter()
                .filter(beside)
                .all(|[c, d]| crossing(*c, *d, *a, *b).is_none_or(|(t, _)| opens(c.lerp(*d, t))))
        })
    }

    /// Whether tube crosses what has been let through, or itself.
    fn meets_others(&self, edges: &[[Point; 2]]) -> bool {
        let reach = self.edges.iter().map(|[a, b]| b.x - a.x).fold(0.0, f64::max);
        edges.iter().any(|[c, d]| {
            let first = self.edges.partition_point(|e| e[0].x < c.x - reach);
            let near = self.edges[first..].iter().take_while(|e| e[0].x <= d.x);
            let (low, high) = (c.y.min(d.y), c.y.max(d.y));
            near.filter(|[a, b]| b.x >= c.x && a.y.min(b.y) <= high && a.y.max(b.y) >= low)
                .any(|[a, b]| segments_distance(*a, *b, *c, *d) < TOUCH_M)
        }) || meets_itself(edges)
    }
}

/// Pieces of a path as chords, each with its lesser end first.
fn edges(path: &Path) -> Vec<[Point; 2]> {
    let chords = path.chords(SAGITTA_M);
    let long = chain::edges(&chords).filter(|(a, b)| a.distance(*b) > 2.0 * TOUCH_M);
    long.map(|(a, b)| if a.x <= b.x { [a, b] } else { [b, a] }).collect()
}

/// Whether pieces of one path that do not follow each other cross.
fn meets_itself(edges: &[[Point; 2]]) -> bool {
    let mut sorted: Vec<(usize, &[Point; 2])> = edges.iter().enumerate().collect();
    sorted.sort_by(|a, b| a.1[0].x.total_cmp(&b.1[0].x));
    sorted.iter().enumerate().any(|(rank, (i, [a, b]))| {
        let later = sorted[rank + 1..].iter().take_while(|(_, e)| e[0].x <= b.x);
        later
            .filter(|(j, [c, d])| {
                i.abs_diff(*j) > 1 && a.y.min(b.y) <= c.y.max(d.y) && a.y.max(b.y) >= c.y.min(d.y)
            })
            .any(|(_, [c, d])| segments_distance(*a, *b, *c, *d) < TOUCH_M)
    })
}

/// Smallest radius of a path's arcs, nothing at a kink, metres.
fn least_radius_m(path: &Path) -> f64 {
    let kinks = path.segments.windows(2).map(|pair| {
        let turn = pair[0].direction_to().angle_to(pair[1].direction_from()).abs();
        if turn > KINK_RAD { 0.0 } else { f64::INFINITY }
    });
    let arcs = path.segments.iter().map(|segment| match segment {
        Segment::Arc { radius_m, turn_rad, .. } if turn_rad.abs() > LEAST_TURN_RAD => *radius_m,
        _ => f64::INFINITY,
    });
    kinks.chain(arcs).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[[f64; 2]]) -> Path {
        let points: Vec<Point> = points.iter().map(|p| Point::new(p[0], p[1])).collect();
        Path::rounded(&points, 0.08)
    }

    #[test]
    fn a_kink_has_no_radius_and_an_arc_its_own() {
        let bent = line(&[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]]);
        assert!((least_radius_m(&bent) - 0.08).abs() < 1e-12);
        let (from, corner, to) = (Point::default(), Point::new(1.0, 0.0), Point::new(1.0, 1.0));
        let segments = vec![Segment::Line { from, to: corner }, Segment::Line { from: corner, to }];
        assert_eq!(least_radius_m(&Path { segments }), 0.0);
    }

    #[test]
    fn a_path_that_turns_into_itself_meets_itself() {
        let knot = line(&[[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, -1.0]]);
        assert!(meets_itself(&edges(&knot)));
        let open = line(&[[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, 0.2]]);
        assert!(!meets_itself(&edges(&open)));
    }
}
