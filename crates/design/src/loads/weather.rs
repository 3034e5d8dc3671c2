//! Temperatures outside: of the air, of the year, of the ground in winter.

use crate::figure::{Figure, How};
use crate::state::State;
use crate::words::Words;
use job::{Finding, Job, Severity};
use quantity::{Quantity, Temperature, TemperatureDifference};

/// Annual mean taken where the text is silent: 8 °C.
const ANNUAL_MEAN_K: f64 = 281.15;
/// Swing of the ground's surface taken where the text is silent.
const GROUND_SWING_K: f64 = 10.0;

/// Temperatures outside on the day asked for.
pub(crate) struct Weather {
    pub(crate) outdoor: Figure<Temperature>,
    pub(crate) annual_mean: Figure<Temperature>,
    /// The ground's surface at its coldest, which below-grade averages are reckoned from.
    pub(crate) ground_surface: Figure<Temperature>,
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
    findings.extend(not_cold(job, &outdoor).filter(|_| state.outdoor.is_none()));
    let ground_surface = ground_surface(job, &annual_mean);
    Some(Weather { outdoor, annual_mean, ground_surface })
}

/// Tells a design day that is no colder than the coolest heated room: mostly a wrong unit.
fn not_cold(job: &Job, outdoor: &Figure<Temperature>) -> Option<Finding> {
    let heated = job.rooms.iter().filter(|room| !room.unheated.value);
    let coolest_k = heated.map(|room| room.indoor.value.si()).reduce(f64::min)?;
    if outdoor.si() < coolest_k {
        return None;
    }
    let words = Words { first: job.units.value };
    let message = format!(
        "the design day at {} is no colder than the coolest room at {}: nothing is to be heated",
        words.temperature(outdoor.si()),
        words.temperature(coolest_k)
    );
    let advice = "write the outdoor temperature of the coldest hours of the year";
    let place = job.outdoors.design.as_ref().and_then(|design| design.place());
    let (warn, subject) = (Severity::Warn, "outdoors.design");
    Some(Finding::new(warn, "design-not-cold", subject, message, advice).at(place))
}

fn ground_surface(job: &Job, annual_mean: &Figure<Temperature>) -> Figure<Temperature> {
    let swing: Figure<TemperatureDifference> = match &job.outdoors.ground_swing {
        Some(swing) => Figure::fact("winter swing of the ground's surface", swing),
        None => Figure::assumed(
            "winter swing of the ground's surface",
            GROUND_SWING_K,
            "nothing states it; 10 K is the middle of the map for North America \
             (ASHRAE Fundamentals, residential loads, from memory)",
        ),
    };
    let how = How::Less(annual_mean.work.clone(), swing.work.clone());
    Figure::new("ground surface in winter", annual_mean.si() - swing.si(), how)
}
