//! Tube as it lies: straight pieces and arcs, one after the other.

use std::f64::consts::PI;

use crate::chain;
use crate::point::Point;

/// One piece of tube: straight or circular.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight piece.
    Line {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
    },
    /// A piece of a circle.
    Arc {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
        /// Centre of the circle.
        centre: Point,
        /// Radius of the circle in metres.
        radius_m: f64,
        /// Angle turned in radians, positive to the left.
        turn_rad: f64,
    },
}

/// A bend: a run of arcs that turn the same way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Middle of the tightest arc of the bend.
    pub at: Point,
    /// Radius of the tightest arc in metres.
    pub radius_m: f64,
    /// Angle turned by the whole bend in radians, positive to the left.
    pub turn_rad: f64,
    /// Distance of `at` from the start of the path in metres.
    pub at_distance_m: f64,
}

/// A run of tube from one end to the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// The pieces in order, each beginning where the one before ended.
    pub segments: Vec<Segment>,
}

/// Straight pieces shorter than this do not end a bend, metres.
const SAME_BEND_M: f64 = 0.01;

impl Segment {
    /// Where the piece begins.
    pub fn from(&self) -> Point {
        match *self {
            Segment::Line { from, .. } | Segment::Arc { from, .. } => from,
        }
    }

    /// Where the piece ends.
    pub fn to(&self) -> Point {
        match *self {
            Segment::Line { to, .. } | Segment::Arc { to, .. } => to,
        }
    }

    /// True length along the line or the arc, metres.
    pub fn length_m(&self) -> f64 {
        match *self {
            Segment::Line { from, to } => from.distance(to),
            Segment::Arc { radius_m, turn_rad, .. } => radius_m * turn_rad.abs(),
        }
    }

    /// Point at a distance in metres from the beginning, clamped to the piece.
    pub fn point_at(&self, distance_m: f64) -> Point {
        let length = self.length_m();
        let share = if length > 0.0 { (distance_m / length).clamp(0.0, 1.0) } else { 0.0 };
        match *self {
            Segment::Line { from, to } => from.lerp(to, share),
            Segment::Arc { from, centre, turn_rad, .. } => {
                let (sin, cos) = (turn_rad * share).sin_cos();
                let arm = from - centre;
                centre + arm * cos + arm.left() * sin
            }
        }
    }

    /// Unit direction of travel at the beginning.
    pub fn direction_from(&self) -> Point {
        match *self {
            Segment::Line { from, to } => (to - from).unit(),
            Segment::Arc { from, centre, turn_rad, .. } => {
                (from - centre).left().unit() * turn_rad.signum()
            }
        }
    }

    /// Unit direction of travel at the end.
    pub fn direction_to(&self) -> Point {
        match *self {
            Segment::Line { from, to } => (to - from).unit(),
            Segment::Arc { to, centre, turn_rad, .. } => {
                (to - centre).left().unit() * turn_rad.signum()
            }
        }
    }

    /// Unit direction of travel at a distance in metres from the beginning, clamped.
    pub fn direction_at(&self, distance_m: f64) -> Point {
        match *self {
            Segment::Line { .. } => self.direction_from(),
            Segment::Arc { centre, turn_rad, .. } => {
                (self.point_at(distance_m) - centre).left().unit() * turn_rad.signum()
            }
        }
    }

    /// The part between two distances in metres from the beginning, clamped.
    ///
    /// Distances beyond an end leave that end exactly as it is.
    pub fn between(&self, from_m: f64, to_m: f64) -> Segment {
        let length = self.length_m();
        let from = if from_m > 0.0 { self.point_at(from_m) } else { self.from() };
        let to = if to_m < length { self.point_at(to_m) } else { self.to() };
        match *self {
            Segment::Line { .. } => Segment::Line { from, to },
            Segment::Arc { centre, radius_m, turn_rad, .. } => {
                let kept = to_m.clamp(0.0, length) - from_m.clamp(0.0, length);
                let share = if length > 0.0 { kept / length } else { 1.0 };
                Segment::Arc { from, to, centre, radius_m, turn_rad: turn_rad * share }
            }
        }
    }

    /// The same piece travelled the other way.
    pub fn reversed(&self) -> Segment {
        match *self {
            Segment::Line { from, to } => Segment::Line { from: to, to: from },
            Segment::Arc { from, to, centre, radius_m, turn_rad } => {
                Segment::Arc { from: to, to: from, centre, radius_m, turn_rad: -turn_rad }
            }
        }
    }
}

impl Path {
    /// True length along lines and arcs, metres.
    pub fn length_m(&self) -> f64 {
        self.segments.iter().map(Segment::length_m).sum()
    }

    /// Where the path begins, if it has any piece.
    pub fn start(&self) -> Option<Point> {
        self.segments.first().map(Segment::from)
    }

    /// Where the path ends, if it has any piece.
    pub fn end(&self) -> Option<Point> {
        self.segments.last().map(Segment::to)
    }

    /// Point at a distance in metres along the path, clamped to its ends.
    ///
    /// Nothing for a path without pieces.
    pub fn point_at(&self, distance_m: f64) -> Option<Point> {
        let mut rest = distance_m.max(0.0);
        for segment in &self.segments {
            let length = segment.length_m();
            if rest <= length {
                return Some(segment.point_at(rest));
            }
            rest -= length;
        }
        self.end()
    }

    /// Points no farther than `step_m` apart along the path, both ends included.
    ///
    /// The ends of pieces are always among them. A step that is not a positive
    /// number, or below a tenth of a millimetre, is taken as a tenth of one.
    pub fn sample(&self, step_m: f64) -> Vec<Point> {
        let step = if step_m >= 1e-4 { step_m } else { 1e-4 };
        let mut points: Vec<Point> = self.start().into_iter().collect();
        for segment in &self.segments {
            let length = segment.length_m();
            let count = (length / step).ceil().max(1.0) as usize;
            for k in 1..count {
                points.push(segment.point_at(length * k as f64 / count as f64));
            }
            points.push(segment.to());
        }
        points
    }

    /// The path as straight chords that stay within `sagitta_m` of it.
    pub fn chords(&self, sagitta_m: f64) -> Vec<Point> {
        let sagitta = if sagitta_m >= 1e-7 { sagitta_m } else { 1e-7 };
        let mut points: Vec<Point> = self.start().into_iter().collect();
        for segment in &self.segments {
            if let Segment::Arc { radius_m, turn_rad, .. } = *segment {
                let step = 2.0 * (1.0 - (sagitta / radius_m).min(0.5)).acos();
                let count = (turn_rad.abs() / step).ceil().clamp(1.0, 1e4) as usize;
                let length = segment.length_m();
                for k in 1..count {
                    points.push(segment.point_at(length * k as f64 / count as f64));
                }
            }
            points.push(segment.to());
        }
        points
    }

    /// The same tube travelled the other way.
    pub fn reversed(&self) -> Path {
        Path { segments: self.segments.iter().rev().map(Segment::reversed).collect() }
    }

    /// All bends in order: runs of arcs that turn the same way.
    ///
    /// Straight pieces shorter than 10 mm do not end a run. Corners without an
    /// arc are not bends; the verifier reports them as kinks.
    pub fn bends(&self) -> Vec<Bend> {
        let mut bends: Vec<Bend> = Vec::new();
        let mut along = 0.0;
        let mut straight = f64::INFINITY;
        for segment in &self.segments {
            let length = segment.length_m();
            match *segment {
                Segment::Line { .. } => straight += length,
                Segment::Arc { radius_m, turn_rad, .. } => {
                    let arc = Bend {
                        at: segment.point_at(length / 2.0),
                        radius_m,
                        turn_rad,
                        at_distance_m: along + length / 2.0,
                    };
                    match bends.last_mut() {
                        Some(b) if straight < SAME_BEND_M && b.turn_rad * turn_rad > 0.0 => {
                            join(b, arc);
                        }
                        _ => bends.push(arc),
                    }
                    straight = 0.0;
                }
            }
            along += length;
        }
        bends
    }

    /// A path along straight edges with every corner rounded.
    ///
    /// Each corner gets the radius `radius_m` if its edges are long enough for
    /// it, else as much as they allow; an edge too short for the arcs at both
    /// its ends is shared between them in proportion. Corners below two degrees
    /// are rounded as well, so the path has no kink.
    pub fn rounded(corners: &[Point], radius_m: f64) -> Path {
        let mut points = Vec::with_capacity(corners.len());
        for p in corners {
            chain::push_new(&mut points, *p);
        }
        let (turns, tangents) = tangent_lengths(&points, radius_m);
        let mut segments = Vec::with_capacity(2 * points.len());
        let mut here = points.first().copied().unwrap_or_default();
        for i in 1..points.len() {
            let (before, corner) = (points[i - 1], points[i]);
            let back = (before - corner).unit();
            let begin = corner + back * tangents[i];
            push_line(&mut segments, here, begin);
            here = begin;
            if tangents[i] > 0.0 {
                let radius = tangents[i] / (turns[i].abs() / 2.0).tan();
                let ahead = (points[i + 1] - corner).unit();
                let end = corner + ahead * tangents[i];
                let centre = begin + (-back).left() * (radius * turns[i].signum());
                segments.push(Segment::Arc {
                    from: begin,
                    to: end,
                    centre,
                    radius_m: radius,
                    turn_rad: turns[i],
                });
                here = end;
            }
        }
        Path { segments }
    }
}

fn join(bend: &mut Bend, arc: Bend) {
    let turn_rad = bend.turn_rad + arc.turn_rad;
    if arc.radius_m < bend.radius_m {
        *bend = arc;
    }
    bend.turn_rad = turn_rad;
}

fn push_line(segments: &mut Vec<Segment>, from: Point, to: Point) {
    if from.distance(to) > 1e-9 {
        segments.push(Segment::Line { from, to });
    }
}

/// Turn at every corner and how far from it its arc begins and ends.
fn tangent_lengths(points: &[Point], radius_m: f64) -> (Vec<f64>, Vec<f64>) {
    let n = points.len();
    let mut turns = vec![0.0; n];
    let mut wanted = vec![0.0; n];
    for i in 1..n.saturating_sub(1) {
        turns[i] = (points[i] - points[i - 1]).angle_to(points[i + 1] - points[i]);
        // A full reversal has no arc; it cannot occur on the edge of a region.
        let half = (turns[i].abs() / 2.0).min(PI / 2.0 - 1e-6);
        if half > 1e-9 && radius_m > 0.0 {
            wanted[i] = radius_m * half.tan();
        }
    }
    let mut got = wanted.clone();
    for i in 1..n {
        let edge = points[i].distance(points[i - 1]);
        let both = wanted[i - 1] + wanted[i];
        if both > edge {
            // A hair less than the edge, so that rounding never overlaps arcs.
            let share = edge / both * (1.0 - 1e-12);
            got[i - 1] = f64::min(got[i - 1], wanted[i - 1] * share);
            got[i] = f64::min(got[i], wanted[i] * share);
        }
    }
    (turns, got)
}
