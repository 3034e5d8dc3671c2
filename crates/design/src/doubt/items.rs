//! What a careful person might have taken instead.

use crate::words::Words;
use job::{Dimensions, Fact, Films, GroundMethod, Job, NextHouse, Origin, UnheatedMethod};
use quantity::{Measure, Quantity};

/// One thing varied: the job with its low value and with its high value.
pub(super) struct Varied {
    pub(super) what: String,
    pub(super) taken: String,
    pub(super) low: Side,
    pub(super) high: Side,
    pub(super) convention: bool,
}

/// One side of it; no job where the value is what was taken.
pub(super) struct Side {
    pub(super) words: String,
    pub(super) job: Option<Job>,
}

/// Everything that is varied by designing the job anew.
pub(super) fn items(job: &Job) -> Vec<Varied> {
    let mut items = facts(job);
    items.extend(conventions(job));
    items
}

/// A range: as shares of the value, or as differences from it.
enum Range {
    Shares([f64; 2]),
    Differences([f64; 2]),
    Values([f64; 2]),
}

impl Range {
    fn around(&self, si: f64) -> [f64; 2] {
        match self {
            Range::Shares(shares) => shares.map(|share| share * si),
            Range::Differences(differences) => differences.map(|difference| si + difference),
            Range::Values(values) => *values,
        }
    }
}

/// Whether somebody vouches for a fact.
fn is_known<T>(fact: &Fact<T>) -> bool {
    !matches!(fact.origin, Origin::Assumed(_) | Origin::Supposed(_))
}

fn facts(job: &Job) -> Vec<Varied> {
    let (outdoors, house) = (&job.outdoors, &job.house);
    let mut items = Vec::new();
    let mut vary =
        |what: &str, measure, taken_si: f64, range: Range, set: &dyn Fn(&mut Job, f64)| {
            items.push(varied(job, what, measure, taken_si, &range, set));
        };
    let air = match is_known(&house.air_changes) {
        true => Range::Shares([0.7, 1.3]),
        false => Range::Shares([0.5, 2.0]),
    };
    vary(
        "least air changes of all rooms",
        Measure::AirChange,
        house.air_changes.value.si(),
        air,
        &|varied, si| {
            let share = si / job.house.air_changes.value.si().max(1e-12);
            varied.house.air_changes.value = Quantity::from_si(si);
            for changes in varied.rooms.iter_mut().filter_map(|room| room.air_changes.as_mut()) {
                changes.value = Quantity::from_si(changes.value.si() * share);
            }
        },
    );
    if let Some(test) = &house.blower_door {
        let range = Range::Shares([0.85, 1.15]);
        vary("blower-door test", Measure::AirChange, test.value.si(), range, &|varied, si| {
            let test = varied.house.blower_door.iter_mut();
            test.for_each(|fact| fact.value = Quantity::from_si(si));
        });
    }
    let ground = match is_known(&outdoors.ground) {
        true => Range::Shares([0.8, 1.25]),
        // Clay or silt, and rock, by ISO 13370.
        false => Range::Values([1.5, 3.5]),
    };
    let conductivity = outdoors.ground.value.si();
    vary("ground", Measure::Conductivity, conductivity, ground, &|varied, si| {
        varied.outdoors.ground.value = Quantity::from_si(si);
    });
    if let Some(mean) = &outdoors.annual_mean {
        let range = match is_known(mean) {
            true => Range::Differences([1.0, -1.0]),
            false => Range::Differences([3.0, -3.0]),
        };
        let what = "mean outdoor temperature of the year";
        vary(what, Measure::Temperature, mean.value.si(), range, &|varied, si| {
            let mean = varied.outdoors.annual_mean.iter_mut();
            mean.for_each(|fact| fact.value = Quantity::from_si(si));
        });
    }
    if let Some(design) = &outdoors.design {
        let range = Range::Differences([2.0, -2.0]);
        let what = "outdoor temperature of the design day";
        vary(what, Measure::Temperature, design.value.si(), range, &|varied, si| {
            let design = varied.outdoors.design.iter_mut();
            design.for_each(|fact| fact.value = Quantity::from_si(si));
        });
    }
    if let Some(leaks) = &house.leakage_area {
        items.push(leaks_varied(job, leaks.value.si()));
    }
    if job.rooms.iter().any(|room| !room.unheated.value && !is_known(&room.indoor)) {
        items.push(warmer_rooms(job));
    }
    items
}

/// Leaks, whose area is told in square inches or square centimetres.
fn leaks_varied(job: &Job, taken_m2: f64) -> Varied {
    let set = |varied: &mut Job, si: f64| {
        let leaks = varied.house.leakage_area.iter_mut();
        leaks.for_each(|fact| fact.value = Quantity::from_si(si));
    };
    let range = Range::Shares([0.5, 1.5]);
    let mut item = varied(job, "area of all leaks", Measure::Area, taken_m2, &range, &set);
    let words = Words { first: job.units.value };
    let [low_m2, high_m2] = range.around(taken_m2);
    item.taken = words.leaks(taken_m2);
    (item.low.words, item.high.words) = (words.leaks(low_m2), words.leaks(high_m2));
    item
}

fn varied(
    job: &Job,
    what: &str,
    measure: Measure,
    taken_si: f64,
    range: &Range,
    set: &dyn Fn(&mut Job, f64),
) -> Varied {
    let words = Words { first: job.units.value };
    let side = |si: f64| {
        let mut varied = job.clone();
        set(&mut varied, si);
        Side { words: words.both(si, measure), job: Some(varied) }
    };
    let [low, high] = range.around(taken_si).map(side);
    let (what, taken) = (what.to_owned(), words.both(taken_si, measure));
    Varied { what, taken, low, high, convention: false }
}

/// All rooms whose temperature is only assumed, a degree cooler and two degrees warmer.
fn warmer_rooms(job: &Job) -> Varied {
    let words = Words { first: job.units.value };
    let side = |kelvin: f64| {
        let mut varied = job.clone();
        for room in varied.rooms.iter_mut().filter(|room| !is_known(&room.indoor)) {
            room.indoor.value = Quantity::from_si(room.indoor.value.si() + kelvin);
        }
        let by = words.both(kelvin.abs(), Measure::TemperatureDifference);
        let way = if kelvin < 0.0 { "cooler" } else { "warmer" };
        Side { words: format!("{by} {way}"), job: Some(varied) }
    };
    Varied {
        what: "indoor temperature where the owner named none".to_owned(),
        taken: "the usual wish".to_owned(),
        low: side(-1.0),
        high: side(2.0),
        convention: false,
    }
}

/// Each convention of the rule set, with what the other honest calculation would take.
fn conventions(job: &Job) -> Vec<Varied> {
    let rules = &job.rules;
    let mut items = vec![
        choice(
            job,
            "dimensions of the house",
            rules.dimensions.value,
            [(Dimensions::Inside, "inside"), (Dimensions::Outside, "outside")],
            |varied, value| varied.rules.dimensions.value = value,
        ),
        choice(
            job,
            "loss to the ground",
            rules.ground_method.value,
            [
                (GroundMethod::Iso13370, "ISO 13370, to the mean of the year"),
                (GroundMethod::EdgeFactor, "factor of the edge, to outdoors"),
            ],
            |varied, value| varied.rules.ground_method.value = value,
        ),
        choice(
            job,
            "air films",
            rules.films.value,
            [(Films::Iso, "ISO 6946"), (Films::Ashrae, "ASHRAE")],
            |varied, value| varied.rules.films.value = value,
        ),
        choice(
            job,
            "unheated spaces",
            rules.unheated_method.value,
            [(UnheatedMethod::Factor, "by factor"), (UnheatedMethod::Balance, "by balance")],
            |varied, value| varied.rules.unheated_method.value = value,
        ),
        choice(
            job,
            "next house",
            rules.next_house.value,
            [
                (NextHouse::SameTemperature, "as warm as the room"),
                (NextHouse::AnnualMean, "as the mean of the year"),
            ],
            |varied, value| varied.rules.next_house.value = value,
        ),
    ];
    items.push(Varied {
        convention: true,
        ..varied(
            job,
            "allowance for thermal bridges",
            Measure::Transmittance,
            rules.thermal_bridges.value.si(),
            &Range::Values([0.0, rules.thermal_bridges.value.si().max(0.10)]),
            &|varied, si| varied.rules.thermal_bridges.value = Quantity::from_si(si),
        )
    });
    items.push(Varied {
        convention: true,
        ..varied(
            job,
            "share of all rooms' leakage at one time",
            Measure::Ratio,
            rules.leakage_share.value.si(),
            &Range::Values([0.5, 1.0]),
            &|varied, si| varied.rules.leakage_share.value = Quantity::from_si(si),
        )
    });
    items
}

/// A convention with two values: the one not taken is varied to.
fn choice<T: Copy + PartialEq>(
    job: &Job,
    what: &str,
    taken: T,
    sides: [(T, &str); 2],
    set: impl Fn(&mut Job, T),
) -> Varied {
    let name = |value: T| {
        let known = sides.iter().find(|(side, _)| *side == value);
        known.map_or("as the rule set says", |(_, words)| *words).to_owned()
    };
    let [low, high] = sides.map(|(value, words)| {
        let varied = (value != taken).then(|| {
            let mut varied = job.clone();
            set(&mut varied, value);
            varied
        });
        Side { words: words.to_owned(), job: varied }
    });
    Varied { what: what.to_owned(), taken: name(taken), low, high, convention: true }
}
