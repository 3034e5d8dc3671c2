//! What speaks for and against an outline.

use std::f64::consts::PI;

use super::cover::Grid;
use super::pinched;
use super::search::Draft;
use super::zone::{Outline, Zone};
use crate::chain;
use crate::path::{Bend, Path};
use crate::point::{Point, crossing};
use crate::storey::Pattern;

/// Cost of a change of spacing by its own size.
///
/// High enough that a spacing asked for is kept within a few per cent where a
/// room allows it: the heat of the floor hangs on it.
const CHANGE_COST: f64 = 0.10;

/// Cost of cold floor by its share of the zone, above what corners make unavoidable.
const COLD_COST: f64 = 2.0;

/// Points are cold beyond this many spacings from the tube.
const COLD: f64 = 0.75;

/// Strands of a field keep this many spacings, before they make room for bulbs.
const APART: f64 = 0.7;

/// Cost of a turn that cannot have its radius, square metres of cold floor.
const TIGHT_M2: f64 = 0.012;

/// Cost of a reversal, whatever its radius, square metres of cold floor.
const REVERSAL_M2: f64 = 0.004;

/// Turns beyond this bring strands together in a wedge, radians.
const SHARP_RAD: f64 = 2.4;

/// Cost of such a turn, square metres of cold floor.
const SHARP_M2: f64 = 0.05;

/// Weighs the outlines of one zone.
pub(super) struct Judge<'a> {
    zone: &'a Zone<'a>,
    grid: Grid,
    area: f64,
}

impl<'a> Judge<'a> {
    pub(super) fn of(zone: &'a Zone<'a>) -> Judge<'a> {
        let area = zone.floor.area_m2();
        // Finer in small floors, so that a grid point is never much of the whole.
        let pitch = (0.45 * zone.spacing_m).min((area.sqrt() / 60.0).max(0.02));
        Judge { zone, grid: Grid::over(zone.floor, pitch), area: area.max(1.0) }
    }

    /// The draft with its figures, or nothing if it meets itself or a wall.
    pub(super) fn judged(&self, mut draft: Draft, why: &'static str) -> Option<Outline> {
        let s = self.zone.spacing_m;
        draft.corners = pinched::blunted(draft.corners, SHARP_RAD, APART * s);
        let radius = self.zone.bend_radius_m;
        let length_m = chain::length(&draft.corners);
        let field = chain::slice(&draft.corners, draft.way, length_m - draft.way);
        let closest = match draft.pattern {
            Pattern::Band { spacing_m, .. } => spacing_m.min(s),
            _ => s,
        };
        let gap = pinched::least_gap(&field, APART * closest, 1.5 * s);
        let sound = pinched::is_simple(&draft.corners) && self.is_inside(&draft.corners);
        if gap <= 0.0 || !sound {
            return None;
        }
        let distances = self.grid.distances(&draft.corners, 1.2 * s);
        let excess = distances.mean(|d| (d - 0.6 * s).max(0.0)) / s;
        let uncovered = distances.share_beyond(COLD * s);
        let bends = Path::rounded(&draft.corners, radius).bends();
        let tight = bends.iter().filter(|b| b.radius_m < radius - 1e-9).count();
        let reversals = bends.iter().filter(|b| b.turn_rad.abs() > 0.8 * PI).count() as f64;
        let effort: f64 = bends.iter().map(|b| self.bend_cost(b)).sum();
        let sharp = pinched::sharp_corners(&draft.corners, SHARP_RAD) as f64;
        let cost = excess
            + COLD_COST * (uncovered - 0.004).max(0.0)
            + CHANGE_COST * (draft.spacing / s - 1.0).abs()
            + (effort + REVERSAL_M2 * reversals + SHARP_M2 * sharp) / self.area
            + 2.0 * (APART - gap / closest).max(0.0);
        Some(Outline {
            corners: draft.corners,
            spacing_m: draft.spacing,
            pattern: draft.pattern,
            why,
            cost,
            uncovered,
            length_m,
            way_m: draft.way,
            tight,
        })
    }

    /// Whether a chain keeps inside the floor but for its two ends.
    fn is_inside(&self, corners: &[Point]) -> bool {
        let floor = self.zone.floor;
        let last = corners.len().saturating_sub(1);
        let inner = corners.get(1..last).unwrap_or_default();
        inner.iter().all(|p| floor.encloses(*p))
            && chain::edges(corners).enumerate().all(|(i, (a, b))| {
                // Off the boundary, on which the ends lie.
                let from = if i == 0 { a.lerp(b, 0.05) } else { a };
                let to = if i + 1 == last { b.lerp(a, 0.05) } else { b };
                floor.edges().all(|(c, d)| crossing(from, to, c, d).is_none())
            })
    }

    /// The share of the radius that a bend lacks, with what lacking it costs.
    fn bend_cost(&self, bend: &Bend) -> f64 {
        let radius = self.zone.bend_radius_m.max(1e-9);
        TIGHT_M2 * ((radius - bend.radius_m) / radius - 0.1).max(0.0) * 2.0
    }
}
