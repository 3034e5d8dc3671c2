//! The one door to polygon offsets and boolean operations.
//!
//! Everything that comes back through this door is snapped to a grid of a
//! micrometre, oriented, put in a fixed order and freed of slivers. So nothing
//! behind it depends on the last digits of a foreign library.

use geo::buffer::{BufferStyle, LineCap, LineJoin};
use geo::{BooleanOps, Buffer, Coord, LineString, MultiLineString, MultiPolygon, Polygon};

use crate::chain;
use crate::point::Point;
use crate::region::Region;
use crate::shift;

/// Width of the grid on which all outputs lie, metres.
pub(crate) const GRID_M: f64 = 1e-6;

/// Pieces smaller than this are rounding dust, square metres.
const DUST_M2: f64 = 1e-7;

/// Corners sharper than this are cut off: with 47° a mitre reaches out 2.5
/// offsets, and no corner reaches farther. The library takes the angle, not the
/// ratio.
const SHARPEST_MITRE_RAD: f64 = 0.823;

/// Chord over radius for round joins.
const ROUND_STEP_RAD: f64 = 0.45;

/// How the end of a widened line is closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Cap {
    Flat,
    Square,
}

/// The nearest place of the output grid.
pub(crate) fn snapped(p: Point) -> Point {
    // Adding zero turns a negative zero into a positive one.
    let snap = |v: f64| (v / GRID_M).round() * GRID_M + 0.0;
    Point::new(snap(p.x), snap(p.y))
}

/// All places within `d` of the regions; mitred corners.
pub(crate) fn dilate(regions: &[Region], d: f64) -> Vec<Region> {
    mitred(regions, d)
}

/// All places farther than `d` from the outside; mitred corners.
pub(crate) fn erode(regions: &[Region], d: f64) -> Vec<Region> {
    let left = if d > 0.0 { shifted(regions, -d) } else { None };
    left.unwrap_or_else(|| eroded_by_sweep(regions, d))
}

/// Where a region is narrower than the distance, the library can turn it inside
/// out twice and return the phantom. Such results show by corners too near the
/// boundary; then the boundary's own band is taken away instead.
fn eroded_by_sweep(regions: &[Region], d: f64) -> Vec<Region> {
    let left = swept(regions, -d);
    if d <= 0.0 || left.iter().all(|piece| is_eroded(piece, regions, d)) {
        return left;
    }
    let rims: Vec<Vec<Point>> = regions.iter().flat_map(|r| r.rings()).map(overlapped).collect();
    difference(regions, &thick(&rims, d, Cap::Flat))
}

/// Whether a sample of corners keeps the distance from the outside.
fn is_eroded(piece: &Region, regions: &[Region], d: f64) -> bool {
    let step = piece.outer().len().div_ceil(16);
    piece.outer().iter().step_by(step).all(|p| {
        regions.iter().any(|r| r.encloses(*p) && r.boundary_distance_m(*p) > d - 4.0 * GRID_M)
    })
}

/// A ring as an open chain that runs over its first edge twice.
fn overlapped(ring: &[Point]) -> Vec<Point> {
    ring.iter().chain(ring.iter().take(2)).copied().collect()
}

/// The parts of the regions that a square-cornered tool of half-width `d` reaches.
///
/// Where every edge survives, growing back gives the regions themselves.
pub(crate) fn opening(regions: &[Region], d: f64) -> Vec<Region> {
    let edges = |regions: &[Region]| -> Vec<usize> {
        regions.iter().flat_map(|r| r.rings().map(<[_]>::len)).collect()
    };
    let core = match shifted(regions, -d) {
        // Only where edges merely move can their numbers be compared: a sweep adds some.
        Some(core) if edges(&core) == edges(regions) => return regions.to_vec(),
        Some(core) => core,
        None => eroded_by_sweep(regions, d),
    };
    if core.is_empty() { core } else { intersection(&dilate(&core, d), regions) }
}

/// The parts of the regions that a disc of radius `d` reaches.
pub(crate) fn round_opening(regions: &[Region], d: f64) -> Vec<Region> {
    let core = buffered(regions, -d, LineJoin::Round(ROUND_STEP_RAD));
    buffered(&core, d, LineJoin::Round(ROUND_STEP_RAD))
}

/// The band of half-width `half` along open chains; mitred corners.
pub(crate) fn thick(chains: &[Vec<Point>], half: f64, cap: Cap) -> Vec<Region> {
    let lines: Vec<LineString<f64>> =
        chains.iter().filter(|c| c.len() > 1).map(|c| line_string(c)).collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let style = BufferStyle::new(half)
        .line_join(LineJoin::Miter(SHARPEST_MITRE_RAD))
        .line_cap(if cap == Cap::Flat { LineCap::Butt } else { LineCap::Square });
    cleaned(MultiLineString::new(lines).buffer_with_style(style))
}

/// Places in either set of regions.
pub(crate) fn union(one: &[Region], other: &[Region]) -> Vec<Region> {
    cleaned(multi(one).union(&multi(other)))
}

/// Places in both sets of regions.
pub(crate) fn intersection(one: &[Region], other: &[Region]) -> Vec<Region> {
    if one.is_empty() || other.is_empty() {
        return Vec::new();
    }
    cleaned(multi(one).intersection(&multi(other)))
}

/// Places in the first set of regions but not in the second.
pub(crate) fn difference(one: &[Region], other: &[Region]) -> Vec<Region> {
    if one.is_empty() {
        return Vec::new();
    }
    cleaned(multi(one).difference(&multi(other)))
}

fn mitred(regions: &[Region], d: f64) -> Vec<Region> {
    match shifted(regions, d) {
        Some(shifted) => shifted,
        None => swept(regions, d),
    }
}

/// Offsets by the library's sweep, whatever the shape; mitred corners.
pub(crate) fn swept(regions: &[Region], d: f64) -> Vec<Region> {
    buffered(regions, d, LineJoin::Miter(SHARPEST_MITRE_RAD))
}

/// The regions with their edges moved outwards, where that is all that happens.
fn shifted(regions: &[Region], d: f64) -> Option<Vec<Region>> {
    // Pieces that grow may come to touch.
    if d == 0.0 || (d > 0.0 && regions.len() > 1) {
        return None;
    }
    let shifted = |region: &Region| shift::shifted(region, d, SHARPEST_MITRE_RAD);
    let regions: Vec<Region> = regions.iter().map(shifted).collect::<Option<_>>()?;
    let ring = |ring: &[Point]| tidy(ring.iter().copied());
    let tidied = |region: &Region| {
        let holes = region.holes().iter().filter_map(|hole| ring(hole)).collect();
        Some(Region::trusted(ring(region.outer())?, holes))
    };
    let mut regions: Vec<Region> = regions.iter().filter_map(tidied).collect();
    regions.sort_by(|a, b| order(a.outer(), b.outer()));
    Some(regions)
}

fn buffered(regions: &[Region], d: f64, join: LineJoin<f64>) -> Vec<Region> {
    if regions.is_empty() || d == 0.0 {
        return regions.to_vec();
    }
    cleaned(multi(regions).buffer_with_style(BufferStyle::new(d).line_join(join)))
}

fn line_string(points: &[Point]) -> LineString<f64> {
    LineString::new(points.iter().map(|p| Coord { x: p.x, y: p.y }).collect())
}

fn multi(regions: &[Region]) -> MultiPolygon<f64> {
    let polygon = |r: &Region| {
        Polygon::new(line_string(r.outer()), r.holes().iter().map(|h| line_string(h)).collect())
    };
    MultiPolygon::new(regions.iter().map(polygon).collect())
}

fn cleaned(shapes: MultiPolygon<f64>) -> Vec<Region> {
    let mut regions: Vec<Region> = shapes
        .0
        .iter()
        .filter_map(|p| {
            let outer = ring(p.exterior())?;
            let holes = p.interiors().iter().filter_map(ring).collect();
            Some(Region::trusted(outer, holes))
        })
        .collect();
    regions.sort_by(|a, b| order(a.outer(), b.outer()));
    regions
}

fn order(a: &[Point], b: &[Point]) -> std::cmp::Ordering {
    a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal)
}

/// A ring of the library, made tidy.
fn ring(line: &LineString<f64>) -> Option<Vec<Point>> {
    tidy(line.0.iter().map(|c| Point::new(c.x, c.y)))
}

/// A snapped ring started at its lowest-sorting point, or nothing for dust.
fn tidy(corners: impl Iterator<Item = Point>) -> Option<Vec<Point>> {
    let mut points: Vec<Point> = Vec::with_capacity(corners.size_hint().0);
    for p in corners {
        chain::push_new(&mut points, snapped(p));
    }
    while points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if points.len() < 3 || chain::double_area(&points).abs() < 2.0 * DUST_M2 {
        return None;
    }
    let mut first = 0;
    for (i, p) in points.iter().enumerate() {
        if p.x < points[first].x || (p.x == points[first].x && p.y < points[first].y) {
            first = i;
        }
    }
    points.rotate_left(first);
    Some(points)
}
