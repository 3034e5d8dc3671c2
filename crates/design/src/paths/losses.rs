//! Paths of heat losses: `house.per_degree.air`, `room.bath.wall_north.outdoors.loss`.

use super::Paths;
use crate::Design;
use crate::envelope::{Behind, Enclosure, FaceKind};
use crate::loads::{FaceLoss, GroupLoss, RoomLoss, Split};
use std::sync::Arc;

/// `room.bath`, `wall north`, outdoors: `room.bath.wall_north.outdoors`.
fn face_subject(subject: &str, face: &str, behind: &Behind) -> String {
    format!("{subject}.{}.{}", face.replace(' ', "_"), behind.words().replace(' ', "_"))
}

impl Paths {
    /// A split under its subject; the total under `total`.
    fn split<Q>(&mut self, subject: &str, total: &str, split: &Split<Q>) {
        self.add(subject, "outdoors", &split.outdoors);
        self.add(subject, "unheated", &split.unheated);
        self.add(subject, "ground", &split.ground);
        self.add(subject, "neighbours", &split.neighbours);
        self.add(subject, "air", &split.air);
        self.add(subject, total, &split.total);
    }

    pub(super) fn group(&mut self, subject: &str, group: &GroupLoss) {
        self.split(subject, "loss", &group.heat);
        self.split(&format!("{subject}.per_degree"), "total", &group.per_degree);
        self.add(subject, "air_flow", &group.air_flow);
        self.add(subject, "area", &group.area);
        self.maybe(subject, "loss_per_area", group.per_area.as_ref());
        self.maybe(subject, "reheat", group.reheat.as_ref());
    }

    /// Areas and U-values of a room's faces.
    pub(super) fn faces(&mut self, subject: &str, enclosure: &Enclosure) {
        for face in &enclosure.faces {
            let subject = face_subject(subject, &face.key, &face.behind);
            self.add(&subject, "area", &face.area);
            self.maybe(&subject, "u", face.transmittance.as_ref());
            self.maybe(&subject, "depth", face.depth.as_ref());
            self.maybe(&subject, "edge_loss", face.edge_loss.as_ref());
            self.maybe(&subject, "pitch", face.pitch.as_ref());
        }
    }

    pub(super) fn room_loss(
        &mut self,
        subject: &str,
        enclosure: Option<&Enclosure>,
        loss: &RoomLoss,
    ) {
        for face in &loss.faces {
            self.face_loss(&face_subject(subject, &face.face, &face.behind), enclosure, face);
        }
        self.split(subject, "loss", &loss.heat);
        self.split(&format!("{subject}.per_degree"), "total", &loss.per_degree);
        self.add(subject, "air_flow", &loss.air_flow);
        self.maybe(subject, "loss_per_area", loss.per_area.as_ref());
        self.maybe(subject, "from_above", loss.from_above.as_ref());
        self.maybe(subject, "reheat", loss.reheat.as_ref());
        self.maybe(subject, "heated_area", loss.available.as_ref());
    }

    /// What one face loses; its area and U-value only where they differ from the face's own.
    fn face_loss(&mut self, subject: &str, enclosure: Option<&Enclosure>, loss: &FaceLoss) {
        let whole = enclosure.and_then(|it| {
            it.faces.iter().find(|face| face.key == loss.face && face.behind == loss.behind)
        });
        if whole.is_none_or(|face| !Arc::ptr_eq(&face.area.work, &loss.area.work)) {
            let name = if loss.kind == FaceKind::Floor { "area_without_tube" } else { "area_left" };
            self.add(subject, name, &loss.area);
        }
        if let Some(u) = &loss.transmittance {
            let own = whole.and_then(|face| face.transmittance.as_ref());
            if own.is_none_or(|own| !Arc::ptr_eq(&own.work, &u.work)) {
                self.add(subject, "u_counted", u);
            }
        }
        self.add(subject, "difference", &loss.difference);
        self.add(subject, "per_degree", &loss.coefficient);
        self.add(subject, "loss", &loss.loss);
    }
}

impl Design {
    /// Storeys and zones, each as the house.
    pub(super) fn group_figures(&self, paths: &mut Paths) {
        for storey in &self.loads.storeys {
            paths.group(&format!("storey.{}", storey.key), storey);
        }
        for zone in &self.loads.zones {
            paths.group(&format!("zone.{}", zone.key), zone);
        }
    }

    /// Spaces and rooms that nobody heats.
    pub(super) fn unheated_figures(&self, paths: &mut Paths) {
        for unheated in &self.loads.unheated {
            let is_room = self.envelope.enclosures.iter().any(|it| it.room == unheated.key);
            let kind = if is_room { "room" } else { "space" };
            let subject = format!("{kind}.{}", unheated.key);
            paths.add(&subject, "temperature", &unheated.temperature);
            paths.add(&subject, "factor", &unheated.factor);
        }
    }
}
