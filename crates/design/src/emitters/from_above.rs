//! Heat that floors send down into heated rooms.

use super::Emitters;
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
        let mut parts = Vec::new();
        for floor in &emitters.floors {
            let above = envelope.enclosures.iter().find(|one| one.room == floor.room);
            let Some(share) = above.and_then(|above| share_over(above, &loss.room)) else {
                continue;
            };
            let name = format!("from the floor of {}", floor.room);
            parts.push(Figure::<Power>::product(
                name,
                &[&floor.flux_down.work, &floor.area.work, &share.work],
            ));
        }
        loss.from_above = (!parts.is_empty()).then(|| Figure::sum("heat from above", &parts));
    }
}

/// Share of a room's floor that lies over another room.
fn share_over(enclosure: &Enclosure, room: &str) -> Option<Figure<Ratio>> {
    let floors: Vec<&Face> =
        enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor).collect();
    let whole_m2: f64 = floors.iter().map(|face| face.area.si()).sum();
    let over = |face: &&&Face| matches!(&face.behind, Behind::Room(key) if key == room);
    let over_m2: f64 = floors.iter().filter(over).map(|face| face.area.si()).sum();
    let what = "faces of the floor; the heated part lies over each in its share";
    (over_m2 > 0.0)
        .then(|| Figure::taken_off("share of the floor over it", over_m2 / whole_m2, what))
}
