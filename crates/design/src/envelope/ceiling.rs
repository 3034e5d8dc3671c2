//! The ceiling of a room: the lowest of its level height and its slopes.

use super::dormers::{self, DormerBox};
use super::trapezoid::Trapezoid;
use super::walls::{Wall, named};
use crate::words::Words;
use job::{Finding, Job, Room, Severity, Slope};
use plane::half::{Affine, area_m2, integral, part_above};
use plane::{Point, Region, areas};
use quantity::Quantity;

/// Floor under a height of nought that is still the tape's, square metres.
const LEAST_AREA_M2: f64 = 1e-3;

/// One plane of a ceiling, with the floor under it.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Number of the slope in the job; none for the level ceiling.
    pub(super) slope: Option<usize>,
    /// Height over the room's floor.
    pub(super) height: Affine,
    /// Rise over run.
    pub(super) pitch: f64,
    /// Ring of the floor under it; may run there and back along cuts.
    pub(super) ring: Vec<Point>,
    /// Area of that floor.
    pub(super) area_m2: f64,
    /// Air under it.
    pub(super) volume_m3: f64,
}

impl Piece {
    /// Area of the ceiling itself.
    pub(super) fn sloped_m2(&self) -> f64 {
        self.area_m2 * self.pitch.hypot(1.0)
    }

    /// How far from its wall a slope still governs.
    pub(super) fn reach_m(&self, wall: &Wall) -> f64 {
        let inward = -wall.outward();
        self.ring.iter().map(|p| inward.dot(*p - wall.from)).fold(0.0, f64::max)
    }
}

/// The ceiling of a room with an outline.
#[derive(Clone, Debug, Default)]
pub(super) struct Ceiling {
    /// Its planes where they govern; none if the height is not known.
    pub(super) pieces: Vec<Piece>,
    /// Boxes set into its slopes.
    pub(super) dormers: Vec<DormerBox>,
    /// Height of a ceiling that is level all over.
    pub(super) level_m: Option<f64>,
}

impl Ceiling {
    pub(super) fn of(
        job: &Job,
        room: &Room,
        floor: &Region,
        walls: &[Wall],
        findings: &mut Vec<Finding>,
    ) -> Ceiling {
        let height_m = room.height.as_ref().map(|height| height.value.si());
        let level = height_m.map(|height_m| (None, Affine::level(height_m), 0.0));
        let slopes: Vec<_> = slopes_of(job, room, walls, findings);
        let is_level = slopes.is_empty();
        let planes: Vec<_> = level.into_iter().chain(slopes).collect();
        let pieces = governed(floor, &planes);
        let roofed_m2: f64 = pieces.iter().map(|piece| piece.area_m2).sum();
        if !planes.is_empty() && roofed_m2 < floor.area_m2() - LEAST_AREA_M2 {
            findings.push(down_to_the_floor(job, room, floor.area_m2() - roofed_m2));
        }
        findings.extend(job.slopes.iter().enumerate().filter_map(|(number, slope)| {
            let drawn = planes.iter().any(|(of, ..)| *of == Some(number));
            let governs = pieces.iter().any(|piece| piece.slope == Some(number));
            (drawn && !governs).then(|| over_the_ceiling(job, slope, height_m))
        }));
        let known = roofed_m2 > LEAST_AREA_M2;
        let mut ceiling = Ceiling {
            pieces: if known { pieces } else { Vec::new() },
            dormers: Vec::new(),
            level_m: height_m.filter(|height_m| is_level && *height_m > 0.0),
        };
        ceiling.dormers = dormers::of(job, room, walls, &ceiling, findings);
        ceiling
    }

    /// The same planes over another floor, such as that between outer faces.
    pub(super) fn over_floor(&self, floor: &Region) -> Ceiling {
        let planes: Vec<Plane> =
            self.pieces.iter().map(|piece| (piece.slope, piece.height, piece.pitch)).collect();
        Ceiling { pieces: governed(floor, &planes), ..self.clone() }
    }

    pub(super) fn is_known(&self) -> bool {
        !self.pieces.is_empty()
    }

    /// Air of the room.
    pub(super) fn volume_m3(&self) -> f64 {
        let pieces: f64 = self.pieces.iter().map(|piece| piece.volume_m3).sum();
        pieces + self.dormers.iter().map(|dormer| dormer.volume_m3()).sum::<f64>()
    }

    /// Height over the floor at a place; none where it is not known.
    pub(super) fn height_m(&self, at: Point) -> Option<f64> {
        self.pieces.iter().map(|piece| piece.height.of(at)).reduce(f64::min)
    }

    /// The level part of the ceiling on the plan.
    pub(super) fn level_part(&self, floor: &Region) -> Vec<Region> {
        if self.level_m.is_some() {
            return vec![floor.clone()];
        }
        let Some(level) = self.pieces.iter().find(|piece| piece.slope.is_none()) else {
            return Vec::new();
        };
        let lower = self.pieces.iter().filter(|piece| piece.slope.is_some());
        lower.fold(vec![floor.clone()], |left, slope| {
            let over = slope.height.less(&level.height);
            left.iter().flat_map(|region| areas::part_above(region, &over)).collect()
        })
    }

    /// The wall under it, over its length, from that level up.
    pub(super) fn over(&self, wall: &Wall, level_m: f64) -> Vec<Trapezoid> {
        let length_m = wall.length_m();
        let at = |along_m: f64| wall.from.lerp(wall.to, along_m / length_m);
        let ends: Vec<[f64; 2]> = self
            .pieces
            .iter()
            .map(|piece| [piece.height.of(at(0.0)), piece.height.of(at(length_m))])
            .collect();
        let mut cuts = vec![0.0, length_m];
        for (index, one) in ends.iter().enumerate() {
            for other in ends[index + 1..].iter().chain([&[0.0, 0.0]]) {
                let (start, end) = (one[0] - other[0], one[1] - other[1]);
                if start * end < 0.0 {
                    cuts.push(length_m * start / (start - end));
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        let height = |along_m: f64| self.height_m(at(along_m)).unwrap_or(0.0).max(0.0);
        let strips = cuts.windows(2).filter(|cut| cut[1] - cut[0] > 1e-6);
        let strips = strips.map(|cut| Trapezoid {
            span_m: [cut[0], cut[1]],
            low_m: [level_m; 2],
            high_m: [level_m + height(cut[0]), level_m + height(cut[1])],
        });
        joined(strips.filter(|strip| strip.mean_height_m() > 1e-6))
    }
}

/// Strips whose upper edge runs on straight are one.
fn joined(strips: impl Iterator<Item = Trapezoid>) -> Vec<Trapezoid> {
    let mut out: Vec<Trapezoid> = Vec::new();
    for strip in strips {
        match out.last_mut() {
            Some(last) if runs_on(last, &strip) => {
                last.span_m[1] = strip.span_m[1];
                last.high_m[1] = strip.high_m[1];
            }
            _ => out.push(strip),
        }
    }
    out
}

fn runs_on(one: &Trapezoid, next: &Trapezoid) -> bool {
    let rise = |it: &Trapezoid| (it.high_m[1] - it.high_m[0]) / it.width_m();
    (one.span_m[1] - next.span_m[0]).abs() < 1e-9 && (rise(one) - rise(next)).abs() < 1e-9
}

/// A plane of a ceiling: its slope, its height over the floor, its pitch.
type Plane = (Option<usize>, Affine, f64);

fn slopes_of(job: &Job, room: &Room, walls: &[Wall], findings: &mut Vec<Finding>) -> Vec<Plane> {
    let own = job.slopes.iter().enumerate().filter(|(_, slope)| slope.room.value == room.key);
    own.filter_map(|(number, slope)| {
        // What the text lacks was told when it was read.
        let (low, pitch) = (slope.low.as_ref()?.value.si(), slope.pitch.as_ref()?.value.si());
        match slope_wall(room, slope, walls)? {
            Err((message, advice)) => {
                let subject = format!("slope.{}", slope.key);
                let place = slope.wall.as_ref().map(|wall| wall.place);
                let kind = "slope-nowhere";
                findings
                    .push(Finding::new(Severity::Stop, kind, subject, message, advice).at(place));
                None
            }
            Ok(wall) => {
                let slope = -wall.outward() * pitch;
                let height = Affine { at: wall.from, value: low, slope };
                Some((Some(number), height, pitch))
            }
        }
    })
    .collect()
}

/// The wall that a slope rises from; none if the text names none.
pub(super) fn slope_wall<'a>(
    room: &Room,
    slope: &Slope,
    walls: &'a [Wall],
) -> Option<Result<&'a Wall, (String, String)>> {
    let name = &slope.wall.as_ref()?.value;
    Some(named(&room.key, walls, name).and_then(|number| {
        walls.get(number).ok_or_else(|| ("has no wall".to_owned(), "name a wall".to_owned()))
    }))
}

/// The part of the floor that each plane governs.
fn governed(floor: &Region, planes: &[Plane]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for (number, (slope, height, pitch)) in planes.iter().enumerate() {
        let mut ring = part_above(floor.outer(), height);
        for (other_number, (_, other, _)) in planes.iter().enumerate() {
            // Of two planes that are the same the first governs.
            let same = other_number < number && *other == *height;
            if same {
                ring.clear();
            } else if other_number != number {
                ring = part_above(&ring, &other.less(height));
            }
        }
        let area = area_m2(&ring);
        if area > LEAST_AREA_M2 {
            let volume_m3 = integral(&ring, height);
            let (slope, height, pitch) = (*slope, *height, *pitch);
            pieces.push(Piece { slope, height, pitch, ring, area_m2: area, volume_m3 });
        }
    }
    pieces
}

/// Tells a slope that nowhere comes down to the ceiling, mostly since the room inherits a height.
fn over_the_ceiling(job: &Job, slope: &Slope, height_m: Option<f64>) -> Finding {
    let words = Words { first: job.units.value };
    let level = match height_m {
        Some(height_m) => format!("the level ceiling at {}", words.tape(height_m)),
        None => "the room's other slopes".to_owned(),
    };
    let message =
        format!("lies above {level} all over room {}, so it counts nowhere", slope.room.value);
    let advice = "write the room's own `height` above its ridge, or check `low` and `pitch`";
    let place = slope.low.as_ref().and_then(|low| low.place());
    Finding::new(
        Severity::Stop,
        "slope-over-ceiling",
        format!("slope.{}", slope.key),
        message,
        advice,
    )
    .at(place)
}

fn down_to_the_floor(job: &Job, room: &Room, area_m2: f64) -> Finding {
    let words = Words { first: job.units.value };
    let message = format!(
        "its ceiling is not above the floor over {} of it, so its height there cannot be told",
        words.area(area_m2)
    );
    let advice = "check `height` of the room, and `low` and the wall of its slopes";
    let subject = format!("room.{}", room.key);
    Finding::new(Severity::Stop, "ceiling-below-floor", subject, message, advice)
        .at(room.outline.as_ref().map_or(room.place, |outline| outline.place))
        .amount(area_m2)
}
