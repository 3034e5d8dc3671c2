//! Which bearing each room hangs on, which bays make a loop, and where its lanes lie.

use super::fit::Fit;
use super::group;
use super::rows::{Bays, Span, length};
use super::tube::{Drawn, Row};
use super::{Floor, NoBays, Unreached, Why};

/// Less bay than this is not worth a loop of its own, metres.
const LEAST_LOOP_M: f64 = 3.0;

/// Most rooms of which every choice of bearings is tried.
const MOST_TRIED: usize = 6;

/// The way of a loop between manifold and rows, in its local frame.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Way {
    /// Places of supply and return across the leader bay.
    pub(super) slots_m: [f64; 2],
    /// Supply lane and return lane, from the bearing.
    pub(super) lanes_m: [f64; 2],
    /// Where supply and return rise to the manifold, from the bearing.
    pub(super) ports_m: [f64; 2],
    /// The way below the joists to a leader bay away from the manifold.
    pub(super) trunk: Option<Trunk>,
    /// Stretches of the leader bay where the return lies in plates, from the bearing.
    pub(super) home: Vec<Span>,
}

/// Leaders below the joists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Trunk {
    /// Where it begins, from the middle of the leader bay.
    pub(super) from_x_m: f64,
    /// Where it runs, from the bearing.
    pub(super) y_m: f64,
}

/// A loop that is planned.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Planned {
    pub(super) room: usize,
    pub(super) bearing: usize,
    /// Whether its rows lie at higher numbers than its leader bay.
    pub(super) right: bool,
    /// Place of its leader bay in the list of bays.
    pub(super) station: usize,
    /// Nearest row first.
    pub(super) rows: Vec<Row>,
    pub(super) way: Way,
}

/// A planned and drawn floor.
#[derive(Default)]
pub(super) struct Plan {
    pub(super) loops: Vec<(Planned, Drawn)>,
    pub(super) unreached: Vec<Unreached>,
}

/// What is worse, first things first: loops too long, floor lost and loops, tube.
type Badness = (usize, u64, u64);

/// Bay without tube that is put up with rather than to lay one more loop, metres.
const LOOP_WORTH_M: f64 = 2.0;

/// What a plan is made from.
pub(super) struct Planner<'a> {
    pub(super) floor: &'a Floor,
    pub(super) fit: &'a Fit,
    pub(super) bays: &'a Bays,
    /// Leader bays, the manifold's first.
    pub(super) stations: Vec<usize>,
}

/// The best plan: no loop too long, then little floor lost with few loops, then little tube.
pub(super) fn best(floor: &Floor, fit: &Fit, bays: &Bays) -> Result<Plan, NoBays> {
    let Some(first) = leader_bay(floor, bays) else { return Err(NoBays::NoBay) };
    let mut planner = Planner { floor, fit, bays, stations: vec![first] };
    let mut best = planner.best_bearings();
    for _ in 0..4 {
        let Some(station) = planner.next_station(&best) else { break };
        planner.stations.push(station);
        let next = planner.best_bearings();
        if planner.badness(&next) >= planner.badness(&best) {
            break;
        }
        best = next;
    }
    let limit = floor.tube.longest_loop_m;
    let length = |(planned, drawn): &(Planned, Drawn)| planner.length_m(planned, drawn);
    match best.loops.iter().map(length).find(|length_m| *length_m > limit) {
        Some(length_m) => Err(NoBays::OverLimit { length_m }),
        None => Ok(best),
    }
}

/// The bay near the manifold that loses least floor to leaders.
fn leader_bay(floor: &Floor, bays: &Bays) -> Option<usize> {
    let x = bays.frame.inward(floor.manifold.at).x;
    let mut near: Vec<usize> = (0..bays.all.len()).collect();
    let away = |i: &usize| (bays.all[*i].middle_m - x).abs();
    near.sort_by(|a, b| away(a).total_cmp(&away(b)));
    near.truncate(3);
    let blocked = |i: &usize| !bays.all[*i].full.is_empty();
    near.into_iter().min_by(|a, b| {
        let heated = |i: &usize| (bays.all[*i].heated_m() * 10.0).round();
        blocked(a)
            .cmp(&blocked(b))
            .then(heated(a).total_cmp(&heated(b)))
            .then(away(a).total_cmp(&away(b)))
    })
}

impl Planner<'_> {
    /// True length of a loop, manifold to manifold, metres.
    fn length_m(&self, planned: &Planned, drawn: &Drawn) -> f64 {
        drawn.walk.length_m + self.outside_m(planned)
    }

    /// Tube of a loop between its ports and the manifold, metres.
    pub(super) fn outside_m(&self, planned: &Planned) -> f64 {
        outside_m(self.floor, self.bays, planned)
    }

    fn badness(&self, plan: &Plan) -> Badness {
        let lost: f64 = plan.unreached.iter().map(|u| u.length_m).sum();
        let lengths: Vec<f64> = plan.loops.iter().map(|(p, d)| self.length_m(p, d)).collect();
        let over = lengths.iter().filter(|l| **l > self.floor.tube.longest_loop_m).count();
        let total: f64 = lengths.iter().sum();
        let cost = lost + LOOP_WORTH_M * lengths.len() as f64;
        (over, (cost * 2.0).round() as u64, (total * 100.0).round() as u64)
    }

    /// The best choice of bearings for the rooms.
    fn best_bearings(&self) -> Plan {
        let count = self.floor.rooms.len();
        let better = |a: &Plan, b: &Plan| self.badness(a) < self.badness(b);
        let bits = |choice: usize| (0..count).map(|r| (choice >> r) & 1).collect::<Vec<usize>>();
        if count <= MOST_TRIED {
            let mut best = self.within_limit(&bits(0));
            for choice in 1..1_usize << count {
                let next = self.within_limit(&bits(choice));
                if better(&next, &best) {
                    best = next;
                }
            }
            return best;
        }
        // Too many to try all: one room after the other is turned round while that helps.
        let mut bearings = vec![0; count];
        let mut best = self.within_limit(&bearings);
        for room in (0..count).chain(0..count) {
            bearings[room] = 1 - bearings[room];
            let next = self.within_limit(&bearings);
            if better(&next, &best) {
                best = next;
            } else {
                bearings[room] = 1 - bearings[room];
            }
        }
        best
    }

    /// A plan whose loops keep the limit as drawn, by asking for less than it where they do not.
    fn within_limit(&self, bearings: &[usize]) -> Plan {
        let limit = self.floor.tube.longest_loop_m;
        let mut best = self.plan(bearings, 0.985 * limit);
        for share in [0.95, 0.91, 0.87, 0.80] {
            if self.badness(&best).0 == 0 {
                break;
            }
            let next = self.plan(bearings, share * limit);
            if self.badness(&next) < self.badness(&best) {
                best = next;
            }
        }
        best
    }

    fn plan(&self, bearings: &[usize], limit_m: f64) -> Plan {
        let mut plan = Plan::default();
        let mut banks = self.banks(bearings, &mut plan.unreached);
        banks.retain(|bank| {
            let heated: f64 = bank.rows.iter().map(row_m).sum();
            if heated < LEAST_LOOP_M {
                self.lose(&mut plan.unreached, bank, Why::TooLittle);
            }
            heated >= LEAST_LOOP_M
        });
        let mut loops: Vec<Planned> = Vec::new();
        for bank in &banks {
            let far = |row: &Row| row.pieces.last().map_or(0.0, |p| p[1]);
            let leader = 2.0 * (self.split_from(bank.bearing) + self.floor.manifold.rise_m);
            let length = |a: usize, b: usize| {
                let rows = &bank.rows[a..b];
                let each: f64 =
                    rows.iter().map(|r| 2.0 * far(r) + 1.2 * self.fit.half_m + 0.1).sum();
                let last = rows.last().map_or(0.0, |row| row.x_m);
                leader + 2.0 * last + each
                    - 2.0 * rows.len() as f64 * self.fit.zones_m[bank.bearing][0]
            };
            let aim_m = limit_m.min(self.floor.rooms[bank.room].loop_aim_m);
            let mut start = 0;
            for end in group::runs(bank.rows.len(), aim_m, length) {
                loops.push(Planned { rows: bank.rows[start..end].to_vec(), ..bank.clone() });
                start = end;
            }
        }
        self.place(loops, &mut plan);
        plan
    }

    /// Distance from a bearing to where its leaders rise, about, metres.
    pub(super) fn split_from(&self, bearing: usize) -> f64 {
        let y = self.bays.frame.inward(self.floor.manifold.at).y;
        let from = from_bearing(self.bays, bearing, &[y, y])[0];
        from.clamp(0.0, self.bays.span_m())
    }

    /// A leader bay that may reach what the present ones do not, if leaders may pass below.
    fn next_station(&self, plan: &Plan) -> Option<usize> {
        let home = *self.stations.first()?;
        if !self.floor.under_joists {
            return None;
        }
        let lost = |place: &usize| {
            let number = self.bays.all[*place].number;
            plan.unreached
                .iter()
                .any(|u| u.bay == number && matches!(u.why, Why::Blocked | Why::LeadersFull))
        };
        let may = |place: &usize| {
            !self.stations.contains(place)
                && self.bays.all[*place].full.is_empty()
                && (0..2).any(|bearing| self.is_open(*place, bearing))
        };
        let all = 0..self.bays.all.len();
        all.filter(|place| lost(place) && may(place)).min_by_key(|place| place.abs_diff(home))
    }
}

/// A stretch counted from one of the bearings.
pub(super) fn from_bearing(bays: &Bays, bearing: usize, span: &Span) -> Span {
    let [low, high] = bays.bearings_m;
    if bearing == 0 { [span[0] - low, span[1] - low] } else { [high - span[1], high - span[0]] }
}

/// A stretch counted from a bearing, in the joist frame.
pub(super) fn in_frame(bays: &Bays, bearing: usize, span: &Span) -> Span {
    let [low, high] = bays.bearings_m;
    if bearing == 0 { [low + span[0], low + span[1]] } else { [high - span[1], high - span[0]] }
}

pub(super) fn row_m(row: &Row) -> f64 {
    total(&row.pieces)
}

pub(super) fn total(pieces: &[Span]) -> f64 {
    pieces.iter().map(length).sum()
}

/// Tube of a loop between its ports and the manifold, metres.
pub(super) fn outside_m(floor: &Floor, bays: &Bays, planned: &Planned) -> f64 {
    let manifold = bays.frame.inward(floor.manifold.at);
    let y = from_bearing(bays, planned.bearing, &[manifold.y, manifold.y])[0];
    let station = bays.all.get(planned.station).map_or(0.0, |bay| bay.middle_m);
    let one_way = |slot: f64, port: f64| {
        let (x, port) = match planned.way.trunk {
            Some(trunk) => {
                let away = if planned.right { trunk.from_x_m } else { -trunk.from_x_m };
                (station + away, trunk.y_m)
            }
            None => (station + if planned.right { slot } else { -slot }, port),
        };
        (x - manifold.x).abs() + (port - y).abs()
    };
    let [supply, back] = planned.way.slots_m;
    one_way(supply, planned.way.ports_m[0])
        + one_way(back, planned.way.ports_m[1])
        + 2.0 * floor.manifold.rise_m
}
