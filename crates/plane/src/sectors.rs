//! Shares of a region around a hole, like slices of a ring.

use std::f64::consts::{PI, TAU};

use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// Widest wedge drawn as one triangle, radians.
const WIDEST_RAD: f64 = PI / 3.0;

/// Steps by which the angle of a cut is halved in on.
const HALVINGS: u32 = 24;

/// Pieces of a share below this are crumbs of clipping, square metres.
const CRUMB_M2: f64 = 1e-4;

/// Cuts a region along rays from a place, into as many shares as there are weights.
///
/// Shares follow each other counter-clockwise, the first around the direction `toward`, with
/// the share `ahead` of its area counter-clockwise of it. Nothing if a share falls apart.
pub(crate) fn around(
    region: &Region,
    centre: Point,
    toward: Point,
    ahead: f64,
    weights: &[f64],
) -> Option<Vec<Region>> {
    let ring = Ring { region, centre, toward };
    let all: f64 = weights.iter().sum();
    let unit_m2 = region.area_m2() / all;
    let first = weights.first()?;
    let mut level = ahead * first * unit_m2;
    let mut cuts = vec![ring.angle_of(level)];
    for weight in &weights[1..] {
        level += weight * unit_m2;
        cuts.push(ring.angle_of(level));
    }
    // The first share wraps round from the last cut.
    let last = cuts.last()? - TAU;
    let ends = std::iter::once(last).chain(cuts.iter().copied());
    ends.zip(&cuts).map(|(from, to)| ring.share(from, *to)).collect()
}

struct Ring<'a> {
    region: &'a Region,
    centre: Point,
    toward: Point,
}

impl Ring<'_> {
    /// The pieces between two angles from the direction, counter-clockwise.
    fn pieces(&self, from_rad: f64, to_rad: f64) -> Vec<Region> {
        let (low, high) = self.region.bounds();
        let reach = 4.0 * (low.distance(high) + 1.0);
        let steps = ((to_rad - from_rad) / WIDEST_RAD).ceil().max(1.0) as usize;
        let at = |k: usize| {
            let (sin, cos) = (from_rad + (to_rad - from_rad) * k as f64 / steps as f64).sin_cos();
            self.centre + (self.toward * cos + self.toward.left() * sin) * reach
        };
        let wedge = std::iter::once(self.centre).chain((0..=steps).map(at)).collect();
        let Ok(wedge) = Region::simple(wedge) else { return Vec::new() };
        clip::intersection(std::slice::from_ref(self.region), &[wedge])
    }

    fn share(&self, from_rad: f64, to_rad: f64) -> Option<Region> {
        let mut pieces = self.pieces(from_rad, to_rad);
        pieces.retain(|piece| piece.area_m2() > CRUMB_M2);
        (pieces.len() == 1).then(|| pieces.swap_remove(0))
    }

    /// Area between the direction and an angle, square metres.
    fn area_m2(&self, to_rad: f64) -> f64 {
        // In two halves, for a wedge beyond a half turn is no convex one.
        let half = to_rad.min(PI);
        let areas = [(0.0, half), (half, to_rad)].map(|(from, to)| {
            if to - from < 1e-9 {
                return 0.0;
            }
            self.pieces(from, to).iter().map(Region::area_m2).sum::<f64>()
        });
        areas.iter().sum()
    }

    /// The angle up to which a given area lies, counter-clockwise from the direction.
    fn angle_of(&self, area_m2: f64) -> f64 {
        let (mut low, mut high) = (0.0, TAU);
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if self.area_m2(middle) < area_m2 { low = middle } else { high = middle }
        }
        (low + high) / 2.0
    }
}
