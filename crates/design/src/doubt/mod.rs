//! How far the heat loss may be off: the assumptions that move it most, one at a time.
//!
//! Each assumption and each convention is set to a low and a high value that a careful person
//! might have taken instead; all else stays. The band is the root of the sum of squares of the
//! effects on either side, since the assumptions do not depend on each other.

mod constructions;
mod items;

use crate::figure::Figure;
use crate::heat_loss::{HeatLoss, heat_loss};
use crate::state::State;
use job::Job;
use quantity::{Power, Quantity};

/// Effects smaller than this share of the loss are not worth a line.
const LEAST_SHARE: f64 = 0.002;

/// What the heat loss of the house rests on, and how far it may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// Heat loss of the house, all free floor taken as heated.
    pub house: Figure<Power>,
    /// What moves it, most first.
    pub items: Vec<DoubtItem>,
    /// Least and most that the loss may be, all effects together.
    pub band: [Power; 2],
}

/// One assumption or convention.
#[derive(Clone, Debug, PartialEq)]
pub struct DoubtItem {
    /// What it is, in words.
    pub what: String,
    /// What is taken.
    pub taken: String,
    /// The low value.
    pub low: String,
    /// The high value.
    pub high: String,
    /// Change of the loss at the low and at the high value.
    pub effect: [Power; 2],
    /// Whether it is a convention of the rule set rather than something to find out.
    pub convention: bool,
}

impl DoubtItem {
    /// The larger of its two effects, without its sign.
    fn most_w(&self) -> f64 {
        self.effect[0].si().abs().max(self.effect[1].si().abs())
    }
}

/// The doubt in a job's heat loss; none where the loss itself cannot be told.
pub fn doubt(job: &Job) -> Option<Doubt> {
    let HeatLoss { envelope, loads, .. } = heat_loss(job, &State::default());
    let house = loads.house.as_ref()?.heat.total.clone();
    let house_w = house.si();
    let mut found = constructions::items(job, &envelope, &loads);
    for item in items::items(job) {
        let change = |varied: &Option<Job>| {
            varied.as_ref().and_then(house_loss_w).map_or(0.0, |watts| watts - house_w)
        };
        let effect = [change(&item.low.job), change(&item.high.job)].map(Power::from_si);
        let (low, high) = (item.low.words, item.high.words);
        let (what, taken, convention) = (item.what, item.taken, item.convention);
        found.push(DoubtItem { what, taken, low, high, effect, convention });
    }
    found.retain(|item| item.most_w() > LEAST_SHARE * house_w.abs().max(1.0));
    found.sort_by(|a, b| b.most_w().total_cmp(&a.most_w()));
    let side = |wanted: fn(f64) -> f64| {
        let of = |item: &DoubtItem| {
            item.effect.iter().map(|effect| wanted(effect.si())).fold(0.0, f64::max)
        };
        found.iter().map(|item| of(item).powi(2)).sum::<f64>().sqrt()
    };
    let band = [house_w - side(|watts| -watts), house_w + side(|watts| watts)];
    Some(Doubt { house, items: found, band: band.map(Power::from_si) })
}

fn house_loss_w(job: &Job) -> Option<f64> {
    let house = heat_loss(job, &State::default()).loads.house;
    house.map(|house| house.heat.total.si())
}
