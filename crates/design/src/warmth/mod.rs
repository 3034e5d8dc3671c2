//! The floor as a thermal camera would see it: water cooling along the tube as it lies.
//!
//! The balance takes each loop's floor as one, at the logarithmic mean of its water. Here the
//! water is marched from supply to return, leaders included, with the tubes beside it as they lie:
//! each warms the floor half way to the next and a little of what lies beyond, by the section
//! solved between two tubes. What no tube is near to stays unknown.
//!
//! Flows, film and supply are those of the balance, so the two can be compared: see
//! [`LoopWarmth::difference`].

mod floors;
mod lines;
mod picture;
mod told;
mod way;

use crate::Design;
use crate::emitters::Water;
use crate::figure::{Figure, Work};
use crate::memo::Memo;
use crate::run::{Settling, settled_at};
use crate::state::State;
use job::{Job, Reason};
use plane::Point;
use plane::beside::raster::Grid;
use quantity::{Area, Power, Quantity, Ratio, Temperature, TemperatureDifference};
use std::sync::Arc;

/// Side of the squares of floor for which a temperature is found, metres.
const CELL_M: f64 = 0.025;

/// The floors of a job in one state of weather and water.
#[derive(Clone, Debug, PartialEq)]
pub struct Warmth {
    /// Outdoor temperature.
    pub outdoor: Figure<Temperature>,
    /// Water of each circuit.
    pub waters: Vec<Water>,
    /// How water and flow follow the weather, in words.
    pub assumption: String,
    /// Each storey with tube, in the order of the text.
    pub storeys: Vec<StoreyWarmth>,
    /// Each room with a floor that is known, in the order of the text.
    pub rooms: Vec<RoomWarmth>,
    /// Each loop whose water could be told.
    pub loops: Vec<LoopWarmth>,
    /// What the water lost less what the floors took, as a share: the march's own error.
    pub unbalanced: f64,
}

/// The floor of one storey, square by square.
#[derive(Clone, Debug, PartialEq)]
pub struct StoreyWarmth {
    /// The storey's key; none where the text names none.
    pub storey: Option<String>,
    /// Squares of the floor.
    pub grid: Grid,
    /// Surface temperature of each square, kelvin; none where it is not known.
    pub surface_k: Vec<Option<f32>>,
    /// Where a room's limit is crossed: each line in one piece, hotter floor on one side.
    pub over: Vec<Vec<Point>>,
}

/// A spot of floor with its temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Where it is.
    pub at: Point,
    /// Its temperature.
    pub surface: Figure<Temperature>,
}

/// The floor of one room.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomWarmth {
    /// The room's key.
    pub room: String,
    /// Floor whose temperature is known.
    pub known: Figure<Area>,
    /// Its hottest spot.
    pub hottest: Spot,
    /// The coolest spot of the floor that is known.
    pub coolest: Spot,
    /// Mean of the floor that is known.
    pub mean: Figure<Temperature>,
    /// From over a tube to midway to the next, on average; none where no two tubes lie side by side.
    pub swing: Option<Figure<TemperatureDifference>>,
    /// Hottest spot allowed, by use and finish.
    pub limit: Figure<Temperature>,
    /// Floor hotter than that.
    pub over: Figure<Area>,
    /// Heat that all tube in the room gives it, leaders of other rooms included.
    pub heat: Figure<Power>,
    /// What the balance says of the same; none for a room without loops of its own.
    pub balanced: Option<Figure<Power>>,
}

/// The water of one loop.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopWarmth {
    /// The loop's key.
    pub key: String,
    /// Temperature at which its water enters.
    pub supply: Figure<Temperature>,
    /// Temperature at which it comes back, marched along the tube.
    pub back: Figure<Temperature>,
    /// The same by the balance.
    pub balanced_back: Figure<Temperature>,
    /// Heat that the water leaves on its way, up and down.
    pub heat: Figure<Power>,
    /// The same by the balance.
    pub balanced_heat: Figure<Power>,
    /// How much more that is than by the balance, as a share of it.
    pub difference: Figure<Ratio>,
}

/// A design made ready in one state, to be marched.
pub struct Ready<'a> {
    job: &'a Job,
    settling: Settling,
    outdoor: Figure<Temperature>,
    assumption: String,
}

/// The floors of a designed job in a state of weather.
///
/// `day` is the job's design; all that it decided is held, but the supply temperature follows the
/// weather unless the text holds it. Nothing without an outdoor design temperature.
pub fn warmth(job: &Job, day: &Design, state: &State, memo: &mut Memo) -> Option<Warmth> {
    ready(job, day, state, memo).map(|ready| ready.march())
}

/// The same up to the march, which takes far less time.
pub fn ready<'a>(job: &'a Job, day: &Design, state: &State, memo: &mut Memo) -> Option<Ready<'a>> {
    let weather = crate::loads::weather(job, state, &mut Vec::new())?;
    let settling = settled_at(job, day, state, memo);
    let assumption = assumption(&settling, state);
    Some(Ready { job, settling, outdoor: weather.outdoor, assumption })
}

/// A mild day: half way from the design day to the warmest heated room; none without a design
/// temperature, or where that is no colder than the rooms.
pub fn half_load(job: &Job) -> Option<State> {
    let design_k = job.outdoors.design.as_ref()?.value.si();
    let rooms = job.rooms.iter().filter(|room| room.heated.value && !room.unheated.value);
    let warmest_k = rooms.map(|room| room.indoor.value.si()).reduce(f64::max)?;
    (warmest_k > design_k)
        .then(|| State { outdoor: Some(Temperature::from_si(0.5 * (design_k + warmest_k))) })
}

impl Ready<'_> {
    /// Marches the water and takes the picture.
    pub fn march(&self) -> Warmth {
        let marched = way::storeys(self.job, &self.settling);
        let pictures: Vec<picture::Picture> =
            marched.iter().map(|storey| picture::picture(self.job, storey)).collect();
        let unbalanced = marched.iter().map(|storey| storey.marched.unbalanced);
        let told = told::Told { job: self.job, settling: &self.settling };
        Warmth {
            outdoor: self.outdoor.clone(),
            waters: self.settling.design.emitters.waters.clone(),
            assumption: self.assumption.clone(),
            rooms: told.rooms(&marched, &pictures),
            loops: told.loops(&marched),
            unbalanced: unbalanced.fold(0.0, f64::max),
            storeys: pictures.into_iter().map(|picture| picture.storey).collect(),
        }
    }
}

impl Warmth {
    /// Every figure by its path: `warmth.room.kitchen.hottest`, `name` in place of `warmth`.
    pub fn figures(&self, name: &str) -> Vec<(String, Arc<Work>)> {
        let mut all = vec![(format!("{name}.outdoor"), self.outdoor.work.clone())];
        for room in &self.rooms {
            let mut add = |what: &str, work: &Arc<Work>| {
                all.push((format!("{name}.room.{}.{what}", room.room), work.clone()));
            };
            add("hottest", &room.hottest.surface.work);
            add("coolest", &room.coolest.surface.work);
            add("mean", &room.mean.work);
            room.swing.iter().for_each(|swing| add("swing", &swing.work));
            add("limit", &room.limit.work);
            add("over", &room.over.work);
            add("known", &room.known.work);
            add("heat", &room.heat.work);
            room.balanced.iter().for_each(|balanced| add("balanced", &balanced.work));
        }
        for own in &self.loops {
            let mut add = |what: &str, work: &Arc<Work>| {
                all.push((format!("{name}.loop.{}.{what}", own.key), work.clone()));
            };
            add("return", &own.back.work);
            add("heat", &own.heat.work);
            add("balanced_heat", &own.balanced_heat.work);
            add("difference", &own.difference.work);
        }
        all
    }
}

/// What water and flow do in this state, for the paper.
fn assumption(settling: &Settling, state: &State) -> String {
    if state.outdoor.is_none() {
        return "supply temperature and flow of each loop as designed for the coldest day"
            .to_owned();
    }
    let held = |water: &Water| matches!(water.supply.reason, Reason::Held(_));
    let supply = match settling.design.emitters.waters.iter().all(held) {
        true => "the supply stays as the text holds it whatever the weather",
        false => "the supply is what the floors need at this outdoor temperature",
    };
    format!(
        "{supply}; each loop flows as much as its floor then takes, with the drop of the design or \
         more; tube, loops and spacing are those of the coldest day"
    )
}
