//! Holding what a design decided.

use crate::Design;
use job::{Edit, Job};
use quantity::{Length, Quantity};

impl Design {
    /// Edits that hold every decision of this design that the text leaves open.
    ///
    /// Applied to the text and designed again they give the same design, with the decisions held.
    pub fn hold_all(&self, job: &Job) -> Vec<Edit> {
        let mut edits = Vec::new();
        let mut set = |path: String, value: String| edits.push(Edit::Set { path, value });
        if let Some(floor) = self.emitters.floors.first()
            && job.heating.tube.held().is_none()
        {
            set("heating.tube".to_owned(), floor.tube.clone());
        }
        if let Some(supply) = &self.emitters.supply
            && !supply.is_held()
        {
            set("heating.supply".to_owned(), format!("{} K", exact(supply.value.si())));
        }
        for floor in &self.emitters.floors {
            let own = || self.loops.iter().filter(|tube_loop| tube_loop.room == floor.room);
            if !floor.spacing.is_held() {
                set(format!("room.{}.spacing", floor.room), metres(floor.spacing.value));
            }
            let Some(room) = job.room(&floor.room) else { continue };
            if room.loops.held().is_none() && own().count() > 0 {
                set(format!("room.{}.loops", floor.room), own().count().to_string());
            }
            if let (None, Some(first)) = (room.manifold.held(), own().next()) {
                set(format!("room.{}.manifold", floor.room), first.manifold.clone());
            }
        }
        edits
    }
}

fn metres(length: Length) -> String {
    format!("{} m", exact(length.si()))
}

/// The shortest decimal that reads back as the same number.
fn exact(number: f64) -> String {
    format!("{number}")
}
