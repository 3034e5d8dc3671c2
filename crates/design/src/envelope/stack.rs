//! Which floors stand on which ceilings, and what is left of both.

use super::house::House;
use crate::words::Words;
use job::{Finding, Severity};
use plane::{Point, Region, areas};
use quantity::Quantity;

/// A floor may lie this far below the ceiling it rests on, metres: the tape.
const TAPE_M: f64 = 0.05;
/// A hole must lie in its room's floor by this share of its area; the rest is the tape.
const INSIDE_SHARE: f64 = 0.9;
/// Ceilings under less than this are corners meeting, square metres.
const LEAST_AREA_M2: f64 = 1e-3;
/// Gaps up to this much more than a wall are still a wall's, metres.
const OVER_WALL_M: f64 = 0.01;

/// A floor over a ceiling.
#[derive(Clone, Debug)]
pub(super) struct Over {
    pub(super) upper: usize,
    pub(super) lower: usize,
    /// Where both lie, holes taken out.
    pub(super) common: Vec<Region>,
    /// The hole between the two, square metres.
    pub(super) hole_m2: f64,
}

/// What is level in a room, and what of it no other room covers.
#[derive(Clone, Debug, Default)]
pub(super) struct Bare {
    /// Bare ceiling.
    pub(super) above: Vec<Region>,
    /// Bare floor.
    pub(super) below: Vec<Region>,
    /// Whether no room lies over its ceiling, or under its floor, at all.
    pub(super) free: [bool; 2],
}

/// All floors and ceilings.
pub(super) struct Stack {
    pub(super) overs: Vec<Over>,
    /// By room.
    pub(super) bare: Vec<Bare>,
    /// Holes in each room's floor.
    pub(super) holes: Vec<Vec<Region>>,
    /// By room: numbers of the overs that it lies under.
    under: Vec<Vec<usize>>,
    /// By room: numbers of the overs that it lies on.
    on: Vec<Vec<usize>>,
}

impl Stack {
    pub(super) fn of(house: &House<'_>, findings: &mut Vec<Finding>) -> Stack {
        let holes = holes(house, findings);
        let mut overs = Vec::new();
        for [one, other] in &house.near {
            let upper_first = house.level_m[*one] > house.level_m[*other];
            let (upper, lower) = if upper_first { (*one, *other) } else { (*other, *one) };
            overs.extend(over(house, upper, lower, &holes[upper]));
        }
        let mut under = vec![Vec::new(); house.floors.len()];
        let mut on = vec![Vec::new(); house.floors.len()];
        for (number, over) in overs.iter().enumerate() {
            under[over.lower].push(number);
            on[over.upper].push(number);
        }
        let bare = (0..house.floors.len())
            .map(|room| {
                let Some(floor) = &house.floors[room] else { return Bare::default() };
                let ceiling = level(house, room);
                let above: Vec<usize> = under[room].iter().map(|over| overs[*over].upper).collect();
                let below: Vec<usize> = on[room].iter().map(|over| overs[*over].lower).collect();
                let floor = areas::difference(std::slice::from_ref(floor), &holes[room]);
                Bare {
                    above: uncovered(house, &ceiling, &above, |upper| {
                        house.floors[upper].iter().cloned().collect()
                    }),
                    below: uncovered(house, &floor, &below, |lower| level(house, lower)),
                    free: [above.is_empty(), below.is_empty()],
                }
            })
            .collect();
        let stack = Stack { overs, bare, holes, under, on };
        stack.judge_holes(house, findings);
        stack
    }

    /// Rooms over a room's ceiling.
    pub(super) fn above(&self, lower: usize) -> impl Iterator<Item = &Over> {
        self.under[lower].iter().map(|over| &self.overs[*over])
    }

    /// Rooms under a room's floor.
    pub(super) fn below(&self, upper: usize) -> impl Iterator<Item = &Over> {
        self.on[upper].iter().map(|over| &self.overs[*over])
    }

    /// Level of the floor that stands on a room's ceiling at a place, if one does.
    pub(super) fn floor_over(&self, house: &House<'_>, lower: usize, at: Point) -> Option<f64> {
        let stands =
            |over: &&Over| house.floors[over.upper].as_ref().is_some_and(|f| f.contains(at));
        self.above(lower).find(stands).map(|over| house.level_m[over.upper])
    }

    /// Whether a room lies over or under another one.
    pub(super) fn touches(&self, room: usize) -> bool {
        !self.bare[room].free[0] || !self.bare[room].free[1]
    }

    fn judge_holes(&self, house: &House<'_>, findings: &mut Vec<Finding>) {
        for (number, holes) in self.holes.iter().enumerate() {
            if holes.is_empty() {
                continue;
            }
            let open_m2: f64 = self
                .overs
                .iter()
                .filter(|over| over.upper == number)
                .map(|over| over.hole_m2)
                .sum();
            let room = house.room(number);
            let void = house.job.voids.iter().find(|void| void.room.value == room.key);
            let Some(void) = void else { continue };
            if open_m2 < areas::total_m2(holes) / 2.0 {
                findings.push(
                    Finding::new(
                        Severity::Stop,
                        "void-over-nothing",
                        format!("void.{}", void.key),
                        format!("no room below the floor of {} is under this hole", room.key),
                        "check its outline, and the levels and heights of the storeys",
                    )
                    .at(void.place),
                );
            }
            let through = self.overs.iter().filter(|over| over.upper == number);
            for over in through.filter(|over| over.hole_m2 > LEAST_AREA_M2) {
                let below = house.room(over.lower);
                let same = room.indoor.value == below.indoor.value
                    && room.unheated.value == below.unheated.value;
                if !same {
                    findings.push(
                        Finding::new(
                            Severity::Warn,
                            "void-between-temperatures",
                            format!("void.{}", void.key),
                            format!(
                                "rooms {} and {} are open to each other here, but are not to be \
                                 equally warm",
                                room.key, below.key
                            ),
                            "give both the same `indoor` temperature: air will mix them",
                        )
                        .at(void.place),
                    );
                }
            }
        }
    }
}

/// The level part of a room's ceiling.
fn level(house: &House<'_>, room: usize) -> Vec<Region> {
    let Some(floor) = &house.floors[room] else { return Vec::new() };
    match house.ceilings[room].is_known() {
        true => house.ceilings[room].level_part(floor),
        false => vec![floor.clone()],
    }
}

fn outside_its_room(void: &str, room: &str, outline: &job::Outline) -> Finding {
    Finding::new(
        Severity::Stop,
        "void-outside-room",
        format!("void.{void}"),
        format!("lies outside room {room}, whose floor it should open"),
        "check its `start`, or name the upper room that it lies in",
    )
    .at(outline.place)
}

/// The holes in each room's floor.
fn holes(house: &House<'_>, findings: &mut Vec<Finding>) -> Vec<Vec<Region>> {
    let mut holes = vec![Vec::new(); house.floors.len()];
    for void in &house.job.voids {
        let Some(room) = house.number(&void.room.value) else { continue };
        let (Some(outline), Some(floor)) = (&void.outline, &house.floors[room]) else { continue };
        match Region::simple(outline.corners.clone()) {
            Ok(region) => {
                let inside = floor.intersection(&region);
                if areas::total_m2(&inside) < INSIDE_SHARE * region.area_m2() {
                    findings.push(outside_its_room(&void.key, &void.room.value, outline));
                }
                holes[room] = areas::union(&holes[room], &inside);
            }
            Err(flaw) => {
                findings.push(super::plan::flawed(&format!("void.{}", void.key), outline, &flaw))
            }
        }
    }
    holes
}

/// The upper room's floor over the lower one's ceiling, if it rests on it.
fn over(house: &House<'_>, upper: usize, lower: usize, holes: &[Region]) -> Option<Over> {
    let floor = house.floors[upper].as_ref()?;
    let room = house.room(lower);
    let ceiling_m = match &room.height {
        Some(height) if house.ceilings[lower].is_known() => {
            house.level_m[lower] + height.value.si()
        }
        _ if house.ceilings[lower].is_known() => return None,
        _ => house.levels.ceiling_m(room),
    };
    let gap_m = house.level_m[upper] - ceiling_m;
    if gap_m < -TAPE_M || gap_m > house.levels.thickest_floor_m(room) {
        return None;
    }
    let both = areas::intersection(std::slice::from_ref(floor), &level(house, lower));
    if areas::total_m2(&both) < LEAST_AREA_M2 {
        return None;
    }
    let open = areas::intersection(&both, holes);
    let common = areas::difference(&both, &open);
    Some(Over { upper, lower, common, hole_m2: areas::total_m2(&open) })
}

/// What rooms leave of an area: strips no wider than a wall are the ends of walls.
fn uncovered(
    house: &House<'_>,
    area: &[Region],
    covers: &[usize],
    part: impl Fn(usize) -> Vec<Region>,
) -> Vec<Region> {
    if covers.is_empty() || area.is_empty() {
        return area.to_vec();
    }
    let cover: Vec<Region> = covers.iter().flat_map(|room| part(*room)).collect();
    let left = areas::difference(area, &cover);
    if left.is_empty() {
        return left;
    }
    let width_m = house.thickest_wall_m().max(house.thickest_outside_wall_m()) + OVER_WALL_M;
    areas::without_strips(&left, width_m)
        .into_iter()
        .filter(|piece| piece.area_m2() > LEAST_AREA_M2)
        .collect()
}

/// Tells rooms whose air is claimed twice.
pub(super) fn clashes(house: &House<'_>, stack: &Stack, findings: &mut Vec<Finding>) {
    let words = Words { first: house.job.units.value };
    for [one, other] in &house.near {
        let (Some(first), Some(second)) = (&house.floors[*one], &house.floors[*other]) else {
            continue;
        };
        let ([low, high], same) = match house.level_m[*one] <= house.level_m[*other] {
            true => ([*one, *other], house.same_storey(*one, *other)),
            false => ([*other, *one], house.same_storey(*one, *other)),
        };
        // Most rooms lie under level ceilings below the floors of those above them.
        let under = house.ceilings[low]
            .level_m
            .is_some_and(|height_m| house.level_m[low] + height_m <= house.level_m[high] + TAPE_M);
        if under {
            continue;
        }
        let [first, second] = [first, second].map(std::slice::from_ref);
        let common = areas::intersection(first, second);
        let pieces = areas::difference(&common, &stack.holes[high]);
        let clash = |piece: &&Region| {
            let at = piece.middle();
            house.top_m(low, at) > house.level_m[high] + TAPE_M
                && house.top_m(high, at) > house.level_m[high]
        };
        let area_m2: f64 = pieces.iter().filter(clash).map(Region::area_m2).sum();
        // A square inch or so is the tape, not a mistake.
        if area_m2 <= LEAST_AREA_M2 {
            continue;
        }
        let (room, key) = (house.room(*one), &house.room(*other).key);
        let mut message = format!("overlaps room {key} by {}", words.area(area_m2));
        let mut advice = "check `start` of both rooms and the lengths of their walls";
        if !same {
            let lower = &house.room(low).key;
            message += &format!(": {lower} reaches up through the floor above it");
            advice = "check the levels of the storeys and the heights of both rooms, or state the \
                      hole as a [void.…]";
        }
        let subject = format!("room.{}", room.key);
        let place = room.outline.as_ref().map(|outline| outline.place);
        findings.push(
            Finding::new(Severity::Stop, "rooms-overlap", subject, message, advice)
                .at(place)
                .amount(area_m2),
        );
    }
}
