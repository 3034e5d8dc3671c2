//! Where the heat goes that floors send down.

use super::{Emitters, HeatedFloor};
use crate::envelope::{Behind, Enclosure, Envelope, Face, FaceKind};
use crate::figure::Figure;
use crate::loads::Loads;
use quantity::{Power, Ratio};

/// Shows each room what the floors above send down to it.
///
/// It is a gain of that room and no loss of the house. It is not taken off the room's load: the
/// floor above may be off when the room is cold. The circuit above carries it all the same.
pub(crate) fn from_above(envelope: &Envelope, emitters: &Emitters, loads: &mut Loads) {
    for loss in &mut loads.rooms {
        let over_it = |face: &Face| matches!(&face.behind, Behind::Room(key) if *key == loss.room);
        let parts = sent(envelope, emitters, over_it);
        loss.from_above = (!parts.is_empty()).then(|| Figure::sum("heat from above", &parts));
    }
}

/// Heat that floors lose to the ground, outdoors and unheated spaces; none without heated floors.
///
/// It comes on top of the house's heat loss: the source must make both.
pub(crate) fn lost_below(envelope: &Envelope, emitters: &Emitters) -> Option<Figure<Power>> {
    let unheated = |key: &str| {
        let room = envelope.enclosures.iter().find(|one| one.room == key);
        room.is_none_or(|room| room.unheated)
    };
    let leaves = |face: &Face| match &face.behind {
        Behind::Heated => false,
        Behind::Room(key) => unheated(key),
        Behind::Outdoors | Behind::Ground | Behind::NextHouse | Behind::Space(_) => true,
    };
    let parts = sent(envelope, emitters, leaves);
    (!emitters.floors.is_empty()).then(|| Figure::sum("heat that floors lose below", &parts))
}

/// What each floor sends down through those of its faces.
fn sent(
    envelope: &Envelope,
    emitters: &Emitters,
    wanted: impl Fn(&Face) -> bool,
) -> Vec<Figure<Power>> {
    let part = |floor: &HeatedFloor| {
        let enclosure = envelope.enclosures.iter().find(|one| one.room == floor.room)?;
        let share = share(enclosure, &wanted)?;
        let name = format!("from the floor of {}", floor.room);
        Some(Figure::product(name, &[&floor.flux_down.work, &floor.area.work, &share.work]))
    };
    emitters.floors.iter().filter_map(part).collect()
}

/// Share of a room's floor that those faces make; the heated part lies over each in its share.
fn share(enclosure: &Enclosure, wanted: impl Fn(&Face) -> bool) -> Option<Figure<Ratio>> {
    let floors = || enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor);
    let whole_m2: f64 = floors().map(|face| face.area.si()).sum();
    let part_m2: f64 = floors().filter(|face| wanted(face)).map(|face| face.area.si()).sum();
    let what = "faces of the floor; the heated part lies over each in its share";
    (part_m2 > 0.0).then(|| Figure::taken_off("share of the floor", part_m2 / whole_m2, what))
}
