//! Trying a few variants of a loop and keeping the best.

use super::cover::Grid;
use super::{Fill, FillSpec, NoFill, body, entry, pinched, rings, wind};
use crate::chain;
use crate::path::Path;
use crate::point::Point;
use crate::region::Region;
use crate::verify;

/// Spacings tried, as multiples of the one wanted, the likeliest first.
///
/// A closed curve crosses every line an even number of times, so an odd number
/// of gaps must fit between opposite walls; a small change of spacing makes it.
const SCALES: [f64; 7] = [1.0, 0.97, 1.03, 0.94, 1.06, 0.91, 1.09];

/// Points are cold in the choice beyond this many spacings from the tube.
const COLD: f64 = 0.73;

/// Cost of a change of spacing by its own size.
///
/// High enough that a spacing asked for is kept within a few per cent where a
/// room allows it: the heat of the floor hangs on it.
///
/// Scales come in the order of their change, so once a variant costs less than
/// the next change alone, no later one can be better.
const CHANGE_COST: f64 = 0.10;

struct Candidate {
    cost: f64,
    corners: Vec<Point>,
    spacing: f64,
    foot: Point,
}

/// What stays the same for all variants of one region.
struct Room<'a> {
    region: &'a Region,
    entry: Point,
    spec: &'a FillSpec,
    grid: Grid,
}

pub(super) fn best(region: &Region, entry: Point, spec: &FillSpec) -> Result<Fill, NoFill> {
    let strip = (spec.wall_clearance_m - spec.spacing_m / 2.0).max(0.0);
    let Some(core) = largest(region.offset_inward(strip)) else { return Err(too_small(spec)) };
    let grid = Grid::over(&core, 0.45 * spec.spacing_m);
    let room = Room { region, entry, spec, grid };
    let mut candidates: Vec<Candidate> = Vec::new();
    let mut reason = too_small(spec);
    for scale in SCALES {
        let least = CHANGE_COST * f64::abs(scale - 1.0);
        if candidates.iter().any(|c| c.cost <= least + 1e-12) {
            if let Some(fill) = room.first_sound(&mut candidates) {
                return Ok(fill);
            }
            candidates.clear();
        }
        match room.variants(scale) {
            Ok(found) => {
                reason = NoFill::NoLayout;
                candidates.extend(found);
            }
            Err(NoFill::EntryTooNarrow) => reason = NoFill::EntryTooNarrow,
            Err(_) => {}
        }
    }
    room.first_sound(&mut candidates).ok_or(reason)
}

fn too_small(spec: &FillSpec) -> NoFill {
    let clearance = spec.wall_clearance_m.max(spec.spacing_m / 2.0);
    NoFill::SmallerThanOneTurn { needed_width_m: 2.0 * clearance + 0.6 * spec.spacing_m }
}

fn largest(regions: Vec<Region>) -> Option<Region> {
    regions.into_iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))
}

impl Room<'_> {
    /// The cheapest candidate that makes a sound loop.
    fn first_sound(&self, candidates: &mut [Candidate]) -> Option<Fill> {
        candidates.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        candidates.iter().find_map(|candidate| self.finished(candidate))
    }

    /// All variants at one spacing.
    fn variants(&self, scale: f64) -> Result<Vec<Candidate>, NoFill> {
        let s = self.spec.spacing_m * scale;
        let strip = (self.spec.wall_clearance_m - s / 2.0).max(0.0);
        let small = too_small(self.spec);
        let floor = largest(self.region.offset_inward(strip)).ok_or(small)?;
        let clearance = self.spec.wall_clearance_m.max(s / 2.0);
        let rings = rings::rings(&floor, s);
        if rings.is_empty() && body::single_turn(&floor, s).is_empty() {
            return Err(small);
        }
        // Rather a little along the wall than a long way in to the first ring.
        let near = |foot: Point| {
            let reach = 1.3 * (clearance + s / 2.0);
            rings.iter().any(|r| r.level == 0 && chain::distance_to(&r.closed, foot) <= reach)
        };
        let stubs = [
            entry::stub(self.region, self.entry, s, clearance, near),
            entry::stub(self.region, self.entry, s, clearance, |_| true),
        ];
        if stubs.iter().all(Option::is_none) {
            return Err(NoFill::EntryTooNarrow);
        }
        for stub in stubs.into_iter().flatten() {
            let outlines = wind::outlines(&floor, &rings, &stub, s);
            if !outlines.is_empty() {
                let judge = |(corners, _)| self.judged(corners, s, stub.foot);
                return Ok(outlines.into_iter().map(judge).collect());
            }
        }
        Ok(Vec::new())
    }

    fn judged(&self, corners: Vec<Point>, spacing: f64, foot: Point) -> Candidate {
        let s = self.spec.spacing_m;
        let distances = self.grid.distances(&corners, 1.2 * s);
        let excess = distances.mean(|d| (d - 0.6 * s).max(0.0)) / s;
        let cold = (distances.share_beyond(COLD * s) - 0.003).max(0.0);
        let wanted = (0.8 * self.spec.bend_radius_m).min(0.43 * s);
        let shortfall = 0.3 * self.spec.bend_radius_m.max(1e-9);
        let tight: f64 = Path::rounded(&corners, self.spec.bend_radius_m)
            .bends()
            .iter()
            .map(|b| ((wanted - b.radius_m) / shortfall).clamp(0.0, 1.0))
            .sum();
        let change = (spacing / s - 1.0).abs();
        let pinch = f64::max(0.6 - pinched::least_gap(&corners, 0.6 * s, 1.5 * s) / s, 0.0);
        let cost = excess
            + 0.5 * cold
            + CHANGE_COST * change
            + 0.006 * tight / self.region.area_m2().max(1.0)
            + pinch;
        Candidate { cost, corners, spacing, foot }
    }

    /// The loop of a variant, or nothing if rounding spoiled it.
    fn finished(&self, candidate: &Candidate) -> Option<Fill> {
        let path = Path::rounded(&candidate.corners, self.spec.bend_radius_m);
        if !verify::crossings(std::slice::from_ref(&path)).is_empty()
            || verify::outside_m(&path, self.region) > 0.0
        {
            return None;
        }
        let spec = self.spec;
        let mut tight_bends = path.bends();
        tight_bends.retain(|b| b.radius_m < spec.bend_radius_m - 1e-9);
        let near = (0.75 * spec.spacing_m).max(spec.wall_clearance_m + 0.005);
        let grid = Grid::over(self.region, spec.spacing_m / 3.0);
        let distances = grid.distances(&path.chords(5e-4), 2.0 * near);
        let covered_fraction = 1.0 - distances.share_beyond(near);
        Some(Fill {
            path,
            tight_bends,
            covered_fraction,
            heated_area_m2: covered_fraction * self.region.area_m2(),
            spacing_used_m: candidate.spacing,
            entry: candidate.foot,
        })
    }
}
