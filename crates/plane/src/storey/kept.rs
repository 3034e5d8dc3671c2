//! Loops kept from earlier layouts.

use super::own::{Laid, Order};
use crate::fill::{Effort, NoFill, Outline};

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
    outlines: Result<Vec<Outline>, NoFill>,
    /// Once it was asked for.
    bent: Option<Result<Laid, NoFill>>,
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

    /// The loop for an order, bent or only drawn, from outlines found now or earlier.
    ///
    /// Both follow the same outline, so what is drawn tells how long the loop will be.
    pub(super) fn laid(
        &mut self,
        order: &Order,
        effort: Effort,
        bent: bool,
    ) -> Result<Laid, NoFill> {
        let round = self.round;
        let entry = self.entry(order, effort);
        entry.used = round;
        let outlines = entry.outlines.as_ref().map_err(|flaw| *flaw)?;
        if bent {
            entry.bent.get_or_insert_with(|| order.laid(outlines)).clone()
        } else {
            order.drawn(outlines)
        }
    }

    /// The entry for an order, made anew if there is none.
    fn entry(&mut self, order: &Order, effort: Effort) -> &mut Entry {
        let digest = digest(order);
        let known = self.entries.iter().position(|entry| {
            entry.digest == digest && entry.effort == effort && entry.order == *order
        });
        let number = known.unwrap_or(self.entries.len());
        if known.is_none() {
            self.entries.push(Entry {
                digest,
                order: order.clone(),
                effort,
                outlines: order.outlines(effort),
                bent: None,
                used: self.round,
            });
        }
        &mut self.entries[number]
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
