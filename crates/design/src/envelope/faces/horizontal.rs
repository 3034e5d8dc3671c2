//! Ceiling and floor of an outline.

use super::{Builder, behind};
use crate::envelope::{Behind, Enclosure, Face, FaceKind};
use job::Room;

impl Builder<'_> {
    pub(super) fn ceiling_face(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let Some(area) = enclosure.area.clone() else { return };
        let behind = behind(&room.above.value);
        if behind == Behind::Heated {
            return;
        }
        let stated = room.ceiling.as_ref().or(self.job.house.ceiling.as_ref());
        enclosure.faces.push(Face {
            key: "ceiling".to_owned(),
            kind: FaceKind::Ceiling,
            behind,
            area,
            assembly: stated.map(|stated| stated.value.clone()),
            depth: None,
            edge_loss: None,
            pitch: None,
            transmittance: None,
        });
    }

    /// The floor, whose loss to the ground depends on the whole.
    pub(super) fn floor_face(&mut self, number: usize, enclosure: &mut Enclosure) {
        let room = &self.job.rooms[number];
        let (Some(area), behind) = (enclosure.area.clone(), behind(&room.below.value)) else {
            return;
        };
        if enclosure.floor.is_none() || behind == Behind::Heated {
            return;
        }
        let stated = room.floor.as_ref().or(self.job.house.floor.as_ref());
        enclosure.faces.push(Face {
            key: "floor".to_owned(),
            kind: FaceKind::Floor,
            behind,
            area,
            assembly: stated.map(|stated| stated.value.clone()),
            depth: None,
            edge_loss: None,
            pitch: None,
            transmittance: None,
        });
    }
}
