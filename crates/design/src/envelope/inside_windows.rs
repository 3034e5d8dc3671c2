//! Windows that look at no daylight, which mostly stand in the wrong wall.

use super::{Behind, Enclosure, FaceKind};
use job::{Finding, Job, OpeningKind, Severity};

/// Tells windows towards a room or the next house, once each.
pub(super) fn tell(job: &Job, enclosures: &[Enclosure], findings: &mut Vec<Finding>) {
    for opening in job.openings.iter().filter(|it| it.kind.value != OpeningKind::Door) {
        let face = enclosures.iter().find_map(|enclosure| {
            let key = |kind: FaceKind| format!("{} {}", kind.word(), opening.key);
            let windows = [key(FaceKind::Window), key(FaceKind::Skylight)];
            let inside = |behind: &Behind| {
                matches!(behind, Behind::Room(_) | Behind::NextHouse | Behind::Heated)
            };
            let mut faces = enclosure.faces.iter();
            let face = faces.find(|face| windows.contains(&face.key) && inside(&face.behind))?;
            Some((enclosure, face))
        });
        let Some((enclosure, face)) = face else { continue };
        let message = format!(
            "is a window between room {} and {}, not to outdoors",
            enclosure.room,
            face.behind.words()
        );
        let advice = "check the name of its wall, or where its point lies; a wall's name stands \
                      behind the leg that runs along it";
        let subject = format!("opening.{}", opening.key);
        let place = opening.at.as_ref().map_or(opening.place, |at| at.place);
        findings.push(
            Finding::new(Severity::Warn, "window-inside", subject, message, advice).at(place),
        );
    }
}
