//! From faces to watts.

use super::{FaceLoss, Loads, RoomLoss, Split};
use crate::envelope::{Behind, Enclosure, Envelope, Face, FaceKind};
use crate::figure::{Figure, Given, How};
use crate::state::State;
use job::{Finding, Job, Severity};
use laws::{air, envelope as law, ground};
use quantity::{
    AirChange, AirFlow, AirVolume, Area, Density, HeatLossCoefficient, Power, Quantity, Ratio,
    SpecificHeat, Temperature, TemperatureDifference,
};
use std::collections::BTreeMap;

/// Specific heat of air, J/kgK.
const AIR_J_KGK: f64 = 1006.0;
/// Annual mean taken where the text is silent: 8 °C.
const ANNUAL_MEAN_K: f64 = 281.15;

/// Temperatures outside on the day asked for.
pub(crate) struct Weather {
    pub(crate) outdoor: Figure<Temperature>,
    pub(crate) annual_mean: Figure<Temperature>,
}

/// The weather of the design day, or of the state asked for; none without a design temperature.
pub(crate) fn weather(job: &Job, state: &State, findings: &mut Vec<Finding>) -> Option<Weather> {
    // Its absence was told when the text was read.
    let design = job.outdoors.design.as_ref()?;
    let outdoor = match state.outdoor {
        Some(asked) => {
            let how = How::Decided("the outdoor temperature asked for".to_owned());
            Figure::new("outdoor temperature", asked.si(), how)
        }
        None => Figure::fact("outdoor design temperature", design),
    };
    let annual_mean = match &job.outdoors.annual_mean {
        Some(mean) => Figure::fact("annual mean outdoor temperature", mean),
        None => {
            findings.push(Finding::new(
                Severity::Warn,
                "no-annual-mean",
                "outdoors.annual_mean",
                "the annual mean outdoor temperature is missing; 8 °C (46 °F) is taken",
                "add `annual_mean = …` to [outdoors]: it governs the loss to the ground",
            ));
            let why = "nothing states it; a cool temperate place";
            Figure::assumed("annual mean outdoor temperature", ANNUAL_MEAN_K, why)
        }
    };
    Some(Weather { outdoor, annual_mean })
}

/// Floor that took tube, by room key, once loops are laid; before that all free floor counts.
pub(crate) type Tubed = BTreeMap<String, f64>;

/// Heat loss of every room that has what it takes.
pub(crate) fn loads(
    job: &Job,
    envelope: &Envelope,
    weather: Option<&Weather>,
    tubed: &Tubed,
    findings: &mut Vec<Finding>,
) -> Loads {
    let Some(weather) = weather else { return Loads::default() };
    let mut rooms = Vec::new();
    for enclosure in &envelope.enclosures {
        match room(job, envelope, enclosure, weather, tubed.get(&enclosure.room).copied()) {
            Ok(loss) => rooms.push(loss),
            Err(why) => findings.push(
                Finding::new(
                    Severity::Stop,
                    "no-heat-loss",
                    format!("room.{}", enclosure.room),
                    format!("cannot tell its heat loss: {why}"),
                    "add what is missing; the other rooms stand",
                )
                .at(enclosure.place),
            ),
        }
    }
    let totals: Vec<_> = rooms.iter().map(|room| room.heat.total.clone()).collect();
    let total = (!totals.is_empty()).then(|| Figure::sum("heat loss of the house", &totals));
    Loads { rooms, total, ..Loads::default() }
}

fn room(
    job: &Job,
    envelope: &Envelope,
    enclosure: &Enclosure,
    weather: &Weather,
    tubed_m2: Option<f64>,
) -> Result<RoomLoss, String> {
    let area = enclosure.area.as_ref().ok_or("no floor area")?;
    let stated = job.room(&enclosure.room).ok_or("no such room")?;
    if enclosure.faces.is_empty() {
        return Err("no surfaces".to_owned());
    }
    let available = available(job, enclosure, tubed_m2);
    let (air_flow, air_coefficient, air) = air_loss(job, enclosure, area, weather)?;
    let mut faces = Vec::new();
    for face in &enclosure.faces {
        let unheated = unheated_part(face, stated.heated.value, available.as_ref());
        faces.extend(face_loss(job, envelope, enclosure, &unheated, weather)?);
    }
    let heat = split(&faces, air, |face| face.loss.clone());
    let per_degree = split(&faces, air_coefficient, |face| face.coefficient.clone());
    let per_area = (area.si() > 0.0)
        .then(|| Figure::quotient("heat loss per floor area", &heat.total.work, &area.work));
    Ok(RoomLoss {
        room: enclosure.room.clone(),
        faces,
        heat,
        per_degree,
        air_flow,
        per_area,
        from_above: None,
        reheat: None,
        available,
    })
}

/// Sums faces by what is behind them.
fn split<Q: Quantity>(
    faces: &[FaceLoss],
    air: Figure<Q>,
    of: impl Fn(&FaceLoss) -> Figure<Q>,
) -> Split<Q> {
    let sum = |name: &str, wanted: fn(&Behind) -> bool| {
        let parts: Vec<Figure<Q>> =
            faces.iter().filter(|face| face.counts && wanted(&face.behind)).map(&of).collect();
        Figure::sum(name, &parts)
    };
    let outdoors = sum("to outdoors", |behind| *behind == Behind::Outdoors);
    let unheated = sum("to unheated spaces", |behind| matches!(behind, Behind::Space(_)));
    let ground = sum("into the ground", |behind| *behind == Behind::Ground);
    let neighbours = sum("to neighbouring rooms", |behind| {
        matches!(behind, Behind::Room(_) | Behind::Heated | Behind::NextHouse)
    });
    let all = [&outdoors, &unheated, &ground, &neighbours, &air].map(Clone::clone);
    let total = Figure::sum("heat loss", &all);
    Split { outdoors, unheated, ground, neighbours, air, total }
}

/// Floor that takes tube, for a room that is to be heated by its floor.
fn available(job: &Job, enclosure: &Enclosure, tubed_m2: Option<f64>) -> Option<Figure<Area>> {
    let stated = job.room(&enclosure.room)?;
    if !stated.heated.value || enclosure.free.is_empty() {
        return None;
    }
    if let Some(tubed_m2) = tubed_m2 {
        return Some(Figure::taken_off("floor with tube", tubed_m2, "floor of the loops as laid"));
    }
    let area = enclosure.free.iter().map(plane::Region::area_m2).sum();
    Some(Figure::taken_off("floor that can take tube", area, "floor less keep-outs"))
}

/// The part of a face that loses heat by itself: a floor with tube leaves only the rest.
///
/// What the heated part loses downward comes from its water, not from the room.
fn unheated_part(face: &Face, heated: bool, available: Option<&Figure<Area>>) -> Face {
    match available {
        Some(available) if heated && face.kind == FaceKind::Floor => {
            let rest = face.area.less("floor without tube", available);
            Face { area: rest, ..face.clone() }
        }
        _ => face.clone(),
    }
}

fn face_loss(
    job: &Job,
    envelope: &Envelope,
    enclosure: &Enclosure,
    face: &Face,
    weather: &Weather,
) -> Result<Option<FaceLoss>, String> {
    let told = |error: laws::LawError| format!("{}: {error}", face.key);
    let neighbour = match &face.behind {
        Behind::Heated | Behind::NextHouse => return Ok(None),
        Behind::Space(key) => return Err(format!("{}: how warm {key} is", face.key)),
        Behind::Room(key) => {
            let other = envelope.enclosures.iter().find(|other| other.room == *key);
            let indoor = other.map(|other| other.indoor.clone());
            let indoor = indoor.ok_or_else(|| format!("{}: no room {key}", face.key))?;
            if indoor.si() == enclosure.indoor.si() {
                return Ok(None);
            }
            Some(indoor)
        }
        Behind::Outdoors | Behind::Ground => None,
    };
    let u = face.transmittance.as_ref();
    let u = u.ok_or_else(|| format!("how its {} is made", face.key))?;
    let name = format!("{} to {}", face.key, face.behind.words());
    let coefficient: Figure<HeatLossCoefficient> =
        Figure::product(name.clone(), &[&face.area.work, &u.work]);
    let far = neighbour.as_ref().unwrap_or(&weather.outdoor);
    let difference = difference(&enclosure.indoor, far);
    let loss = if face.behind == Behind::Ground {
        ground_loss(job, face, u, &enclosure.indoor, weather).map_err(told)?
    } else {
        let inputs = [Given::from(&coefficient), Given::from(&difference)];
        Figure::by_law(name, &law::TRANSMISSION_HEAT, &inputs).map_err(told)?
    };
    Ok(Some(FaceLoss {
        face: face.key.clone(),
        kind: face.kind,
        behind: face.behind.clone(),
        area: face.area.clone(),
        transmittance: Some(u.clone()),
        difference,
        coefficient,
        loss,
        counts: true,
    }))
}

fn difference(
    indoor: &Figure<Temperature>,
    far: &Figure<Temperature>,
) -> Figure<TemperatureDifference> {
    let how = How::Less(indoor.work.clone(), far.work.clone());
    Figure::new("temperature difference", indoor.si() - far.si(), how)
}

fn ground_loss(
    job: &Job,
    face: &Face,
    u: &Figure<quantity::Transmittance>,
    indoor: &Figure<Temperature>,
    weather: &Weather,
) -> Result<Figure<Power>, laws::LawError> {
    let swing = Figure::<Ratio>::rule("factor for the swing of the year", &job.rules.ground_swing);
    let water = Figure::<Ratio>::rule("factor for ground water", &job.rules.ground_water);
    // fg2 (Ti − Te) is Ti − Tme: taken directly it also holds when it is as warm outside as inside.
    let factor = Figure::<Ratio>::new(
        "temperature factor of the ground",
        1.0,
        How::Decided("the difference is taken to the annual mean itself".to_owned()),
    );
    let to_mean = difference(indoor, &weather.annual_mean);
    let inputs = [&face.area.work, &u.work, &swing.work, &factor.work, &water.work, &to_mean.work];
    Figure::by_law("floor to ground", &ground::GROUND_HEAT_LOSS, &inputs.map(Given::One))
}

/// Outdoor air of a room: its flow, heat per degree, and heat.
type Air = (Figure<AirFlow>, Figure<HeatLossCoefficient>, Figure<Power>);

fn air_loss(
    job: &Job,
    enclosure: &Enclosure,
    area: &Figure<Area>,
    weather: &Weather,
) -> Result<Air, String> {
    let told = |error: laws::LawError| format!("air: {error}");
    let height = enclosure.height.as_ref().ok_or("no ceiling height")?;
    let stated = job.room(&enclosure.room).and_then(|room| room.air_changes.as_ref());
    let changes: Figure<AirChange> =
        Figure::fact("air changes", stated.unwrap_or(&job.house.air_changes));
    let volume: Figure<AirVolume> = Figure::product("air in the room", &[&area.work, &height.work]);
    let altitude = Figure::fact("altitude", &job.outdoors.altitude);
    let density: Figure<Density> = Figure::by_law(
        "density of the air",
        &air::AIR_DENSITY_AT_ALTITUDE,
        &[Given::from(&altitude), Given::from(&enclosure.indoor)],
    )
    .map_err(told)?;
    let heat = Figure::<SpecificHeat>::new(
        "specific heat of air",
        AIR_J_KGK,
        How::Catalogue(
            "dry air at room temperature, 1006 J/kgK (common handbook value)".to_owned(),
        ),
    );
    let inputs = [&volume.work, &changes.work, &density.work, &heat.work];
    let coefficient: Figure<HeatLossCoefficient> =
        Figure::by_law("air change", &air::AIR_CHANGE_LOSS, &inputs.map(Given::One))
            .map_err(told)?;
    let flow = Figure::product("outdoor air", &[&volume.work, &changes.work]);
    let difference = difference(&enclosure.indoor, &weather.outdoor);
    let inputs = [Given::from(&coefficient), Given::from(&difference)];
    let loss = Figure::by_law("outdoor air to warm", &law::TRANSMISSION_HEAT, &inputs);
    Ok((flow, coefficient, loss.map_err(told)?))
}
