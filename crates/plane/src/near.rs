//! Which regions come near each other, found without comparing all with all.

use crate::point::Point;
use crate::region::Region;

/// Pairs of regions whose upright bounds come within that distance, lower numbers first.
///
/// The pairs are in ascending order; places of `None` take part in no pair.
pub fn pairs(regions: &[Option<Region>], metres: f64) -> Vec<[usize; 2]> {
    let mut boxes: Vec<(usize, Point, Point)> = regions
        .iter()
        .enumerate()
        .filter_map(|(number, region)| {
            let (low, high) = region.as_ref()?.bounds();
            Some((number, low, high))
        })
        .collect();
    boxes.sort_by(|a, b| a.1.x.total_cmp(&b.1.x).then(a.0.cmp(&b.0)));
    let mut pairs = Vec::new();
    for (index, (one, low, high)) in boxes.iter().enumerate() {
        let beside = boxes[index + 1..].iter().take_while(|other| other.1.x < high.x + metres);
        for (other, other_low, other_high) in beside {
            if low.y < other_high.y + metres && other_low.y < high.y + metres {
                pairs.push([*one.min(other), *one.max(other)]);
            }
        }
    }
    pairs.sort_unstable();
    pairs
}
