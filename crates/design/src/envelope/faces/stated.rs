//! Surfaces that the text states for a room without an outline.

use super::{Builder, behind};
use crate::envelope::{Behind, Enclosure, Face, FaceKind};
use crate::figure::Figure;
use job::{Faces, Room};

impl Builder<'_> {
    pub(super) fn stated_faces(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let job = self.house.job;
        let mut edges = Vec::new();
        for surface in job.surfaces_of(&room.key) {
            let Some(area) = &surface.area else { continue };
            let area = Figure::fact(format!("area of {}", surface.key), area);
            let (behind, kind) = match surface.faces.value {
                Faces::Ground => (Behind::Ground, FaceKind::Floor),
                ref other => (behind(other), FaceKind::Wall),
            };
            if behind == Behind::Ground {
                let edge = surface.exposed_edge.iter();
                edges.extend(edge.map(|edge| Figure::fact("exposed edge", edge)));
            }
            enclosure.faces.push(Face {
                key: surface.key.clone(),
                kind,
                behind,
                area,
                assembly: surface.assembly.as_ref().map(|stated| stated.value.clone()),
                depth: None,
                top: None,
                edge_loss: None,
                pitch: None,
                transmittance: None,
            });
        }
        if !edges.is_empty() {
            enclosure.exposed_edge = Some(Figure::sum("exposed edge", &edges));
        }
    }
}
