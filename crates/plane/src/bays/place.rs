//! Lanes, slots and ports of the loops that hang on one leader bay or another.

use super::banks::{LANE_STEP_M, LEAST_LEFT_M};
use super::plan::{Plan, Planned, Planner, Trunk, from_bearing, row_m};
use super::rows::{self, Span};
use super::tube::{self, Row};
use super::{Unreached, Why};
use crate::point::Point;

/// From the turn of a leader to where it rises to the manifold, metres.
const PORT_M: f64 = 0.05;

impl Planner<'_> {
    /// Gives every loop its lanes and its slot and draws it; what has no place is lost.
    pub(super) fn place(&self, mut loops: Vec<Planned>, plan: &mut Plan) {
        let reach = |l: &Planned| l.rows.last().map_or(0.0, |r| r.x_m);
        loops.sort_by(|a, b| reach(b).total_cmp(&reach(a)));
        let mut kept: Vec<Planned> = Vec::new();
        for &station in &self.stations {
            for (bearing, right) in [(0, false), (0, true), (1, false), (1, true)] {
                let group: Vec<Planned> = loops
                    .iter()
                    .filter(|l| (l.station, l.bearing, l.right) == (station, bearing, right))
                    .cloned()
                    .collect();
                let beside = (station, bearing, !right);
                let alone = loops.iter().all(|l| (l.station, l.bearing, l.right) != beside);
                let apart = self.without_overlaps(group, plan);
                kept.extend(self.lanes(apart, alone, plan));
            }
        }
        self.ports(&mut kept);
        for planned in kept {
            match tube::draw(self.fit, &planned.way, &planned.rows) {
                Some(drawn) => plan.loops.push((planned, drawn)),
                None => self.lose(&mut plan.unreached, &planned, Why::Blocked),
            }
        }
        self.count_plated_leaders(plan);
        plan.loops.sort_by_key(|(l, _)| {
            (l.room, l.bearing, l.station, l.right, l.rows.first().map_or(0, |r| r.bay))
        });
    }

    /// Drops loops whose bays mingle with those of a loop with more floor.
    fn without_overlaps(&self, group: Vec<Planned>, plan: &mut Plan) -> Vec<Planned> {
        let ends = |l: &Planned| {
            let x = |row: Option<&Row>| row.map_or(0.0, |r| r.x_m);
            (x(l.rows.first()), x(l.rows.last()))
        };
        let heated = |l: &Planned| l.rows.iter().map(row_m).sum::<f64>();
        let mut by_floor: Vec<usize> = (0..group.len()).collect();
        by_floor.sort_by(|a, b| heated(&group[*b]).total_cmp(&heated(&group[*a])).then(a.cmp(b)));
        let mut keep = vec![false; group.len()];
        for i in by_floor {
            let (from, to) = ends(&group[i]);
            keep[i] = (0..group.len()).filter(|j| keep[*j]).all(|j| {
                let (other_from, other_to) = ends(&group[j]);
                to < other_from - 1e-6 || from > other_to + 1e-6
            });
        }
        let mut kept = Vec::new();
        for (planned, keep) in group.into_iter().zip(keep) {
            if keep {
                kept.push(planned);
            } else {
                self.lose(&mut plan.unreached, &planned, Why::OtherLoop);
            }
        }
        kept
    }

    /// Lanes and slots of the loops on one side of a leader bay, farthest loop first.
    fn lanes(&self, group: Vec<Planned>, alone: bool, plan: &mut Plan) -> Vec<Planned> {
        let fit = self.fit;
        let each = fit.lanes_each();
        // The farthest loops need the most leader; they are the ones left out.
        let spare = group.len().saturating_sub(fit.slots(alone));
        let mut group = group;
        for planned in group.drain(..spare) {
            self.lose(&mut plan.unreached, &planned, Why::LeadersFull);
        }
        let mut placed: Vec<Planned> = Vec::new();
        let zone = group.first().map_or([0.0; 2], |l| fit.zones_m[l.bearing]);
        let mut lane = zone[0];
        for mut planned in group {
            let farthest = planned.rows.last().map_or(planned.station, |r| r.bay);
            let (low, high) = (planned.station.min(farthest), planned.station.max(farthest));
            let last = |lane: f64| lane + (each - 1) as f64 * fit.lane_m;
            let free = |lane: f64| {
                (low..=high).all(|bay| {
                    (0..each)
                        .all(|k| self.is_free(bay, planned.bearing, lane + k as f64 * fit.lane_m))
                })
            };
            let mut at = lane;
            while last(at) <= zone[1] + 1e-9 && !free(at) {
                at += LANE_STEP_M;
            }
            if last(at) > zone[1] + 1e-9 {
                self.lose(&mut plan.unreached, &planned, Why::Blocked);
                continue;
            }
            planned.way.lanes_m = [at, last(at)];
            lane = last(at) + fit.lane_m;
            placed.push(planned);
        }
        let count = placed.len();
        for (number, planned) in placed.iter_mut().enumerate() {
            let inner = (count - 1 - number) * each;
            let slot = |k: usize| fit.first_slot_m() - (inner + k) as f64 * fit.beside_m;
            planned.way.slots_m = [slot(each - 1), slot(0)];
            if inner == 0 {
                planned.way.home = self.home(planned);
            }
        }
        placed
    }

    /// Where the return beside the joist can lie in plates below the loop's own room, from the bearing.
    fn home(&self, planned: &Planned) -> Vec<Span> {
        let bay = &self.bays.all[planned.station];
        let side = usize::from(planned.right);
        let under = &bay.strands[planned.room][side];
        let turn = |span: &Span| from_bearing(self.bays, planned.bearing, span);
        let mut home: Vec<Span> =
            rows::common(&bay.pieces[planned.room], under).iter().map(turn).collect();
        home.sort_by(|a, b| a[0].total_cmp(&b[0]));
        home
    }

    /// Takes the plated stretches of leader bays off what is told as unreached there.
    fn count_plated_leaders(&self, plan: &mut Plan) {
        for (planned, drawn) in &plan.loops {
            let number = self.bays.all[planned.station].number;
            let in_leader_bay = |ends: &&[Point; 2]| ends[0].x.abs() < self.bays.pitch_m / 2.0;
            let plated: f64 = drawn
                .plated
                .iter()
                .filter(in_leader_bay)
                .map(|ends| ends[0].distance(ends[1]))
                .sum();
            let own = |u: &&mut Unreached| {
                (u.room, u.bay, u.why) == (planned.room, number, Why::LeaderBay)
            };
            // One strand serves half of the bay.
            if let Some(told) = plan.unreached.iter_mut().find(own) {
                told.length_m -= plated / 2.0;
            }
        }
        plan.unreached.retain(|u| u.length_m >= LEAST_LEFT_M);
    }

    /// Where the leaders rise to the manifold, and the way below the joists to other leader bays.
    fn ports(&self, loops: &mut [Planned]) {
        let fit = self.fit;
        let span = self.bays.span_m();
        let home = self.stations.first().copied().unwrap_or(0);
        let needs = |bearing: usize| {
            let lanes = loops.iter().filter(|l| l.bearing == bearing);
            let deepest = lanes.map(|l| l.way.lanes_m[1]).fold(0.0, f64::max);
            deepest + fit.radius_m + 3.0 * PORT_M
        };
        let (low, high) = (needs(0), span - needs(1));
        let split = self.split_from(0).clamp(low.min(high), high.max(low));
        let mut trunks: Vec<(usize, usize)> = loops
            .iter()
            .enumerate()
            .filter(|(_, l)| l.station != home)
            .map(|(number, l)| (l.bearing, number))
            .collect();
        // Towards the first bearing the nearest trunk turns off first; towards the other one, last.
        trunks.sort_by_key(|&(bearing, number)| {
            let away = loops[number].station.abs_diff(home);
            let slot = if bearing == 0 { number } else { loops.len() - number };
            (bearing, if bearing == 0 { away } else { usize::MAX - away }, slot)
        });
        let middle = (trunks.len() as f64 - 1.0) / 2.0;
        for (order, (_, number)) in trunks.iter().enumerate() {
            let planned = &mut loops[*number];
            let across = self.bays.all[planned.station].middle_m - self.bays.all[home].middle_m;
            let y = split + (order as f64 - middle) * fit.beside_m;
            let y_m = if planned.bearing == 0 { y } else { span - y };
            let sign = if planned.right { -1.0 } else { 1.0 };
            planned.way.trunk = Some(Trunk { from_x_m: sign * across, y_m });
        }
        for planned in loops.iter_mut() {
            let from = if planned.bearing == 0 { split } else { span - split };
            planned.way.ports_m = [from - PORT_M, from - 2.0 * PORT_M];
        }
    }

    /// Notes the rows of a loop as unreached.
    pub(super) fn lose(&self, unreached: &mut Vec<Unreached>, planned: &Planned, why: Why) {
        for row in &planned.rows {
            let bay = self.bays.all[row.bay].number;
            unreached.push(Unreached { room: planned.room, bay, length_m: row_m(row), why });
        }
    }
}
