//! Floors whose output cannot be told.

use super::build_up::NoBuildUp;
use job::{Finding, Job, Room, Severity};

/// Floors without an answer, gathered so that those of a kind are told once.
#[derive(Default)]
pub(super) struct Untold {
    /// Room by key, with what its text lacks.
    incomplete: Vec<(String, String)>,
    /// Kind of floor that no law here covers, with its rooms by key.
    no_law: Vec<(String, Vec<String>)>,
}

impl Untold {
    pub(super) fn add(&mut self, room: &Room, why: NoBuildUp) {
        let key = room.key.clone();
        match why {
            NoBuildUp::Incomplete(why) => self.incomplete.push((key, why)),
            NoBuildUp::NoLaw(what) => match self.no_law.iter_mut().find(|(it, _)| *it == what) {
                Some((_, rooms)) => rooms.push(key),
                None => self.no_law.push((what, vec![key])),
            },
        }
    }

    pub(super) fn findings(self, job: &Job) -> Vec<Finding> {
        let place = |key: &str| job.room(key).map(|room| room.place);
        let incomplete = self.incomplete.into_iter().map(|(key, why)| {
            let message = format!("cannot tell what its floor gives: {why}");
            let advice = "complete the floor's layers, or set `heated = false`";
            let (stop, subject) = (Severity::Stop, format!("room.{key}"));
            Finding::new(stop, "no-floor-output", subject, message, advice).at(place(&key))
        });
        let no_law = self.no_law.into_iter().filter_map(|(what, rooms)| {
            let first = rooms.first()?;
            let message =
                format!("cannot tell yet what a floor with {what} gives: {}", rooms.join(", "));
            let advice = "the heat loss of these rooms stands; take output, spacing and water \
                          temperature of such floors from their maker's tested figures";
            let subject = format!("room.{first}");
            let finding = Finding::new(Severity::Warn, "no-floor-law", subject, message, advice);
            Some(finding.at(place(first)))
        });
        incomplete.chain(no_law).collect()
    }
}
