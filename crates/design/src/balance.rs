//! The continuous quantities, settled together on fixed geometry.
//!
//! Heat a floor must give depends on the leaders that warm its room; the leaders' heat depends on
//! the water; the water's return depends on the heat. Fixed-point rounds, in bare SI.

use crate::emitters::{BuildUp, Floor};
use crate::loops::TubeLoop;
use laws::panel as law;
use quantity::Quantity;

/// Rounds at most, and the change of heat that counts as settled.
const ROUNDS_MOST: usize = 60;
const SETTLED_W: f64 = 0.05;
/// Rounds in which the heat of one field fits its own flow.
const FIELD_ROUNDS: usize = 40;
/// Spacings for which EN 1264-2 gives the heat of a field, metres; strips of leaders outside
/// them are taken at the nearer end.
const FIELD_SPACINGS_M: [f64; 2] = [0.05, 0.375];

/// How the continuous quantities settled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Rounds taken.
    pub rounds: usize,
    /// Largest change of a heat in the last round, in watts.
    pub last_change_w: f64,
    /// Whether that was small enough.
    pub settled: bool,
}

/// The settled water of one loop, in SI.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Settled {
    /// Return temperature at the port.
    pub(crate) return_k: f64,
    pub(crate) up_w: f64,
    pub(crate) down_w: f64,
    pub(crate) leader_w: f64,
    pub(crate) mass_flow_kg_s: f64,
}

/// A room that leaders may cross, heated by its own floor or not.
#[derive(Clone, Debug)]
pub(crate) struct Crossed {
    /// The room's key.
    pub(crate) room: String,
    pub(crate) indoor_k: f64,
    pub(crate) build_up: BuildUp,
    /// Heat of leaders that goes down, for each watt that goes up.
    pub(crate) down_share: f64,
}

/// What is settled: floors with the loops that serve them.
pub(crate) struct Problem<'a> {
    pub(crate) floors: &'a [Floor],
    pub(crate) crossed: &'a [Crossed],
    pub(crate) loops: &'a [TubeLoop],
    pub(crate) supply_k: f64,
    /// Least and most cooling of the water from port to port.
    pub(crate) drop_k: [f64; 2],
    /// Specific heat of what runs in the tube.
    pub(crate) specific_heat_j_kgk: f64,
}

/// The answer, in the order of the loops.
pub(crate) struct Solution {
    pub(crate) loops: Vec<Settled>,
    pub(crate) balance: Balance,
}

impl Problem<'_> {
    pub(crate) fn settle(&self) -> Solution {
        let mut loops = vec![self.start(); self.loops.len()];
        let mut credit_w = vec![0.0; self.crossed.len()];
        let mut balance = Balance { rounds: 0, last_change_w: f64::INFINITY, settled: false };
        while balance.rounds < ROUNDS_MOST && !balance.settled {
            let next: Vec<Settled> = (0..self.loops.len())
                .map(|index| self.one(index, &loops[index], &credit_w))
                .collect();
            let change = |a: &Settled, b: &Settled| {
                (a.up_w - b.up_w).abs()
                    + (a.down_w - b.down_w).abs()
                    + (a.leader_w - b.leader_w).abs()
            };
            balance.rounds += 1;
            balance.last_change_w =
                loops.iter().zip(&next).map(|(a, b)| change(a, b)).fold(0.0, f64::max);
            balance.settled = balance.last_change_w <= SETTLED_W;
            credit_w = self.credits(&next);
            loops = next;
        }
        Solution { loops, balance }
    }

    fn start(&self) -> Settled {
        Settled { return_k: self.supply_k - self.drop_k[0], ..Settled::default() }
    }

    /// One loop, with its leaders' heat and its room's credit from the last round.
    fn one(&self, index: usize, last: &Settled, credit_w: &[f64]) -> Settled {
        let tube_loop = &self.loops[index];
        let Some(number) = self.floors.iter().position(|floor| floor.room == tube_loop.room) else {
            return *last;
        };
        let floor = &self.floors[number];
        let room_k = floor.indoor.si();
        let leaders = self.leader_heats(index, last);
        let leader_w: f64 = leaders.iter().map(|(_, watts)| watts).sum();
        let share = |number: usize| self.crossed[number].down_share;
        let below_w: f64 = leaders.iter().map(|(number, watts)| watts * share(*number)).sum();
        let field = Field {
            floor,
            area_m2: tube_loop.area.si(),
            supply_excess_k: self.supply_k - room_k,
            lost_w: leader_w + below_w,
        };
        let target = self.target_w_m2(floor, self.credit(&floor.room, credit_w));
        let drop_k = field.drop_for(target, self.drop_k);
        let (up_w, down_w) = field.heats(drop_k, field.both_w(target));
        let carried_w = up_w + down_w + field.lost_w;
        if drop_k <= 0.0 || carried_w <= 0.0 {
            let still_k = self.supply_k.max(room_k);
            return Settled { return_k: still_k, ..Settled::default() };
        }
        Settled {
            return_k: self.supply_k - drop_k,
            up_w,
            down_w: down_w + below_w,
            leader_w,
            mass_flow_kg_s: carried_w / (self.specific_heat_j_kgk * drop_k),
        }
    }

    /// Heat per area that a floor shall give.
    fn target_w_m2(&self, floor: &Floor, credit_w: f64) -> f64 {
        let needed = (floor.load.heat.total.si() - credit_w) / floor.area.si().max(1e-6);
        needed.clamp(0.0, floor.flux_limit.si().max(0.0))
    }

    /// Leaders' heat that a room receives.
    fn credit(&self, room: &str, credit_w: &[f64]) -> f64 {
        let number = self.crossed.iter().position(|crossed| crossed.room == room);
        number.map_or(0.0, |number| credit_w[number])
    }

    /// Heat of one loop's leaders in each room they cross: number and watts.
    fn leader_heats(&self, index: usize, last: &Settled) -> Vec<(usize, f64)> {
        // Supply and return lie side by side, so their strip has the mean of both.
        let mean_k = (self.supply_k + last.return_k) / 2.0;
        let leader = &self.loops[index].leader;
        leader
            .passed
            .iter()
            .filter_map(|passed| {
                let number = self.crossed.iter().position(|one| one.room == passed.room)?;
                let crossed = &self.crossed[number];
                let excess_k = (mean_k - crossed.indoor_k).max(0.0);
                let coefficient = strip_w_m2k(&crossed.build_up, passed.pitch_m());
                Some((number, coefficient * passed.area_m2 * excess_k))
            })
            .collect()
    }

    fn credits(&self, loops: &[Settled]) -> Vec<f64> {
        let mut credit_w = vec![0.0; self.crossed.len()];
        for (index, settled) in loops.iter().enumerate() {
            for (number, watts) in self.leader_heats(index, settled) {
                credit_w[number] += watts;
            }
        }
        credit_w
    }
}

/// Heat per area and degree of a strip of leaders in this floor, W/m²K.
///
/// As a field of that pitch gives (EN 1264-2): the strip lies between other tube, or at a wall,
/// where it gives a little less.
pub(crate) fn strip_w_m2k(build_up: &BuildUp, pitch_m: f64) -> f64 {
    let tube = &build_up.tube;
    let [least, most] = FIELD_SPACINGS_M;
    law::embedded_tube_coefficient(
        pitch_m.clamp(least, most),
        build_up.cover.si(),
        tube.outside.si(),
        (tube.outside.si() - tube.inside.si()) / 2.0,
        tube.conductivity.si(),
        build_up.screed.si(),
        build_up.covering.si(),
    )
}

/// Logarithmic mean excess for a supply excess and a drop.
fn mean_excess(supply_excess_k: f64, drop_k: f64) -> f64 {
    if supply_excess_k <= 0.0 || drop_k >= supply_excess_k {
        return 0.0;
    }
    if drop_k < 1e-9 {
        return supply_excess_k;
    }
    drop_k / (supply_excess_k / (supply_excess_k - drop_k)).ln()
}

/// The field of one loop at the end of its leaders.
///
/// The drop from port to port is what is chosen. Leaders take their share of it, half on the way
/// out and half on the way back, so the field's mean temperature stays that of the ports.
struct Field<'a> {
    floor: &'a Floor,
    area_m2: f64,
    /// Supply at the port over the room.
    supply_excess_k: f64,
    /// Heat of the leaders, up and down.
    lost_w: f64,
}

impl Field<'_> {
    /// Heat up and down of a field that gives so much per area upward.
    fn both_w(&self, flux_w_m2: f64) -> f64 {
        let build_up = &self.floor.build_up;
        let (upward, room_k) = (build_up.upward.si(), self.floor.indoor.si());
        let down = build_up.downward.flux_w_m2(flux_w_m2, upward, room_k);
        (flux_w_m2 + down) * self.area_m2
    }

    /// Mean excess of the field at a drop from port to port, if it carries so much.
    fn excess_k(&self, drop_k: f64, both_w: f64) -> f64 {
        let share = if both_w > 0.0 { both_w / (both_w + self.lost_w) } else { 0.0 };
        let on_the_way_k = 0.5 * drop_k * (1.0 - share);
        mean_excess(self.supply_excess_k - on_the_way_k, drop_k * share)
    }

    /// The drop from port to port at which the floor just gives its target, within bounds.
    fn drop_for(&self, target_w_m2: f64, [least_k, most_k]: [f64; 2]) -> f64 {
        // Never down to the room itself: the last of the water must still be warmer.
        let most_k = most_k.min(0.95 * self.supply_excess_k).max(0.0);
        let (mut low, mut high) = (least_k.min(most_k), most_k);
        let wanted_w = self.both_w(target_w_m2);
        let wanted_k = target_w_m2 / self.floor.coefficient.si();
        if self.excess_k(low, wanted_w) <= wanted_k {
            return low;
        }
        if self.excess_k(high, wanted_w) >= wanted_k {
            return high;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.excess_k(middle, wanted_w) > wanted_k { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// Heat up and down at a drop from port to port: what is given fits what is carried.
    fn heats(&self, drop_k: f64, first_w: f64) -> (f64, f64) {
        let coefficient = self.floor.coefficient.si();
        let (mut both_w, mut flux) = (first_w.max(1e-6), 0.0);
        for _ in 0..FIELD_ROUNDS {
            flux = coefficient * self.excess_k(drop_k, both_w);
            both_w = 0.5 * (both_w + self.both_w(flux));
        }
        let up_w = flux * self.area_m2;
        (up_w, (self.both_w(flux) - up_w).max(0.0))
    }
}
