//! What a heated floor loses downward: to rooms, spaces, outdoors and the ground below it.

use super::section::Beyond;
use crate::envelope::{Behind, Enclosure, Envelope, Face, FaceKind, film};
use crate::figure::{Figure, How, Work};
use crate::loads::{Loads, Weather};
use job::{GroundMethod, Job, NextHouse};
use quantity::{
    AreaResistance, HeatFlux, Power, Ratio, Temperature, TemperatureDifference, Transmittance,
};
use std::sync::Arc;

/// Ways down from the tube, side by side over the heated floor.
#[derive(Clone, Debug)]
pub(crate) struct Downward {
    /// All ways that go by resistance, as one; none where there is no such way.
    resistance: Option<Figure<AreaResistance>>,
    /// Temperature that they lead to, as one.
    below: Figure<Temperature>,
    /// Loss at the slab's edge, which the rule set reckons whatever the water; none without one.
    by_edge: Option<Figure<HeatFlux>>,
    /// The tube's own layer beside and below it, counted in the resistance, m²K/W.
    rest_m2k_w: f64,
}

/// Layers below the tube's own that resist as much leave their underside evenly warm, m²K/W.
const EVEN_M2K_W: f64 = 0.3;
/// Whatever lies beyond a floor resists as much at least, m²K/W.
const LEAST_M2K_W: f64 = 0.01;

/// Layers of a floor as its way down sees them.
pub(crate) struct Under<'a> {
    /// Over the tube, finish and film left out.
    pub(crate) over: &'a Figure<AreaResistance>,
    /// Beside and below the tube in its own layer.
    pub(crate) rest: &'a Figure<AreaResistance>,
    /// Layers below that.
    pub(crate) insulation: &'a Figure<AreaResistance>,
}

impl Downward {
    /// What lies below the floor's own layers, of which those below the tube's resist so much.
    pub(crate) fn beyond(&self, insulation_m2k_w: f64) -> Beyond {
        self.past(insulation_m2k_w + self.rest_m2k_w + self.borrowed_m2k_w(insulation_m2k_w))
    }

    /// The same where nothing of it is counted as a layer of the floor.
    pub(crate) fn beyond_all(&self, insulation_m2k_w: f64) -> Beyond {
        self.past(insulation_m2k_w + self.rest_m2k_w)
    }

    /// What is left of the ways down past so much resistance.
    fn past(&self, own: f64) -> Beyond {
        let resistance = self.resistance.as_ref().map(|down| (down.si() - own).max(LEAST_M2K_W));
        Beyond {
            resistance_m2k_w: resistance.unwrap_or(f64::INFINITY),
            below_k: self.below.si(),
            edge_w_m2: self.edge_w_m2(),
        }
    }

    /// How much of what lies beyond is counted as a layer of the floor, m²K/W.
    ///
    /// The underside of the section is taken as evenly warm. Below insulation it is; a floor
    /// without any takes part of the ground, or of the film, into its section.
    pub(crate) fn borrowed_m2k_w(&self, insulation_m2k_w: f64) -> f64 {
        let lacking = (EVEN_M2K_W - insulation_m2k_w).max(0.0);
        let own = insulation_m2k_w + self.rest_m2k_w;
        self.resistance
            .as_ref()
            .map_or(lacking, |down| lacking.min((0.5 * (down.si() - own)).max(0.0)))
    }

    /// Heat per area lost at the slab's edge, which the rule set reckons whatever the water.
    fn edge_w_m2(&self) -> f64 {
        self.by_edge.as_ref().map_or(0.0, Figure::si)
    }

    /// The figures that it rests on.
    pub(crate) fn works(&self) -> Vec<Arc<Work>> {
        let resistance = self.resistance.iter().map(|figure| figure.work.clone());
        let edge = self.by_edge.iter().map(|figure| figure.work.clone());
        resistance.chain([self.below.work.clone()]).chain(edge).collect()
    }
}

/// What lies where: all that the ways down of a floor are found in.
pub(crate) struct Surroundings<'a> {
    pub(crate) job: &'a Job,
    pub(crate) envelope: &'a Envelope,
    pub(crate) loads: &'a Loads,
    pub(crate) weather: &'a Weather,
}

/// One way down and the share of the floor that takes it.
struct Way {
    share: f64,
    resistance: Figure<AreaResistance>,
    below: Figure<Temperature>,
}

impl Surroundings<'_> {
    /// The ways down of a room's floor; the heated part takes each in the share of the whole.
    pub(crate) fn downward(
        &self,
        enclosure: &Enclosure,
        under: &Under<'_>,
    ) -> Result<Downward, String> {
        let faces: Vec<&Face> =
            enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor).collect();
        let whole_m2: f64 = faces.iter().map(|face| face.area.si()).sum();
        let (mut ways, mut edges) = (Vec::new(), Vec::new());
        for face in faces.iter().filter(|face| face.area.si() > 0.0) {
            let share = face.area.si() / whole_m2;
            match &face.edge_loss {
                Some(loss) => edges.push(self.by_edge(enclosure, loss, whole_m2)),
                None => ways.push(self.way(enclosure, face, under, share)?),
            }
        }
        if ways.is_empty() && edges.is_empty() {
            // No face below: a heated space as warm as the room.
            ways.push(Way {
                share: 1.0,
                resistance: self.through_layers(under, true)?,
                below: enclosure.indoor.clone(),
            });
        }
        let by_edge = (!edges.is_empty()).then(|| Figure::sum("heat lost at the edge", &edges));
        let (resistance, below) = side_by_side(ways, &enclosure.indoor);
        Ok(Downward { resistance, below, by_edge, rest_m2k_w: under.rest.si() })
    }

    /// Loss at the edge over the floor: by the rule set's factor to outdoors, whatever the water.
    fn by_edge(
        &self,
        enclosure: &Enclosure,
        loss: &Figure<quantity::HeatLossCoefficient>,
        whole_m2: f64,
    ) -> Figure<HeatFlux> {
        let how = How::Less(enclosure.indoor.work.clone(), self.weather.outdoor.work.clone());
        let difference = Figure::<TemperatureDifference>::new(
            "room less outdoors",
            enclosure.indoor.si() - self.weather.outdoor.si(),
            how,
        );
        let heat: Figure<Power> =
            Figure::product("loss of the slab by its edge", &[&loss.work, &difference.work]);
        let area =
            Figure::<quantity::Area>::taken_off("floor", whole_m2, "faces of the floor together");
        Figure::quotient("heat lost at the edge", &heat.work, &area.work)
    }

    fn way(
        &self,
        enclosure: &Enclosure,
        face: &Face,
        under: &Under<'_>,
        share: f64,
    ) -> Result<Way, String> {
        if face.behind == Behind::Ground {
            let u = face.transmittance.as_ref().ok_or("its loss to the ground is unknown")?;
            let inside = film(FaceKind::Floor, true).map_err(|error| error.to_string())?;
            let resistance = ground_below(u, &inside, under.over);
            if resistance.si() <= 0.0 {
                return Err("its layers resist more than floor and ground together".to_owned());
            }
            return Ok(Way { share, resistance, below: self.ground(enclosure) });
        }
        let inside = face.behind != Behind::Outdoors;
        let resistance = self.through_layers(under, inside)?;
        Ok(Way { share, resistance, below: self.temperature(enclosure, &face.behind)? })
    }

    fn through_layers(
        &self,
        under: &Under<'_>,
        inside: bool,
    ) -> Result<Figure<AreaResistance>, String> {
        let last = film(FaceKind::Floor, inside).map_err(|error| error.to_string())?;
        let layers = [under.rest.clone(), under.insulation.clone(), last];
        Ok(Figure::sum("from tube to below", &layers))
    }

    /// The ground as the rule set's method for the loss into it has it.
    fn ground(&self, enclosure: &Enclosure) -> Figure<Temperature> {
        match self.job.rules.ground_method.value {
            GroundMethod::Iso13370 => ground_temperature(self.job, enclosure, self.weather),
            GroundMethod::EdgeFactor => self.weather.ground_surface.clone(),
        }
    }

    /// How warm it is behind a face.
    fn temperature(
        &self,
        enclosure: &Enclosure,
        behind: &Behind,
    ) -> Result<Figure<Temperature>, String> {
        let (indoor, weather) = (&enclosure.indoor, self.weather);
        match behind {
            Behind::Outdoors => Ok(weather.outdoor.clone()),
            Behind::Ground => Ok(self.ground(enclosure)),
            Behind::Heated => Ok(indoor.clone()),
            Behind::NextHouse => Ok(match self.job.rules.next_house.value {
                NextHouse::SameTemperature => indoor.clone(),
                NextHouse::AnnualMean => weather.annual_mean.clone(),
                NextHouse::Halfway => Figure::settled(
                    "temperature of the next house",
                    0.5 * (indoor.si() + weather.annual_mean.si()),
                    "halfway from the room to the mean of the year",
                    vec![indoor.work.clone(), weather.annual_mean.work.clone()],
                ),
            }),
            Behind::Room(key) | Behind::Space(key) => {
                let unheated = self.loads.unheated.iter().find(|space| space.key == *key);
                let other = self.envelope.enclosures.iter().find(|other| other.room == *key);
                let heated = other.filter(|other| !other.unheated);
                unheated
                    .map(|space| space.temperature.clone())
                    .or_else(|| heated.map(|room| room.indoor.clone()))
                    .ok_or_else(|| format!("how warm {key} below it is, is not known"))
            }
        }
    }
}

/// Ways side by side as one: conductances add, and the temperature is weighted by them.
fn side_by_side(
    mut ways: Vec<Way>,
    indoor: &Figure<Temperature>,
) -> (Option<Figure<AreaResistance>>, Figure<Temperature>) {
    if ways.len() == 1 && ways[0].share > 1.0 - 1e-9 {
        let way = ways.remove(0);
        return (Some(way.resistance), way.below);
    }
    let conductance: f64 = ways.iter().map(|way| way.share / way.resistance.si()).sum();
    if conductance <= 0.0 {
        return (None, indoor.clone());
    }
    let weighted = |way: &Way| way.share / way.resistance.si() * way.below.si() / conductance;
    let below_k = ways.iter().map(weighted).sum();
    let resistances = ways.iter().map(|way| way.resistance.work.clone()).collect();
    let temperatures = ways.iter().map(|way| way.below.work.clone()).collect();
    let resistance = Figure::settled(
        "from tube to below, all ways side by side",
        1.0 / conductance,
        "conductance of each way by its share of the floor, added",
        resistances,
    );
    let below = Figure::settled(
        "temperature below, all ways side by side",
        below_k,
        "each by its share of the conductance",
        temperatures,
    );
    (Some(resistance), below)
}

/// The way of floor and ground together, less what lies over the tube.
fn ground_below(
    u: &Figure<Transmittance>,
    film: &Figure<AreaResistance>,
    over: &Figure<AreaResistance>,
) -> Figure<AreaResistance> {
    let one = Figure::<Ratio>::new("one", 1.0, How::Decided("definition of R = 1/U".to_owned()));
    let whole: Figure<AreaResistance> = Figure::quotient("room to ground", &one.work, &u.work);
    let over = Figure::sum("film and layers over the tube", &[film.clone(), over.clone()]);
    whole.less("from tube to ground", &over)
}

/// The ground's temperature as the loss of the design day has it.
fn ground_temperature(job: &Job, enclosure: &Enclosure, weather: &Weather) -> Figure<Temperature> {
    let swing = Figure::<Ratio>::rule("factor for the swing of the year", &job.rules.ground_swing);
    let indoor = &enclosure.indoor;
    let water = Figure::<Ratio>::rule("factor for ground water", &job.rules.ground_water);
    let factor = swing.si() * water.si();
    let si = indoor.si() - factor * (indoor.si() - weather.annual_mean.si());
    Figure::settled(
        "temperature of the ground on the design day",
        si,
        "indoor temperature less both factors times indoor less annual mean",
        [indoor, &weather.annual_mean]
            .map(|figure| figure.work.clone())
            .into_iter()
            .chain([swing.work.clone(), water.work.clone()])
            .collect(),
    )
}
