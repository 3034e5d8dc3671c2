//! The loop of one zone: its leader, its field, and the leader back.

use std::ops::Range;

use super::crowd;
use super::curve;
use super::leaders;
use super::plan::Pattern;
use crate::clip;
use crate::fill::{self, Effort, NoFill, Outline, Port};
use crate::path::{Path, Segment};
use crate::point::Point;
use crate::region::Region;
use crate::relax::{self, Fence, Strand, Wishes};

/// Least distance between strands beside bends, centre to centre, metres.
const LEAST_GAP_M: f64 = 0.05;

/// Gaps this little below the least come from arcs told by chords, metres.
const ROUNDING_M: f64 = 1e-3;

/// Pieces of tube shorter than this are rounding, metres.
const DUST_M: f64 = 5e-7;

/// Pieces that differ less in direction go straight on, radians.
const STRAIGHT_RAD: f64 = 1e-4;

/// Share of the spacing kept between strands where no bend needs the room.
const FIELD_GAP: f64 = 0.67;

/// Share of the spacing, or of the wall clearance, kept to the edge where no bend needs it.
const OWN_EDGE: f64 = 0.45;

/// What the loop of one zone depends on, and nothing else.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Order {
    /// The floor of its field.
    pub(super) floor: Region,
    /// Floors of the rooms that it passes and of its own, without keep-outs.
    pub(super) rooms: Vec<Region>,
    /// Distance from walls that was asked for, metres.
    pub(super) wall_clearance_m: f64,
    /// Centreline of its leader, from behind the manifold's wall to the edge of its floor.
    pub(super) leader: Path,
    /// Where the leader passes the face of that wall, and the direction into the room.
    pub(super) face: [Point; 2],
    /// Distance between the two tubes of the leader, metres.
    pub(super) gap_m: f64,
    pub(super) spacing_m: f64,
    pub(super) bend_radius_m: f64,
    pub(super) pattern: Pattern,
    pub(super) outside_walls: Vec<[Point; 2]>,
}

/// The loop of one zone.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Laid {
    pub(super) path: Path,
    /// Length of the leader there, and of the leader back, metres.
    pub(super) leaders_m: [f64; 2],
    pub(super) spacing_m: f64,
    pub(super) pattern: Pattern,
    pub(super) why: &'static str,
    /// Share of the floor that is far from any tube, 0 to 1.
    pub(super) uncovered: f64,
    /// Bends tighter than the radius.
    pub(super) tight: usize,
    /// Whether strands of the field come nearer than any may, as far as that was looked at.
    pub(super) is_crowded: bool,
}

impl Laid {
    /// Tight bends, and places where strands are crowded if there are any.
    pub(super) fn flaws(&self) -> usize {
        self.tight + usize::from(self.is_crowded)
    }

    /// Where its field lies along it, metres.
    fn field_m(&self) -> Range<f64> {
        self.leaders_m[0]..self.path.length_m() - self.leaders_m[1]
    }

    /// Whether any bend between the leaders is tighter than a radius.
    fn is_tight_in_field(&self, radius_m: f64) -> bool {
        let field = self.field_m();
        let mut bends = self.path.bends().into_iter();
        bends.any(|b| b.radius_m < radius_m - 1e-4 && field.contains(&b.at_distance_m))
    }
}

impl Order {
    /// Ways to lay the field, the best first.
    pub(super) fn outlines(&self, effort: Effort) -> Result<Vec<Outline>, NoFill> {
        let (at, inward) = self.port().ok_or(NoFill::EntryElsewhere)?;
        let zone = fill::Zone {
            floor: &self.floor,
            port: Port { at, inward, gap_m: self.gap_m },
            spacing_m: self.spacing_m,
            bend_radius_m: self.bend_radius_m,
            pattern: self.pattern,
            outside_walls: &self.outside_walls,
        };
        fill::outlines(&zone, effort)
    }

    /// The loop along the best outline, its bends as they come.
    pub(super) fn drawn(&self, outlines: &[Outline]) -> Result<Laid, NoFill> {
        outlines.first().map(|outline| self.tube(outline)).ok_or(NoFill::NoLayout)
    }

    /// The loop bent as tube bends, along the first outline that allows it.
    pub(super) fn laid(&self, outlines: &[Outline]) -> Result<Laid, NoFill> {
        let mut best: Option<Laid> = None;
        let ground = self.ground();
        self.is_bent_along(outlines, &ground, &mut best);
        best.ok_or(NoFill::NoLayout)
    }

    /// Bends tube along one outline after the other; true once nothing is tight in the field.
    fn is_bent_along(
        &self,
        outlines: &[Outline],
        ground: &[Region],
        best: &mut Option<Laid>,
    ) -> bool {
        outlines.iter().any(|outline| {
            let laid = self.bent(self.tube(outline), ground);
            // What is tight in the leader stays so whatever the field.
            let is_bent = laid.tight == 0 || !laid.is_tight_in_field(self.bend_radius_m);
            let is_good = is_bent && !laid.is_crowded;
            if is_good || best.as_ref().is_none_or(|b| laid.flaws() < b.flaws()) {
                *best = Some(laid);
            }
            is_good
        })
    }

    /// The floor of this loop alone: its field and the strip of its leader.
    fn ground(&self) -> Vec<Region> {
        let strip = leaders::overlapping_strip(&self.leader, self.gap_m);
        clip::union(std::slice::from_ref(&self.floor), &strip)
    }

    /// The loop with its tight bends laid anew within its own floor.
    fn bent(&self, laid: Laid, ground: &[Region]) -> Laid {
        let strand = Strand { path: laid.path, spacing_m: laid.spacing_m };
        let own =
            Fence { ground, clearance_m: LEAST_GAP_M / 2.0, wanted_m: OWN_EDGE * laid.spacing_m };
        let walls = Fence {
            ground: &self.rooms,
            clearance_m: self.wall_clearance_m / 2.0,
            wanted_m: OWN_EDGE * self.wall_clearance_m,
        };
        let wishes =
            Wishes { radius_m: self.bend_radius_m, least_gap_m: LEAST_GAP_M, field_gap: FIELD_GAP };
        let mut relaxed = relax::relaxed(std::slice::from_ref(&strand), &[own, walls], &wishes);
        let mut path = relaxed.paths.pop().unwrap_or(strand.path);
        path.segments.retain(|s| s.length_m() > DUST_M);
        let mut laid = Laid { path, tight: relaxed.tight, ..laid };
        let least_m = LEAST_GAP_M - ROUNDING_M;
        laid.is_crowded =
            crowd::is_crowded(&laid.path, &laid.field_m(), self.bend_radius_m, least_m);
        laid
    }

    /// Where the leader comes onto the floor, and in which direction.
    fn port(&self) -> Option<(Point, Point)> {
        let last = self.leader.segments.last()?;
        Some((self.floor.nearest_boundary(last.to()), last.direction_to()))
    }

    /// Leader, field and leader back as one tube.
    fn tube(&self, outline: &Outline) -> Laid {
        // Coming in, the supply lies on the right.
        let half = self.gap_m / 2.0;
        let [at, inward] = self.face;
        let strand = |left_m| curve::begun(curve::beside(&self.leader, left_m), at, inward);
        let mut out = strand(-half);
        let mut back = strand(half).reversed();
        // Up to the first turn both strands go on side by side.
        let leaders_m = [out.length_m(), back.length_m()].map(|length| length + outline.way_m);
        let mut corners = outline.corners.clone();
        // The last straight pieces of the leader belong to the first corners of the field.
        if let Some(Segment::Line { from, .. }) = out.segments.last().copied() {
            out.segments.pop();
            begin_from(&mut corners, from);
        }
        if let Some(Segment::Line { to, .. }) = back.segments.first().copied() {
            back.segments.remove(0);
            corners.reverse();
            begin_from(&mut corners, to);
            corners.reverse();
        }
        // Half turns of boards are as wide as from groove to groove.
        let radius_m = match self.pattern {
            Pattern::Grooves(_) => self.bend_radius_m.max(self.spacing_m / 2.0),
            _ => self.bend_radius_m,
        };
        let field = Path::rounded(&corners, radius_m);
        let path = curve::joined([out, field, back]);
        let tight = path.bends().iter().filter(|b| b.radius_m < self.bend_radius_m - 1e-4).count();
        Laid {
            path,
            leaders_m,
            spacing_m: outline.spacing_m,
            pattern: outline.pattern,
            why: outline.why,
            uncovered: outline.uncovered,
            tight,
            is_crowded: false,
        }
    }
}

/// A chain begun farther back; its first corner stays where the chain would leave the line there.
fn begin_from(corners: &mut Vec<Point>, from: Point) {
    let [first, next, ..] = corners.as_slice() else { return };
    let is_straight = (*first - from).angle_to(*next - from).abs() < STRAIGHT_RAD;
    corners.splice(0..usize::from(is_straight), [from]);
}
