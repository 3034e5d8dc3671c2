//! The continuous quantities, settled together on fixed geometry.
//!
//! Heat a floor must give depends on the leaders that warm its room; the leaders' heat depends on
//! the water; the water's return depends on the heat. Fixed-point rounds, in bare SI.

mod field;
mod fluid;

pub(crate) use fluid::FluidFigures;

use crate::emitters::{BuildUp, Floor, Response, WIDEST_M};
use crate::loops::TubeLoop;
use field::{Field, Part};

/// Rounds at most, and the change of heat that counts as settled.
const ROUNDS_MOST: usize = 60;
const SETTLED_W: f64 = 0.05;

/// Pitches of leaders are taken to this, metres, so that few sections are solved for an estimate.
const STRIP_STEP_M: f64 = 0.005;

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
    /// From the fluid to the outside of the tube, W/mK.
    pub(crate) tube_w_mk: f64,
}

/// A room that leaders may cross, heated by its own floor or not.
#[derive(Clone, Debug)]
pub(crate) struct Crossed {
    /// The room's key.
    pub(crate) room: String,
    pub(crate) indoor_k: f64,
    pub(crate) build_up: BuildUp,
}

/// What is settled: floors with the loops that serve them.
pub(crate) struct Problem<'a> {
    pub(crate) floors: &'a [Floor],
    pub(crate) crossed: &'a [Crossed],
    pub(crate) loops: &'a [TubeLoop],
    /// Supply temperature of each loop.
    pub(crate) supplies_k: Vec<f64>,
    /// Least and most cooling of the water from port to port.
    pub(crate) drop_k: [f64; 2],
    /// What runs in the tube.
    pub(crate) fluid: FluidFigures,
}

/// The answer, in the order of the loops.
pub(crate) struct Solution {
    pub(crate) loops: Vec<Settled>,
    /// Heat up of each loop in each of its rooms, in their order, watts.
    rooms_w: Vec<Vec<f64>>,
    pub(crate) balance: Balance,
}

impl Solution {
    /// The answer where there is no water.
    pub(crate) fn nothing(loops: &[TubeLoop]) -> Solution {
        Solution {
            loops: vec![Settled::default(); loops.len()],
            rooms_w: vec![Vec::new(); loops.len()],
            balance: Balance { rounds: 0, last_change_w: 0.0, settled: true },
        }
    }

    /// Heat up that loops give in a room, watts.
    pub(crate) fn up_w(&self, loops: &[TubeLoop], room: &str) -> f64 {
        let parts = loops.iter().zip(&self.rooms_w).flat_map(|(own, w)| own.rooms.iter().zip(w));
        parts.filter(|(part, _)| part.room == room).map(|(_, w)| w).sum()
    }
}

impl Problem<'_> {
    pub(crate) fn settle(&self) -> Solution {
        let mut loops: Vec<Settled> = self.supplies_k.iter().map(|k| self.start(*k)).collect();
        let mut credit_w = vec![0.0; self.crossed.len()];
        let mut rooms_w = vec![Vec::new(); self.loops.len()];
        let mut balance = Balance { rounds: 0, last_change_w: f64::INFINITY, settled: false };
        while balance.rounds < ROUNDS_MOST && !balance.settled {
            let share = fresh_share(balance.rounds);
            let (next, by_room): (Vec<Settled>, Vec<Vec<f64>>) = (0..self.loops.len())
                .map(|index| self.one(index, &loops[index], &credit_w, share))
                .unzip();
            rooms_w = by_room;
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
        Solution { loops, rooms_w, balance }
    }

    fn start(&self, supply_k: f64) -> Settled {
        Settled { return_k: supply_k - self.drop_k[0], ..Settled::default() }
    }

    /// One loop, with its leaders' heat and its rooms' credit from the last round; also its heat
    /// up in each of its rooms.
    ///
    /// `share` of the new film counts, the rest is that of the last round.
    fn one(
        &self,
        index: usize,
        last: &Settled,
        credit_w: &[f64],
        share: f64,
    ) -> (Settled, Vec<f64>) {
        let tube_loop = &self.loops[index];
        let supply_k = self.supplies_k[index];
        let floors: Vec<(&Floor, f64)> = tube_loop
            .rooms
            .iter()
            .filter_map(|part| {
                let floor = self.floors.iter().find(|floor| floor.room == part.room)?;
                Some((floor, part.area.si()))
            })
            .collect();
        let Some((first, _)) = floors.first() else { return (*last, Vec::new()) };
        let leaders = self.leader_heats(index, last);
        let leader_w: f64 = leaders.iter().map(|leader| leader.up_w).sum();
        let below_w: f64 = leaders.iter().map(|leader| leader.down_w).sum();
        let fresh_w_mk = self.fluid.tube_w_mk(&first.build_up, last.mass_flow_kg_s);
        let tube_w_mk = match last.tube_w_mk {
            0.0 => fresh_w_mk,
            before => before + share * (fresh_w_mk - before),
        };
        // Floor farther from all tube than it warms gives nothing.
        let whole_m2: f64 = floors.iter().map(|(_, area_m2)| area_m2).sum();
        let reached = (WIDEST_M * tube_loop.field_length.si() / whole_m2.max(1e-9)).min(1.0);
        let mut parts = Vec::with_capacity(floors.len());
        for (floor, area_m2) in &floors {
            let apart_m = floor.build_up.apart_m(std::iter::once(tube_loop));
            let apart_m = apart_m.unwrap_or(floor.spacing_laid.si());
            let response = floor.build_up.response(apart_m, tube_w_mk);
            parts.push(Part {
                floor,
                response: response.unwrap_or(floor.response),
                area_m2: reached * area_m2,
                supply_excess_k: supply_k - floor.indoor.si(),
                target_w_m2: self.target_w_m2(floor, self.credit(&floor.room, credit_w)),
            });
        }
        let field = Field { parts, lost_w: leader_w + below_w };
        let drop_k = field.drop_for_all(self.drop_k);
        let (ups_w, down_w) = field.heats(drop_k, field.wanted_w());
        let up_w: f64 = ups_w.iter().sum();
        let carried_w = up_w + down_w + field.lost_w;
        if drop_k <= 0.0 || carried_w <= 0.0 {
            let still_k = supply_k.max(first.indoor.si());
            let idle = Settled { return_k: still_k, tube_w_mk, ..Settled::default() };
            return (idle, vec![0.0; ups_w.len()]);
        }
        let settled = Settled {
            return_k: supply_k - drop_k,
            up_w,
            down_w: down_w + below_w,
            leader_w,
            mass_flow_kg_s: carried_w / (self.fluid.specific_heat_j_kgk * drop_k),
            tube_w_mk,
        };
        (settled, ups_w)
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

    /// Heat of one loop's leaders in each room they cross.
    fn leader_heats(&self, index: usize, last: &Settled) -> Vec<LeaderHeat> {
        // Supply and return lie side by side, so their strip has the mean of both.
        let mean_k = (self.supplies_k[index] + last.return_k) / 2.0;
        let leader = &self.loops[index].leader;
        leader
            .passed
            .iter()
            .filter_map(|passed| {
                let number = self.crossed.iter().position(|one| one.room == passed.room)?;
                let crossed = &self.crossed[number];
                let strip = strip(&crossed.build_up, passed.pitch_m(), last.tube_w_mk)?;
                let excess_k = mean_k - crossed.indoor_k - strip.held_back_k;
                // The slab's edge is lost under leaders as under the field.
                let edge_w_m2 = crossed.build_up.beyond().edge_w_m2;
                (excess_k > 0.0).then_some(LeaderHeat {
                    number,
                    up_w: strip.room * excess_k * passed.area_m2,
                    down_w: (strip.below * excess_k + edge_w_m2) * passed.area_m2,
                })
            })
            .collect()
    }

    fn credits(&self, loops: &[Settled]) -> Vec<f64> {
        let mut credit_w = vec![0.0; self.crossed.len()];
        for (index, settled) in loops.iter().enumerate() {
            for leader in self.leader_heats(index, settled) {
                credit_w[leader.number] += leader.up_w;
            }
        }
        credit_w
    }
}

/// Share of the new film that counts in a round.
///
/// A better film asks for less flow, and less flow makes it worse: half way each round. Between
/// laminar and turbulent flow that is too far, and loops swing; so later rounds go less far.
fn fresh_share(round: usize) -> f64 {
    match round {
        0..16 => 0.5,
        16..30 => 0.2,
        _ => 0.08,
    }
}

/// Heat of leaders in one of the rooms that may be crossed.
struct LeaderHeat {
    /// Number of that room.
    number: usize,
    up_w: f64,
    down_w: f64,
}

/// What a strip of leaders in this floor gives for each of its area, none where that cannot be
/// solved, which its floor tells.
///
/// As a field of that pitch gives: the strip lies between other tube, or at a wall, where it
/// gives a little less. Film and wall of its tube are nominal while they are not known.
pub(crate) fn strip(build_up: &BuildUp, pitch_m: f64, tube_w_mk: f64) -> Option<Response> {
    let pitch_m = (pitch_m / STRIP_STEP_M).round() * STRIP_STEP_M;
    let is_known = tube_w_mk > 0.0;
    let tube_w_mk = if is_known { tube_w_mk } else { build_up.nominal_tube_w_mk() };
    build_up.response(pitch_m, tube_w_mk).ok()
}
