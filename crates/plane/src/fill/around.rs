//! Counterflow turned inside out: tube once around, then bays cut in from it.
//!
//! Narrow arms hold no ring, yet tube along both their walls warms them. So the
//! band is all the floor here, and what is laid along a tree are the gaps in it:
//! a bay that begins at the band's edge leaves the band in one piece.

use super::body;
use super::entry::Stub;
use super::rings::{self, Ring};
use super::search::Draft;
use super::wind;
use super::zone::Zone;
use crate::chain;
use crate::clip;
use crate::point::Point;
use crate::region::Region;
use crate::storey::Pattern;

/// Least half-width of the band in spacings, and in metres.
const NARROWEST: (f64, f64) = (0.2, 0.03);

/// Distance from the walls in a neck, in spacings and at least in metres.
const NECK: f64 = 0.26;
const NECK_M: f64 = 0.026;

/// Mouths that are tried, by their number, and ways round.
const CHOICES: [(usize, bool); 3] = [(0, false), (0, true), (1, false)];

/// Least area deep inside the band for which a bay is cut, in square spacings.
const BAY_LEAST: f64 = 0.8;

/// Loops along all walls with bays cut in, one for each choice of mouths.
pub(super) fn drafts(zone: &Zone<'_>, stub: &Stub, s: f64) -> Vec<Draft> {
    let Some(band) = band(zone.floor, stub.foot, s) else { return Vec::new() };
    let ring = [chain::opened(band.outer())];
    let Some(way) = stub.way(zone.floor, &ring, s) else { return Vec::new() };
    let length = chain::length(&way.line);
    let places = places(&band, s);
    let choices: &[(usize, bool)] =
        if places.iter().all(|p| p.rings.is_empty()) { &CHOICES[..1] } else { &CHOICES };
    let mut bands: Vec<Region> = Vec::new();
    for (mouth, mirrored) in choices {
        let sizes = (s, zone.turn_m());
        bands.extend(with_bays(&band, &places, stub.foot, *mouth, *mirrored, sizes));
    }
    let outline = |band: Region| body::outline(&[band], stub, &way, None, s);
    bands
        .into_iter()
        .filter_map(outline)
        .map(|corners| Draft {
            corners: chain::thinned(&corners, 0.003),
            spacing: s,
            pattern: Pattern::Counterflow,
            // The strands part at the edge of the band, half a spacing before a row's middle.
            way: length + s / 2.0,
        })
        .collect()
}

/// The floor half a spacing off its walls, in one piece without holes.
///
/// Through necks too narrow for that it goes nearer to the walls.
fn band(floor: &Region, foot: Point, s: f64) -> Option<Region> {
    let floor = std::slice::from_ref(floor);
    let narrowest = (NARROWEST.0 * s).max(NARROWEST.1);
    let mut pieces = clip::opening(&clip::erode(floor, 0.4999 * s), narrowest);
    pieces.retain(|piece| piece.area_m2() > 0.5 * s * s);
    let mut whole = pieces.clone();
    if pieces.len() > 1 {
        let open = clip::dilate(&pieces, 0.4999 * s);
        let through = clip::opening(&clip::erode(floor, (NECK * s).max(NECK_M)), NARROWEST.1);
        for neck in clip::difference(&through, &open) {
            // A hair wider, so that it overlaps what it joins.
            let neck = clip::intersection(&clip::dilate(&[neck], 0.51 * s), &through);
            let joined = clip::union(&whole, &neck);
            if joined.len() < whole.len() {
                whole = joined;
            }
        }
    }
    let away = |r: &Region| r.boundary_distance_m(foot);
    let nearest = (0..whole.len()).min_by(|i, j| away(&whole[*i]).total_cmp(&away(&whole[*j])))?;
    let band = whole.swap_remove(nearest);
    band.holes().is_empty().then_some(band)
}

/// A place in the band that is too wide for it.
struct Place {
    floor: Region,
    rings: Vec<Ring>,
}

fn places(band: &Region, s: f64) -> Vec<Place> {
    let deep = clip::erode(std::slice::from_ref(band), 0.4999 * s);
    let is_cold = |place: &Region| {
        let cold = clip::erode(std::slice::from_ref(place), 0.25 * s);
        cold.iter().map(Region::area_m2).sum::<f64>() > BAY_LEAST * s * s
    };
    deep.into_iter()
        .filter(is_cold)
        .map(|floor| Place { rings: rings::rings(&floor, s), floor })
        .collect()
}

/// The band with a bay in every place that is too wide for it.
fn with_bays(
    band: &Region,
    places: &[Place],
    foot: Point,
    mouth: usize,
    mirrored: bool,
    (s, turn_m): (f64, f64),
) -> Option<Region> {
    let mut whole = vec![band.clone()];
    for place in places {
        let bay = mouths(&place.floor, foot, s)
            .into_iter()
            .nth(mouth)
            .and_then(|stub| bay(place, &stub, mirrored, (s, turn_m)));
        whole = match bay {
            Some(bay) => clip::difference(&whole, &[bay]),
            None => body::with_slots(whole, &place.floor, s, turn_m),
        };
    }
    let [whole] = <[Region; 1]>::try_from(whole).ok()?;
    whole.holes().is_empty().then_some(whole)
}

/// A bay along the rings of a place, open to where its mouth is.
fn bay(place: &Place, stub: &Stub, mirrored: bool, sizes: (f64, f64)) -> Option<Region> {
    let outlines = wind::wound(&place.floor, &place.rings, stub, sizes, mirrored);
    let (mut corners, _) = outlines.into_iter().next()?;
    let outward = stub.inward * (-0.6 * sizes.0);
    let (start, end) = (corners.first().copied()?, corners.last().copied()?);
    corners.push(end + outward);
    corners.push(start + outward);
    Some(Region::trusted(corners, Vec::new()))
}

/// Places where a bay may begin, beside the corners of its long edges.
fn mouths(place: &Region, foot: Point, s: f64) -> Vec<Stub> {
    let mut edges: Vec<(Point, Point)> = chain::ring_edges(place.outer()).collect();
    edges.retain(|(a, b)| a.distance(*b) > 2.4 * s);
    let mut stubs: Vec<Stub> = Vec::new();
    for (a, b) in edges {
        let along = (b - a).unit();
        for at in [a + along * s, b - along * s] {
            stubs.push(Stub { foot: at, inward: along.left(), gap: s });
        }
    }
    let away = |stub: &Stub| stub.foot.distance(foot);
    stubs.sort_by(|a, b| away(b).total_cmp(&away(a)));
    stubs
}
