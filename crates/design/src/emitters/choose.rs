//! Spacing of each floor, and the water temperature that serves them all.

use super::below::Surroundings;
use super::build_up::{BuildUp, NoBuildUp, build_up};
use super::section::{Response, Sections};
use super::untold::Untold;
use crate::balance::Crossed;
use crate::envelope::Envelope;
use crate::figure::{Figure, Given, How};
use crate::loads::{Loads, RoomLoss, Weather};
use crate::loops::TubeLoop;
use crate::words::Words;
use job::{
    Decided, Decision, Finding, FinishKind, Job, Reason, Room, Rule, Severity, SurfaceLimit, Tube,
};
use laws::panel as law;
use quantity::{
    Area, HeatFlux, Length, Measure, Power, Quantity, Temperature, TemperatureDifference,
    Transmittance,
};

/// Grooves from tube to tube at most.
const GROOVES_MOST: u32 = 4;

/// A heated floor while it is being designed.
#[derive(Clone, Debug)]
pub(crate) struct Floor {
    /// The room's key.
    pub(crate) room: String,
    /// Number of the room in the job and in the envelope.
    pub(crate) number: usize,
    /// Floor that can take tube; once laid, that of its own loops.
    pub(crate) area: Figure<Area>,
    pub(crate) tube: Decided<String>,
    pub(crate) build_up: BuildUp,
    pub(crate) load: RoomLoss,
    pub(crate) indoor: Figure<Temperature>,
    pub(crate) limit: Figure<Temperature>,
    /// Heat per area at which the floor reaches its limit.
    pub(crate) flux_limit: Figure<HeatFlux>,
    /// Heat per area that the room needs from its own loops, leaders' heat taken off once known.
    pub(crate) flux_needed: Figure<HeatFlux>,
    pub(crate) spacing: Decided<Length>,
    /// Spacing by which its output is found: as decided, once laid the widest of its loops.
    pub(crate) spacing_laid: Figure<Length>,
    /// From the fluid to the outside of its tube, W/mK: nominal until its flow is known.
    pub(crate) tube_w_mk: f64,
    /// What it gives at that spacing, as bare numbers.
    pub(crate) response: Response,
    pub(crate) coefficient: Figure<Transmittance>,
    /// Whether it counts for the water temperature: it has loops, or nothing has any.
    pub(crate) tubed: bool,
    /// The circuit that feeds it once laid, by key; none where the job names none.
    pub(crate) circuit: Option<String>,
}

/// Water of one temperature, for the floors of one circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Water {
    /// The circuit, by key; none where the job names none.
    pub circuit: Option<String>,
    /// Supply temperature on the design day.
    pub supply: Decided<Temperature>,
    /// The room that sets it.
    pub governing: String,
}

/// What was chosen for all floors together.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) floors: Vec<Floor>,
    /// Water of each circuit that has a floor, in the order of floors.
    pub(crate) waters: Vec<Water>,
    pub(crate) drop: Figure<TemperatureDifference>,
    /// Rooms whose floor could carry leaders, heated or not.
    pub(crate) crossed: Vec<Crossed>,
}

fn decide_tube(job: &Job) -> Decided<String> {
    job.heating.tube.or_else(|| Decided {
        value: job.rules.tube.value.clone(),
        reason: Reason::Rule(job.rules.tube.citation()),
    })
}

/// The tube of the job, held or usual; none with a finding if the catalogue lacks it.
fn tube<'a>(job: &'a Job, findings: &mut Vec<Finding>) -> Option<&'a Tube> {
    let key = decide_tube(job).value;
    let found = job.catalogue.tube(&key);
    if found.is_none() {
        let place = job.heating.tube.held().map(|stated| stated.place);
        findings.push(
            Finding::new(
                Severity::Stop,
                "no-tube",
                "heating.tube",
                format!("no tube `{key}` in the catalogue"),
                "write one of the catalogue's tubes",
            )
            .at(place),
        );
    }
    found
}

/// Decides the spacing of each floor; the supply temperature follows once loops are laid.
pub(crate) fn choose(
    job: &Job,
    envelope: &Envelope,
    loads: &Loads,
    weather: Option<&Weather>,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Choice {
    let drop = match &job.heating.drop {
        Decision::Held(held) => {
            Figure::new("design temperature drop", held.value.si(), How::Stated(held.place))
        }
        Decision::Open => Figure::rule("design temperature drop", &job.rules.drop),
    };
    let (mut floors, mut crossed) = (Vec::new(), Vec::new());
    let mut untold = Untold::default();
    let tube = tube(job, findings);
    if let (Some(tube), Some(weather)) = (tube, weather) {
        let around = Surroundings { job, envelope, loads, weather };
        crossed.extend(crossed_rooms(&around, tube, sections));
        for loss in &loads.rooms {
            let Some(number) = job.rooms.iter().position(|room| room.key == loss.room) else {
                continue;
            };
            match floor(&around, number, loss, tube, &drop, sections) {
                Ok(floor) => floors.extend(floor),
                Err(why) => untold.add(&job.rooms[number], why),
            }
        }
    }
    findings.extend(untold.findings(job));
    Choice { floors, waters: Vec::new(), drop, crossed }
}

impl Choice {
    /// Takes for each circuit the supply that all its floors do with, unless the text holds one.
    fn decide_supply(&mut self, job: &Job) {
        let asking: Vec<&Floor> = self.floors.iter().filter(|floor| floor.tubed).collect();
        let mut waters: Vec<Water> = Vec::new();
        for floor in &asking {
            if waters.iter().any(|water| water.circuit == floor.circuit) {
                continue;
            }
            let own = asking.iter().filter(|other| other.circuit == floor.circuit);
            let needs = own.map(|own| (own, supply_needed(own, &self.drop)));
            let governing = needs.reduce(|best, need| if best.1 >= need.1 { best } else { need });
            waters.extend(governing.map(|(governing, kelvin)| Water {
                circuit: floor.circuit.clone(),
                supply: decide_supply(job, floor.circuit.as_deref(), &governing.room, kelvin),
                governing: governing.room.clone(),
            }));
        }
        self.waters = waters;
    }

    /// The supply of a circuit.
    pub(crate) fn supply(&self, circuit: Option<&str>) -> Option<&Decided<Temperature>> {
        let own = self.waters.iter().find(|water| water.circuit.as_deref() == circuit);
        own.map(|water| &water.supply)
    }

    /// The same in kelvin; that of the hottest circuit where it has none of its own.
    pub(crate) fn supply_k(&self, circuit: Option<&str>) -> Option<f64> {
        let all = || self.waters.iter().map(|water| water.supply.value.si());
        self.supply(circuit).map(|supply| supply.value.si()).or_else(|| all().reduce(f64::max))
    }

    /// The choice for loops as laid: each floor's output by its widest spacing, then the supply.
    ///
    /// A floor that only leaders warm has no say in the water temperature.
    pub(crate) fn as_laid(&self, job: &Job, loops: &[TubeLoop]) -> Choice {
        let mut laid = self.clone();
        for floor in &mut laid.floors {
            let own: Vec<&TubeLoop> =
                loops.iter().filter(|tube_loop| tube_loop.room == floor.room).collect();
            if !floor.build_up.is_in_floor() && own.is_empty() {
                // Its loops are not drawn: it asks for the water of the circuit meant for it.
                floor.circuit = likely_circuit(job, &job.rooms[floor.number]).map(str::to_owned);
                continue;
            }
            let Some(widest) = own.iter().map(|own| own.spacing_laid_m).reduce(f64::max) else {
                floor.tubed = loops.is_empty();
                continue;
            };
            let what = "the widest of its loops, to fit the room";
            let spacing = Figure::<Length>::taken_off("tube spacing as laid", widest, what);
            floor.circuit = own.first().and_then(|own| own.circuit.clone());
            floor.spacing_laid = spacing;
            floor.answers();
            let areas: Vec<_> = own.iter().map(|own| own.area.clone()).collect();
            floor.area = Figure::sum("floor of its loops", &areas);
            floor.needs_less(None);
        }
        laid.decide_supply(job);
        laid
    }

    /// The choice once each floor's flow and the leaders' heat in it are known.
    ///
    /// `tubes_w_mk` is the conductance from fluid to the outside of the tube, by floor.
    pub(crate) fn credited(
        &self,
        job: &Job,
        credits: &[Figure<Power>],
        tubes_w_mk: &[f64],
    ) -> Choice {
        let mut credited = self.clone();
        let known = credits.iter().zip(tubes_w_mk);
        for (floor, (credit, tube_w_mk)) in credited.floors.iter_mut().zip(known) {
            floor.tube_w_mk = *tube_w_mk;
            floor.answers();
            floor.needs_less(Some(credit));
        }
        credited.decide_supply(job);
        credited
    }
}

impl Floor {
    /// Finds again what it gives, for another spacing or film; an answer it had stays otherwise.
    fn answers(&mut self) {
        let build_up = &self.build_up;
        let spacing = &self.spacing_laid;
        if let Ok(response) = build_up.response(spacing.si(), self.tube_w_mk)
            && let Ok(coefficient) = build_up.output_coefficient(spacing, self.tube_w_mk)
        {
            (self.response, self.coefficient) = (response, coefficient);
        }
    }

    /// Heat per area that the room loses through its floor past the tubes, W/m².
    pub(crate) fn passing_w_m2(&self) -> f64 {
        self.response.passing_w_m2(self.indoor.si(), &self.build_up.beyond())
    }

    /// Heat per area downward at an excess of the water over the room, edge included, W/m².
    pub(crate) fn down_w_m2(&self, excess_k: f64) -> f64 {
        let build_up = &self.build_up;
        let down = self.response.down_w_m2(excess_k, self.indoor.si(), &build_up.beyond());
        down.max(0.0) + build_up.downward.edge_w_m2()
    }

    /// Takes the heat of leaders off what its own loops must give.
    fn needs_less(&mut self, credit: Option<&Figure<Power>>) {
        let total = &self.load.heat.total;
        let needed = credit.map(|credit| total.less("heat the floor must give", credit));
        let work = needed.as_ref().map_or(&total.work, |needed| &needed.work);
        self.flux_needed = Figure::quotient("heat needed per heated floor", work, &self.area.work);
    }
}

/// What leaders would give each room whose floor could hold them.
fn crossed_rooms(around: &Surroundings<'_>, tube: &Tube, sections: &mut Sections) -> Vec<Crossed> {
    let rooms = around.job.rooms.iter().zip(&around.envelope.enclosures);
    rooms
        .filter_map(|(room, enclosure)| {
            enclosure.floor.as_ref()?;
            let build_up = build_up(around, enclosure, room, tube, sections).ok()?;
            let room = room.key.clone();
            Some(Crossed { room, indoor_k: enclosure.indoor.si(), build_up })
        })
        .collect()
}

fn decide_supply(
    job: &Job,
    circuit: Option<&str>,
    room: &str,
    needed_k: f64,
) -> Decided<Temperature> {
    held_supply(job, circuit).or_else(|| {
        let words = Words { first: job.units.value };
        // A whole degree up, so that the governing room has a little in hand.
        let scale = Measure::Temperature.shown_unit(job.units.value);
        let rounded_k = scale.to_si((scale.from_si(needed_k) - 1e-6).ceil());
        let why = format!(
            "room {room} needs {}, rounded up to a whole {}",
            words.temperature(needed_k),
            scale.symbol
        );
        let most_k = job.rules.supply_slab.value.si();
        if rounded_k <= most_k {
            Decided::chosen(Temperature::from_si(rounded_k), why)
        } else {
            let citation = job.rules.supply_slab.citation();
            let reason = Reason::Rule(format!("hottest water for this floor: {citation}"));
            Decided { value: Temperature::from_si(most_k), reason }
        }
    })
}

/// The supply that the text holds for a circuit: its own, or that of the heating.
pub(super) fn held_supply<'a>(job: &'a Job, circuit: Option<&str>) -> &'a Decision<Temperature> {
    let own = job.circuits.iter().find(|own| Some(own.key.as_str()) == circuit);
    match own.map(|own| &own.supply) {
        Some(held @ Decision::Held(_)) => held,
        _ => &job.heating.supply,
    }
}

/// The heated floor of a room; none where it has none.
fn floor(
    around: &Surroundings<'_>,
    number: usize,
    loss: &RoomLoss,
    tube: &Tube,
    drop: &Figure<TemperatureDifference>,
    sections: &mut Sections,
) -> Result<Option<Floor>, NoBuildUp> {
    let Some(area) = loss.available.clone().filter(|area| area.si() > 0.0) else { return Ok(None) };
    let job = around.job;
    let (room, enclosure) = (&job.rooms[number], &around.envelope.enclosures[number]);
    let build_up = build_up(around, enclosure, room, tube, sections)?;
    let limit = surface_limit(job, room);
    let inputs = [Given::from(&limit), Given::from(&enclosure.indoor)];
    let flux_limit =
        Figure::by_law("most heat the floor may give", &law::FLOOR_SURFACE_HEAT_FLUX, &inputs)
            .unwrap_or_else(|_| Figure::new("most heat the floor may give", 0.0, how_cold()));
    let flux_needed =
        Figure::quotient("heat needed per heated floor", &loss.heat.total.work, &area.work);
    let target = flux_needed.si().clamp(0.0, flux_limit.si().max(0.0));
    let spacing = decide_spacing(job, room, &build_up, &enclosure.indoor, target, drop);
    let shown = Figure::decided("tube spacing", spacing.value.si(), &spacing.reason);
    let tube_w_mk = build_up.nominal_tube_w_mk();
    let response = build_up.response(shown.si(), tube_w_mk)?;
    let coefficient = build_up.output_coefficient(&shown, tube_w_mk)?;
    Ok(Some(Floor {
        room: room.key.clone(),
        number,
        area,
        tube: decide_tube(job),
        build_up,
        load: loss.clone(),
        indoor: enclosure.indoor.clone(),
        limit,
        flux_limit,
        flux_needed,
        spacing,
        spacing_laid: shown,
        tube_w_mk,
        response,
        coefficient,
        tubed: true,
        circuit: None,
    }))
}

fn how_cold() -> How {
    How::Decided("the room is warmer than its floor may be".to_owned())
}

/// Hottest floor allowed in a room: by its use, and by its finish.
fn surface_limit(job: &Job, room: &Room) -> Figure<Temperature> {
    Figure::rule("hottest floor allowed", limits(job, room).mean)
}

/// Hottest spot of the floor allowed in a room: by its use, and by its finish.
pub(crate) fn peak_limit<'a>(job: &'a Job, room: &Room) -> &'a Rule<Temperature> {
    limits(job, room).peak
}

fn limits<'a>(job: &'a Job, room: &Room) -> SurfaceLimit<'a> {
    let finish = job.catalogue.finish(&room.finish.value);
    let kind = finish.map_or(FinishKind::Bare, |finish| finish.kind);
    job.rules.surface_limit(room.used_as.value.into(), kind)
}

/// Supply temperature at which a floor just gives what it must, with the design drop.
pub(crate) fn supply_needed(floor: &Floor, drop: &Figure<TemperatureDifference>) -> f64 {
    let target = floor.flux_needed.si().clamp(0.0, floor.flux_limit.si().max(0.0));
    supply_for(target, floor.passing_w_m2(), floor.coefficient.si(), floor.indoor.si(), drop.si())
}

/// Supply temperature in kelvin for a heat per area; that of the room if no heat is needed.
///
/// `passing_w_m2` is what the room loses through its floor past the tubes, to be made up as well.
pub(crate) fn supply_for(
    flux_w_m2: f64,
    passing_w_m2: f64,
    coefficient_w_m2k: f64,
    room_k: f64,
    drop_k: f64,
) -> f64 {
    if flux_w_m2 <= 0.0 || flux_w_m2 + passing_w_m2 <= 0.0 {
        return room_k;
    }
    let excess_k = law::required_excess(flux_w_m2 + passing_w_m2, coefficient_w_m2k);
    // The exact inverse of the logarithmic mean: excess = drop / ln(supply / (supply - drop)).
    room_k + drop_k / -(-drop_k / excess_k).exp_m1()
}

fn decide_spacing(
    job: &Job,
    room: &Room,
    build_up: &BuildUp,
    indoor: &Figure<Temperature>,
    target_w_m2: f64,
    drop: &Figure<TemperatureDifference>,
) -> Decided<Length> {
    if let (Decision::Open, Some(bays)) = (&room.spacing, bays_spacing(job, room, build_up)) {
        return bays;
    }
    room.spacing.or_else(|| {
        let aim_k = match held_supply(job, likely_circuit(job, room)) {
            Decision::Held(held) => held.value.si(),
            Decision::Open => job.rules.supply_preferred.value.si(),
        };
        let words = Words { first: job.units.value };
        let supply_at = |spacing: &Length| {
            let response = build_up.response(spacing.si(), build_up.nominal_tube_w_mk()).ok()?;
            let passing_w_m2 = response.passing_w_m2(indoor.si(), &build_up.beyond());
            let room_k = indoor.si();
            Some(supply_for(target_w_m2, passing_w_m2, response.room, room_k, drop.si()))
        };
        let spacings = spacings_for(job, build_up);
        let widest = spacings.iter().find(|s| supply_at(s).is_some_and(|k| k <= aim_k));
        match (widest, spacings.last()) {
            (Some(spacing), _) => Decided::chosen(
                *spacing,
                format!("the widest that needs no more than {}", words.temperature(aim_k)),
            ),
            (None, Some(closest)) => Decided::chosen(
                *closest,
                format!("the closest there is; no spacing does with {}", words.temperature(aim_k)),
            ),
            (None, None) => Decided::chosen(Length::from_si(0.15), "the rule set names no spacing"),
        }
    })
}

/// The spacing of tube in joist bays: two strands lie in each. None where the joists are unknown.
fn bays_spacing(job: &Job, room: &Room, build_up: &BuildUp) -> Option<Decided<Length>> {
    let framing = room.framing.as_ref().filter(|_| build_up.is_in_bays())?;
    let framing = job.framings.iter().find(|own| own.key == framing.value)?;
    let half_m = framing.spacing.as_ref()?.value.si() / 2.0;
    Some(Decided::chosen(Length::from_si(half_m), "two strands in each joist bay"))
}

/// The circuit that will feed a room, as far as the text tells: by its manifold, or by its zone.
fn likely_circuit<'a>(job: &'a Job, room: &'a Room) -> Option<&'a str> {
    let manifold = room.manifold.held().map(|held| held.value.as_str());
    let manifold = job.manifolds.iter().find(|own| Some(own.key.as_str()) == manifold);
    let by_manifold = manifold.and_then(|manifold| manifold.circuit.as_ref());
    let zone = room.zone.as_ref().map(|zone| zone.value.as_str());
    let zone = job.zones.iter().find(|own| Some(own.key.as_str()) == zone);
    let by_zone = zone.and_then(|zone| zone.circuit.as_ref());
    by_manifold.or(by_zone).map(|circuit| circuit.value.as_str())
}

/// Spacings that an open design chooses from, widest first: those of the rule set, or what the
/// grooves allow.
fn spacings_for(job: &Job, build_up: &BuildUp) -> Vec<Length> {
    let ruled = &job.rules.spacings.value;
    let Some(grooves) = build_up.grooves else { return ruled.clone() };
    let widest_m = ruled.iter().map(|spacing| spacing.si()).fold(grooves.si(), f64::max);
    let mut grooved: Vec<Length> = (1..=GROOVES_MOST)
        .map(|times| Length::from_si(f64::from(times) * grooves.si()))
        .filter(|spacing| spacing.si() <= widest_m + 1e-9)
        .collect();
    grooved.reverse();
    grooved
}
