//! What all parts of the heat loss look up.

use super::unheated::Cold;
use super::{Tubed, Weather};
use crate::envelope::{Behind, Enclosure, Envelope, Face, FaceKind};
use crate::figure::{Figure, Given, How};
use job::{Job, Room};
use laws::envelope as law;
use quantity::TemperatureDifference;
use quantity::{Area, HeatLossCoefficient, Ratio, Temperature, Transmittance};
use std::collections::BTreeMap;

/// The house as the heat loss sees it.
pub(super) struct Case<'a> {
    pub(super) job: &'a Job,
    pub(super) envelope: &'a Envelope,
    pub(super) weather: &'a Weather,
    /// Rooms of the text by key.
    stated: BTreeMap<&'a str, &'a Room>,
    /// Number of each enclosure by its room's key.
    numbers: BTreeMap<&'a str, usize>,
    /// Floor that can take tube, or took it, by number of the room.
    available: Vec<Option<Figure<Area>>>,
    /// Share of the floor without tube, by number of the room.
    bare_share: Vec<Option<Figure<Ratio>>>,
    /// Spaces and rooms that nobody heats, by key.
    pub(super) cold: BTreeMap<String, Cold>,
    usual: Figure<Temperature>,
}

impl<'a> Case<'a> {
    pub(super) fn new(
        job: &'a Job,
        envelope: &'a Envelope,
        weather: &'a Weather,
        tubed: &Tubed,
    ) -> Self {
        let rooms = envelope.enclosures.iter().enumerate();
        let numbers = rooms.map(|(number, one)| (one.room.as_str(), number)).collect();
        let available: Vec<_> = envelope
            .enclosures
            .iter()
            .map(|one| available(job, one, tubed.get(&one.room).copied()))
            .collect();
        let bare_share = envelope
            .enclosures
            .iter()
            .zip(&available)
            .map(|(one, available)| bare_share(job, one, available.as_ref()?))
            .collect();
        let stated = job.rooms.iter().map(|room| (room.key.as_str(), room)).collect();
        let cold = BTreeMap::new();
        let usual = usual(envelope);
        Case { job, envelope, weather, stated, numbers, available, bare_share, cold, usual }
    }

    /// The room of the text with that key.
    pub(super) fn stated(&self, room: &str) -> Option<&'a Room> {
        self.stated.get(room).copied()
    }

    /// Mean temperature of the heated rooms.
    pub(super) fn usual(&self) -> Figure<Temperature> {
        self.usual.clone()
    }

    /// Whether the leaks of rooms are parts of one flow of the house at one time.
    ///
    /// A leakage area gives the flow of the house, and so does a blower door over its divisor; by
    /// shielding each room is reckoned as if the wind stood on it.
    pub(super) fn leaks_add_up(&self) -> bool {
        let by_divisor = self.job.rules.blower_door.value == job::BlowerDoorMethod::Divisor;
        let house = &self.job.house;
        house.leakage_area.is_some() || (by_divisor && house.blower_door.is_some())
    }

    /// The room with that key, if it is one.
    pub(super) fn enclosure(&self, key: &str) -> Option<&'a Enclosure> {
        self.envelope.enclosures.get(*self.numbers.get(key)?)
    }

    /// Whether that face looks into a space or room that nobody heats.
    pub(super) fn looks_into_cold(&self, behind: &Behind) -> bool {
        match behind {
            Behind::Space(_) => true,
            Behind::Room(key) => self.enclosure(key).is_some_and(|other| other.unheated),
            _ => false,
        }
    }

    /// Floor that takes tube in that room.
    pub(super) fn available(&self, room: &str) -> Option<Figure<Area>> {
        self.available.get(*self.numbers.get(room)?)?.clone()
    }

    /// The part of a face that loses a room's heat by itself.
    ///
    /// Floor with tube leaves the room above it and the room below it: what it gives, up and
    /// down, comes from its water.
    pub(super) fn counted(&self, room: &str, face: &Face) -> Figure<Area> {
        let floor_of = match (face.kind, &face.behind) {
            (FaceKind::Floor, _) => Some(room),
            (FaceKind::Ceiling | FaceKind::Roof, Behind::Room(above)) => Some(above.as_str()),
            _ => None,
        };
        let number = floor_of.and_then(|room| self.numbers.get(room));
        match number.and_then(|number| self.bare_share[*number].as_ref()) {
            Some(share) => Figure::product(
                format!("{}, without the floor with tube", face.key),
                &[&face.area.work, &share.work],
            ),
            None => face.area.clone(),
        }
    }

    /// Share of that room's floor that has no tube; none where it has none at all.
    pub(super) fn bare_share(&self, room: &str) -> Option<&Figure<Ratio>> {
        self.bare_share.get(*self.numbers.get(room)?)?.as_ref()
    }

    /// The U-value with the allowance for thermal bridges where the rule set asks for it.
    pub(super) fn bridged(&self, face: &Face, u: &Figure<Transmittance>) -> Figure<Transmittance> {
        match self.bridge_allowance(&face.behind) {
            Some(allowance) => Figure::sum(
                format!("U of {} with thermal bridges", face.key),
                &[u.clone(), allowance],
            ),
            None => u.clone(),
        }
    }

    /// The allowance for thermal bridges of a face with that behind it; none if there is none.
    pub(super) fn bridge_allowance(&self, behind: &Behind) -> Option<Figure<Transmittance>> {
        let rule = &self.job.rules.thermal_bridges;
        let counts = *behind == Behind::Outdoors || self.looks_into_cold(behind);
        (counts && rule.si() > 0.0).then(|| Figure::rule("allowance for thermal bridges", rule))
    }

    /// Heat per degree through a whole face, bridges included; the error says what is missing.
    pub(super) fn conductance(
        &self,
        face: &Face,
        area: &Figure<Area>,
    ) -> Result<Figure<HeatLossCoefficient>, String> {
        let u = face.transmittance.as_ref();
        let u = u.ok_or_else(|| format!("how its {} is made", face.key))?;
        let name = format!("{} to {}", face.key, face.behind.words());
        Ok(Figure::product(name, &[&area.work, &self.bridged(face, u).work]))
    }
}

/// Mean temperature of the heated rooms, by floor area; 20 °C where there is none.
fn usual(envelope: &Envelope) -> Figure<Temperature> {
    let heated = envelope.enclosures.iter().filter(|one| !one.unheated);
    let (areas, temperatures) = heated
        .filter_map(|one| Some((one.area.as_ref()?.work.clone(), one.indoor.work.clone())))
        .unzip();
    let inputs = [Given::List(areas), Given::List(temperatures)];
    let mean = Figure::by_law("mean of the heated rooms", &law::MEAN_ROOM_TEMPERATURE, &inputs);
    mean.unwrap_or_else(|_| {
        Figure::assumed("mean of the heated rooms", 293.15, "no heated room has an area; 20 °C")
    })
}

/// Floor that takes tube, for a room that is to be heated by its floor.
fn available(job: &Job, enclosure: &Enclosure, tubed_m2: Option<f64>) -> Option<Figure<Area>> {
    let stated = job.room(&enclosure.room)?;
    if !stated.heated.value || enclosure.unheated || enclosure.free.is_empty() {
        return None;
    }
    if let Some(tubed_m2) = tubed_m2 {
        return Some(Figure::taken_off("floor with tube", tubed_m2, "floor of the loops as laid"));
    }
    let area = enclosure.free.iter().map(plane::Region::area_m2).sum();
    Some(Figure::taken_off("floor that can take tube", area, "floor less keep-outs"))
}

/// Share of a floor that takes no tube; holes in it are no floor.
fn bare_share(job: &Job, enclosure: &Enclosure, available: &Figure<Area>) -> Option<Figure<Ratio>> {
    let area = enclosure.area.as_ref()?;
    let own = job.voids.iter().filter(|void| void.room.value == enclosure.room);
    let holes =
        own.filter_map(|void| plane::Region::simple(void.outline.as_ref()?.corners.clone()).ok());
    let holes_m2: f64 = holes.map(|hole| hole.area_m2()).sum();
    let floor_m2 = area.si() - holes_m2;
    if floor_m2 <= 0.0 {
        return None;
    }
    let share = (1.0 - available.si() / floor_m2).max(0.0);
    let how = "one less the floor with tube over all floor";
    let from = vec![available.work.clone(), area.work.clone()];
    Some(Figure::settled("share of the floor without tube", share, how, from))
}

/// A temperature less another.
pub(super) fn difference(
    indoor: &Figure<Temperature>,
    far: &Figure<Temperature>,
) -> Figure<TemperatureDifference> {
    let how = How::Less(indoor.work.clone(), far.work.clone());
    Figure::new("temperature difference", indoor.si() - far.si(), how)
}
