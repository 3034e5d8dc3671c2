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
