//! Parts of a heated floor with a surface of their own: under another finish, or in the band of
//! closer tube along outside walls.

use crate::envelope::Envelope;
use crate::loops::outside_walls;
use job::{FinishKind, FloorPart, FloorZone, Job, Room, SurfaceLimit, TubePattern};
use plane::{Point, Region, areas};
use quantity::Quantity;

/// Parts smaller than this share of a floor are none.
const LEAST_SHARE: f64 = 0.005;

/// Distance of tubes in a band over that of the rest, where the text names none.
pub(crate) const BAND_CLOSER: f64 = 2.0 / 3.0;

/// How far apart tubes lie in a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Apart {
    /// As in the rest of the room.
    AsElsewhere,
    /// Closer, as a share of the distance in the rest.
    Closer(f64),
    /// At a distance of its own, metres, or that of the rest if that is less.
    At(f64),
}

impl Apart {
    /// The distance where it is so much in the rest of the room, metres.
    pub(crate) fn metres(self, elsewhere_m: f64) -> f64 {
        match self {
            Apart::AsElsewhere => elsewhere_m,
            Apart::Closer(share) => elsewhere_m * share,
            Apart::At(own_m) => own_m.min(elsewhere_m),
        }
    }
}

/// Part of a room's floor that can take tube.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Zone {
    /// What it is, in words.
    pub(crate) name: String,
    /// Where it lies.
    pub(crate) regions: Vec<Region>,
    /// Its share of the floor that can take tube.
    pub(crate) share: f64,
    /// What its surface is limited by.
    pub(crate) limited_as: FloorZone,
    /// Its finish, by catalogue key.
    pub(crate) finish: String,
    pub(crate) apart: Apart,
}

impl Zone {
    /// The limits of its surface: by use or place, and by its finish.
    pub(crate) fn limit<'a>(&self, job: &'a Job) -> SurfaceLimit<'a> {
        let finish = job.catalogue.finish(&self.finish);
        let kind = finish.map_or(FinishKind::Bare, |finish| finish.kind);
        job.rules.surface_limit(self.limited_as, kind)
    }
}

/// What of a room's floor is neither band nor part, and those; it alone where the room has no
/// outline. A band is only `in_floor`, where tube lies in the floor's own plane.
pub(super) fn zones(
    job: &Job,
    envelope: &Envelope,
    number: usize,
    in_floor: bool,
) -> (Zone, Vec<Zone>) {
    let room = &job.rooms[number];
    let free = &envelope.enclosures[number].free;
    let all_m2 = areas::total_m2(free);
    let rest = Zone {
        name: "the rest".to_owned(),
        regions: free.clone(),
        share: 1.0,
        limited_as: room.used_as.value.into(),
        finish: room.finish.value.clone(),
        apart: Apart::AsElsewhere,
    };
    if all_m2 <= 0.0 {
        return (rest, Vec::new());
    }
    let mut rest = rest;
    let mut finishes = Vec::new();
    for part in job.floor_parts_of(&room.key) {
        let Some(outline) = region(part) else { continue };
        let own = areas::intersection(&rest.regions, std::slice::from_ref(&outline));
        rest.regions = areas::difference(&rest.regions, std::slice::from_ref(&outline));
        let name = format!("part {}", part.key);
        let other = Zone { name, regions: own, finish: part.finish.value.clone(), ..rest.clone() };
        finishes.push(other);
    }
    let band = if in_floor { band(job, envelope, number) } else { None };
    let mut others = Vec::new();
    if let Some(band) = band {
        let [outside, along] = band.divided(rest);
        rest = outside;
        others.push(along);
        others.extend(finishes.into_iter().flat_map(|zone| band.divided(zone)));
    } else {
        others = finishes;
    }
    for zone in &mut others {
        zone.share = areas::total_m2(&zone.regions) / all_m2;
    }
    others.retain(|zone| zone.share >= LEAST_SHARE);
    // What was too small to be a part of its own is the rest's.
    rest.share = (1.0 - others.iter().map(|zone| zone.share).sum::<f64>()).max(0.0);
    if rest.share < LEAST_SHARE {
        rest.share = 0.0;
    }
    (rest, others)
}

/// The outline of a part, if it is one.
pub(crate) fn region(part: &FloorPart) -> Option<Region> {
    Region::simple(part.outline.as_ref()?.corners.clone()).ok()
}

/// The band along outside walls.
struct Band {
    regions: Vec<Region>,
    apart: Apart,
    /// Whether it is narrow enough to be taken as one.
    is_strip: bool,
}

impl Band {
    /// A part inside and outside the band, the outside first.
    fn divided(&self, zone: Zone) -> [Zone; 2] {
        let inside = areas::intersection(&zone.regions, &self.regions);
        let outside = areas::difference(&zone.regions, &self.regions);
        let along = match zone.name.as_str() {
            "the rest" => "along outside walls".to_owned(),
            name => format!("{name} along outside walls"),
        };
        let limited_as = if self.is_strip { FloorZone::Perimeter } else { zone.limited_as };
        let band =
            Zone { name: along, regions: inside, limited_as, apart: self.apart, ..zone.clone() };
        [Zone { regions: outside, ..zone }, band]
    }
}

/// The band of a room; none where no band is held for it or none of its walls is an outside one.
fn band(job: &Job, envelope: &Envelope, number: usize) -> Option<Band> {
    let room = &job.rooms[number];
    let held = room.pattern.held().filter(|held| held.value == TubePattern::PerimeterBand);
    held?;
    let depth_m = room.edge_depth.value.si();
    let strips: Vec<Region> = outside_walls(job, envelope, number)
        .into_iter()
        .filter_map(|wall| strip(wall, depth_m))
        .collect();
    let regions = strips.into_iter().fold(Vec::new(), |all: Vec<Region>, strip| {
        if all.is_empty() { vec![strip] } else { areas::union(&all, &[strip]) }
    });
    (!regions.is_empty()).then(|| Band {
        regions,
        apart: apart(room),
        is_strip: depth_m <= job.rules.perimeter_depth.value.si() + 1e-9,
    })
}

fn apart(room: &Room) -> Apart {
    room.edge_spacing.as_ref().map_or(Apart::Closer(BAND_CLOSER), |own| Apart::At(own.value.si()))
}

/// Floor along a wall, inside on its left, and as far beyond its ends.
fn strip([from, to]: [Point; 2], depth_m: f64) -> Option<Region> {
    let along = (to - from) * (1.0 / from.distance(to).max(1e-9));
    let (out, inward) = (along * depth_m, along.left() * depth_m);
    let corners = vec![from - out, to + out, to + out + inward, from - out + inward];
    Region::simple(corners).ok()
}
