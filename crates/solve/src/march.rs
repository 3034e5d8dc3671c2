//! Water that cools on its way through tubes which warm each other.
//!
//! Tubes are cut into stations. Each station has water inside, a wall, and a way for heat from
//! the outside of the wall to what does not depend on any water; links carry heat from wall to
//! wall. Along a station its neighbours are taken as evenly warm, and its water then cools as an
//! exponential, exactly. Rounds from supply to return repeat until nothing changes any more.
//!
//! ```
//! use solve::march::{Station, Strand, march};
//!
//! // 10 m of tube in one piece: 5 W/K from water to wall, 5 W/K from there to a room at 20.
//! let station = Station { wall_w_k: 5.0, loss_w_k: 5.0, gain_w: 5.0 * 20.0 };
//! let strand = Strand { capacity_w_k: 100.0, supply_c: 40.0, stations: 0..1 };
//! let marched = march(&[strand], &[station], &[]);
//! let back_c = 20.0 + 20.0 * (-2.5_f64 / 100.0).exp();
//! assert!((marched.strands[0].back_c - back_c).abs() < 1e-12);
//! assert!(marched.unbalanced < 1e-12);
//! ```

use std::ops::Range;

/// Rounds at most; a few dozen do where walls resist more than neighbours help.
const ROUNDS_MOST: usize = 5000;
/// Change of any temperature in a round that counts as none, kelvin.
const SETTLED_K: f64 = 1e-9;

/// Water from a supply to a return, through stations in the order of its flow.
#[derive(Debug, Clone, PartialEq)]
pub struct Strand {
    /// Mass flow times specific heat, W/K; zero or less for water that stands still.
    pub capacity_w_k: f64,
    /// Temperature at which the water enters, degrees Celsius.
    pub supply_c: f64,
    /// Its stations among all; they belong to no other strand.
    pub stations: Range<usize>,
}

/// A short piece of tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Conductance from water to the outside of the tube: film and wall.
    pub wall_w_k: f64,
    /// Heat that leaves the outside of the tube for each kelvin of its own temperature.
    pub loss_w_k: f64,
    /// Heat that would come to it at zero degrees: what leaves is loss times temperature less this.
    pub gain_w: f64,
}

/// A conductance between the outsides of two stations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// The two stations.
    pub ends: [usize; 2],
    /// How well heat passes, W/K.
    pub w_k: f64,
}

/// Temperatures and heats of all strands.
#[derive(Debug, Clone, PartialEq)]
pub struct Marched {
    /// Mean temperature of the water in each station.
    pub water_c: Vec<f64>,
    /// Mean temperature of the outside of each station.
    pub wall_c: Vec<f64>,
    /// Each strand, in the order given.
    pub strands: Vec<StrandEnd>,
    /// Rounds taken.
    pub rounds: usize,
    /// Whether temperatures stopped changing.
    pub settled: bool,
    /// What water lost less what left all walls, as a share of the larger.
    pub unbalanced: f64,
}

/// How the water of a strand ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrandEnd {
    /// Temperature at which it leaves, degrees Celsius.
    pub back_c: f64,
    /// Heat that it lost on its way.
    pub heat_w: f64,
}

/// Marches the water of all strands from supply to return until all of it is settled.
///
/// Links to stations that are not there, and ranges beyond the stations, are left out; figures
/// that are not finite, or conductances below zero, count as zero.
pub fn march(strands: &[Strand], stations: &[Station], links: &[Link]) -> Marched {
    let stations: Vec<Station> = stations.iter().map(|it| it.sane()).collect();
    let beside = Beside::of(stations.len(), links);
    let start_c = strands.iter().map(|it| finite(it.supply_c)).fold(f64::NEG_INFINITY, f64::max);
    let start_c = if start_c.is_finite() { start_c } else { 0.0 };
    let mut state = Marched {
        water_c: vec![start_c; stations.len()],
        wall_c: vec![start_c; stations.len()],
        strands: vec![StrandEnd { back_c: start_c, heat_w: 0.0 }; strands.len()],
        rounds: 0,
        settled: false,
        unbalanced: 0.0,
    };
    let cooling = cooling(strands, &stations, &beside);
    while state.rounds < ROUNDS_MOST && !state.settled {
        let mut change_k: f64 = 0.0;
        for (number, strand) in strands.iter().enumerate() {
            change_k = change_k.max(one(number, strand, &stations, &beside, &cooling, &mut state));
        }
        state.rounds += 1;
        state.settled = change_k <= SETTLED_K;
    }
    let lost_w: f64 = state.strands.iter().map(|it| it.heat_w).sum();
    let held = strands.iter().flat_map(|it| within(&it.stations, stations.len()));
    let left_w: f64 =
        held.map(|i| stations[i].loss_w_k * state.wall_c[i] - stations[i].gain_w).sum();
    let largest_w = lost_w.abs().max(left_w.abs());
    state.unbalanced = if largest_w > 0.0 { (lost_w - left_w).abs() / largest_w } else { 0.0 };
    state
}

/// One strand from supply to return; gives the greatest change of a wall.
fn one(
    number: usize,
    strand: &Strand,
    stations: &[Station],
    beside: &Beside,
    cooling: &[f64],
    state: &mut Marched,
) -> f64 {
    let capacity_w_k = finite(strand.capacity_w_k).max(0.0);
    let (mut water_c, mut heat_w, mut change_k) = (finite(strand.supply_c), 0.0, 0.0_f64);
    for i in within(&strand.stations, stations.len()) {
        let station = &stations[i];
        let out_w_k = station.loss_w_k + beside.all_w_k[i];
        let warming_w = station.gain_w + beside.warming_w(i, &state.wall_c);
        // What the wall would be without water; as warm as the water where no heat leaves it.
        let around_c = if out_w_k > 0.0 { warming_w / out_w_k } else { water_c };
        let through_w_k = through(station.wall_w_k, out_w_k);
        let (mean_c, given_w) = if capacity_w_k > 0.0 && through_w_k > 0.0 {
            let left_c = around_c + (water_c - around_c) * cooling[i];
            let given_w = capacity_w_k * (water_c - left_c);
            water_c = left_c;
            (around_c + given_w / through_w_k, given_w)
        } else if capacity_w_k > 0.0 {
            (water_c, 0.0)
        } else {
            (around_c, 0.0)
        };
        let wall_c = if out_w_k > 0.0 { around_c + given_w / out_w_k } else { mean_c };
        change_k = change_k.max((wall_c - state.wall_c[i]).abs());
        (state.water_c[i], state.wall_c[i]) = (mean_c, wall_c);
        heat_w += given_w;
    }
    state.strands[number] = StrandEnd { back_c: water_c, heat_w };
    change_k
}

/// What is left of the water's excess behind each station.
fn cooling(strands: &[Strand], stations: &[Station], beside: &Beside) -> Vec<f64> {
    let mut cooling = vec![1.0; stations.len()];
    for strand in strands {
        let capacity_w_k = finite(strand.capacity_w_k);
        for i in within(&strand.stations, stations.len()).filter(|_| capacity_w_k > 0.0) {
            let out_w_k = stations[i].loss_w_k + beside.all_w_k[i];
            cooling[i] = (-through(stations[i].wall_w_k, out_w_k) / capacity_w_k).exp();
        }
    }
    cooling
}

/// Two conductances one behind the other.
fn through(a_w_k: f64, b_w_k: f64) -> f64 {
    if a_w_k + b_w_k > 0.0 { a_w_k * b_w_k / (a_w_k + b_w_k) } else { 0.0 }
}

fn within(range: &Range<usize>, count: usize) -> Range<usize> {
    range.start.min(count)..range.end.min(count)
}

fn finite(value: f64) -> f64 {
    if value.is_finite() { value } else { 0.0 }
}

impl Station {
    fn sane(&self) -> Station {
        Station {
            wall_w_k: finite(self.wall_w_k).max(0.0),
            loss_w_k: finite(self.loss_w_k).max(0.0),
            gain_w: finite(self.gain_w),
        }
    }
}

/// Links by station.
struct Beside {
    /// Where each station's links begin among all, and where the last end.
    starts: Vec<usize>,
    /// The other end of each link, and its conductance.
    ends: Vec<(usize, f64)>,
    /// All links of a station together.
    all_w_k: Vec<f64>,
}

impl Beside {
    fn of(count: usize, links: &[Link]) -> Beside {
        let sane = |link: &&Link| {
            let [a, b] = link.ends;
            a < count && b < count && a != b && link.w_k.is_finite() && link.w_k > 0.0
        };
        let mut starts = vec![0; count + 1];
        for link in links.iter().filter(sane) {
            link.ends.iter().for_each(|end| starts[end + 1] += 1);
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut ends = vec![(0, 0.0); starts.last().copied().unwrap_or(0)];
        let mut all_w_k = vec![0.0; count];
        for link in links.iter().filter(sane) {
            let [a, b] = link.ends;
            for (own, other) in [(a, b), (b, a)] {
                ends[next[own]] = (other, link.w_k);
                next[own] += 1;
                all_w_k[own] += link.w_k;
            }
        }
        Beside { starts, ends, all_w_k }
    }

    /// Heat that its neighbours would send a station at zero degrees.
    fn warming_w(&self, own: usize, wall_c: &[f64]) -> f64 {
        let links = &self.ends[self.starts[own]..self.starts[own + 1]];
        links.iter().map(|(other, w_k)| w_k * wall_c[*other]).sum()
    }
}
