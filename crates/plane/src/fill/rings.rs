//! The offset rings along which the band is laid.

use crate::chain;
use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// One ring of the band, a closed chain that repeats its first point.
pub(super) struct Ring {
    /// How many rings lie between it and the wall it follows.
    pub(super) level: usize,
    /// The ring with the floor's inside on the left.
    pub(super) closed: Vec<Point>,
}

/// Opposite sides of a ring closer than twice this many spacings are dropped.
const HALF_WAIST: f64 = 0.8;

/// All rings of a floor at odd multiples of the spacing from its boundary.
///
/// Places where a ring would come closer than 1.6 spacings to its own other
/// side are left out; they are filled later.
pub(super) fn rings(floor: &Region, spacing: f64) -> Vec<Ring> {
    let floor = std::slice::from_ref(floor);
    let mut rings = Vec::new();
    for level in 0.. {
        // A hair less, so that a floor that fits exactly keeps its last ring.
        let depth = spacing * (1 + 2 * level) as f64 * 0.9999;
        let reached = clip::erode(floor, depth);
        if reached.is_empty() {
            break;
        }
        for piece in clip::opening(&reached, HALF_WAIST * spacing) {
            if piece.area_m2() < 0.2 * spacing * spacing {
                continue;
            }
            for ring in piece.rings() {
                let thin = chain::thinned_ring(ring, 0.002);
                if thin.len() >= 3 {
                    rings.push(Ring { level, closed: chain::opened(&thin) });
                }
            }
        }
    }
    rings
}
