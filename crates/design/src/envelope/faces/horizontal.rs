//! Ceiling and floor of an outline.

use super::{Builder, behind};
use crate::envelope::{Behind, Enclosure, Face, FaceKind, GroundFloor, ground};
use job::Room;

impl Builder<'_> {
    pub(super) fn ceiling_face(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let Some(area) = enclosure.area.clone() else { return };
        let behind = behind(&room.above.value);
        let transmittance = match behind {
            Behind::Heated => None,
            _ => {
                let stated = room.ceiling.as_ref().or(self.job.house.ceiling.as_ref());
                self.built(room, stated, FaceKind::Ceiling, &behind, "ceiling")
            }
        };
        if behind != Behind::Heated {
            let key = "ceiling".to_owned();
            enclosure.faces.push(Face {
                key,
                kind: FaceKind::Ceiling,
                behind,
                area,
                transmittance,
            });
        }
    }

    /// The floor, whose loss to the ground depends on the whole.
    pub(super) fn floor_face(
        &mut self,
        number: usize,
        enclosure: &mut Enclosure,
        whole: Option<&GroundFloor>,
    ) {
        let room = &self.job.rooms[number];
        if enclosure.floor.is_none() {
            return;
        }
        let (Some(area), behind) = (enclosure.area.clone(), behind(&room.below.value)) else {
            return;
        };
        let stated = room.floor.as_ref().or(self.job.house.floor.as_ref());
        let transmittance = match (&behind, whole) {
            (Behind::Heated, _) => return,
            (Behind::Ground, Some(whole)) => {
                let job = self.job;
                let assembly = self.assembly_of(room, stated, "floor");
                assembly.and_then(|assembly| {
                    let built = ground::transmittance(job, assembly, whole);
                    self.told(room, "floor", built)
                })
            }
            _ => self.built(room, stated, FaceKind::Floor, &behind, "floor"),
        };
        let key = "floor".to_owned();
        enclosure.faces.push(Face { key, kind: FaceKind::Floor, behind, area, transmittance });
    }
}
