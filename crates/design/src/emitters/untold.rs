//! Floors whose output cannot be told, or is unchecked.

use super::floor::Floor;
use job::{Finding, Job, Room, Severity};

/// A floor whose text lacks something.
pub(super) fn incomplete(room: &Room, why: &str) -> Finding {
    let message = format!("cannot tell what its floor gives: {why}");
    let advice = "complete the floor's layers, or set `heated = false`";
    let (stop, subject) = (Severity::Stop, format!("room.{}", room.key));
    Finding::new(stop, "no-floor-output", subject, message, advice).at(Some(room.place))
}

/// Floors whose output was compared with nothing from outside, told once.
pub(super) fn unchecked(job: &Job, floors: &[Floor]) -> Option<Finding> {
    let own: Vec<&Floor> = floors.iter().filter(|floor| floor.build_up.is_unchecked()).collect();
    let first = own.first()?;
    let rooms: Vec<&str> = own.iter().map(|floor| floor.room.as_str()).collect();
    let message = format!(
        "what bare tube in a joist bay gives is unchecked, by radiation and convection alone: {}",
        rooms.join(", ")
    );
    let advice = "take it as an estimate: no published measurement was at hand; compare with tested \
                  figures before you rely on output, spacing or water temperature";
    let place = job.rooms[first.number].place;
    let subject = format!("room.{}", first.room);
    let finding = Finding::new(Severity::Warn, "floor-unchecked", subject, message, advice);
    Some(finding.at(place))
}
