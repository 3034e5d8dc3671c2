//! A path with its distances at hand.

use std::f64::consts::PI;

use super::ways::Pose;
use crate::path::{Path, Segment};
use crate::point::Point;

/// A path that is asked for places along it again and again.
pub(super) struct Track {
    pub(super) segments: Vec<Segment>,
    /// Distance of the beginning of every piece from the start, and of the end.
    starts: Vec<f64>,
}

/// A stretch of a track, by distances in metres from its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    pub(super) from: f64,
    pub(super) to: f64,
}

impl Stretch {
    pub(super) fn overlaps(self, from: f64, to: f64) -> bool {
        self.from < to && from < self.to
    }
}

impl Track {
    pub(super) fn new(segments: Vec<Segment>) -> Track {
        let mut starts = Vec::with_capacity(segments.len() + 1);
        let mut along = 0.0;
        starts.push(along);
        for segment in &segments {
            along += segment.length_m();
            starts.push(along);
        }
        Track { segments, starts }
    }

    pub(super) fn length_m(&self) -> f64 {
        self.starts.last().copied().unwrap_or_default()
    }

    /// Place and direction at a distance, clamped to the ends.
    pub(super) fn pose_at(&self, along: f64) -> Pose {
        let number = self.starts.partition_point(|start| *start <= along).saturating_sub(1);
        let number = number.min(self.segments.len().saturating_sub(1));
        match (self.segments.get(number), self.starts.get(number)) {
            (Some(segment), Some(start)) => Pose {
                at: exact_place(segment, along - start),
                heading: segment.direction_at(along - start),
            },
            _ => Pose { at: Point::default(), heading: Point::new(1.0, 0.0) },
        }
    }

    /// Appends the pieces between two distances; whole pieces stay as they are.
    pub(super) fn append_between(&self, from: f64, to: f64, pieces: &mut Vec<Segment>) {
        for (segment, start) in self.segments.iter().zip(&self.starts) {
            let length = segment.length_m();
            if start + length <= from + 1e-9 || *start >= to - 1e-9 {
                continue;
            }
            // A cut within a nanometre of an end is that end.
            let low = if *start >= from - 1e-9 { 0.0 } else { from - start };
            let high = if start + length <= to + 1e-9 { length } else { to - start };
            pieces.push(segment.between(low, high));
        }
    }

    /// Stretches bent tighter than a radius or kinked, those within `join_m` as one.
    pub(super) fn tight(&self, radius_m: f64, join_m: f64) -> Vec<Stretch> {
        let mut found: Vec<Stretch> = Vec::new();
        let mut add = |from: f64, to: f64| match found.last_mut() {
            Some(last) if from - last.to <= join_m => last.to = last.to.max(to),
            _ => found.push(Stretch { from, to }),
        };
        let mut before: Option<&Segment> = None;
        for (segment, start) in self.segments.iter().zip(&self.starts) {
            if before.is_some_and(|b| is_kink(b, segment)) {
                add(*start, *start);
            }
            if let Segment::Arc { radius_m: r, .. } = segment
                && *r < radius_m
            {
                add(*start, start + segment.length_m());
            }
            before = Some(segment);
        }
        found
    }

    /// The track with a window replaced, and where the replacement ends.
    pub(super) fn spliced(&self, window: Stretch, pieces: Vec<Segment>) -> (Track, f64) {
        let mut segments = Vec::with_capacity(self.segments.len() + pieces.len());
        self.append_between(0.0, window.from, &mut segments);
        segments.extend(pieces);
        let end = segments.iter().map(Segment::length_m).sum();
        self.append_between(window.to, self.length_m(), &mut segments);
        (Track::new(joined(segments)), end)
    }

    pub(super) fn into_path(self) -> Path {
        Path { segments: self.segments }
    }
}

/// Place on a piece; within a nanometre of an end that end to the last digit.
fn exact_place(segment: &Segment, along: f64) -> Point {
    if along <= 1e-9 {
        segment.from()
    } else if along >= segment.length_m() - 1e-9 {
        segment.to()
    } else {
        segment.point_at(along)
    }
}

/// Whether the direction jumps by more than a tenth of a degree between pieces.
fn is_kink(before: &Segment, after: &Segment) -> bool {
    before.direction_to().angle_to(after.direction_from()).abs() > 0.1 * PI / 180.0
}

/// Pieces with neighbours on one line or circle made one.
fn joined(segments: Vec<Segment>) -> Vec<Segment> {
    let mut out: Vec<Segment> = Vec::with_capacity(segments.len());
    for segment in segments {
        match out.last().and_then(|last| one_of(last, &segment)) {
            Some(one) => {
                out.pop();
                out.push(one);
            }
            None => out.push(segment),
        }
    }
    out
}

/// Two pieces as one if they lie on one line or circle.
fn one_of(first: &Segment, second: &Segment) -> Option<Segment> {
    match (*first, *second) {
        (Segment::Line { from, to }, Segment::Line { to: end, .. }) => {
            let (before, after) = (to - from, end - to);
            let off = before.cross(after).abs();
            let straight = off <= 1e-9 * (before.norm() + after.norm());
            (straight && before.dot(after) > 0.0).then_some(Segment::Line { from, to: end })
        }
        (
            Segment::Arc { from, centre, radius_m, turn_rad, .. },
            Segment::Arc { to, centre: other, radius_m: radius, turn_rad: turn, .. },
        ) => {
            let same = centre.distance(other) < 1e-7 && (radius_m - radius).abs() < 1e-7;
            let turn_rad = turn_rad + turn;
            let onward = turn * turn_rad > 0.0 && turn_rad.abs() > turn.abs();
            let one = same && onward && turn_rad.abs() < 6.0;
            one.then_some(Segment::Arc { from, to, centre, radius_m, turn_rad })
        }
        _ => None,
    }
}
