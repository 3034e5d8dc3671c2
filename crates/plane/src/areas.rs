//! Several regions taken as one area.

use crate::clip;
use crate::half::Affine;
use crate::point::Point;
use crate::region::Region;

/// The places in either area.
pub fn union(one: &[Region], other: &[Region]) -> Vec<Region> {
    clip::union(one, other)
}

/// The places in both areas.
pub fn intersection(one: &[Region], other: &[Region]) -> Vec<Region> {
    match upright(one).zip(upright(other)) {
        // Most rooms are upright boxes, for which this is quick.
        Some(([low, high], [other_low, other_high])) => {
            let low = Point::new(low.x.max(other_low.x), low.y.max(other_low.y));
            let high = Point::new(high.x.min(other_high.x), high.y.min(other_high.y));
            let both = low.x < high.x && low.y < high.y;
            let common = both.then(|| Region::rectangle(low, high));
            common.and_then(Result::ok).into_iter().collect()
        }
        None => clip::intersection(one, other),
    }
}

/// Low and high corner, if the area is one upright rectangle.
fn upright(area: &[Region]) -> Option<[Point; 2]> {
    let [region] = area else { return None };
    let level = |(a, b): (Point, Point)| a.x == b.x || a.y == b.y;
    let is_box = region.holes().is_empty() && region.outer().len() == 4;
    let (low, high) = region.bounds();
    (is_box && region.edges().all(level)).then_some([low, high])
}

/// The places in the first area and not in the second.
pub fn difference(one: &[Region], other: &[Region]) -> Vec<Region> {
    if other.is_empty() { one.to_vec() } else { clip::difference(one, other) }
}

/// The area without strips narrower than that; corners of what stays are kept sharp.
pub fn without_strips(area: &[Region], width_m: f64) -> Vec<Region> {
    clip::opening(area, width_m / 2.0)
}

/// Square metres of all regions.
pub fn total_m2(area: &[Region]) -> f64 {
    area.iter().map(Region::area_m2).sum()
}

/// The part of a region where a function is at least nought.
pub fn part_above(region: &Region, function: &Affine) -> Vec<Region> {
    let (low, high) = region.bounds();
    let margin = Point::new(1.0, 1.0);
    let (low, high) = (low - margin, high + margin);
    let frame = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
    // The frame is convex, so its part is simple.
    let part = crate::half::part_above(&frame, function);
    match Region::simple(part) {
        Ok(part) => clip::intersection(std::slice::from_ref(region), &[part]),
        Err(_) => Vec::new(),
    }
}
