//! Which loop from which coil, in whole millimetres: no loop in two pieces, least tube bought.
//!
//! Up to [`EXACT_MOST`] loops the packing is the best there is. Beyond, a first packing is improved
//! by packing a few of its coils anew, exactly, until nothing gets better; a lower bound of the
//! bought tube tells how far from the best it can be.

mod bound;
mod exact;
mod first_fit;
mod improve;

use std::cmp::Reverse;
use std::ops::Add;

/// Loops up to which a packing is always exact.
pub(crate) const EXACT_MOST: usize = 8;
/// Steps that an exact packing of more loops may take.
const STEPS_MOST: u64 = 4_000_000;

/// Coils that there are, and sizes of coils that can be bought.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stock {
    /// Sizes that can be bought in any number.
    pub(crate) sizes_mm: Vec<u64>,
    /// Coils and rest pieces on hand, each of them once.
    pub(crate) pieces_mm: Vec<u64>,
}

impl Stock {
    /// The longest loop that some coil takes.
    pub(crate) fn longest_mm(&self) -> u64 {
        self.sizes_mm.iter().chain(&self.pieces_mm).copied().max().unwrap_or(0)
    }

    /// The shortest size that holds so much, and its number.
    fn smallest_size(&self, need_mm: u64) -> Option<(usize, u64)> {
        let sizes = self.sizes_mm.iter().copied().enumerate();
        sizes.filter(|(_, size)| *size >= need_mm).min_by_key(|(_, size)| *size)
    }

    fn length_mm(&self, source: Source) -> u64 {
        let found = match source {
            Source::Size(number) => self.sizes_mm.get(number),
            Source::Piece(number) => self.pieces_mm.get(number),
        };
        found.copied().unwrap_or(0)
    }
}

/// Where a coil comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Source {
    /// Bought, of that size.
    Size(usize),
    /// That piece on hand.
    Piece(usize),
}

/// A coil with the loops that are cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Filled {
    pub(crate) source: Source,
    /// Loops by number, ascending.
    pub(crate) loops: Vec<usize>,
}

/// Which loop from which coil.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Packing {
    pub(crate) coils: Vec<Filled>,
    /// Loops for which no tube is left.
    pub(crate) short: Vec<usize>,
}

/// What a packing is judged by, the most weighty first; less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Cost {
    /// Tube of loops that get none.
    pub(crate) short_mm: u64,
    /// Tube of all coils bought.
    pub(crate) bought_mm: u64,
    /// Coils that are cut into.
    pub(crate) coils: u32,
    /// The longest piece that stays, coils on hand that nobody cuts included: it serves best again.
    pub(crate) largest_left_mm: Reverse<u64>,
}

impl Cost {
    pub(crate) const NOTHING: Cost =
        Cost { short_mm: 0, bought_mm: 0, coils: 0, largest_left_mm: Reverse(0) };

    fn short(need_mm: u64) -> Cost {
        Cost { short_mm: need_mm, ..Cost::NOTHING }
    }

    fn whole(length_mm: u64) -> Cost {
        Cost { largest_left_mm: Reverse(length_mm), ..Cost::NOTHING }
    }

    fn coil(source: Source, length_mm: u64, used_mm: u64) -> Cost {
        let bought_mm = if matches!(source, Source::Size(_)) { length_mm } else { 0 };
        let largest_left_mm = Reverse(length_mm.saturating_sub(used_mm));
        Cost { short_mm: 0, bought_mm, coils: 1, largest_left_mm }
    }
}

impl Add for Cost {
    type Output = Cost;

    fn add(self, other: Cost) -> Cost {
        Cost {
            short_mm: self.short_mm + other.short_mm,
            bought_mm: self.bought_mm + other.bought_mm,
            coils: self.coils + other.coils,
            largest_left_mm: self.largest_left_mm.min(other.largest_left_mm),
        }
    }
}

impl Packing {
    pub(crate) fn cost(&self, needs_mm: &[u64], stock: &Stock) -> Cost {
        let need = |number: &usize| needs_mm.get(*number).copied().unwrap_or(0);
        let short = self.short.iter().map(|number| Cost::short(need(number)));
        let coils = self.coils.iter().map(|coil| {
            let used_mm = coil.loops.iter().map(need).sum();
            Cost::coil(coil.source, stock.length_mm(coil.source), used_mm)
        });
        let pieces = stock.pieces_mm.iter().enumerate();
        let whole = pieces
            .filter(|(piece, _)| !self.coils.iter().any(|it| it.source == Source::Piece(*piece)))
            .map(|(_, length_mm)| Cost::whole(*length_mm));
        short.chain(coils).chain(whole).fold(Cost::NOTHING, Cost::add)
    }
}

/// A packing, and how good it is.
#[derive(Clone, Debug)]
pub(crate) struct Packed {
    pub(crate) packing: Packing,
    /// No packing buys less than this.
    pub(crate) least_bought_mm: u64,
    /// Whether no packing is better in any respect.
    pub(crate) exact: bool,
}

/// Packs loops that each fit into some coil of the stock.
pub(crate) fn pack(needs_mm: &[u64], stock: &Stock) -> Packed {
    let stock_most = stock.pieces_mm.len() as u64 + 1;
    let steps = 3u64.checked_pow(needs_mm.len() as u32).and_then(|it| it.checked_mul(stock_most));
    if needs_mm.len() <= EXACT_MOST || steps.is_some_and(|steps| steps <= STEPS_MOST) {
        let packing = exact::pack(needs_mm, stock);
        let least_bought_mm = packing.cost(needs_mm, stock).bought_mm;
        return Packed { packing, least_bought_mm, exact: true };
    }
    let mut packing = first_fit::pack(needs_mm, stock);
    improve::improve(&mut packing, needs_mm, stock);
    let bought_mm = packing.cost(needs_mm, stock).bought_mm;
    let placed = needs_mm.iter().enumerate().filter(|(number, _)| !packing.short.contains(number));
    let placed_mm: Vec<u64> = placed.map(|(_, need)| *need).collect();
    let least_bought_mm = bound::least_bought_mm(&placed_mm, stock).min(bought_mm);
    Packed { packing, least_bought_mm, exact: false }
}

#[cfg(test)]
mod tests;
