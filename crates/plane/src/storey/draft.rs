//! A storey as far as topology, leaders and areas go: everything but the loops themselves.

use super::curve;
use super::drawn;
use super::free::Free;
use super::hug::Gauge;
use super::leaders;
use super::net::{self, Entry, Net, Portal, Zone};
use super::order::Order;
use super::peel::{self, Blocked};
use super::plan::Plan;
use super::ports;
use super::ring::Ring;
use super::sequence;
use super::shares::{self, Cut};
use super::ways::Way;
use crate::clip;
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;

/// How one room is to be shared.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sharing {
    pub(super) cut: Cut,
    /// Sizes of the shares; none for a room without a loop.
    pub(super) weights: Vec<f64>,
    /// How many openings of its first zone are reached counter-clockwise, if held.
    pub(super) turn: Option<usize>,
    /// Whether all leaders come in by the share with the widest part of the entry.
    pub(super) one_entry: bool,
}

/// What the loops of one manifold are laid from.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    /// The plan; doors that several manifolds share are narrowed to the part of this one.
    pub(super) plan: Plan,
    pub(super) manifold: usize,
    /// Free floors of rooms that its leaders come to, by room; of shared rooms its share.
    pub(super) free: Vec<Option<Free>>,
    /// Ways to them, by room.
    pub(super) ways: Vec<Option<Way>>,
    /// Whether a room has loops of its own on this manifold, by room.
    pub(super) own: Vec<bool>,
    /// Ways of cutting its floor that are passed over, by room; none where nothing is said.
    pub(super) passed_over: Vec<usize>,
    /// Whether its field keeps off its own leader by a bend, by room; nowhere if empty.
    pub(super) off_leader: Vec<bool>,
}

/// The loops of one manifold before their own floors are filled.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub(super) net: Net,
    pub(super) order: Order,
    pub(super) gauge: Gauge,
    /// Where leaders pass the face of the wall behind the manifold and which way, by zone.
    pub(super) faces: Vec<Option<[Point; 2]>>,
    /// Centrelines of leaders from a little behind that face on, by zone.
    pub(super) leaders: Vec<Path>,
    /// What is left for each zone's own loop, by zone.
    pub(super) floors: Vec<Option<Region>>,
    /// Floor of each zone that neither leaders nor its own loop can reach.
    pub(super) bare: Vec<Vec<Region>>,
}

/// Why there is no draft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Fault {
    /// Leaders are blocked.
    Blocked(Blocked),
    /// A room's shares do not hang together or cannot be reached.
    Shares { room: usize },
    /// A door does not lie at the rooms it names.
    Door { door: usize },
    /// More loops than the manifold takes.
    TooMany { loops: usize },
    /// Loops cannot stand in the order that is held.
    Order,
}

impl Draft {
    /// Whether leaders of other loops pass a zone.
    pub(super) fn is_passed(&self, zone: usize) -> bool {
        self.order.openings[zone].iter().any(|opening| !opening.loops.is_empty())
    }

    /// Share of the floor that no tube reaches.
    pub(super) fn bare_share(&self) -> f64 {
        let bare_m2: f64 = self.bare.iter().flatten().map(Region::area_m2).sum();
        bare_m2 / self.floor_m2().max(1e-9)
    }

    /// Floor of all zones, square metres.
    pub(super) fn floor_m2(&self) -> f64 {
        self.net.zones.iter().map(|zone| zone.floor.area_m2()).sum()
    }
}

impl Ground {
    /// Ends of a manifold's stretch on the free floor, counter-clockwise, and the way in.
    pub(super) fn manifold_entry(&self) -> Option<([Point; 2], Point)> {
        let given = self.plan.manifolds.get(self.manifold)?;
        let floor = &self.free.get(given.room)?.as_ref()?.floor;
        let wall = &self.plan.rooms.get(given.room)?.floor;
        let ports = Ring::of(wall).in_order(given.ports);
        let inward = (ports[1] - ports[0]).unit().left();
        // From a little outside, in case the ports stand in the wall or on its face.
        let onto = |p: Point| super::ring::hit(floor, p - inward * 0.2, inward);
        Some(([onto(ports[0])?, onto(ports[1])?], inward))
    }

    /// Ends of a door on the free floor of one of its rooms, and the direction out through it.
    pub(super) fn door_ends(&self, door: usize, room: usize) -> Option<([Point; 2], Point)> {
        let given = self.plan.doors.get(door)?;
        let other = if given.rooms[0] == room { given.rooms[1] } else { given.rooms[0] };
        let here = &self.free.get(room)?.as_ref()?.floor;
        let there = &self.free.get(other)?.as_ref()?.floor;
        let foot = |floor: &Region| Ring::of(floor).point_at(Ring::of(floor).position_m(given.at));
        let (from, to) = (foot(here), foot(there));
        let outward = square_to_wall(here, from, (to - from).unit());
        Some((net::door_ends(here, given.at, given.width_m, outward)?, outward))
    }

    /// Ends of the doors through which leaders go on from a room.
    pub(super) fn onward(&self, room: usize) -> Vec<[Point; 2]> {
        let before = self.ways.iter().flatten().filter_map(|w| w.before);
        before
            .filter(|(before, _)| *before == room)
            .filter_map(|(_, door)| Some(self.door_ends(door, room)?.0))
            .collect()
    }

    /// The zones of everything that hangs on a manifold.
    pub(super) fn net(&self, sharings: &[Sharing]) -> Result<Net, Fault> {
        let root = self.plan.manifolds[self.manifold].room;
        let (ends, _) = self.manifold_entry().ok_or(Fault::Shares { room: root })?;
        let mut zones = Vec::new();
        let entry = self.add_room(root, ends, sharings, &mut zones)?;
        Ok(Net { zones, entry })
    }

    /// Adds a room's zones and all behind it.
    fn add_room(
        &self,
        room: usize,
        ends: [Point; 2],
        sharings: &[Sharing],
        zones: &mut Vec<Zone>,
    ) -> Result<Entry, Fault> {
        let fault = Fault::Shares { room };
        let floor = &self.free[room].as_ref().ok_or(fault)?.floor;
        let sharing = &sharings[room];
        let own = !sharing.weights.is_empty();
        let is_root = self.ways[room].is_some_and(|way| way.before.is_none());
        let annexes = self.annexes(room).iter().map(|annex| annex.ends);
        let doors: Vec<_> = self.onward(room).into_iter().chain(annexes).collect();
        let openings = shares::kept_off(ends, &doors, is_root);
        let shares = if own {
            self.free[room].as_ref().and_then(|free| free.shares(sharing, &openings))
        } else {
            Some(vec![floor.clone()])
        };
        let shares = shares.ok_or(fault)?;
        let first = zones.len();
        let mut entry = Entry::into(&shares, first, ends);
        entry.wish = self.plan.held.entry_of(room).and_then(|held| held.at);
        if sharing.one_entry {
            entry = entry.widest();
        }
        zones.extend(net::joined_shares(&shares, first, room, own, &entry).ok_or(fault)?);
        if own {
            let apart = self.free[room].iter().flat_map(|free| &free.apart);
            for (zone, (number, _)) in zones[first..].iter_mut().zip(apart) {
                zone.number = Some(*number);
            }
            self.annexed(room, &mut zones[first..]);
        }
        for (beyond, way) in self.ways.iter().enumerate() {
            let Some((before, door)) = way.and_then(|w| w.before) else { continue };
            if before != room || self.free[beyond].is_none() {
                continue;
            }
            let fault = Fault::Door { door };
            let (_, outward) = self.door_ends(door, room).ok_or(fault)?;
            let given = &self.plan.doors[door];
            let floor_beyond = &self.free[beyond].as_ref().ok_or(fault)?.floor;
            let ends_beyond =
                net::door_ends(floor_beyond, given.at, given.width_m, -outward).ok_or(fault)?;
            let zone = (first..first + shares.len())
                .min_by(|a, b| {
                    let away = |z: &usize| zones[*z].floor.boundary_distance_m(given.at);
                    away(a).total_cmp(&away(b))
                })
                .ok_or(fault)?;
            let ends = net::door_ends(&zones[zone].floor, given.at, given.width_m, outward);
            let ends = ends.ok_or(Fault::Shares { room })?;
            let behind = self.add_room(beyond, ends_beyond, sharings, zones)?;
            let portal = Portal { ends, door: Some(door), through: outward, behind };
            zones[zone].portals.push(portal);
        }
        Ok(entry)
    }

    /// Leaders and own floors for given shares, at one gauge.
    pub(super) fn draft(
        &self,
        net: &Net,
        sharings: &[Sharing],
        gauge: Gauge,
    ) -> Result<Draft, Fault> {
        let turns = self.turns(net, sharings)?;
        let order = Order::of(net, &turns);
        let names = sequence::named(net, &order, &self.plan.held);
        let drawn = self.drawn(&order.loops, &names, net.zones.len());
        let walls: Vec<Vec<Region>> = self
            .free
            .iter()
            .map(|free| free.iter().flat_map(|f| f.floor.offset_inward(gauge.inset_m)).collect())
            .collect();
        let radius = |zone: &Zone| self.plan.rooms[zone.room].tube.bend_radius_m;
        let radii: Vec<f64> = net.zones.iter().map(radius).collect();
        let drawn_by_zone = drawn.clone();
        let peeled = peel::peeled(net, &order, &walls, &radii, gauge, drawn_by_zone)
            .map_err(Fault::Blocked)?;
        let mut corners = peeled.leaders;
        self.start_at_wall(peeled.beyond_m, gauge.half_m, &mut corners);
        ports::straight_starts(&mut corners);
        for zone in (0..net.zones.len()).filter(|zone| drawn[*zone].is_empty()) {
            self.lead_into_the_open(
                &net.zones[zone],
                &peeled.passing[zone],
                zone,
                gauge,
                &mut corners,
            );
        }
        let inward = self.manifold_entry().map_or(Point::default(), |entry| entry.1);
        let depths: Vec<f64> = radii.iter().map(|r| 2.0 * r + ports::BEHIND_M).collect();
        let faces = ports::begun_behind(&mut corners, inward, &depths);
        let leaders = leaders::bent(&corners, gauge.half_m, &radii);
        let begun = |(path, face): (Path, &Option<[Point; 2]>)| match face {
            Some([at, into]) => curve::begun(path, *at - *into * ports::BEHIND_M, *into),
            None => path,
        };
        let leaders: Vec<Path> = leaders.into_iter().zip(&faces).map(begun).collect();
        let strips: Vec<Vec<Region>> =
            leaders.iter().map(|l| leaders::strip(l, gauge.half_m * 0.999)).collect();
        let (floors, bare) = (0..net.zones.len())
            .map(|zone| {
                let floor = &net.zones[zone].floor;
                let is_across = |other: &usize| {
                    !drawn[*other].is_empty()
                        && *other != zone
                        && !peeled.passing[zone].contains(other)
                        && drawn::lies_on(&leaders[*other], gauge.half_m, floor)
                };
                let across: Vec<usize> = (0..net.zones.len()).filter(is_across).collect();
                let passing = peeled.passing[zone].iter().chain(&across);
                let mut taken: Vec<Region> = passing.flat_map(|l| strips[*l].clone()).collect();
                taken.extend(match self.keeps_off_leader(&net.zones[zone], gauge) {
                    Some(half_m) => leaders::strip(&leaders[zone], half_m),
                    None => strips[zone].clone(),
                });
                own_floor(&net.zones[zone], &taken, leaders[zone].end(), &self.plan)
            })
            .unzip();
        Ok(Draft { net: net.clone(), order, gauge, faces, leaders, floors, bare })
    }

    /// How far a zone's field keeps off the middle of its own leader, if farther than others.
    ///
    /// A strand that turns back beside its leader lies two radii from it.
    fn keeps_off_leader(&self, zone: &Zone, gauge: Gauge) -> Option<f64> {
        let room = &self.plan.rooms[zone.room];
        let half_m = gauge.half_m / 2.0 + 2.0 * room.tube.bend_radius_m - room.spacing_m / 2.0;
        let is_asked = self.off_leader.get(zone.room) == Some(&true);
        (is_asked && half_m > gauge.half_m).then_some(half_m)
    }

    /// Leads a loop straight on from its port where others on both sides leave it no room.
    fn lead_into_the_open(
        &self,
        zone: &Zone,
        passing: &[usize],
        number: usize,
        gauge: Gauge,
        corners: &mut [Vec<Point>],
    ) {
        let [.., before, port] = corners[number].as_slice() else { return };
        let (port, inward) = (*port, (*port - *before).unit());
        let half = 0.5 * self.plan.rooms[zone.room].spacing_m + gauge.half_m;
        let others: Vec<&[Point]> = passing.iter().map(|l| corners[*l].as_slice()).collect();
        // Room on both sides of the way ahead, or at least on one.
        let is_open = |depth: f64, aside: f64| {
            let from = port + inward * depth + inward.left() * aside;
            let ahead = [from, from + inward * (2.0 * half)];
            others.iter().all(|o| crate::chain::gap(&ahead, o) > half)
                && (aside == 0.0 || zone.floor.encloses(from))
        };
        let depths = || (0..=LONGEST_NECK_STEPS).map(|k| f64::from(k) * NECK_STEP_M);
        let on_one_side = |depth: &f64| [half, -half].iter().any(|a| is_open(*depth, *a));
        let depth = depths().find(|d| is_open(*d, 0.0)).or_else(|| depths().find(on_one_side));
        let Some(depth) = depth else { return };
        let on = port + inward * depth;
        let is_inside = zone.floor.encloses(on) && zone.floor.boundary_distance_m(on) > half;
        if depth > 0.0 && is_inside {
            let leader = &mut corners[number];
            leader.pop();
            leader.push(on);
        }
    }
}

/// Corners of a floor that are off its other edges by less are left out, metres.
const COARSE_M: f64 = 4e-3;

/// Steps in which a loop is led out from between others, metres.
const NECK_STEP_M: f64 = 0.025;

/// Most such steps.
const LONGEST_NECK_STEPS: u32 = 40;

/// A direction turned square to the wall at a place, if it is nearly so.
fn square_to_wall(floor: &Region, at: Point, direction: Point) -> Point {
    let mut best = (f64::INFINITY, direction);
    for (a, b) in crate::chain::ring_edges(floor.outer()) {
        let away = crate::point::segment_distance(a, b, at);
        if away < best.0 - 1e-6 {
            best = (away, -(b - a).unit().left());
        }
    }
    if best.1.dot(direction) > 0.9 || direction.norm() < 0.5 { best.1 } else { direction }
}

/// What is left of a zone for its own loop, beside all strips that pass, and what else.
fn own_floor(
    zone: &Zone,
    taken: &[Region],
    port: Option<Point>,
    plan: &Plan,
) -> (Option<Region>, Vec<Region>) {
    let room = &plan.rooms[zone.room];
    let rest = clip::difference(std::slice::from_ref(&zone.floor), taken);
    // Slivers beside bends of leaders are no floor for a loop.
    let mut rest = if taken.is_empty() { rest } else { clip::opening(&rest, 0.3 * room.spacing_m) };
    let reached = |piece: &Region| port.is_some_and(|port| piece.boundary_distance_m(port) < 0.02);
    let area = |number: &usize| rest[*number].area_m2();
    let own = (0..rest.len())
        .filter(|number| zone.own && reached(&rest[*number]))
        .max_by(|a, b| area(a).total_cmp(&area(b)));
    let floor = own.map(|number| smoothed(rest.remove(number)));
    (floor, if room.heated { rest } else { Vec::new() })
}

/// A floor without corners that hardly show.
fn smoothed(floor: Region) -> Region {
    if floor.outer().len() < 10 {
        return floor;
    }
    let smooth = |ring: &[Point]| crate::chain::thinned_ring(ring, COARSE_M);
    let holes = floor.holes().iter().map(|h| smooth(h)).collect();
    Region::trusted(smooth(floor.outer()), holes)
}
