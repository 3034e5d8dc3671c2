//! How fast each heated floor follows its water.

use crate::Design;
use crate::emitters::{FloorSection, HeatedFloor};
use crate::figure::{Figure, Work};
use crate::memo::Memo;
use quantity::{Ratio, Time};
use solve::response::Response;
use solve::section::{Port, Section};
use std::sync::Arc;

/// Shares of the steady heat by which a floor is called warm: one time constant, and nearly all.
const SHARES: [f64; 2] = [0.63, 0.95];
/// A day, seconds.
const DAY_S: f64 = 86_400.0;
/// Answers that are remembered at most.
const KNOWN_MOST: usize = 64;

/// How fast the heated floor of one room follows its water.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorResponse {
    /// The room's key.
    pub room: String,
    /// Its times; in words why they cannot be told.
    pub times: Result<FloorTimes, String>,
}

/// Times of a floor whose water is suddenly warmer, its room as warm as before.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorTimes {
    /// Until it gives 63 % of the heat that it comes to.
    pub most: Figure<Time>,
    /// Until it gives 95 %.
    pub nearly_all: Figure<Time>,
    /// How long after its water its heat swings, if the water swings once a day.
    pub day_lag: Figure<Time>,
    /// How much of a day's swing arrives, as a share of what the same difference gives steadily.
    pub day_share: Figure<Ratio>,
}

/// Bare figures of a response.
#[derive(Clone, Copy, Debug)]
struct Bare {
    times_s: [Option<f64>; 2],
    lag_s: f64,
    amplitude: f64,
}

/// Responses that were found before, for any design that has the same floor again.
#[derive(Debug, Default)]
pub(crate) struct Known(Vec<(Section, Result<Bare, String>)>);

impl Known {
    /// Forgets the oldest beyond a bound.
    pub(crate) fn begin(&mut self) {
        let surplus = self.0.len().saturating_sub(KNOWN_MOST);
        self.0.drain(..surplus);
    }

    fn of(&mut self, section: Section) -> Result<Bare, String> {
        if let Some((_, answer)) = self.0.iter().find(|(known, _)| *known == section) {
            return answer.clone();
        }
        let answer = bare(&section);
        self.0.push((section, answer.clone()));
        answer
    }
}

/// The responses of all heated floors, in the order of the text.
pub(crate) fn responses(design: &Design, memo: &mut Memo) -> Vec<FloorResponse> {
    let of = |floor: &HeatedFloor| FloorResponse {
        room: floor.room.clone(),
        times: match &floor.section {
            Some(section) => times(section, &mut memo.responses),
            None => Err("bare tube in air is not followed in time".to_owned()),
        },
    };
    design.emitters.floors.iter().map(of).collect()
}

fn times(section: &FloorSection, known: &mut Known) -> Result<FloorTimes, String> {
    let stored = section.whole.stored.as_ref();
    let stored = stored.map_err(|layer| format!("what {layer} stores is not known"))?;
    let bare = known.of(section.rounded())?;
    let stored = Figure::sum("heat stored in all layers", stored);
    let mut from: Vec<Arc<Work>> = section.works.clone();
    from.push(stored.work);
    let until = |share: usize| -> Result<Figure<Time>, String> {
        let percent = (100.0 * SHARES[share]).round();
        let seconds = bare.times_s[share].ok_or("it never comes to its steady heat")?;
        let how = format!(
            "heat flow in time through the section, film and wall of the tube in series: until \
             {percent} % of the steady heat upward after the water is suddenly warmer"
        );
        Ok(Figure::settled(format!("time to {percent} %"), seconds, how, from.clone()))
    };
    let swing = "the same under a sine of one day";
    let (most, nearly_all) = (until(0)?, until(1)?);
    Ok(FloorTimes {
        most,
        nearly_all,
        day_lag: Figure::settled("lag under a day's swing", bare.lag_s, swing, from.clone()),
        day_share: Figure::settled(
            "share of a day's swing that arrives",
            bare.amplitude,
            swing,
            from,
        ),
    })
}

fn bare(section: &Section) -> Result<Bare, String> {
    let response = Response::quick(section, Port::Tube(0), Port::Room);
    let response = response.map_err(|error| error.to_string())?;
    let swing = response.under_sine(DAY_S);
    Ok(Bare {
        times_s: SHARES.map(|share| response.time_to_s(share)),
        lag_s: swing.lag_s,
        amplitude: swing.amplitude,
    })
}
