//! Climate, house and storeys.

use crate::decision::{Fact, Place, Stated};
use quantity::{AirChange, Conductivity, Length, Temperature};

/// The climate at the site.
#[derive(Clone, Debug, PartialEq)]
pub struct Outdoors {
    /// Outdoor temperature of the design day. Without it there are no loads.
    pub design: Option<Fact<Temperature>>,
    /// Mean outdoor temperature of the year, which governs the ground.
    pub annual_mean: Option<Fact<Temperature>>,
    /// Height above the sea, which thins the air.
    pub altitude: Fact<Length>,
    /// Conductivity of the ground.
    pub ground: Fact<Conductivity>,
}

/// The house as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct House {
    /// How often outdoor air replaces the air of a room, unless the room says otherwise.
    pub air_changes: Fact<AirChange>,
    /// The greatest thickness of a wall between two rooms.
    pub thickest_wall: Fact<Length>,
    /// Construction of outside walls, unless the room says otherwise.
    pub wall: Option<Stated<String>>,
    /// Construction of walls between rooms.
    pub partition: Option<Stated<String>>,
    /// Construction of ceilings under the attic or roof.
    pub ceiling: Option<Stated<String>>,
    /// Construction of floors: layers from the room down.
    pub floor: Option<Stated<String>>,
    /// Construction of windows.
    pub window: Option<Stated<String>>,
    /// Construction of outside doors.
    pub door: Option<Stated<String>>,
}

/// One storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Storey {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// Ceiling height of its rooms.
    pub height: Option<Fact<Length>>,
}
