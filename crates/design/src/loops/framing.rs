//! Framing of a job as joists that tube can be laid between, or what it lacks.

use job::{Framing, Job, JoistKind, Room};
use plane::Point;
use plane::bays::{self, HoleLimits, Joists};
use quantity::Quantity;

/// Shorter spans are none, metres.
const SHORTEST_SPAN_M: f64 = 0.5;

/// The framing of a room's floor, by the key that the text names.
pub(super) fn of_room<'a>(job: &'a Job, room: &Room) -> Option<&'a Framing> {
    let key = &room.framing.as_ref()?.value;
    job.framings.iter().find(|framing| framing.key == *key)
}

/// The joists of a framing, span by span.
///
/// # Errors
/// The keys that are missing, as they would be written.
pub(super) fn spans(framing: &Framing) -> Result<Vec<Joists>, Vec<&'static str>> {
    let mut missing = Vec::new();
    let mut lacks = |is_there: bool, how: &'static str| {
        if !is_there {
            missing.push(how);
        }
    };
    lacks(framing.kind.is_some(), "kind = \"sawn\"");
    lacks(framing.depth.is_some(), "depth");
    lacks(framing.spacing.is_some(), "spacing");
    lacks(framing.direction.is_some(), "direction");
    lacks(framing.at.is_some(), "at = a place on one joist");
    lacks(framing.bearings.is_some(), "bearings = two places for each span");
    let (Some(kind), Some(depth), Some(spacing), Some(direction), Some(at), Some(bearings)) = (
        &framing.kind,
        &framing.depth,
        &framing.spacing,
        &framing.direction,
        &framing.at,
        &framing.bearings,
    ) else {
        return Err(missing);
    };
    let (sin, cos) = direction.value.si().sin_cos();
    let (along, on) = (Point::new(cos, sin), at.value);
    let mut faces: Vec<f64> = bearings.value.iter().map(|p| (*p - on).dot(along)).collect();
    faces.sort_by(f64::total_cmp);
    let spans: Vec<Joists> = faces
        .chunks_exact(2)
        .filter(|faces| faces[1] - faces[0] > SHORTEST_SPAN_M)
        .map(|faces| Joists {
            kind: joist_kind(kind.value),
            along,
            on,
            pitch_m: spacing.value.si(),
            width_m: framing.width.value.si(),
            depth_m: depth.value.si(),
            bearings_m: [faces[0], faces[1]],
        })
        .collect();
    if spans.is_empty() { Err(vec!["bearings = two places for each span"]) } else { Ok(spans) }
}

fn joist_kind(kind: JoistKind) -> bays::JoistKind {
    match kind {
        JoistKind::Sawn => bays::JoistKind::Sawn,
        JoistKind::IJoist => bays::JoistKind::IJoist,
        JoistKind::OpenWeb => bays::JoistKind::OpenWeb,
    }
}

/// The limits of holes in such joists, and their clause; no limits where only a chart tells.
pub(super) fn hole_limits(job: &Job, kind: JoistKind) -> (HoleLimits, String) {
    let rule = job.rules.joist_holes(kind);
    let citation = rule.map_or_else(String::new, |rule| rule.limits.citation());
    let Some(limits) = rule.and_then(|rule| rule.limits.value) else {
        return (NO_LIMITS, citation);
    };
    let metres = |length: Option<quantity::Length>| length.map(Quantity::si);
    let limits = HoleLimits {
        diameter_per_depth: 1.0 / limits.depths.si(),
        diameter_most_m: metres(limits.most),
        edge_m: metres(limits.edge).unwrap_or(0.0),
        mid_depth: limits.mid_depth,
        apart_m: metres(limits.apart).unwrap_or(0.0),
        apart_diameters: limits.apart_diameters.map_or(0.0, Quantity::si),
        span_shares: limits.span_from.zip(limits.span_to).map(|(a, b)| [a.si(), b.si()]),
        depth_most_m: metres(limits.depth_most),
    };
    (limits, citation)
}

/// Nothing is known of such joists: the geometry is planned, and no hole is told to be allowed.
const NO_LIMITS: HoleLimits = HoleLimits {
    diameter_per_depth: 1.0,
    diameter_most_m: None,
    edge_m: 0.0,
    mid_depth: false,
    apart_m: 0.0,
    apart_diameters: 2.0,
    span_shares: None,
    depth_most_m: None,
};
