//! Loops in joist bays as loops of the design, with their holes and plates.

use super::access::Access;
use super::advice::without_access;
use super::bays::{self, Group, Span};
use super::lay::{Laying, circuit_of, connection, limit_words, not_as_held};
use super::plan::StoreyPlan;
use super::under_floor::{HoleVerdict, JoistFloor, JoistHole, Plates, WithoutTube};
use super::{Layout, Leader, LoopRoom, TubeLoop, framing};
use crate::emitters::Floor;
use crate::envelope::Envelope;
use crate::figure::{Figure, Given, How};
use crate::words::Words;
use job::{Decided, Job, TubePattern};
use plane::bays::{Fault, Verdict};
use plane::verify::{covered_fraction, tight_bends};
use plane::{Path, Point, Region, areas};
use quantity::{Length, Quantity};

/// How far the floor of a row reaches beyond its plates, where walls do not end it, metres.
const BEYOND_M: f64 = 0.2;
/// A floor place is near a strand within this share of the distance of strands.
const NEAR: f64 = 0.75;
/// Depths that differ by less are one, metres.
const SAME_DEPTH_M: f64 = 1e-6;

const WHY: &str = "up one side of a joist bay and down the other, the farthest bay first";

/// Lays the floors of a storey whose tube lies between joists.
pub(super) fn lay(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    more: &[usize],
    plan: &StoreyPlan<'_>,
    laying: &mut Laying,
) {
    for number in &plan.rooms {
        let Some(floor) = floors.iter().find(|floor| floor.number == *number) else { continue };
        let room = &job.rooms[*number];
        if !floor.build_up.is_in_bays() {
            continue;
        }
        if plan.accesses.is_empty() {
            laying.findings.extend(without_access(job, room));
        } else if framing::of_room(job, room).is_none() {
            laying.not_drawn.push((room.key.clone(), vec!["framing = the key of [framing.NAME]"]));
        }
    }
    for group in bays::groups(job, envelope, floors, plan) {
        let keep = Keeper { job, envelope, floors, group: &group, more };
        let counts: Vec<usize> = group.floors.iter().map(|index| keep.asked(*index)).collect();
        match bays::lay(job, envelope, floors, &group, &counts) {
            Ok(spans) => keep.keep(&spans, laying),
            Err(missing) => {
                let rooms = group.floors.iter().map(|index| floors[*index].room.clone());
                laying.not_drawn.extend(rooms.map(|room| (room, missing.clone())));
            }
        }
    }
}

/// One laid group on its way into the design.
struct Keeper<'a> {
    job: &'a Job,
    envelope: &'a Envelope,
    floors: &'a [Floor],
    group: &'a Group<'a>,
    more: &'a [usize],
}

impl Keeper<'_> {
    /// Loops that are held or asked for at least.
    fn asked(&self, index: usize) -> usize {
        let held = self.job.rooms[self.floors[index].number].loops.held();
        held.map_or(1 + self.more[index], |held| held.value as usize)
    }

    fn keep(&self, spans: &[Span], laying: &mut Laying) {
        let mut counts = vec![0; self.group.floors.len()];
        let mut served_m2 = vec![0.0; self.group.floors.len()];
        for (number, span) in spans.iter().enumerate() {
            let Ok(layout) = &span.laid else { continue };
            if layout.loops.is_empty() && layout.unreached.is_empty() {
                continue;
            }
            let mut keys = Vec::with_capacity(layout.loops.len());
            for (of_loop, laid) in layout.loops.iter().enumerate() {
                counts[laid.room] += 1;
                let key = format!("{}/{}", self.floor(laid.room).room, counts[laid.room]);
                if let Some(tube) = self.tube_loop(span, of_loop, &key) {
                    served_m2[laid.room] += tube.area.si();
                    laying.loops.push(tube);
                }
                keys.push(key);
            }
            laying.joist_floors.push(self.built(number, span, &keys));
        }
        for (room, index) in self.group.floors.iter().enumerate() {
            let floor = &self.floors[*index];
            let stated = &self.job.rooms[floor.number];
            laying.findings.extend(not_as_held(stated, counts[room]));
            if let Some(first) = laying.loops.iter().find(|own| own.room == floor.room) {
                laying.layouts.push(self.decided(
                    floor,
                    first,
                    counts[room] as u32,
                    self.more[*index],
                ));
                let untubed_m2 = (floor.area.si() - served_m2[room]).max(0.0);
                laying.untubed_m2.push((floor.room.clone(), untubed_m2));
            }
        }
        let telling = super::bays_advice::Telling {
            job: self.job,
            framing: self.group.framing,
            rooms: self
                .group
                .floors
                .iter()
                .map(|index| self.floors[*index].room.as_str())
                .collect(),
            counts: &counts,
            spans,
        };
        laying.findings.extend(telling.findings());
    }

    fn floor(&self, room: usize) -> &Floor {
        &self.floors[self.group.floors[room]]
    }

    fn decided(&self, floor: &Floor, first: &TubeLoop, count: u32, more: usize) -> Layout {
        let room = &self.job.rooms[floor.number];
        let limit = limit_words(self.job, floor);
        let why = match more {
            0 => format!("the fewest with which {limit}"),
            _ => format!("{limit}, and within the head of the pump"),
        };
        let nearest = "one manifold for all bays of these joists: the nearest to their rooms";
        Layout {
            room: room.key.clone(),
            tube: floor.tube.clone(),
            manifold: room.manifold.or_else(|| Decided::chosen(first.manifold.clone(), nearest)),
            count: room.loops.or_else(|| Decided::chosen(count, why)),
            pattern: room.pattern.or_else(|| Decided::chosen(first.pattern, WHY)),
            shares_loop: None,
        }
    }

    fn tube_loop(&self, span: &Span, of_loop: usize, key: &str) -> Option<TubeLoop> {
        let layout = span.laid.as_ref().ok()?;
        let laid = layout.loops.get(of_loop)?;
        let floor = self.floor(laid.room);
        let access: &Access<'_> = self.group.access;
        let tube = &floor.build_up.tube;
        let how = || How::Catalogue(format!("{}: {}", tube.name, tube.source));
        let bore = Figure::<Length>::new("mean inside diameter", tube.inside.si(), how());
        let [supply_m, return_m] = leaders_m(&laid.path, &laid.depths_m);
        let path_m = laid.path.length_m();
        let dips_m = (laid.length_m - laid.outside_m - path_m).max(0.0);
        let rows = Figure::taken_off(
            "tube in the bays, in plan",
            path_m - supply_m - return_m,
            "lines and arcs as drawn, seen from above",
        );
        let dips = Figure::taken_off(
            "tube in dips",
            dips_m,
            "what arcs up to the plates and down to the holes add to the plan",
        );
        let field = Figure::sum("tube in the field", &[rows, dips]);
        let leaders = Figure::taken_off(
            "tube in the leaders",
            supply_m + return_m,
            "in the leader bay and the lanes, out and back, as drawn",
        );
        let way_m = (laid.outside_m - access.extra_m()).max(0.0);
        let way = Figure::taken_off("way below the floor", way_m, "square, from manifold to bay");
        let tails = Figure::sum("tube in risers and tails", &[connection(access), way]);
        let length =
            Figure::sum("tube from port to port", &[field.clone(), leaders.clone(), tails.clone()]);
        let volume = Figure::by_law(
            "water in the loop",
            &laws::hydraulics::TUBE_VOLUME,
            &[Given::from(&bore), Given::from(&length)],
        );
        let pitch_m = span.floor.joists.pitch_m / 2.0;
        let strands: Vec<[Point; 2]> =
            layout.plates.iter().filter(|run| run.of_loop == of_loop).map(|run| run.ends).collect();
        let served =
            served(&strands, pitch_m, self.envelope.enclosures[floor.number].floor.as_ref()?);
        let area_m2 = areas::total_m2(&served);
        let paths = [laid.path.clone()];
        let covered = served
            .iter()
            .map(|r| r.area_m2() * covered_fraction(&paths, r, NEAR * pitch_m, 0.04))
            .sum::<f64>()
            / area_m2.max(1e-9);
        let area = Figure::taken_off(
            "floor of the loop",
            area_m2,
            "over its bays, half the joists' distance to each strand, up to the walls",
        );
        let rooms = vec![LoopRoom {
            room: floor.room.clone(),
            area: area.clone(),
            length: Figure::sum("tube in the room", &[field.clone(), leaders.clone()]),
        }];
        Some(TubeLoop {
            key: key.to_owned(),
            room: floor.room.clone(),
            rooms,
            manifold: access.manifold.key.clone(),
            circuit: circuit_of(self.job, access.manifold),
            tube: tube.key.clone(),
            path: laid.path.clone(),
            leader: Leader {
                supply_m,
                return_m,
                through: access.through.map(|passage| passage.key.clone()),
                ..Leader::default()
            },
            region: largest(served)?,
            pattern: TubePattern::Serpentine,
            why: WHY.to_owned(),
            area,
            field_length: field,
            leader_length: leaders,
            tail_length: tails,
            length,
            volume: volume.ok()?,
            covered: Figure::taken_off(
                "floor near a tube",
                covered,
                "within three quarters of the distance of strands",
            ),
            tight_bends: tight_bends(&laid.path, tube.bend_radius.si() - 1e-6),
            spacing_laid_m: pitch_m,
        })
    }

    /// Diameter of a hole: the tube and what the rule set adds to it.
    fn hole_diameter(&self, drilled_m: f64) -> Figure<Length> {
        let (name, rule) = ("diameter of the hole", &self.job.rules.hole_over_tube);
        let Some(tube) = self.group.floors.first().map(|it| &self.floors[*it].build_up.tube) else {
            return Figure::taken_off(name, drilled_m, "as drawn");
        };
        let how = How::Catalogue(format!("{}: {}", tube.name, tube.source));
        let outside = Figure::new("outside diameter of the tube", tube.outside.si(), how);
        Figure::sum(name, &[outside, Figure::rule("hole over tube", rule)])
    }

    /// What is built in one span.
    fn built(&self, number: usize, span: &Span, keys: &[String]) -> JoistFloor {
        let joists = span.floor.joists;
        let layout = span.laid.as_ref().cloned().unwrap_or_default();
        let length = Length::from_si;
        let words = Words { first: self.job.units.value };
        let key = |of_loop: usize| keys.get(of_loop).cloned().unwrap_or_default();
        let drawn = |name: &str, m: f64, how: &str| Figure::<Length>::taken_off(name, m, how);
        let holes = layout.holes.iter().map(|hole| JoistHole {
            joist: hole.joist,
            across: drawn(
                "from joist 0",
                hole.joist.unsigned_abs() as f64 * joists.pitch_m,
                "joists between, at the spacing of the framing",
            ),
            bearing: hole.bearing + 1,
            from_bearing: drawn(
                "from the bearing to the hole",
                hole.from_bearing_m,
                "from the bearing's face to the middle, along the joist as drawn",
            ),
            below_top: drawn(
                "from the joist's top to the hole",
                hole.below_top_m,
                "to the middle, at the depth of its lane",
            ),
            diameter: self.hole_diameter(hole.diameter_m),
            edge: drawn(
                "wood between hole and edge",
                hole.edge_m,
                "to the nearer of top and bottom, less half the diameter",
            ),
            to_next: hole.to_next_m.map(|to_next_m| {
                let how = "between the middles along the joist, less both halves";
                drawn("wood between holes", to_next_m, how)
            }),
            of_loop: key(hole.of_loop),
            at: joists.place_of(hole),
            verdict: verdict(&hole.verdict, words),
        });
        let plates = keys.iter().enumerate().map(|(of_loop, key)| {
            let own = || layout.plates.iter().filter(|run| run.of_loop == of_loop);
            Plates {
                of_loop: key.clone(),
                whole: own().map(|run| run.whole).sum(),
                cut: own().filter(|run| run.cut_m > 0.0).count(),
                length: drawn(
                    "tube in plates",
                    own().map(|run| run.ends[0].distance(run.ends[1])).sum(),
                    "runs of plates from end to end, as drawn",
                ),
                stretches: own().map(|run| run.ends).collect(),
            }
        });
        let room = |room: usize| self.floor(room).room.clone();
        let without_tube = layout.unreached.iter().map(|lost| WithoutTube {
            room: room(lost.room),
            bay: lost.bay,
            length: length(lost.length_m),
            why: lost.why.words(),
        });
        let mut rooms: Vec<String> = layout.loops.iter().map(|laid| room(laid.room)).collect();
        rooms.dedup();
        JoistFloor {
            framing: self.group.framing.key.clone(),
            span: number + 1,
            manifold: self.group.access.manifold.key.clone(),
            rooms,
            joists,
            numbers: numbers(span),
            holes: holes.collect(),
            rule: span.rule.clone(),
            plates: plates.collect(),
            without_tube: without_tube.collect(),
        }
    }
}

/// Length from either port to the first tube in plates.
fn leaders_m(path: &Path, depths_m: &[[f64; 2]]) -> [f64; 2] {
    let top = depths_m.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    let is_up = |(_, depths): &(f64, [f64; 2])| depths.iter().all(|z| z - top < SAME_DEPTH_M);
    let lengths = path.segments.iter().map(plane::Segment::length_m);
    let pieces: Vec<(f64, [f64; 2])> = lengths.zip(depths_m.iter().copied()).collect();
    let before = pieces.iter().take_while(|piece| !is_up(piece)).map(|piece| piece.0).sum();
    let behind = pieces.iter().rev().take_while(|piece| !is_up(piece)).map(|piece| piece.0).sum();
    [before, behind]
}

/// Floor over the strands of a loop: half their distance to both sides, a little beyond their ends.
fn served(strands: &[[Point; 2]], pitch_m: f64, room: &Region) -> Vec<Region> {
    // A hair wider, so that neighbouring strips unite.
    let half_m = pitch_m / 2.0 + 1e-4;
    let strips = strands.iter().filter_map(|[a, b]| {
        let along = (*b - *a).unit();
        let (beyond, side) = (along * BEYOND_M, along.left() * half_m);
        let (a, b) = (*a - beyond, *b + beyond);
        Region::simple(vec![a - side, b - side, b + side, a + side]).ok()
    });
    let all = strips.fold(Vec::new(), |all: Vec<Region>, strip| areas::union(&all, &[strip]));
    areas::intersection(&all, std::slice::from_ref(room))
}

fn largest(regions: Vec<Region>) -> Option<Region> {
    regions.into_iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))
}

/// The first and last joist below the rooms of a span.
fn numbers(span: &Span) -> [i64; 2] {
    let joists = &span.floor.joists;
    let across = -joists.along.unit().left();
    let corners = span.floor.rooms.iter().flat_map(|room| room.floor.outer());
    let places = corners.map(|p| (*p - joists.on).dot(across) / joists.pitch_m);
    let (first, last) =
        places.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    [first.ceil() as i64, last.floor() as i64]
}

fn verdict(verdict: &Verdict, words: Words) -> HoleVerdict {
    match verdict {
        Verdict::Keeps => HoleVerdict::Allowed,
        Verdict::CannotTell(why) => HoleVerdict::CannotTell((*why).to_owned()),
        Verdict::Breaks(faults) => {
            let all: Vec<String> = faults.iter().map(|fault| broken(fault, words)).collect();
            HoleVerdict::NotAllowed(all.join("; "))
        }
    }
}

fn broken(fault: &Fault, words: Words) -> String {
    let small = |m: f64| words.small(m);
    match *fault {
        Fault::TooLarge { most_m } => format!("larger than {}", small(most_m)),
        Fault::NearEdge { has_m, needs_m } => {
            format!("{} of wood to the edge, needs {}", small(has_m), small(needs_m))
        }
        Fault::OffMiddle { at_m } => format!("must lie {} below the top", small(at_m)),
        Fault::NearHole { has_m, needs_m } => {
            format!("{} of wood to the next hole, needs {}", small(has_m), small(needs_m))
        }
        Fault::OutsideZone { zone_m: [near, far] } => {
            format!("must lie {} to {} from a bearing", words.tape(near), words.tape(far))
        }
    }
}
