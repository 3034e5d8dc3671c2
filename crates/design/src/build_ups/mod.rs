//! Heated floors as things to be built: height, weight, heat capacity, resistances, and whether the
//! house and the rule set bear them.

mod added;
mod demands;
mod height;
mod layers;
mod resistance;

use crate::emitters::{Choice, Emitters, floor_of};
use crate::envelope::{Enclosure, Envelope};
use crate::figure::{Figure, How};
use crate::words::Words;
use job::{Assembly, Construction, Finding, Job, Layer, Place, Room, Tube};
use quantity::{AreaResistance, ArealHeatCapacity, ArealMass, Length, Quantity};

/// The heated floor of one room as it is built.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorBuildUp {
    /// The room's key.
    pub room: String,
    /// Its construction, by key.
    pub assembly: String,
    /// What it is called on paper.
    pub name: String,
    /// What is laid on the structural floor, finish included; none where a layer's thickness is
    /// unknown.
    pub height: Option<Figure<Length>>,
    /// Weight of all layers and the finish; none where a density is unknown.
    pub weight: Option<Figure<ArealMass>>,
    /// The part of it that is laid on the structural floor.
    pub added_weight: Option<Figure<ArealMass>>,
    /// Heat that the layers store that the tube warms: down to the first insulation below it.
    pub capacity: Option<Figure<ArealHeatCapacity>>,
    /// From the tube's top to the room's air film, finish included, as if heat went straight up.
    pub above: Option<Figure<AreaResistance>>,
    /// From the tube down to the lower air film.
    pub below: Option<Figure<AreaResistance>>,
    /// What the house makes of it, in a few words each.
    pub verdict: Vec<String>,
}

/// One heated floor while it is looked at.
struct Floor<'a> {
    job: &'a Job,
    room: &'a Room,
    enclosure: &'a Enclosure,
    assembly: &'a Assembly,
    layers: &'a [Layer],
    place: Place,
    /// Number of the layer that holds the tube.
    holder: usize,
    tube: &'a Tube,
    /// Distance of the tubes where it is known; plates are weighed by it.
    spacing_m: Option<f64>,
}

impl<'a> Floor<'a> {
    /// The floor of a room; none where it is not heated or its layers are not known.
    fn of(job: &'a Job, room: &'a Room, enclosure: &'a Enclosure, choice: &Choice) -> Option<Self> {
        let assembly = floor_of(job, enclosure, room).filter(|_| room.heated.value)?;
        let Some(Construction::Layers(layers)) = &assembly.construction else { return None };
        let holds = |layer: &Layer| matches!(layer, Layer::Material { holds_tube: true, .. });
        let holder = layers.value.iter().position(holds)?;
        let held = job.heating.tube.held().map(|held| &held.value);
        let tube = job.catalogue.tube(held.unwrap_or(&job.rules.tube.value))?;
        let chosen = choice.floors.iter().find(|floor| floor.room == room.key);
        let held = room.spacing.held().map(|held| held.value);
        let spacing = chosen.map(|floor| floor.spacing.value).or(held);
        Some(Floor {
            job,
            room,
            enclosure,
            assembly,
            layers: &layers.value,
            place: layers.place,
            holder,
            tube,
            spacing_m: spacing.map(Quantity::si),
        })
    }

    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }

    fn name(&self) -> String {
        let of_catalogue = self.assembly.build_up.as_deref();
        let build_up = of_catalogue.and_then(|key| self.job.catalogue.build_up(key));
        build_up.map_or_else(|| self.assembly.key.replace('_', " "), |it| it.name.clone())
    }

    /// Where its layers come from.
    fn origin(&self) -> How {
        let of_catalogue = self.assembly.build_up.as_deref();
        match of_catalogue.and_then(|key| self.job.catalogue.build_up(key)) {
            Some(build_up) => How::Catalogue(format!("{}: {}", build_up.name, build_up.source)),
            None => How::Stated(self.place),
        }
    }

    /// The material that holds the tube.
    fn holder_material(&self) -> Option<&'a job::Material> {
        self.layers.get(self.holder).and_then(|layer| self.material(layer))
    }

    fn material(&self, layer: &Layer) -> Option<&'a job::Material> {
        match layer {
            Layer::Material { material, .. } => self.job.catalogue.material(material),
            _ => None,
        }
    }
}

/// The heated floors, and what is found about them.
pub(crate) fn build_ups(
    job: &Job,
    envelope: &Envelope,
    choice: &Choice,
    emitters: &Emitters,
    findings: &mut Vec<Finding>,
) -> Vec<FloorBuildUp> {
    let rooms = job.rooms.iter().zip(&envelope.enclosures);
    let floors: Vec<Floor<'_>> =
        rooms.filter_map(|(room, enclosure)| Floor::of(job, room, enclosure, choice)).collect();
    let mut built: Vec<FloorBuildUp> = Vec::with_capacity(floors.len());
    for floor in &floors {
        let mut of_floor = described(floor);
        height::judge(floor, &mut of_floor, findings);
        demands::judge(floor, &of_floor, emitters, findings);
        built.push(of_floor);
    }
    height::raised(&floors, &built, findings);
    demands::thin_cover(&floors, findings);
    built
}

fn described(floor: &Floor<'_>) -> FloorBuildUp {
    let added = added::count(floor);
    let (above, below) = resistance::around_tube(floor);
    FloorBuildUp {
        room: floor.room.key.clone(),
        assembly: floor.assembly.key.clone(),
        name: floor.name(),
        height: layers::height(floor, added),
        weight: layers::weight(floor, "weight of the floor", floor.layers.len()),
        added_weight: layers::weight(floor, "weight laid on the structural floor", added),
        capacity: layers::capacity(floor),
        above,
        below,
        verdict: Vec::new(),
    }
}
