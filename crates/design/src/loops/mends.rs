//! What would let a refused room have its loops. Each is designed on trial before it is offered.

use super::plan::StoreyPlan;
use crate::hold::room_path;
use crate::judge::mends::{closer_spacings, more_loops, wider_spacings};
use crate::placing;
use job::{Edit, Job, Mend, Promise, Room, TubePattern};
use plane::storey::{Reason, Refusal};
use quantity::Quantity;

/// Thinner tubes that are tried.
const TUBES_MOST: usize = 2;
/// Steps to fewer loops that are tried in a room.
const LOOPS_FEWER: usize = 2;

/// Candidate mends of a refusal, in the order in which a tradesman would try them.
pub(super) fn mends(job: &Job, plan: &StoreyPlan<'_>, room: &Room, refusal: &Refusal) -> Vec<Mend> {
    let on_plan = plan.plan.rooms.get(refusal.room);
    let spacing_m = on_plan.map_or(0.0, |room| room.spacing_m);
    let mut mends = Vec::new();
    match refusal.reason {
        Reason::PassageTooNarrow { .. }
        | Reason::ManifoldTooShort { .. }
        | Reason::TooManyLoops { .. } => {
            mends.extend(fewer_loops(job, plan));
            let rooms = plan.rooms.iter().filter_map(|number| job.rooms.get(*number));
            mends.extend(rooms.filter_map(released_loops));
            mends.extend(other_places(job, plan));
            mends.extend(other_manifolds(job, room));
            mends.extend(wider_spacings(job, &room.key, spacing_m));
        }
        Reason::OverLimit { .. } => {
            if let Some(held) = room.loops.held() {
                mends.extend(more_loops(&room.key, held.value + 1));
            }
            mends.extend(other_manifolds(job, room));
            mends.extend(other_places(job, plan));
        }
        Reason::NoWay => {
            mends.extend(other_manifolds(job, room));
            mends.extend(released_loops(room));
            mends.extend(other_places(job, plan));
        }
        Reason::SmallerThanOneTurn { .. } => {
            mends.extend(closer_spacings(job, &room.key, spacing_m));
        }
        Reason::BendsTooWide { .. } => {
            mends.extend(wider_spacings(job, &room.key, spacing_m));
            mends.extend(other_patterns(room));
        }
        Reason::NoLayout | Reason::EntryTooNarrow | Reason::BendTooTight { .. } => {
            mends.extend(released_loops(room));
            mends.extend(other_patterns(room));
            mends.extend(closer_spacings(job, &room.key, spacing_m));
            mends.extend(wider_spacings(job, &room.key, spacing_m));
            mends.extend(other_places(job, plan));
        }
        _ => {}
    }
    mends
}

/// One loop fewer in each room of the storey that holds several.
fn fewer_loops(job: &Job, plan: &StoreyPlan<'_>) -> Vec<Mend> {
    let rooms = plan.rooms.iter().filter_map(|number| job.rooms.get(*number));
    let fewer = |room: &Room| {
        let count = room.loops.held()?.value;
        (count > 1).then(|| hold(room, "fewer loops", "loops", &(count - 1).to_string()))
    };
    rooms.filter_map(fewer).collect()
}

/// A held number of loops left to the design.
fn released_loops(room: &Room) -> Option<Mend> {
    room.loops.held()?;
    Some(Mend {
        words: format!("open count: leave the number of loops in {} to the design", room.key),
        edits: vec![Edit::Unset { path: room_path(&room.key, "loops") }],
        promise: Promise::Goes,
    })
}

/// Each other pattern for a room that holds one; both plain ones for a room that holds none.
fn other_patterns(room: &Room) -> Vec<Mend> {
    let held = room.pattern.held().map(|held| held.value);
    [TubePattern::Counterflow, TubePattern::Serpentine]
        .into_iter()
        .filter(|pattern| held != Some(*pattern))
        .map(|pattern| hold(room, "another pattern", "pattern", pattern.word()))
        .collect()
}

/// Each other manifold for a room.
fn other_manifolds(job: &Job, room: &Room) -> Vec<Mend> {
    let held = room.manifold.held().map(|held| held.value.as_str());
    job.manifolds
        .iter()
        .filter(|manifold| job.manifolds.len() > 1 && Some(manifold.key.as_str()) != held)
        .map(|manifold| hold(room, "another manifold", "manifold", &manifold.key))
        .collect()
}

/// Each place that the job allows for the manifolds of the storey.
fn other_places(job: &Job, plan: &StoreyPlan<'_>) -> Vec<Mend> {
    let serves = |key: &str| plan.accesses.iter().any(|access| access.manifold.key == key);
    let places = job.manifold_places.iter().filter(|place| serves(&place.manifold.value));
    places
        .map(|place| Mend {
            words: format!("another place: hang {} at {}", place.manifold.value, place.key),
            edits: placing::edits(&place.manifold.value, Some(&place.room.value), place.at.value),
            promise: Promise::Goes,
        })
        .collect()
}

fn hold(room: &Room, kind: &str, key: &str, value: &str) -> Mend {
    Mend {
        words: format!("{kind}: {value} in {}", room.key),
        edits: vec![Edit::Set { path: room_path(&room.key, key), value: value.to_owned() }],
        promise: Promise::Goes,
    }
}

/// Tubes of the catalogue thinner than the one in use, thickest first, that the rule set knows.
pub(super) fn smaller_tubes(job: &Job) -> Vec<Mend> {
    let own = job.heating.tube.held().map_or(&job.rules.tube.value, |held| &held.value);
    let Some(own) = job.catalogue.tube(own) else { return Vec::new() };
    let known = |tube: &&job::Tube| job.rules.loop_length(&tube.key).is_some();
    let mut thinner: Vec<&job::Tube> = job.catalogue.tubes.iter().filter(known).collect();
    thinner.retain(|tube| tube.outside.si() < own.outside.si() - 1e-6);
    thinner.sort_by(|a, b| b.outside.si().total_cmp(&a.outside.si()));
    let held = |tube: &job::Tube| Mend {
        words: format!("smaller tube: {}", tube.name),
        edits: vec![Edit::Set { path: "heating.tube".to_owned(), value: tube.key.clone() }],
        promise: Promise::Goes,
    };
    thinner.into_iter().take(TUBES_MOST).map(held).collect()
}

/// Fewer loops than were laid in a room, one fewer at a time.
pub(super) fn fewer_in(room: &str, laid: usize) -> Vec<Mend> {
    let fewer = |count: usize| Mend {
        words: format!("fewer loops: {count} in {room}"),
        edits: vec![Edit::Set { path: room_path(room, "loops"), value: count.to_string() }],
        promise: Promise::Goes,
    };
    (1..laid).rev().take(LOOPS_FEWER).map(fewer).collect()
}
