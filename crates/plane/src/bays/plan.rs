//! Which bearing each room hangs on, which bays make a loop, and where its lanes lie.

use super::fit::Fit;
use super::group;
use super::rows::{Bay, Bays, Span, length};
use super::tube::{self, Drawn, Row};
use super::{Floor, NoBays, Unreached, Why};

/// Steps by which a lane gives way to what lies in it, metres.
const LANE_STEP_M: f64 = 0.025;

/// Less bay than this is not worth a loop of its own, metres.
const LEAST_LOOP_M: f64 = 3.0;

/// Shorter rests of a bay are not told, metres.
const LEAST_LEFT_M: f64 = 0.3;

/// From the turn of a leader to where it rises to the manifold, metres.
const PORT_M: f64 = 0.05;

/// Most rooms of which every choice of bearings is tried.
const MOST_TRIED: usize = 6;

/// The way of a loop between manifold and rows, in its local frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    /// Places of supply and return across the leader bay.
    pub(super) slots_m: [f64; 2],
    /// Supply lane and return lane, from the bearing.
    pub(super) lanes_m: [f64; 2],
    /// Where supply and return rise to the manifold, from the bearing.
    pub(super) ports_m: [f64; 2],
    /// The way below the joists to a leader bay away from the manifold.
    pub(super) trunk: Option<Trunk>,
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

/// What is worse, first things first.
type Badness = (u64, usize, usize, u64);

struct Planner<'a> {
    floor: &'a Floor,
    fit: &'a Fit,
    bays: &'a Bays,
    /// Leader bays, the manifold's first.
    stations: Vec<usize>,
}

/// The best plan: least floor lost, then no loop too long, then few loops, then little tube.
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
        ((lost * 2.0).round() as u64, over, lengths.len(), (total * 100.0).round() as u64)
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
            if self.badness(&best).1 == 0 {
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
                leader + 2.0 * last + each - 2.0 * rows.len() as f64 * self.fit.zone_m[0]
            };
            let mut start = 0;
            for end in group::runs(bank.rows.len(), limit_m, length) {
                loops.push(Planned { rows: bank.rows[start..end].to_vec(), ..bank.clone() });
                start = end;
            }
        }
        self.place(loops, &mut plan);
        plan
    }

    /// Rows by room, bearing, leader bay and side, each in order from the leader bay.
    fn banks(&self, bearings: &[usize], unreached: &mut Vec<Unreached>) -> Vec<Planned> {
        let mut banks: Vec<Planned> = Vec::new();
        for (place, bay) in self.bays.all.iter().enumerate() {
            if self.stations.contains(&place) {
                for (room, pieces) in bay.pieces.iter().enumerate().filter(|p| !p.1.is_empty()) {
                    let (length_m, why) = (total(pieces), Why::LeaderBay);
                    unreached.push(Unreached { room, bay: bay.number, length_m, why });
                }
            } else {
                self.rows_of(place, bay, bearings, &mut banks, unreached);
            }
        }
        for bank in &mut banks {
            bank.rows.sort_by(|a, b| a.x_m.total_cmp(&b.x_m));
        }
        banks
    }

    /// The rows of one bay: of each room from its bearing, then what the other bearing reaches.
    fn rows_of(
        &self,
        place: usize,
        bay: &Bay,
        bearings: &[usize],
        banks: &mut Vec<Planned>,
        unreached: &mut Vec<Unreached>,
    ) {
        let mut rooms: Vec<usize> =
            (0..bay.pieces.len()).filter(|room| !bay.pieces[*room].is_empty()).collect();
        rooms.sort_by(|a, b| total(&bay.pieces[*b]).total_cmp(&total(&bay.pieces[*a])));
        let mut left: Vec<f64> = bay.pieces.iter().map(|pieces| total(pieces)).collect();
        let mut why = vec![Why::Blocked; left.len()];
        let mut taken: Vec<Span> = Vec::new();
        for other in [0, 1] {
            for &room in &rooms {
                let wanted = bearings.get(room).copied().unwrap_or(0);
                let bearing = if other == 0 { wanted } else { 1 - wanted };
                let Some((station, right)) = self.station(place, bearing) else { continue };
                if left[room] < LEAST_LEFT_M {
                    continue;
                }
                let pieces = self.reached(bay, &bay.pieces[room], bearing, &taken);
                let Some(far) = pieces.last().map(|piece| piece[1]) else { continue };
                taken.push(in_frame(self.bays, bearing, &[0.0, far]));
                left[room] -= total(&pieces);
                why[room] = Why::BehindLanes;
                let x_m = (bay.middle_m - self.bays.all[station].middle_m).abs();
                add(banks, [room, bearing, station], right, Row { bay: place, x_m, pieces });
            }
        }
        for room in rooms {
            if left[room] >= LEAST_LEFT_M {
                let (length_m, why) = (left[room], why[room]);
                unreached.push(Unreached { room, bay: bay.number, length_m, why });
            }
        }
    }

    /// Stretches that a row from a bearing reaches, counted from it.
    ///
    /// A row ends at the first thing that lets nothing pass, and where another row has `taken` the bay.
    fn reached(&self, bay: &Bay, pieces: &[Span], bearing: usize, taken: &[Span]) -> Vec<Span> {
        let turn = |s: &Span| from_bearing(self.bays, bearing, s);
        let zone = self.fit.zone_m;
        let first_full = bay.full.iter().map(turn).filter(|f| f[1] > zone[0]).map(|f| f[0]);
        let first_taken = taken.iter().map(turn).map(|t| t[0]);
        let limit = first_full.chain(first_taken).fold(f64::INFINITY, f64::min);
        let mut local: Vec<Span> = pieces.iter().map(turn).collect();
        local.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let dips = super::fit::dip(self.fit.lower_z - self.fit.plate_z, self.fit.radius_m).0;
        let start = zone[0] + self.fit.radius_m;
        // No dip to the depth of holes where lanes of the other bearing may lie.
        let deepest = self.bays.span_m() - zone[1] - dips;
        let mut reached: Vec<Span> = Vec::new();
        for piece in local {
            let piece = [piece[0].max(start), piece[1]];
            let after_gap = reached.last().map_or(piece[0] > start, |_| true);
            if piece[1] > limit || (after_gap && piece[0] > deepest) {
                break;
            }
            if length(&piece) > 2.0 * dips + tube::turn_height(self.fit) {
                reached.push(piece);
            }
        }
        reached
    }

    /// The leader bay from which a bay can be reached, and whether it lies to its right.
    fn station(&self, place: usize, bearing: usize) -> Option<(usize, bool)> {
        let home = *self.stations.first()?;
        let right = place > home;
        let between = |s: usize| if right { s < place } else { s > place };
        let outward = |s: &usize| s.abs_diff(home);
        let beyond = |s: &usize| *s == home || (*s > home) == right;
        let station = self
            .stations
            .iter()
            .copied()
            .filter(|s| between(*s) && beyond(s))
            .max_by_key(outward)?;
        let (low, high) = (station.min(place), station.max(place));
        let open = (low..=high).all(|bay| self.is_open(bay, bearing, self.fit.zone_m));
        open.then_some((station, right))
    }

    /// Whether some lane of a zone is free in a bay.
    fn is_open(&self, bay: usize, bearing: usize, zone: Span) -> bool {
        let steps = ((zone[1] - zone[0]) / LANE_STEP_M).max(0.0) as usize;
        (0..=steps).any(|k| self.is_free(bay, bearing, zone[0] + k as f64 * LANE_STEP_M))
    }

    fn is_free(&self, bay: usize, bearing: usize, lane_m: f64) -> bool {
        let blocks = self.bays.all[bay].full.iter();
        blocks.map(|f| from_bearing(self.bays, bearing, f)).all(|f| lane_m < f[0] || lane_m > f[1])
    }

    /// Distance from a bearing to where its leaders rise, about, metres.
    fn split_from(&self, bearing: usize) -> f64 {
        let y = self.bays.frame.inward(self.floor.manifold.at).y;
        let from = from_bearing(self.bays, bearing, &[y, y])[0];
        from.clamp(0.0, self.bays.span_m())
    }

    /// Gives every loop its lanes and its slot and draws it; what has no place is lost.
    fn place(&self, mut loops: Vec<Planned>, plan: &mut Plan) {
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
                let apart = self.without_overlaps(group, plan);
                kept.extend(self.lanes(apart, plan));
            }
        }
        self.ports(&mut kept);
        for planned in kept {
            match tube::draw(self.fit, &planned.way, &planned.rows) {
                Some(drawn) => plan.loops.push((planned, drawn)),
                None => self.lose(&mut plan.unreached, &planned, Why::Blocked),
            }
        }
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
    fn lanes(&self, group: Vec<Planned>, plan: &mut Plan) -> Vec<Planned> {
        let fit = self.fit;
        let each = fit.lanes_each();
        // The farthest loops need the most leader; they are the ones left out.
        let spare = group.len().saturating_sub(fit.slots());
        let mut group = group;
        for planned in group.drain(..spare) {
            self.lose(&mut plan.unreached, &planned, Why::LeadersFull);
        }
        let mut placed: Vec<Planned> = Vec::new();
        let mut lane = fit.zone_m[0];
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
            while last(at) <= fit.zone_m[1] + 1e-9 && !free(at) {
                at += LANE_STEP_M;
            }
            if last(at) > fit.zone_m[1] + 1e-9 {
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
        }
        placed
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
    fn lose(&self, unreached: &mut Vec<Unreached>, planned: &Planned, why: Why) {
        for row in &planned.rows {
            let bay = self.bays.all[row.bay].number;
            unreached.push(Unreached { room: planned.room, bay, length_m: row_m(row), why });
        }
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
                && (0..2).any(|bearing| self.is_open(*place, bearing, self.fit.zone_m))
        };
        let all = 0..self.bays.all.len();
        all.filter(|place| lost(place) && may(place)).min_by_key(|place| place.abs_diff(home))
    }
}

/// Adds a row to its bank.
fn add(banks: &mut Vec<Planned>, [room, bearing, station]: [usize; 3], right: bool, row: Row) {
    let same = |b: &&mut Planned| {
        (b.room, b.bearing, b.station, b.right) == (room, bearing, station, right)
    };
    if let Some(bank) = banks.iter_mut().find(same) {
        bank.rows.push(row);
        return;
    }
    let way = Way { slots_m: [0.0; 2], lanes_m: [0.0; 2], ports_m: [0.0; 2], trunk: None };
    banks.push(Planned { room, bearing, right, station, rows: vec![row], way });
}

/// A stretch counted from one of the bearings.
fn from_bearing(bays: &Bays, bearing: usize, span: &Span) -> Span {
    let [low, high] = bays.bearings_m;
    if bearing == 0 { [span[0] - low, span[1] - low] } else { [high - span[1], high - span[0]] }
}

/// A stretch counted from a bearing, in the joist frame.
fn in_frame(bays: &Bays, bearing: usize, span: &Span) -> Span {
    let [low, high] = bays.bearings_m;
    if bearing == 0 { [low + span[0], low + span[1]] } else { [high - span[1], high - span[0]] }
}

fn row_m(row: &Row) -> f64 {
    total(&row.pieces)
}

fn total(pieces: &[Span]) -> f64 {
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
