//! Loops kept from earlier layouts.

use super::own::{Laid, Order};
use crate::fill::{Effort, NoFill};

/// Loops already laid, found again by all that they depend on.
///
/// A layout is the same with and without it; only the time differs. What was not asked
/// for in the last two rounds is forgotten when a new one begins.
#[derive(Clone, Debug, Default)]
pub struct Kept {
    entries: Vec<Entry>,
    round: u64,
}

#[derive(Clone, Debug)]
struct Entry {
    digest: u64,
    order: Order,
    effort: Effort,
    laid: Result<Laid, NoFill>,
    used: u64,
}

/// Rounds after which a loop that nobody asks for is forgotten.
const ROUNDS_KEPT: u64 = 2;

impl Kept {
    /// Nothing kept yet.
    pub fn new() -> Kept {
        Kept::default()
    }

    /// Begins a round of layouts, and forgets what is out of use.
    pub fn begin(&mut self) {
        self.round += 1;
        let round = self.round;
        self.entries.retain(|entry| entry.used + ROUNDS_KEPT >= round);
    }

    /// The loop for an order, laid now or earlier.
    pub(super) fn laid(&mut self, order: &Order, effort: Effort) -> Result<Laid, NoFill> {
        let digest = digest(order);
        let round = self.round;
        let known = self.entries.iter_mut().find(|entry| {
            entry.digest == digest && entry.effort == effort && entry.order == *order
        });
        if let Some(entry) = known {
            entry.used = round;
            return entry.laid.clone();
        }
        let laid = order.laid(effort);
        let kept = Entry { digest, order: order.clone(), effort, laid: laid.clone(), used: round };
        self.entries.push(kept);
        laid
    }
}

/// A number that tells most orders apart.
fn digest(order: &Order) -> u64 {
    let rings = order.floor.rings().flatten();
    let ends = order.leader.segments.iter().map(|s| s.to());
    rings.copied().chain(ends).fold(17, |sum, p| {
        let mix = |sum: u64, v: f64| sum.wrapping_mul(0x0100_0000_01b3) ^ v.to_bits();
        mix(mix(sum, p.x), p.y)
    })
}
