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
    // A hair less, so that a floor that fits exactly keeps its last ring.
    let step = 0.9999 * spacing;
    let mut reached = clip::erode(std::slice::from_ref(floor), step);
    let mut rings = Vec::new();
    for level in 0.. {
        if reached.is_empty() {
            break;
        }
        // From ring to ring, since small steps turn few edges inside out.
        let next = clip::erode(&reached, 2.0 * step);
        for piece in clip::opening(&reached, HALF_WAIST * spacing) {
            if piece.area_m2() < 0.2 * spacing * spacing {
                continue;
            }
            for ring in piece.rings() {
                let thin = blunted(&chain::thinned_ring(ring, 0.002), spacing);
                if thin.len() >= 3 {
                    rings.push(Ring { level, closed: chain::opened(&thin) });
                }
            }
        }
        reached = next;
    }
    rings
}

/// Corners sharper than this are blunted: both strands would meet in them, radians.
const SHARP_RAD: f64 = 0.75;

/// A ring with its sharp corners cut off where its sides are 1.6 spacings apart.
fn blunted(ring: &[Point], spacing: f64) -> Vec<Point> {
    let n = ring.len();
    let mut blunt = Vec::with_capacity(n);
    for (i, &corner) in ring.iter().enumerate() {
        let (back, ahead) = (ring[(i + n - 1) % n] - corner, ring[(i + 1) % n] - corner);
        let angle = ahead.angle_to(back);
        let leg = HALF_WAIST * spacing / (angle.abs() / 2.0).sin();
        if angle.abs() < SHARP_RAD && leg < 0.45 * back.norm().min(ahead.norm()) {
            blunt.push(corner + back.unit() * leg);
            blunt.push(corner + ahead.unit() * leg);
        } else {
            blunt.push(corner);
        }
    }
    blunt
}
