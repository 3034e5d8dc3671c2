//! Which rows there are, and from where each is reached.

use super::plan::{Planned, Planner, Way, from_bearing, in_frame, total};
use super::rows::{Bay, Span, length};
use super::tube::{self, Row};
use super::{Unreached, Why, fit};

/// Steps by which a lane gives way to what lies in it, metres.
pub(super) const LANE_STEP_M: f64 = 0.025;

/// Shorter rests of a bay are not told, metres.
pub(super) const LEAST_LEFT_M: f64 = 0.3;

impl Planner<'_> {
    /// Rows by room, bearing, leader bay and side, each in order from the leader bay.
    pub(super) fn banks(&self, bearings: &[usize], unreached: &mut Vec<Unreached>) -> Vec<Planned> {
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
                let strands = self.strands(bay, room, bearing, right);
                let row = Row { bay: place, x_m, pieces, strands };
                add(banks, [room, bearing, station], right, row);
            }
        }
        for room in rooms {
            if left[room] >= LEAST_LEFT_M {
                let (length_m, why) = (left[room], why[room]);
                unreached.push(Unreached { room, bay: bay.number, length_m, why });
            }
        }
    }

    /// Where the strands of a bay lie under a room, from the bearing: the one away from the leader
    /// bay first.
    fn strands(&self, bay: &Bay, room: usize, bearing: usize, right: bool) -> [Vec<Span>; 2] {
        let sides = if right { [1, 0] } else { [0, 1] };
        let turn = |span: &Span| from_bearing(self.bays, bearing, span);
        sides.map(|side| bay.strands[room][side].iter().map(turn).collect())
    }

    /// Stretches that a row from a bearing reaches, counted from it.
    ///
    /// A row ends at the first thing that lets nothing pass, and where another row has `taken` the bay.
    fn reached(&self, bay: &Bay, pieces: &[Span], bearing: usize, taken: &[Span]) -> Vec<Span> {
        let turn = |s: &Span| from_bearing(self.bays, bearing, s);
        let zone = self.fit.zones_m[bearing];
        let other = self.fit.zones_m[1 - bearing];
        let first_full = bay.full.iter().map(turn).filter(|f| f[1] > zone[0]).map(|f| f[0]);
        let first_taken = taken.iter().map(turn).map(|t| t[0]);
        let limit = first_full.chain(first_taken).fold(f64::INFINITY, f64::min);
        let mut local: Vec<Span> = pieces.iter().map(turn).collect();
        local.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let dips = fit::dip(self.fit.lower_z - self.fit.plate_z, self.fit.radius_m).0;
        let start = zone[0] + self.fit.radius_m;
        // No dip to the depth of holes where lanes of the other bearing may lie.
        let deepest = self.bays.span_m() - if other[0] <= other[1] { other[1] } else { 0.0 } - dips;
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
    pub(super) fn station(&self, place: usize, bearing: usize) -> Option<(usize, bool)> {
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
        let open = (low..=high).all(|bay| self.is_open(bay, bearing));
        open.then_some((station, right))
    }

    /// Whether some lane beside a bearing is free in a bay.
    pub(super) fn is_open(&self, bay: usize, bearing: usize) -> bool {
        let zone = self.fit.zones_m[bearing];
        if zone[0] > zone[1] {
            return false;
        }
        let steps = ((zone[1] - zone[0]) / LANE_STEP_M).max(0.0) as usize;
        (0..=steps).any(|k| self.is_free(bay, bearing, zone[0] + k as f64 * LANE_STEP_M))
    }

    pub(super) fn is_free(&self, bay: usize, bearing: usize, lane_m: f64) -> bool {
        let blocks = self.bays.all[bay].full.iter();
        blocks.map(|f| from_bearing(self.bays, bearing, f)).all(|f| lane_m < f[0] || lane_m > f[1])
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
    let way = Way {
        slots_m: [0.0; 2],
        lanes_m: [0.0; 2],
        ports_m: [0.0; 2],
        trunk: None,
        home: Vec::new(),
    };
    banks.push(Planned { room, bearing, right, station, rows: vec![row], way });
}
