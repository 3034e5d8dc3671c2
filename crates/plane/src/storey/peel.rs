//! Leaders peeled off along the walls, one inside the other.
//!
//! A leader is a double strand in a strip of its own. In every zone it follows the edge of
//! the floor that is still free, at half its strip's width; the strip is then taken off, so
//! that the next leader follows it and no two strips ever overlap.

use super::curve;
use super::doorway::{self, Doorway, Inward};
use super::net::{Entry, Net, Portal};
use super::order::{Opening, Order};
use super::ring::{self, Ring};
use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::Region;

/// How leaders are to be laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gauge {
    /// Half the width of a strip; also the distance between its two tubes, metres.
    pub(super) half_m: f64,
    /// Distance of the first strip from the edge of the floor, metres.
    pub(super) inset_m: f64,
}

/// Why leaders found no way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Blocked {
    /// The strips do not fit side by side through an opening.
    Opening { door: Option<usize>, loops: usize, width_m: f64 },
    /// A narrow place in a room.
    Narrow { room: usize },
}

/// Leaders of all loops, as corners of their centrelines.
#[derive(Clone, Debug)]
pub(super) struct Peeled {
    /// By zone; empty for zones without a loop.
    pub(super) leaders: Vec<Vec<Point>>,
    /// By zone: the strips that pass through it belong to these loops.
    pub(super) passing: Vec<Vec<usize>>,
    /// Length that leaders take at the manifold beyond its stretch, at either end, metres.
    pub(super) beyond_m: f64,
}

/// Least distance between tubes of neighbours at the ports themselves, centre to centre, metres.
pub(super) const PORT_GAP_M: f64 = 0.035;

/// Length of ports that loops need at the least, each with a given gap between its own tubes.
pub(super) fn ports_needed_m(loops: usize, gap_m: f64) -> f64 {
    loops.saturating_sub(1) as f64 * (gap_m + PORT_GAP_M.min(gap_m)) + gap_m
}

/// How much of a strip's half-width counts, so that a fit without play still fits.
const TRIM: f64 = 0.999;

/// Pieces of free floor smaller than this are left over, square metres.
const CRUMB_M2: f64 = 1e-3;

/// Steps in an edge below this are play between strips, metres.
const STEP_M: f64 = 2e-3;

/// Depth that is kept free of other leaders before tubes that start in a doorway, metres.
const CLEARED_M: f64 = 0.025;

/// How far back to the wall leaders slant, over how far they come back.
const SLANT: f64 = 2.0;

/// Leaders for a whole net; `radii_m` are those of the tubes' bends, by zone.
pub(super) fn peeled(
    net: &Net,
    order: &Order,
    walls: &Walls,
    radii_m: &[f64],
    gauge: Gauge,
) -> Result<Peeled, Blocked> {
    let zones = net.zones.len();
    let mut work = Work {
        net,
        order,
        walls,
        radii_m,
        gauge,
        doorways: Vec::new(),
        peeled: Peeled {
            leaders: vec![Vec::new(); zones],
            passing: vec![Vec::new(); zones],
            beyond_m: 0.0,
        },
    };
    let counts = work.counts(&net.entry, &order.loops);
    work.peeled.beyond_m = beyond_ports_m(&net.entry, order.loops.len(), gauge.half_m);
    work.doorways = work.doorways()?;
    let places = if work.doorways.is_empty() {
        work.ports(&counts).map(|slots| order.loops.iter().copied().zip(slots).collect())
    } else {
        work.ports_beside_doorways(&counts)
    };
    let places: Vec<(usize, Point)> = places.ok_or_else(|| Blocked::Opening {
        door: None,
        loops: order.loops.len(),
        width_m: width_m(&net.entry),
    })?;
    for (number, at) in places {
        work.peeled.leaders[number].push(at);
    }
    work.enter(&net.entry, &order.loops)?;
    Ok(work.peeled)
}

/// Free floor of every room where leaders may lie, by room.
pub(super) type Walls = [Vec<Region>];

/// Whole width of an opening.
fn width_m(entry: &Entry) -> f64 {
    entry.parts.iter().map(|(_, [a, b])| a.distance(*b)).sum()
}

/// How far leaders at their full distance stick out at either end of the ports.
fn beyond_ports_m(entry: &Entry, loops: usize, half: f64) -> f64 {
    let abreast = half * (2 * loops.max(1) - 1) as f64;
    ((abreast - width_m(entry)) / 2.0).max(0.0)
}

/// Places of leaders in an opening, counter-clockwise-most first.
///
/// Leaders of one part stand side by side within it, all together as near the middle as the
/// parts allow. `beyond_m` may stick out at the ends of the whole opening.
fn slots(entry: &Entry, counts: &[usize], half: f64, beyond_m: f64) -> Option<Vec<Point>> {
    let (first, last) = (entry.parts.first()?.1, entry.parts.last()?.1);
    let origin = first[1];
    let along = (last[0] - origin).unit();
    let width = origin.distance(last[0]);
    let all: usize = counts.iter().sum();
    let mut blocks: Vec<Block> = Vec::with_capacity(counts.len());
    let mut at = (width - 2.0 * half * all as f64) / 2.0;
    for (number, ((_, part), count)) in entry.parts.iter().zip(counts).enumerate() {
        let length = 2.0 * half * *count as f64;
        let is_last = number + 1 == entry.parts.len();
        let low = (part[1] - origin).dot(along) - if number == 0 { beyond_m } else { 0.0 };
        let high = (part[0] - origin).dot(along) + if is_last { beyond_m } else { 0.0 };
        if *count == 0 {
            continue;
        }
        let free_from = blocks.last().map_or(f64::NEG_INFINITY, |b| b.start + b.length);
        let low = low.max(free_from);
        if low + length > high + 1e-6 {
            return None;
        }
        let start = at.clamp(low, (high - length).max(low));
        at = start + length;
        blocks.push(Block { start, length, count: *count, low, high });
    }
    // Blocks that a cut has pushed on draw those before them along.
    for i in (1..blocks.len()).rev() {
        let next = blocks[i].start;
        let block = &mut blocks[i - 1];
        block.start =
            (next - block.length).clamp(block.low, (block.high - block.length).max(block.low));
    }
    let places = blocks.iter().flat_map(|block| {
        let place = |i: usize| origin + along * (block.start + half * (2 * i + 1) as f64);
        (0..block.count).map(place)
    });
    Some(places.collect())
}

/// Leaders side by side in one part of an opening, by their distance from its first end.
struct Block {
    start: f64,
    length: f64,
    count: usize,
    low: f64,
    high: f64,
}

/// Place of a loop at the manifold, counted from its ends.
enum FromEnd {
    First(usize),
    Middle,
    Last(usize),
}

fn order_from_ends(number: usize, first: usize, last: usize, all: usize) -> FromEnd {
    if number < first {
        FromEnd::First(number)
    } else if number + last >= all {
        FromEnd::Last(all - 1 - number)
    } else {
        FromEnd::Middle
    }
}

struct Work<'a> {
    net: &'a Net,
    order: &'a Order,
    walls: &'a Walls,
    radii_m: &'a [f64],
    gauge: Gauge,
    /// Doors in the stretch of the ports themselves.
    doorways: Vec<Doorway>,
    peeled: Peeled,
}

impl Work<'_> {
    /// Places of the loops at the manifold: those that leave either way stand at its ends.
    fn ports(&self, counts: &[usize]) -> Option<Vec<Point>> {
        let half = self.gauge.half_m;
        let beyond = self.peeled.beyond_m;
        let all: usize = counts.iter().sum();
        if ports_needed_m(all, half) > width_m(&self.net.entry) + 1e-6 {
            return None;
        }
        let mut places = slots(&self.net.entry, counts, half, half + beyond)?;
        let [(zone, [p, q])] = self.net.entry.parts.as_slice() else { return Some(places) };
        let along = (*p - *q).unit();
        let (q, p) = (*q - along * beyond, *p + along * beyond);
        let count = |ahead: bool| -> usize {
            let side = self.order.openings[*zone].iter().filter(|o| o.ahead == ahead);
            side.map(|o| o.loops.len()).sum()
        };
        let (first, last) = (count(true), count(false));
        let width = p.distance(q);
        let end = (half / 2.0).min((width - 2.0 * half * (counts[0] as f64 - 1.0)) / 2.0);
        for (i, place) in places.iter_mut().enumerate() {
            let number = order_from_ends(i, first, last, counts[0]);
            *place = match number {
                FromEnd::First(k) => q + along * (end + half * (2 * k) as f64),
                FromEnd::Last(k) => p - along * (end + half * (2 * k) as f64),
                FromEnd::Middle => {
                    let low = end + half * (2 * first) as f64;
                    let high = width - end - half * (2 * last) as f64;
                    q + along * ((low + high) / 2.0)
                }
            };
        }
        Some(places)
    }

    /// Doors in the stretch of the ports, with the loops that leave there at once.
    fn doorways(&self) -> Result<Vec<Doorway>, Blocked> {
        let mut found = Vec::new();
        for (zone, _) in &self.net.entry.parts {
            for opening in self.order.openings[*zone].iter().filter(|o| !o.loops.is_empty()) {
                let portal = &self.net.zones[*zone].portals[opening.portal];
                if portal.door.is_none() {
                    continue;
                }
                let mut doorway = Doorway {
                    zone: *zone,
                    portal: opening.portal,
                    loops: opening.loops.clone(),
                    places: vec![portal.ends[0].lerp(portal.ends[1], 0.5)],
                };
                if doorway.is_in(&self.net.entry) {
                    doorway.places = self.targets(*zone, portal, opening)?;
                    found.extend(doorway.is_in(&self.net.entry).then_some(doorway));
                }
            }
        }
        Ok(found)
    }

    fn is_doorway(&self, zone: usize, opening: &Opening) -> bool {
        self.doorways.iter().any(|d| d.zone == zone && d.portal == opening.portal)
    }

    /// Places of the loops at the manifold where doors open between them.
    fn ports_beside_doorways(&self, counts: &[usize]) -> Option<Vec<(usize, Point)>> {
        let half = self.gauge.half_m;
        if ports_needed_m(counts.iter().sum(), half) > width_m(&self.net.entry) + 1e-6 {
            return None;
        }
        let leaves = |number: &usize| self.doorways.iter().any(|d| d.loops.contains(number));
        let mut rest = self.order.loops.as_slice();
        let mut inward = Vec::new();
        for ((zone, _), count) in self.net.entry.parts.iter().zip(counts) {
            let (here, beyond) = rest.split_at_checked(*count)?;
            rest = beyond;
            let turning = |ahead: bool| -> usize {
                let openings = self.order.openings[*zone].iter().filter(|o| o.ahead == ahead);
                openings.filter(|o| !self.is_doorway(*zone, o)).map(|o| o.loops.len()).sum()
            };
            inward.push(Inward {
                loops: here.iter().copied().filter(|l| !leaves(l)).collect(),
                ahead: turning(true),
                behind: turning(false),
            });
        }
        doorway::around(&self.net.entry, &inward, &self.doorways, half, self.peeled.beyond_m)
    }

    /// How many of the loops go to each part of an opening.
    fn counts(&self, entry: &Entry, loops: &[usize]) -> Vec<usize> {
        let mut counts: Vec<usize> =
            entry.parts.iter().map(|(zone, _)| self.order.loops_from(self.net, *zone)).collect();
        // A lone part takes what comes, whatever its zone says.
        if let [only] = counts.as_mut_slice() {
            *only = loops.len();
        }
        counts
    }

    /// Lays leaders on from an entry where each of them now stands.
    fn enter(&mut self, entry: &Entry, loops: &[usize]) -> Result<(), Blocked> {
        let counts = self.counts(entry, loops);
        let mut rest = loops;
        for ((zone, _), count) in entry.parts.iter().zip(counts) {
            let (here, beyond) = rest.split_at(count.min(rest.len()));
            self.cross(*zone, here)?;
            rest = beyond;
        }
        Ok(())
    }

    /// Lays the leaders that pass a zone, then those behind it.
    fn cross(&mut self, zone: usize, loops: &[usize]) -> Result<(), Blocked> {
        let here = &self.net.zones[zone];
        let openings = &self.order.openings[zone];
        if openings.iter().all(|o| o.loops.is_empty()) {
            return Ok(());
        }
        self.peeled.passing[zone].extend(loops.iter().filter(|l| **l != zone));
        let room = self.walls.get(here.room).map(Vec::as_slice).unwrap_or_default();
        let mut free = clip::intersection(std::slice::from_ref(&here.floor), room);
        let (doorways, passed): (Vec<&Opening>, Vec<&Opening>) =
            openings.iter().partition(|o| self.is_doorway(zone, o));
        for opening in doorways {
            self.leave_at_once(zone, opening, &mut free)?;
        }
        let ahead: Vec<&Opening> = passed.iter().copied().filter(|o| o.ahead).collect();
        let behind: Vec<&Opening> = passed.iter().rev().copied().filter(|o| !o.ahead).collect();
        let mut taken = Vec::new();
        for group in [ahead, behind] {
            for (rank, opening) in group.iter().enumerate() {
                let next = group.get(rank + 1).map(|o| &here.portals[o.portal]);
                self.pass(zone, opening, next, &mut free, &mut taken)?;
            }
        }
        for opening in openings {
            self.enter(&here.portals[opening.portal].behind, &opening.loops)?;
        }
        Ok(())
    }

    /// Sends the loops of a doorway straight through it, and takes its place off the free floor.
    fn leave_at_once(
        &mut self,
        zone: usize,
        opening: &Opening,
        free: &mut Vec<Region>,
    ) -> Result<(), Blocked> {
        let portal = &self.net.zones[zone].portals[opening.portal];
        for number in &opening.loops {
            let Some(at) = self.peeled.leaders[*number].last().copied() else { continue };
            let spot = vec![at + portal.through * CLEARED_M, at - portal.through * CLEARED_M];
            let spot = clip::thick(&[spot], self.gauge.half_m * TRIM, Cap::Flat);
            *free = clip::difference(free, &spot);
        }
        free.retain(|piece| piece.area_m2() > CRUMB_M2);
        self.go_through(zone, portal, opening)
    }

    /// Lays the leaders through one opening and takes their strips off the free floor.
    fn pass(
        &mut self,
        zone: usize,
        opening: &Opening,
        next: Option<&Portal>,
        free: &mut Vec<Region>,
        taken: &mut Vec<Region>,
    ) -> Result<(), Blocked> {
        let portal = &self.net.zones[zone].portals[opening.portal];
        let targets = self.targets(zone, portal, opening)?;
        let mut lay: Vec<(usize, Point)> = opening.loops.iter().copied().zip(targets).collect();
        if !opening.ahead {
            lay.reverse();
        }
        let mut last = Vec::new();
        for (number, target) in &lay {
            let from = *self.peeled.leaders[*number]
                .last()
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            let radius_m = self.radii_m.get(*number).copied().unwrap_or(0.0);
            let radius_m = radius_m + self.gauge.half_m / 2.0;
            let way = way(free, from, *target, self.gauge, radius_m, opening.ahead)
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            let strip =
                clip::thick(std::slice::from_ref(&way), self.gauge.half_m * TRIM, Cap::Flat);
            // On its last steps to an opening a way could run into others that stand closer.
            if overlap_m2(&strip, taken) > OVERLAP * (2.0 * self.gauge.half_m).powi(2) {
                return Err(Blocked::Narrow { room: self.net.zones[zone].room });
            }
            taken.extend_from_slice(&strip);
            *free = clip::difference(free, &strip);
            free.retain(|piece| piece.area_m2() > CRUMB_M2);
            let leader = &mut self.peeled.leaders[*number];
            way.iter().for_each(|p| chain::push_new(leader, *p));
            last = way;
        }
        if let Some(next) = next.filter(|_| portal.door.is_some()) {
            let slant = slant(&last, lay.len() as f64 * 2.0 * self.gauge.half_m, self.gauge, next);
            if let Some(slant) = slant {
                *free = smoothed(clip::difference(free, &[slant]));
            }
        }
        self.go_through(zone, portal, opening)
    }

    /// Places of leaders in an opening, in the zone that they leave.
    fn targets(
        &self,
        zone: usize,
        portal: &Portal,
        opening: &Opening,
    ) -> Result<Vec<Point>, Blocked> {
        let half = self.gauge.half_m;
        let count = opening.loops.len();
        let [a, b] = portal.ends;
        let along = (b - a).unit();
        let width = a.distance(b);
        let blocked = Blocked::Opening { door: portal.door, loops: count, width_m: width };
        if portal.door.is_none() {
            let place = |i: usize| {
                let from_end = self.gauge.inset_m + half * (2 * i + 1) as f64;
                if opening.ahead { a + along * from_end } else { b - along * from_end }
            };
            let fits = self.gauge.inset_m + 2.0 * half * count as f64 <= width + 1e-6;
            let places: Vec<Point> = if opening.ahead {
                (0..count).map(place).collect()
            } else {
                (0..count).rev().map(place).collect()
            };
            return if fits { Ok(places) } else { Err(blocked) };
        }
        // Set out in the room behind, whose cuts may want leaders on this or that side.
        let counts = self.counts(&portal.behind, &opening.loops);
        let places = slots(&portal.behind, &counts, half, 0.0).ok_or(blocked)?;
        let floor = &self.net.zones[zone].floor;
        places.into_iter().map(|p| ring::hit(floor, p, -portal.through).ok_or(blocked)).collect()
    }

    /// Carries the leaders through the wall, or over the cut.
    fn go_through(
        &mut self,
        zone: usize,
        portal: &Portal,
        opening: &Opening,
    ) -> Result<(), Blocked> {
        for number in &opening.loops {
            let here = *self.peeled.leaders[*number]
                .last()
                .ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            if portal.door.is_none() {
                continue;
            }
            let step_back = here - portal.through * 1e-3;
            let beyond = portal.behind.parts.iter().find_map(|(behind, _)| {
                let floor = &self.net.zones[*behind].floor;
                let face = ring::hit(floor, step_back, portal.through)?;
                Ring::of(floor).distance_m(face).le(&1e-3).then_some(face)
            });
            let beyond = beyond.ok_or(Blocked::Narrow { room: self.net.zones[zone].room })?;
            chain::push_new(&mut self.peeled.leaders[*number], beyond);
        }
        Ok(())
    }
}

/// Overlap of strips up to which none of them crosses another, over the square of their width.
///
/// Slanting first steps from close ports overlap by some 0.15; two that cross, by 1 or more.
const OVERLAP: f64 = 0.3;

/// How much of a strip lies on others.
fn overlap_m2(strip: &[Region], taken: &[Region]) -> f64 {
    let near = |other: &&Region| {
        let (low, high) = other.bounds();
        strip.iter().any(|piece| {
            let (from, to) = piece.bounds();
            from.x < high.x && low.x < to.x && from.y < high.y && low.y < to.y
        })
    };
    let on = |other: &Region| clip::intersection(strip, std::slice::from_ref(other));
    taken.iter().filter(near).flat_map(on).map(|piece| piece.area_m2()).sum()
}

/// The way along the edge of the free floor from one place of it to another.
///
/// It keeps out of corners where its tube could not turn round, unless it has to pass there.
fn way(
    free: &[Region],
    from: Point,
    to: Point,
    gauge: Gauge,
    radius_m: f64,
    ahead: bool,
) -> Option<Vec<Point>> {
    let half = gauge.half_m;
    let slack = gauge.inset_m + 0.02;
    let along = |floors: &[Region]| {
        let away = |ring: &Ring| (ring.distance_m(from) - half).max(ring.distance_m(to) - half);
        let ring = floors.iter().map(Ring::of).min_by(|a, b| away(a).total_cmp(&away(b)))?;
        let is_near =
            ring.distance_m(from) < 1.5 * half + slack && ring.distance_m(to) < 1.6 * half + slack;
        is_near.then_some(ring)
    };
    let floors = clip::erode(free, half * TRIM);
    let ring = along(&clip::opening(&floors, radius_m)).or_else(|| along(&floors))?;
    let (a, b) = (ring.position_m(from), ring.position_m(to));
    let gone = if ahead { ring.ahead_m(a, b) } else { ring.ahead_m(b, a) };
    let mut points = vec![from];
    // A place just behind is reached at once, not the long way round.
    if gone < ring.length_m - 2.0 * half {
        let mut stretch = if ahead { ring.stretch(a, b) } else { ring.stretch(b, a) };
        if !ahead {
            stretch.reverse();
        }
        stretch.into_iter().for_each(|p| chain::push_new(&mut points, p));
    } else {
        chain::push_new(&mut points, ring.point_at(a));
    }
    chain::push_new(&mut points, to);
    Some(loosened(chain::thinned(&points, 1e-3), radius_m, ahead))
}

/// A way whose corners are taken together where tube could not follow each.
///
/// Towards the free floor the lesser of two close corners of one bend is cut off; round the
/// edge of what is taken they become the one where their outer edges meet, if that is no sharp
/// spike. A short step aside before a corner is left out, away from the edge.
fn loosened(mut way: Vec<Point>, radius_m: f64, ahead: bool) -> Vec<Point> {
    let mut i = 1;
    while i + 2 < way.len() {
        let turns = curve::turns(&way);
        let [one, other] = [turns[i], turns[i + 1]];
        let needed = radius_m * ((one.abs() / 2.0).tan() + (other.abs() / 2.0).tan());
        if way[i].distance(way[i + 1]) >= needed {
            i += 1;
            continue;
        }
        let to_free = |turn: f64| (turn > 0.0) == ahead;
        let corner = meeting(way[i - 1], way[i], way[i + 1], way[i + 2]);
        let (corner, is_sound) = match (to_free(one), to_free(other)) {
            (true, true) => (Some(if one.abs() < other.abs() { way[i + 1] } else { way[i] }), true),
            (false, false) => (corner, (one + other).abs() < SHARPEST_RAD),
            (true, false) => (corner, is_on(corner, way[i - 1], way[i])),
            (false, true) => (corner, is_on(corner, way[i + 1], way[i + 2])),
        };
        match corner.filter(|_| is_sound) {
            Some(corner) => {
                way[i] = corner;
                way.remove(i + 1);
                i = i.saturating_sub(1).max(1);
            }
            None => i += 1,
        }
    }
    way
}

/// Whether a place on the line through `a` and `b` lies between them.
fn is_on(place: Option<Point>, a: Point, b: Point) -> bool {
    place.is_some_and(|p| (p - a).dot(b - a) > 0.0 && (p - b).dot(a - b) > 0.0)
}

/// Two corners that together turn more are not made one, radians.
const SHARPEST_RAD: f64 = 2.0;

/// Where the edge from `a` to `b` run on meets that from `d` to `c` run back.
fn meeting(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (along, back) = ((b - a).unit(), (c - d).unit());
    let sine = along.cross(back);
    (sine.abs() > 0.1).then(|| b + along * ((c - b).cross(back) / sine))
}

/// Pieces of floor without the steps that play between strips leaves.
fn smoothed(pieces: Vec<Region>) -> Vec<Region> {
    let smooth = |ring: &[Point]| chain::thinned_ring(ring, STEP_M);
    pieces
        .into_iter()
        .map(|p| Region::trusted(smooth(p.outer()), p.holes().iter().map(|h| smooth(h)).collect()))
        .collect()
}

/// The wedge behind served leaders along which the next ones come back to the wall.
fn slant(way: &[Point], depth_m: f64, gauge: Gauge, next: &Portal) -> Option<Region> {
    let [.., before, corner, foot] = way else { return None };
    let along = (*corner - *before).unit();
    let inward = (*corner - *foot).unit();
    if along.dot(inward).abs() > 0.3 {
        return None;
    }
    let middle = next.ends[0].lerp(next.ends[1], 0.5);
    let to_next = (next.ends[0] - *foot).dot(along).min((next.ends[1] - *foot).dot(along));
    // Only a next opening in the same wall limits the slant.
    let same_wall = (middle - *foot).dot(inward).abs() < 0.3 && to_next > 0.0;
    let mut length = SLANT * depth_m;
    if same_wall {
        length = length.min(to_next - gauge.half_m);
    }
    if length < depth_m {
        return None;
    }
    let start = *foot + along * (gauge.half_m * TRIM);
    let below = -inward * (gauge.inset_m + 0.05);
    let ring = vec![
        start + below - along * 1e-4,
        start + along * length + below,
        start + along * length + inward * gauge.inset_m,
        start + inward * (gauge.inset_m + depth_m) - along * 1e-4,
    ];
    Region::simple(ring).ok()
}
