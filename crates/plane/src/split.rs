//! Shares of a region for several loops.
//!
//! The region is cut by parallel lines into shares of given sizes. Cuts square
//! to the wall of the entry come first: then every share has a stretch of that
//! wall and its loop starts there.

use crate::chain;
use crate::clip;
use crate::point::{Point, nearest_share};
use crate::region::Region;

/// Most shares a region is cut into.
const MOST_SHARES: usize = 100;

/// Cuts a region into shares of equal area.
///
/// Each share comes with its entry: the place of its boundary nearest to
/// `entry`. The areas add up to that of the region; they are equal unless a hole
/// or a corner cuts a share in two, whose smaller pieces then go to neighbours.
/// A count of 0 is taken as 1; more than 100 as 100. Shares are ordered along
/// the cuts and never more than asked for.
pub fn side_by_side(region: &Region, entry: Point, count: usize) -> Vec<(Region, Point)> {
    weighted(region, entry, &vec![1.0; count.clamp(1, MOST_SHARES)])
}

/// Cuts a region into shares proportional to weights.
///
/// As [`side_by_side`]; weights that are not positive numbers count as 1. Use it
/// to even out loop lengths: divide each weight by the length it gave.
pub fn weighted(region: &Region, entry: Point, weights: &[f64]) -> Vec<(Region, Point)> {
    let entry = if entry.is_finite() { entry } else { region.outer()[0] };
    let weights: Vec<f64> = weights
        .iter()
        .take(MOST_SHARES)
        .map(|w| if w.is_finite() && *w > 0.0 { *w } else { 1.0 })
        .collect();
    if weights.len() < 2 {
        return vec![(region.clone(), region.nearest_boundary(entry))];
    }
    let wall = wall_at(region, entry);
    let mut best: Option<Cut> = None;
    for across in [wall, wall.left()] {
        let cut = Cut::along(region, entry, across, &weights, &[]);
        if best.as_ref().is_none_or(|b| cut.cost < b.cost - 1e-9) {
            best = Some(cut);
        }
    }
    let shares = best.map(|b| b.shares).unwrap_or_default();
    shares
        .into_iter()
        .map(|share| {
            let at = share.nearest_boundary(entry);
            (share, at)
        })
        .collect()
}

/// Direction of the edge nearest to the entry, the first one in a tie.
fn wall_at(region: &Region, entry: Point) -> Point {
    let mut best = (f64::INFINITY, Point::new(1.0, 0.0));
    for (a, b) in region.edges() {
        let distance = a.lerp(b, nearest_share(a, b, entry)).distance(entry);
        if distance < best.0 - 1e-9 {
            best = (distance, (b - a).unit());
        }
    }
    best.1
}

/// A region cut by lines square to one direction.
struct Cut {
    shares: Vec<Region>,
    /// Lower is better.
    cost: f64,
}

impl Cut {
    fn along(
        region: &Region,
        entry: Point,
        across: Point,
        weights: &[f64],
        keep_off: &[[f64; 2]],
    ) -> Cut {
        let total: f64 = weights.iter().sum();
        let mut rest = vec![region.clone()];
        let mut strips: Vec<Vec<Region>> = Vec::new();
        let mut sum = 0.0;
        for weight in &weights[..weights.len() - 1] {
            sum += weight;
            let at = off(keep_off, level_of_share(region, across, sum / total));
            let half = half_plane(region, across, at);
            strips.push(clip::intersection(&rest, &half));
            rest = clip::difference(&rest, &half);
        }
        strips.push(rest);
        let broken: usize = strips.iter().map(|s| s.len().saturating_sub(1)).sum();
        let shares = gathered(strips);
        let lost = weights.len().saturating_sub(shares.len());
        let reach: f64 = shares.iter().map(|s| s.boundary_distance_m(entry)).sum();
        let rim: f64 = shares.iter().map(Region::perimeter_m).sum();
        // A broken share weighs most, then how far tube must run to a share,
        // then how long-drawn the shares are.
        let cost = 1e3 * (broken + lost) as f64 + reach + 0.5 * rim;
        Cut { shares, cost }
    }
}

/// The level nearest to a wanted one that lies in no stretch to keep off; these in order.
fn off(keep_off: &[[f64; 2]], wanted: f64) -> f64 {
    let hit = keep_off.iter().find(|[low, high]| *low < wanted && wanted < *high);
    hit.map_or(wanted, |[low, high]| if wanted - low < high - wanted { *low } else { *high })
}

/// How far along a direction a share of the area lies, by bisection.
fn level_of_share(region: &Region, across: Point, share: f64) -> f64 {
    let wanted = share * region.area_m2();
    let levels = region.outer().iter().map(|p| p.dot(across));
    let (mut low, mut high) =
        levels.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if area_below(region, across, middle) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// Area of the part of a region below a level along a direction.
fn area_below(region: &Region, across: Point, level: f64) -> f64 {
    region.rings().map(|ring| chain::double_area(&below(ring, across, level))).sum::<f64>() / 2.0
}

/// A ring clipped by a half-plane; pieces stay joined along the cut, where they
/// add no area.
fn below(ring: &[Point], across: Point, level: f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(ring.len() + 4);
    for (a, b) in chain::ring_edges(ring) {
        let (u, v) = (a.dot(across) - level, b.dot(across) - level);
        if u <= 0.0 {
            kept.push(a);
        }
        if (u <= 0.0) != (v <= 0.0) {
            kept.push(a.lerp(b, u / (u - v)));
        }
    }
    kept
}

/// The part of a region's surroundings below a level.
fn half_plane(region: &Region, across: Point, level: f64) -> Vec<Region> {
    let (low, high) = region.bounds();
    let size = low.distance(high) + 1.0;
    let foot = low.lerp(high, 0.5);
    let on_cut = foot + across * (level - foot.dot(across));
    let side = across.left() * size;
    let back = across * (-2.0 * size);
    let corners = vec![on_cut - side, on_cut + side, on_cut + side + back, on_cut - side + back];
    vec![Region::trusted(corners, Vec::new())]
}

/// One region per strip: the largest piece, and stray pieces added to the share
/// they border longest.
fn gathered(strips: Vec<Vec<Region>>) -> Vec<Region> {
    let mut shares = Vec::new();
    let mut strays = Vec::new();
    for mut strip in strips {
        strip.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
        let mut pieces = strip.into_iter();
        shares.extend(pieces.next());
        strays.extend(pieces);
    }
    // A stray may border only another stray, so go round until all are placed.
    for _ in 0..=strays.len() {
        strays.retain(|stray| !placed(&mut shares, stray));
    }
    // What borders nothing (a piece joined at a corner only) stays a share.
    shares.extend(strays);
    shares
}

fn placed(shares: &mut [Region], stray: &Region) -> bool {
    let mut order: Vec<(f64, usize)> = shares
        .iter()
        .enumerate()
        .map(|(i, share)| (common_border_m(share, stray), i))
        .filter(|(border, _)| *border > 1e-3)
        .collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (_, i) in order {
        let mut whole = clip::union(&shares[i..=i], std::slice::from_ref(stray));
        if whole.len() == 1 {
            shares[i] = whole.swap_remove(0);
            return true;
        }
    }
    false
}

/// Length of the boundary of `stray` that lies on that of `share`, metres.
fn common_border_m(share: &Region, stray: &Region) -> f64 {
    let mut border = 0.0;
    for (a, b) in stray.edges() {
        for (c, d) in share.edges() {
            let along = (b - a).unit();
            let off = along.cross(c - a).abs().max(along.cross(d - a).abs());
            if off < 1e-5 {
                let (t, u) = (along.dot(c - a), along.dot(d - a));
                border += (t.max(u).min(a.distance(b)) - t.min(u).max(0.0)).max(0.0);
            }
        }
    }
    border
}

/// Cuts a region by parallel lines into as many connected shares as there are weights.
///
/// Shares follow each other along `across`, in the order of their weights; stray pieces
/// go to neighbours. Cuts give way to the stretches of `keep_off` along that direction, which
/// do not overlap. Nothing if that leaves fewer or more shares.
pub(crate) fn parallel(
    region: &Region,
    across: Point,
    weights: &[f64],
    keep_off: &[[f64; 2]],
) -> Option<Vec<Region>> {
    let weights = weights.get(..weights.len().min(MOST_SHARES))?;
    if weights.len() < 2 {
        return Some(vec![region.clone()]);
    }
    let cut = Cut::along(region, region.outer().first().copied()?, across, weights, keep_off);
    (cut.shares.len() == weights.len()).then_some(cut.shares)
}

/// Cuts a region in two by a straight line from a place on its boundary.
///
/// The first share lies to the right of the line and has the given share of the area, as far
/// as a line that leans by at most `steepest` (run over depth) from `inward` can give it.
/// Nothing if a share would fall into pieces.
pub(crate) fn from_place(
    region: &Region,
    from: Point,
    inward: Point,
    share: f64,
    steepest: f64,
) -> Option<Vec<Region>> {
    let wanted = share * region.area_m2();
    let aside = inward.left();
    // The more a line leans to the left, the more lies to its right.
    let (mut low, mut high) = (-steepest, steepest);
    for _ in 0..40 {
        let lean = (low + high) / 2.0;
        let across = (aside - inward * lean).unit();
        if area_below(region, across, from.dot(across)) < wanted { low = lean } else { high = lean }
    }
    let across = (aside - inward * ((low + high) / 2.0)).unit();
    let half = half_plane(region, across, from.dot(across));
    let whole = std::slice::from_ref(region);
    let (right, left) = (clip::intersection(whole, &half), clip::difference(whole, &half));
    let [right, left] = [right, left].map(|mut side| {
        side.retain(|piece| piece.area_m2() > 1e-4);
        (side.len() == 1).then(|| side.swap_remove(0))
    });
    Some(vec![right?, left?])
}
