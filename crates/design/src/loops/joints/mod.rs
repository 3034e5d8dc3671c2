//! Joints in slabs and screeds: floors cut where only leaders may cross, and what crosses.
//!
//! A movement joint makes rooms of its own of the floors on either side of it, joined by doors in
//! the joint. So no field can lie across it, and leaders pass as they pass a doorway. What is laid
//! comes back as if the room had never been cut.

mod crossed;
mod cut;
mod doors;
mod joined;
mod judge;

pub(crate) use crossed::crossings;
pub use crossed::{JointCrossing, LoopPart};
pub(super) use cut::parted;
pub(super) use joined::joined;
pub(crate) use judge::judge;
pub(super) use judge::not_kept;

use super::plan::StoreyPlan;
use crate::memo::Memo;
use job::{Job, Joint, JointKind};
use plane::Point;
use plane::storey::Layout;
use std::sync::Arc;

/// The loops of a storey, laid with its movement joints.
pub(super) fn laid(job: &Job, storey: &StoreyPlan<'_>, memo: &mut Memo) -> Arc<Layout> {
    let Some(parted) = parted(job, storey) else { return memo.storey(&storey.plan) };
    // Numbers that are held are first met by the layout in which they are open, as elsewhere.
    if let Some(open) = parted.open() {
        let layout = joined(&memo.storey(&open), &parted);
        if parted.has_numbers(&layout) {
            return Arc::new(layout);
        }
    }
    Arc::new(joined(&memo.storey(&parted.plan), &parted))
}

/// Straight pieces of a joint with their ends, metres.
fn legs(joint: &Joint) -> Vec<[Point; 2]> {
    let line = joint.line.as_ref().map_or(&[][..], |line| line.value.as_slice());
    line.windows(2).map(|pair| [pair[0], pair[1]]).filter(|[a, b]| a.distance(*b) > 1e-3).collect()
}

/// The same, drawn on at both ends by so much, to meet walls that are near.
fn drawn_on(joint: &Joint, reach_m: f64) -> Vec<[Point; 2]> {
    let mut legs = legs(joint);
    if let Some([a, b]) = legs.first_mut() {
        *a = *a - (*b - *a).unit() * reach_m;
    }
    if let Some([a, b]) = legs.last_mut() {
        *b = *b + (*b - *a).unit() * reach_m;
    }
    legs
}

/// Whether a joint may lie in a room of the job, by what the text says.
fn may_lie_in(job: &Job, joint: &Joint, room: usize) -> bool {
    let room = &job.rooms[room];
    if let Some(only) = &joint.room {
        return only.value == room.key;
    }
    let storey = room.storey.as_ref().map(|storey| &storey.value);
    joint.storey.as_ref().is_none_or(|stated| Some(&stated.value) == storey)
}

/// The movement joints that have a line.
fn movements(job: &Job) -> impl Iterator<Item = &Joint> {
    job.joints.iter().filter(|joint| joint.kind.value == JointKind::Movement)
}
