//! One loop of tube over one region, counterflow or in rows.
//!
//! A loop leaves an entry and comes back to it, so it is the edge of a band
//! that is one spacing wide. Drawn along a tree (rings of the region at twice
//! the spacing, each cut open once and linked to the next) the band covers the
//! region, and because the edge of one connected band without holes never meets
//! itself, the tube cannot cross itself. Supply and return run side by side all
//! the way in.
//!
//! The rings are plain offsets of the region. Spacing, direction and the filling
//! of leftover places are tried in a few variants, and the best-covering one
//! with the fewest tight bends is kept.
//!
//! A pattern is a choice of tree: rings give counterflow; rows along the outside
//! walls, joined at one end, a serpentine; joined at one end and the other in turn,
//! a doubled one; and rows of two spacings a dense band.

mod around;
mod body;
mod comb;
mod cover;
mod entry;
mod even;
pub(crate) mod grooved;
mod guide;
mod judge;
mod lobes;
mod pinched;
mod rings;
mod rowed;
mod rows;
mod scan;
mod search;
mod tree;
mod wind;
mod zone;

use std::fmt;

use crate::path::{Bend, Path};
use crate::point::Point;
use crate::region::Region;

pub use zone::{Effort, Outline, Port, Zone, outlines};

/// What a loop has to look like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FillSpec {
    /// Wanted distance between neighbouring strands in metres, 0.04 to 1.
    pub spacing_m: f64,
    /// Distance of the outermost strand from the walls in metres, 0 to 1.
    ///
    /// At less than half the spacing, half the spacing is kept instead.
    pub wall_clearance_m: f64,
    /// Radius that bends should have in metres, 0 to 1.
    pub bend_radius_m: f64,
}

/// A loop of tube in a region, and how well it serves it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// The tube from the supply end to the return end.
    ///
    /// Both ends lie on the boundary of the region beside the entry, one
    /// spacing apart, the supply end on the left seen from inside.
    pub path: Path,
    /// Bends tighter than the radius asked for, in order along the path.
    pub tight_bends: Vec<Bend>,
    /// Share of the region near a tube, 0 to 1.
    ///
    /// Near is within three quarters of the spacing, or within the wall
    /// clearance if that is more. Measured on a grid of a third of a spacing.
    pub covered_fraction: f64,
    /// Area of the covered share in square metres.
    pub heated_area_m2: f64,
    /// Spacing actually used, within 9 % of the one asked for, metres.
    pub spacing_used_m: f64,
    /// Place on the boundary midway between the two ends.
    pub entry: Point,
}

/// Why a region got no loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoFill {
    /// The spacing is not a number from 0.04 to 1 m.
    UnusableSpacing,
    /// The wall clearance is not a number from 0 to 1 m.
    UnusableClearance,
    /// The bend radius is not a number from 0 to 1 m.
    UnusableRadius,
    /// The entry is not a number, or more than a metre outside the region.
    EntryElsewhere,
    /// The region does not hold a single turn of tube.
    SmallerThanOneTurn {
        /// Width in metres that a turn needs between the walls.
        needed_width_m: f64,
    },
    /// No two strands fit between the entry and the first turn.
    EntryTooNarrow,
    /// The tube's bends are too wide for the spacing in any uniform pattern.
    BendsTooWide {
        /// Closest spacing that the radius allows in metres.
        closest_m: f64,
    },
    /// The region would take more than three kilometres of tube.
    TooLarge,
    /// No variant gave a sound loop.
    NoLayout,
}

impl fmt::Display for NoFill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoFill::UnusableSpacing => write!(f, "the spacing must be from 0.04 to 1 m"),
            NoFill::UnusableClearance => write!(f, "the wall clearance must be from 0 to 1 m"),
            NoFill::UnusableRadius => write!(f, "the bend radius must be from 0 to 1 m"),
            NoFill::EntryElsewhere => write!(f, "the entry is not at the region"),
            NoFill::SmallerThanOneTurn { needed_width_m } => {
                write!(f, "one turn of tube needs {needed_width_m:.2} m between the walls")
            }
            NoFill::EntryTooNarrow => write!(f, "supply and return do not fit in at the entry"),
            NoFill::BendsTooWide { closest_m } => {
                write!(f, "bends of this tube need a spacing of at least {closest_m:.3} m")
            }
            NoFill::TooLarge => write!(f, "the region is too large for one loop"),
            NoFill::NoLayout => write!(f, "no sound loop was found"),
        }
    }
}

impl std::error::Error for NoFill {}

/// Longest tube considered, metres.
const LONGEST_M: f64 = 3000.0;

/// Farthest an entry may lie outside its region, metres.
const ENTRY_REACH_M: f64 = 1.0;

/// Lays one counterflow loop over a region.
///
/// `entry` is a place on or near the boundary; the ends of the loop lie on the
/// boundary beside it, moved along the wall where a corner leaves no room for
/// two strands. The same input always gives the same loop.
///
/// # Errors
/// A [`NoFill`] with the plain reason.
pub fn counterflow(region: &Region, entry: Point, spec: &FillSpec) -> Result<Fill, NoFill> {
    check(region, entry, spec)?;
    scan::best(region, entry, spec)
}

fn check(region: &Region, entry: Point, spec: &FillSpec) -> Result<(), NoFill> {
    if !(0.0..=1.0).contains(&spec.wall_clearance_m) {
        return Err(NoFill::UnusableClearance);
    }
    check_figures(region, spec.spacing_m, spec.bend_radius_m)?;
    let near = region.contains(entry) || region.boundary_distance_m(entry) <= ENTRY_REACH_M;
    if !entry.is_finite() || !near {
        return Err(NoFill::EntryElsewhere);
    }
    Ok(())
}

fn check_figures(region: &Region, spacing_m: f64, bend_radius_m: f64) -> Result<(), NoFill> {
    if !(0.04..=1.0).contains(&spacing_m) {
        return Err(NoFill::UnusableSpacing);
    }
    if !(0.0..=1.0).contains(&bend_radius_m) {
        return Err(NoFill::UnusableRadius);
    }
    let (low, high) = region.bounds();
    let box_m2 = (high.x - low.x) * (high.y - low.y);
    // The box is limited too, since coverage is measured on a grid over it.
    if region.area_m2() > LONGEST_M * spacing_m || box_m2 > 20.0 * LONGEST_M * spacing_m {
        return Err(NoFill::TooLarge);
    }
    Ok(())
}
