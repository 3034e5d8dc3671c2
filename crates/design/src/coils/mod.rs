//! Tube on coils: which loop is cut from which coil, and what was laid.
//!
//! A loop lies in one piece: no joint under the floor. The plan buys the least tube, then cuts into
//! the fewest coils, then keeps the longest single piece left.

mod cuts;
mod judge;
mod laid;
mod packing;
mod stock;

pub(crate) use cuts::plan;
pub(crate) use judge::{judge, run_out};
pub(crate) use laid::{as_laid, has_laid_loops};

use crate::figure::Figure;
use quantity::{Length, Ratio};

/// Coil cuts, and loops as laid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Coils {
    /// The cuts of each tube, in the order of the loops.
    pub tubes: Vec<TubeCuts>,
    /// Loops that are laid, in the order of the loops.
    pub laid: Vec<LaidLength>,
}

impl Coils {
    /// What was read of a loop, if it is laid.
    pub fn laid(&self, key: &str) -> Option<&LaidLength> {
        self.laid.iter().find(|laid| laid.key == key)
    }
}

/// All cuts of one tube.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeCuts {
    /// Tube, by catalogue key.
    pub tube: String,
    /// Coils in the order in which they are cut.
    pub coils: Vec<CoilCuts>,
    /// Loops for which no coil has enough tube left, by key.
    pub without: Vec<String>,
    /// Tube cut for all loops, allowances included.
    pub cut: Figure<Length>,
    /// Tube that is bought.
    pub bought: Figure<Length>,
    /// Tube left on all coils.
    pub left: Figure<Length>,
    /// No plan buys less than this, in metres.
    pub least_bought_m: f64,
    /// Whether no plan is better in any respect.
    pub exact: bool,
    /// Whether the rule set gave the sizes of coils, because the job names none.
    pub sizes_assumed: bool,
}

/// One coil with the loops that are cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct CoilCuts {
    /// Its number on the card, from one, over all tubes.
    pub number: usize,
    /// The key of the coil in the text; none where the rule set gave its size.
    pub coil: Option<String>,
    /// Whether it is on hand; else it is bought.
    pub on_hand: bool,
    /// Tube on it before the first cut.
    pub length: Figure<Length>,
    /// Its loops, in the order in which they are laid.
    pub cuts: Vec<Cut>,
    /// Tube left on it.
    pub left: Figure<Length>,
}

/// One loop cut from a coil.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The loop's key.
    pub key: String,
    /// The manifold it hangs on, by key.
    pub manifold: String,
    /// Tube from port to port as drawn.
    pub drawn: Figure<Length>,
    /// Tube to cut: drawn length and allowance.
    pub length: Figure<Length>,
    /// Mark on the tube where it starts.
    pub start: Figure<Length>,
    /// Mark on the tube where it is cut.
    pub end: Figure<Length>,
    /// Tube left on the coil behind it.
    pub left: Figure<Length>,
}

/// A loop as it lies beside the drawn one.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidLength {
    /// The loop's key.
    pub key: String,
    /// Tube from port to port as drawn.
    pub drawn: Figure<Length>,
    /// Mark at the supply port.
    pub start: Figure<Length>,
    /// Mark at the return port.
    pub end: Figure<Length>,
    /// Tube from mark to mark.
    pub laid: Figure<Length>,
    /// Laid length less the drawn one.
    pub difference: Figure<Length>,
    /// The difference as a share of the drawn length.
    pub share: Figure<Ratio>,
    /// The coil it was cut from, by key or in words.
    pub coil: Option<String>,
    /// When it was read, in words.
    pub date: Option<String>,
}
