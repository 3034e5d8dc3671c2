//! Surfaces that the text states for a room without an outline.

use super::{Builder, behind};
use crate::envelope::{Behind, Enclosure, Face, FaceKind, GroundFloor, ground};
use crate::figure::{Figure, Given};
use job::{Faces, Room};

impl Builder<'_> {
    pub(super) fn stated_faces(&mut self, room: &Room, enclosure: &mut Enclosure) {
        let job = self.job;
        for surface in job.surfaces_of(&room.key) {
            let Some(area) = &surface.area else { continue };
            let area = Figure::fact(format!("area of {}", surface.key), area);
            let (behind, kind) = match surface.faces.value {
                Faces::Ground => (Behind::Ground, FaceKind::Floor),
                ref other => (behind(other), FaceKind::Wall),
            };
            let transmittance = if behind == Behind::Ground {
                // The ground loss needs the whole floor; a lone one is its own whole.
                let stated = surface.exposed_edge.iter();
                let edges: Vec<_> = stated.map(|edge| Figure::fact("exposed edge", edge)).collect();
                let edge = Figure::sum("exposed edge", &edges);
                let assembly = self.assembly_of(room, surface.assembly.as_ref(), "floor");
                assembly.and_then(|assembly| {
                    let dimension = Figure::by_law(
                        "characteristic dimension of the floor",
                        &laws::ground::CHARACTERISTIC_DIMENSION,
                        &[Given::from(&area), Given::from(&edge)],
                    );
                    let whole = GroundFloor {
                        area: area.clone(),
                        exposed_edge: edge.clone(),
                        dimension: dimension.ok(),
                    };
                    let built = ground::transmittance(job, assembly, &whole);
                    self.told(room, "floor", built)
                })
            } else {
                self.built(room, surface.assembly.as_ref(), kind, &behind, "surface")
            };
            let key = surface.key.clone();
            enclosure.faces.push(Face { key, kind, behind, area, transmittance });
        }
    }
}
