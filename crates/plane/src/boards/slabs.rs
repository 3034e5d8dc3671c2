//! Slabs of whole rows, one for each loop, and the leaders' strips beside them.

use super::grid::{self, Row};
use super::leaders::{self, Chain};
use super::{Floor, Layout, Loop, NoBoards, worth};
use crate::bays::frame::Frame;
use crate::bays::group;
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;
use crate::{clip, verify};

/// Left of every room, metres.
const LEFTMOST_M: f64 = -1e6;

/// Rows shorter than this many pitches are left out.
const LEAST_ROW: f64 = 0.8;

/// Shares of the longest loop that slabs are cut for, until one split can be laid.
const SHARES: [f64; 8] = [0.98, 0.92, 0.86, 0.80, 0.74, 0.68, 0.60, 0.52];

/// Where a slab lies and how its leaders come to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slab {
    /// 1 where the slab lies above the door or the leaders' strip, −1 below.
    pub(super) sign: f64,
    /// Place of the tube nearest the wall, from the wall that the leaders run along.
    pub(super) x_m: f64,
    /// The door, from that wall.
    pub(super) door_x: f64,
    /// Middle of the two leaders at the door.
    pub(super) door_y: f64,
    /// Whether the leaders run along the wall with the door.
    pub(super) from_door: bool,
    /// Radius of the leaders' corners.
    pub(super) turn_m: f64,
}

/// A room seen in the frame of its boards.
struct Site<'a> {
    floor: &'a Floor,
    frame: Frame,
    from_door: bool,
    /// Floor without keep-outs.
    open: Vec<Region>,
    /// Places for the middles of rows.
    inside: Vec<Region>,
    door_x: f64,
    half_door: f64,
    phase: f64,
    gain_m2: f64,
}

/// Lays the loops with leaders along the wall with the door, or along the wall opposite.
pub(super) fn lay(floor: &Floor, from_door: bool) -> Result<Layout, NoBoards> {
    let site = Site::of(floor, from_door).ok_or(NoBoards::NoRow)?;
    let mut best: Option<Layout> = None;
    let mut reason = NoBoards::NoLayout;
    let mut tried: Vec<Parts> = Vec::new();
    for share in SHARES {
        let limit = share * (floor.longest_loop_m - floor.outside_m);
        let parts = match site.parts(limit) {
            Ok(parts) => parts,
            Err(other) => {
                reason = if tried.is_empty() { other } else { reason };
                break;
            }
        };
        if tried.contains(&parts) {
            continue;
        }
        match site.laid(&parts) {
            Ok(layout) if best.as_ref().is_none_or(|b| worth(&layout) > worth(b) + 1e-6) => {
                best = Some(layout);
            }
            Err(other) if reason == NoBoards::NoLayout => reason = other,
            _ => {}
        }
        tried.push(parts);
    }
    best.ok_or(reason)
}

/// Rows of every slab, and where the leaders come in.
#[derive(Clone, Debug, PartialEq)]
struct Parts {
    /// Below the leaders, from the nearest downwards.
    below: Vec<Vec<Row>>,
    /// Beside the door; none where leaders cross the room first.
    home: Option<Vec<Row>>,
    /// Above the leaders, from the nearest upwards.
    above: Vec<Vec<Row>>,
    /// Middle of the leaders at the door.
    door_y: f64,
}

impl<'a> Site<'a> {
    fn of(floor: &'a Floor, from_door: bool) -> Option<Site<'a>> {
        let [a, b] = floor.door;
        let middle = a.lerp(b, 0.5);
        let normal = (b - a).unit().left();
        let into = if floor.room.encloses(middle + normal * 0.05) { normal } else { -normal };
        let across = if from_door { into } else { -into };
        let mut frame = Frame::of(middle, across.left());
        let xs = floor.room.outer().iter().map(|p| frame.inward(*p).x);
        let low = xs.fold(f64::INFINITY, f64::min);
        if !from_door {
            frame = frame.moved(Point::new(low, 0.0), false, false);
        }
        let inward = |ring: &[Point]| ring.iter().map(|p| frame.inward(*p)).collect::<Vec<_>>();
        let holes = floor.room.holes().iter().map(|hole| inward(hole)).collect();
        let room = Region::new(inward(floor.room.outer()), holes).ok()?;
        let outs: Vec<Vec<Point>> = floor.keep_outs.iter().map(|ring| inward(ring)).collect();
        let open = room.difference(&outs).ok()?;
        let pitch = floor.board.pitch_m;
        // Whole rows fit seldom: beside them the tube may come to half the clearance.
        let end_m = floor.wall_clearance_m / 2.0;
        // A hair less, so that rows that just fit are there; their ends give it back.
        let inside = clip::erode(&open, end_m + pitch / 2.0 - grid::SPARE_M);
        let end_m = end_m + grid::SPARE_M;
        let (phase, gain_m2) = grid::best_phase(&inside, pitch, end_m);
        let door_x = frame.inward(middle).x;
        let half_door = a.distance(b) / 2.0;
        Some(Site { floor, frame, from_door, open, inside, door_x, half_door, phase, gain_m2 })
    }

    fn pitch(&self) -> f64 {
        self.floor.board.pitch_m
    }

    fn beside(&self) -> f64 {
        self.floor.board.leader_pitch_m
    }

    /// Shares all rows out, by lines of the grid, so that loops keep a limit.
    fn parts(&self, limit_m: f64) -> Result<Parts, NoBoards> {
        let (pitch, end_m) = (self.pitch(), self.floor.wall_clearance_m / 2.0 + grid::SPARE_M);
        let rows = grid::rows(&self.inside, pitch, self.phase, LEAST_ROW * pitch, end_m);
        let lines: Vec<&[Row]> = rows.chunk_by(|a, b| a.line == b.line).collect();
        if lines.is_empty() {
            return Err(NoBoards::NoRow);
        }
        if self.from_door {
            let all = self.slabs(&lines, limit_m);
            return self.about_door(all);
        }
        let mut pairs = 1;
        for _ in 0..6 {
            self.fits_door(pairs)?;
            // Leaders turn out of the strip and into a groove: two bends, one after the other.
            let turns = 2.0 * self.floor.bend_radius_m + (pitch - self.beside()) / 2.0;
            let clear = pairs as f64 * self.beside() + pitch.max(turns);
            let door_y = self.strip_y(&rows, pairs, clear);
            let apart = |line: &[Row]| line[0].y - door_y;
            let below: Vec<&[Row]> =
                lines.iter().rev().copied().filter(|l| apart(l) < -clear).collect();
            let above: Vec<&[Row]> = lines.iter().copied().filter(|l| apart(l) > clear).collect();
            let (below, above) = (self.slabs(&below, limit_m), self.slabs(&above, limit_m));
            let count = below.len() + above.len();
            if count <= pairs {
                return Ok(Parts { below, home: None, above, door_y });
            }
            pairs = count;
        }
        Err(NoBoards::NoLayout)
    }

    /// Where leaders that cross the room take the place of least rows.
    fn strip_y(&self, rows: &[Row], pairs: usize, clear: f64) -> f64 {
        let slack = (self.half_door - pairs as f64 * self.beside()).max(0.0);
        let kept = |y: f64| -> f64 {
            rows.iter().filter(|row| (row.y - y).abs() > clear).map(Row::length_m).sum()
        };
        let mut best = 0.0;
        for k in 1..=8 {
            for sign in [-1.0, 1.0] {
                let y = sign * slack * f64::from(k) / 8.0;
                if kept(y) > kept(best) + 1e-6 {
                    best = y;
                }
            }
        }
        best
    }

    fn fits_door(&self, loops: usize) -> Result<(), NoBoards> {
        let (needs_m, has_m) = (2.0 * loops as f64 * self.beside(), 2.0 * self.half_door);
        if needs_m > has_m + 1e-9 {
            return Err(NoBoards::DoorTooNarrow { loops, needs_m, has_m });
        }
        Ok(())
    }

    fn slabs(&self, lines: &[&[Row]], limit_m: f64) -> Vec<Vec<Row>> {
        let pitch = self.pitch();
        let tube = |line: &&[Row]| -> f64 {
            line.iter().map(|row| 2.0 * row.length_m() + 2.5 * pitch).sum()
        };
        let length = |a: usize, b: usize| {
            let near = lines[a..b].iter().map(|l| l[0].y.abs()).fold(f64::INFINITY, f64::min);
            let leader = 2.0 * if self.from_door { near } else { near + self.door_x };
            lines[a..b].iter().map(tube).sum::<f64>() + leader
        };
        let mut start = 0;
        let mut slabs = Vec::new();
        for end in group::runs(lines.len(), limit_m, length) {
            slabs.push(lines[start..end].concat());
            start = end;
        }
        slabs
    }

    /// Tells the slab beside the door from those below and above it.
    fn about_door(&self, all: Vec<Vec<Row>>) -> Result<Parts, NoBoards> {
        self.fits_door(all.len())?;
        let places = (0..all.len()).filter_map(|i| self.door_y(&all, i).map(|y| (i, y)));
        let best = places.min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        let Some((home, door_y)) = best else { return Err(NoBoards::NoLayout) };
        let below = all[..home].iter().rev().cloned().collect();
        let above = all[home + 1..].to_vec();
        Ok(Parts { below, home: Some(all[home].clone()), above, door_y })
    }

    /// Where the leaders of a slab beside the door can come in, nearest the door's middle.
    fn door_y(&self, all: &[Vec<Row>], home: usize) -> Option<f64> {
        let (below, above) = (home as f64, (all.len() - 1 - home) as f64);
        let beside = self.beside();
        let margin = self.pitch() / 2.0 - beside / 2.0;
        let (first, last) = (all[home].first()?.y, all[home].last()?.y);
        let low =
            (first + beside - margin.min(0.0)).max((below + 0.5) * 2.0 * beside - self.half_door);
        let high =
            (last - beside + margin.min(0.0)).min(self.half_door - (above + 0.5) * 2.0 * beside);
        let (low, high) =
            if first == last { (low.min(first), high.max(first)) } else { (low, high) };
        (low <= high + 1e-9).then(|| 0.0_f64.clamp(low.min(high), high.max(low)))
    }

    /// Draws every slab's loop; all must keep every rule.
    fn laid(&self, parts: &Parts) -> Result<Layout, NoBoards> {
        let (pitch, beside) = (self.pitch(), self.beside());
        let Parts { below, home, above, door_y } = parts;
        let mut lost_m = 0.0;
        let mut loops = Vec::new();
        for (sign, slabs) in [(-1.0, below), (1.0, above)] {
            for (number, rows) in slabs.iter().enumerate() {
                let slab = self.slab(parts, sign, number);
                let is_last = number + 1 == slabs.len();
                let least = if is_last { LEFTMOST_M } else { slab.x_m + pitch / 2.0 };
                let nearest = rows.iter().map(|row| row.y * sign).fold(f64::INFINITY, f64::min);
                let root = Point::new(slab.x_m, sign * nearest);
                let (ring, lost) = self.ring(rows, least, root)?;
                lost_m += lost;
                let chain = leaders::along_wall(&ring, &slab, beside).ok_or(NoBoards::NoLayout)?;
                loops.push(self.finished(&chain)?);
            }
        }
        if let Some(rows) = home {
            let strip = below.len().max(above.len()) as f64 * 2.0 * beside;
            let least = self.floor.wall_clearance_m + strip + pitch / 2.0;
            let (ring, lost) = self.ring(rows, least, Point::new(least, *door_y))?;
            lost_m += lost;
            let chain = leaders::beside_door(&ring, *door_y, beside).ok_or(NoBoards::NoLayout)?;
            loops.push(self.finished(&chain)?);
        }
        let paths: Vec<Path> = loops.iter().map(|l| l.path.clone()).collect();
        if !verify::crossings(&paths).is_empty() {
            return Err(NoBoards::NoLayout);
        }
        let rows: Vec<Row> = below.iter().chain(home).chain(above).flatten().copied().collect();
        let on = Point::new(0.0, self.phase);
        let along = self.frame.outward(Point::new(1.0, 0.0)) - self.frame.outward(Point::default());
        Ok(Layout {
            loops,
            along,
            pitch_m: pitch,
            on: self.frame.outward(on),
            served_m2: grid::served_m2(&rows, pitch),
            gain_m2: self.gain_m2,
            lost_m,
            why: if self.from_door {
                "leaders run along the wall with the door; grooves run square to it"
            } else {
                "leaders cross to the wall opposite the door and run along it"
            },
        })
    }

    /// Where a slab lies and how its leaders come: below or above the door, by number from there.
    ///
    /// The slab that is farthest has its leaders nearest the wall and lets all others pass.
    fn slab(&self, parts: &Parts, sign: f64, number: usize) -> Slab {
        let (below, above) = (parts.below.len(), parts.above.len());
        let beyond = if sign < 0.0 { below } else { above } - 1 - number;
        let pair_m = 2.0 * self.beside();
        let slot = if self.from_door {
            sign * (number + 1) as f64
        } else {
            let place = if sign < 0.0 { number } else { below + beyond };
            place as f64 - (below + above - 1) as f64 / 2.0
        };
        Slab {
            sign,
            x_m: self.floor.wall_clearance_m + beyond as f64 * pair_m,
            door_x: self.door_x,
            door_y: parts.door_y + slot * pair_m,
            from_door: self.from_door,
            turn_m: self.floor.bend_radius_m,
        }
    }

    /// The outline of a slab's rows, cut back to leave the leaders' strip free.
    fn ring(&self, rows: &[Row], least: f64, root: Point) -> Result<(Vec<Point>, f64), NoBoards> {
        let pitch = self.pitch();
        let cut: Vec<Row> = rows
            .iter()
            .map(|row| Row { from: row.from.max(least), ..*row })
            .filter(|row| row.length_m() >= LEAST_ROW * pitch)
            .collect();
        // What lies beyond the leaders' strip is lost to the slab; the strip itself is heated.
        let strip = least - self.floor.wall_clearance_m;
        let beyond = |row: &Row| (least.min(row.to) - row.from - strip).max(0.0);
        let behind: f64 = rows.iter().map(beyond).sum();
        let (ring, lost) =
            grid::outline(&cut, &self.inside, pitch, root).ok_or(NoBoards::NoLayout)?;
        Ok((ring, lost + behind))
    }

    /// Rounds a chain, and refuses it where it breaks a rule.
    fn finished(&self, chain: &Chain) -> Result<Loop, NoBoards> {
        let floor = self.floor;
        let local = Path::rounded(&chain.corners, self.pitch() / 2.0);
        let outside: f64 = self
            .open
            .iter()
            .map(|region| verify::outside_m(&local, region))
            .fold(f64::INFINITY, f64::min);
        let length_m = local.length_m() + floor.outside_m;
        let sound = outside < 1e-3
            && length_m <= floor.longest_loop_m
            && verify::tight_bends(&local, floor.bend_radius_m - 1e-6).is_empty();
        if !sound {
            return Err(NoBoards::NoLayout);
        }
        Ok(Loop { path: self.frame.path(&local), length_m, leader_m: chain.leader_m })
    }
}
