//! What a layout leaves to be wished for where no loop is lacking.

use super::crowd;
use super::layout::{Layout, Near};
use super::plan::Plan;
use super::weigh::{COLD, WORST_SPREAD, spread};

/// Tube may draw together this near a manifold, metres.
const AT_MANIFOLD_M: f64 = 0.35;

/// Gaps between loops this little below the least are rounding, metres.
const ROUNDING_M: f64 = 1e-3;

/// What two loops that come too near each other weigh against differences in length.
const TOO_NEAR: f64 = 0.1;

/// What cold floor beyond what is put up with weighs, if it were all of a loop's floor.
const COLD_WEIGHT: f64 = 3.0;

/// Flaws of a layout that other choices may mend.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Flaws {
    /// Rooms with very uneven loops or one that leaves much of its floor cold, each once.
    pub(super) rooms: Vec<usize>,
    /// Pairs of loops that come nearer to each other than leaders may.
    pub(super) near: Vec<Near>,
    /// All of them together.
    pub(super) weight: f64,
}

impl Flaws {
    /// The flaws of a layout of a plan.
    pub(super) fn of(layout: &Layout, plan: &Plan) -> Flaws {
        let mut flaws = Flaws::default();
        for room in 0..plan.rooms.len() {
            let own = || layout.loops.iter().filter(|l| l.room == room);
            let lengths: Vec<f64> = own().map(|l| l.path.length_m()).collect();
            let uneven = (spread(&lengths) - WORST_SPREAD).max(0.0);
            let cold = own().map(|l| (1.0 - COLD - l.covered_fraction).max(0.0)).sum::<f64>();
            if uneven + cold > 0.0 {
                flaws.rooms.push(room);
            }
            flaws.weight += uneven + COLD_WEIGHT * cold;
        }
        let ports: Vec<_> = plan.manifolds.iter().map(|m| m.ports).collect();
        let paths: Vec<_> = layout.loops.iter().map(|l| &l.path).collect();
        let least_m = plan.leader_gap_m - ROUNDING_M;
        flaws.near = crowd::near_each_other(&paths, least_m, &ports, AT_MANIFOLD_M);
        flaws.weight += TOO_NEAR * flaws.near.len() as f64;
        flaws
    }
}
