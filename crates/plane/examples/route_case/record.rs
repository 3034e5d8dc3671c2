//! The line of JSON that tells what became of a case, whatever lay in it.

use plane::{Path, Segment};
use serde_json::{Value, json};

/// How far the points stay from arcs, metres.
const CHORD_ERROR_M: f64 = 1e-3;

/// What a case came to.
pub(crate) struct Record {
    pub(crate) loops: Vec<Value>,
    pub(crate) crossings: usize,
    pub(crate) over_limit: usize,
    pub(crate) tight_bends: usize,
    pub(crate) outside_m: f64,
    pub(crate) coverage_075: f64,
    /// Least distance of two strands of fields side by side, as a share of the spacing.
    pub(crate) min_gap_ratio: f64,
    pub(crate) refused: Option<String>,
}

impl Record {
    /// No tube at all.
    pub(crate) fn nothing() -> Record {
        Record {
            loops: Vec::new(),
            crossings: 0,
            over_limit: 0,
            tight_bends: 0,
            outside_m: 0.0,
            coverage_075: 0.0,
            min_gap_ratio: 1.0,
            refused: None,
        }
    }

    pub(crate) fn line(self, name: &str, ms: f64) -> Value {
        json!({
            "name": name,
            "loops": self.loops,
            "crossings": self.crossings,
            "over_limit": self.over_limit,
            "tight_bends": self.tight_bends,
            "outside_m": self.outside_m,
            "coverage_075": self.coverage_075,
            "min_gap_ratio": self.min_gap_ratio,
            "refused": self.refused,
            "ms": ms,
        })
    }
}

/// The record of a case that could not be read.
pub(crate) fn unread(name: &str, reason: &str) -> Value {
    json!({
        "name": name, "loops": [], "crossings": 0, "over_limit": 0, "tight_bends": 0,
        "outside_m": 0.0, "coverage_075": 0.0, "min_gap_ratio": null, "refused": reason, "ms": 0.0,
    })
}

/// One loop: its tube in plan, and by rooms. `length_m` is that of the segments.
pub(crate) fn tube<'a>(
    id: &str,
    path: &Path,
    by_room: impl Iterator<Item = (&'a str, f64)>,
) -> Value {
    let rooms = by_room.map(|(room, length_m)| json!({ "room": room, "length_m": length_m }));
    json!({
        "id": id,
        "rooms": rooms.collect::<Vec<_>>(),
        "length_m": path.length_m(),
        "segments": path.segments.iter().map(segment).collect::<Vec<_>>(),
        "points": path.chords(CHORD_ERROR_M).iter().map(|p| [p.x, p.y]).collect::<Vec<_>>(),
    })
}

fn segment(segment: &Segment) -> Value {
    match *segment {
        Segment::Line { from, to } => json!(["L", from.x, from.y, to.x, to.y]),
        Segment::Arc { from, centre, radius_m, turn_rad, .. } => {
            let arm = from - centre;
            let begin = arm.y.atan2(arm.x);
            json!(["A", centre.x, centre.y, radius_m, begin, begin + turn_rad])
        }
    }
}
