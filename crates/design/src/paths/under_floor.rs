//! Paths of what is built for tube under a subfloor or in boards.

use super::Paths;
use crate::Design;

/// Figures of holes, plates and boards.
pub(super) fn add(design: &Design, paths: &mut Paths) {
    for floor in &design.joist_floors {
        for (number, hole) in floor.holes.iter().enumerate() {
            let subject = format!("framing.{}.{}.hole.{}", floor.framing, floor.span, number + 1);
            paths.add(&subject, "across", &hole.across);
            paths.add(&subject, "from_bearing", &hole.from_bearing);
            paths.add(&subject, "below_top", &hole.below_top);
            paths.add(&subject, "diameter", &hole.diameter);
            paths.add(&subject, "edge", &hole.edge);
            paths.maybe(&subject, "to_next", hole.to_next.as_ref());
        }
        for plates in &floor.plates {
            let subject = format!("framing.{}.{}.plates", floor.framing, floor.span);
            paths.add(&format!("{subject}.{}", plates.of_loop), "length", &plates.length);
        }
    }
    for boards in &design.boards {
        let subject = format!("room.{}.boards", boards.room);
        paths.add(&subject, "pitch", &boards.pitch);
        paths.add(&subject, "area", &boards.area);
        paths.add(&subject, "leaders", &boards.leaders);
    }
}
