//! From drafts and laid loops to the layout that is handed out.

use super::annex::Annex;
use super::draft::{Draft, Ground};
use super::layout::{Loop, Passed};
use super::leaders;
use super::own::Laid;
use crate::clip;
use crate::meet::meets;
use crate::path::{Path, Segment};
use crate::region::Region;

impl Ground {
    /// Rooms from the manifold's to a room, and the doors between them.
    pub(super) fn chain(&self, room: usize) -> (Vec<usize>, Vec<usize>) {
        let (mut rooms, mut doors) = (vec![room], Vec::new());
        let mut here = room;
        while let Some((before, door)) =
            self.ways.get(here).copied().flatten().and_then(|w| w.before)
        {
            rooms.push(before);
            doors.push(door);
            here = before;
            if rooms.len() > self.ways.len() {
                break;
            }
        }
        rooms.reverse();
        doors.reverse();
        (rooms, doors)
    }

    /// The loop of one zone as the layout tells it.
    pub(super) fn told(&self, draft: &Draft, zone: usize, laid: Laid) -> Loop {
        let room = draft.net.zones[zone].room;
        let (rooms, doors) = self.chain(room);
        let annexes: Vec<&Annex> =
            self.annexes(room).iter().filter(|a| draft.net.zones[zone].serves(a.room)).collect();
        let lengths_m = self.lengths_by_room(&laid.path, &rooms, &annexes);
        let half_m = draft.gauge.half_m;
        let passed = rooms[..rooms.len() - 1]
            .iter()
            .map(|passed| {
                let length_m = lengths_m.iter().find(|(r, _)| r == passed).map_or(0.0, |l| l.1);
                Passed { room: *passed, length_m, area_m2: length_m * half_m }
            })
            .collect();
        let given = &self.plan.rooms[room];
        Loop {
            room,
            number: 0,
            manifold: self.manifold,
            port: 0,
            supply_leader_m: laid.leaders_m[0],
            return_leader_m: laid.leaders_m[1],
            lengths_m,
            doors,
            passed,
            region: self.region(draft, zone),
            covered_fraction: (1.0 - laid.uncovered).clamp(0.0, 1.0),
            spacing_laid_m: laid.spacing_m,
            pattern: laid.pattern,
            why: if laid.why.is_empty() {
                format!("{:?}", given.pattern)
            } else {
                laid.why.to_owned()
            },
            path: laid.path,
        }
    }

    /// A loop's field and the strip of its leader in its own room.
    pub(super) fn region(&self, draft: &Draft, zone: usize) -> Region {
        let own = &draft.net.zones[zone];
        let field = draft.floors[zone].iter().cloned().collect::<Vec<_>>();
        let strip = leaders::strip(&draft.leaders[zone], draft.gauge.half_m);
        let room = std::slice::from_ref(&self.plan.rooms[own.room].floor);
        let both = clip::union(&field, &clip::intersection(&strip, room));
        super::free::largest(both).unwrap_or_else(|| own.floor.clone())
    }

    /// Tube in every room of a chain; a passage counts to the room behind it.
    ///
    /// Rooms that share the loop stand last, and the ways to them count to them.
    fn lengths_by_room(
        &self,
        path: &Path,
        rooms: &[usize],
        annexes: &[&Annex],
    ) -> Vec<(usize, f64)> {
        let chain = rooms.iter().map(|r| &self.plan.rooms[*r].floor);
        let floors: Vec<&Region> = chain.chain(annexes.iter().map(|a| &a.bare)).collect();
        let mut lengths = vec![0.0; floors.len()];
        let mut here = 0;
        let mut going_out = true;
        for segment in &path.segments {
            for pair in cuts(segment, &floors).windows(2) {
                let (from, to) = (pair[0], pair[1]);
                if to - from < 1e-12 {
                    continue;
                }
                let p = segment.point_at((from + to) / 2.0);
                let is_in_own = floors[rooms.len() - 1].encloses(p);
                let annexed = (rooms.len()..floors.len()).find(|i| floors[*i].encloses(p));
                if let Some(annexed) = annexed.filter(|_| !is_in_own) {
                    lengths[annexed] += to - from;
                    continue;
                }
                let found = (0..rooms.len()).rev().find(|i| floors[*i].encloses(p));
                let at = match found {
                    Some(i) => {
                        here = i;
                        going_out &= i + 1 < rooms.len();
                        i
                    }
                    // The first metres lead on, the last ones back.
                    None if going_out => (here + 1).min(rooms.len() - 1),
                    None => here,
                };
                lengths[at] += to - from;
            }
        }
        rooms.iter().copied().chain(annexes.iter().map(|a| a.room)).zip(lengths).collect()
    }
}

/// Distances along a piece of tube at which it begins, ends, or passes the edge of a floor.
fn cuts(segment: &Segment, floors: &[&Region]) -> Vec<f64> {
    let mut cuts = vec![0.0, segment.length_m()];
    for (a, b) in floors.iter().flat_map(|floor| floor.edges()) {
        cuts.extend(meets(segment, a, b));
    }
    cuts.sort_by(f64::total_cmp);
    cuts
}
