//! Bends that the tube allows.
//!
//! Tube that follows the edge of a band one spacing wide turns back in half the
//! spacing, which most tube does not allow. Here every stretch that is bent too
//! tight is laid anew with arcs of the allowed radius: a turn becomes a bulb, a
//! short jog a gentle slope. What is bent well stays exactly as it is.
//!
//! A stretch is laid anew by choosing places of the old tube that the new one
//! passes in the old direction, and the best curve of two or three arcs between
//! one such place and the next. Near the old tube, clear of all other tube and
//! of the edges of the floor, and turned as little as possible is best.

mod bench;
mod chords;
mod cost;
mod near;
mod refine;
mod splice;
mod table;
mod track;
mod ways;

use crate::path::Path;
use crate::region::Region;
use bench::Bench;

/// Where tube may lie.
#[derive(Clone, Copy, Debug)]
pub struct Fence<'a> {
    /// The floor, pieces that do not touch each other.
    pub ground: &'a [Region],
    /// Least distance of tube from the edge of the floor, metres.
    ///
    /// Where it is nearer at first it comes no nearer still.
    pub clearance_m: f64,
    /// Distance from the edge that is kept where no bend needs the room, metres.
    pub wanted_m: f64,
}

/// A run of tube to be bent, crossing neither itself nor another.
#[derive(Clone, Debug, PartialEq)]
pub struct Strand {
    /// The tube, of which place and direction of both ends stay.
    pub path: Path,
    /// Distance to neighbouring strands that is meant, metres.
    pub spacing_m: f64,
}

/// What bends and gaps should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wishes {
    /// Smallest radius of bends, metres.
    pub radius_m: f64,
    /// Least distance between strands, centre to centre, metres.
    ///
    /// Where they are nearer at first they come no nearer still.
    pub least_gap_m: f64,
    /// Share of the spacing that is kept where no bend needs the room, about 0.67.
    pub field_gap: f64,
}

/// Tube bent anew.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Relaxed {
    /// The strands in their order.
    pub paths: Vec<Path>,
    /// Stretches that could not be bent anew and are as tight as before.
    pub tight: usize,
}

/// Bends every tight stretch of tube anew where there is room for it.
///
/// Stretches are taken in turn, each with all others as they lie by then. A
/// stretch without room stays as it is and is counted. Figures that are not
/// positive numbers leave all tube as it is.
pub fn relaxed(strands: &[Strand], fences: &[Fence<'_>], wishes: &Wishes) -> Relaxed {
    let mut bench = Bench::new(strands, fences, wishes);
    if bench.is_usable() {
        bench.bend_all();
    }
    bench.finished()
}
