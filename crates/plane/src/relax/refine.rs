//! Ends of new pieces moved along the old tube to where they cost least.

use std::cmp::Ordering;

use super::splice::{Piece, Splice, Station};
use super::ways::Way;

/// How both ends of a piece are moved in turn, in steps.
const MOVES: [(f64, f64); 8] = [
    (1.0, -1.0),
    (-1.0, 1.0),
    (1.0, 1.0),
    (-1.0, -1.0),
    (1.0, 0.0),
    (0.0, -1.0),
    (-1.0, 0.0),
    (0.0, 1.0),
];

impl Splice<'_> {
    /// The pieces with their ends where they cost least, to a fiftieth of the radius.
    pub(super) fn refined(&self, mut pieces: Vec<Piece>) -> Vec<Piece> {
        let mut step = self.radius_m / 4.0;
        while step > self.radius_m / 50.0 {
            for number in 0..pieces.len() {
                if pieces.get(number).is_some_and(|piece| piece.way.is_some()) {
                    for (begin, end) in MOVES {
                        self.shift(&mut pieces, number, begin * step, end * step);
                    }
                }
            }
            step /= 2.0;
        }
        pieces
    }

    /// Moves both ends of a piece if that lessens the cost of it and its neighbours.
    fn shift(&self, pieces: &mut [Piece], number: usize, begin: f64, end: f64) -> Option<()> {
        let low = number.checked_sub(usize::from(begin != 0.0))?;
        let high = number + usize::from(end != 0.0);
        let old = pieces.get(low..=high)?;
        let piece = pieces.get(number)?;
        let (from, to) = (piece.from.moved(begin), piece.to.moved(end));
        let mut budget = old.iter().map(|p| p.cost).sum::<f64>() - 1e-9;
        let mut new = [None; 3];
        for ((place, old), at) in new.iter_mut().zip(old).zip(low..) {
            let (from, to) = match at.cmp(&number) {
                Ordering::Less => (old.from, from),
                Ordering::Equal => (from, to),
                Ordering::Greater => (to, old.to),
            };
            let moved = self.moved(old, from, to, budget)?;
            budget -= moved.cost;
            *place = Some(moved);
        }
        for (place, new) in pieces.get_mut(low..=high)?.iter_mut().zip(new.into_iter().flatten()) {
            *place = new;
        }
        Some(())
    }

    /// A piece of the same kind between other stations, if one costs less than a budget.
    fn moved(&self, piece: &Piece, from: Station, to: Station, budget: f64) -> Option<Piece> {
        let (begin, end) = (from.along, to.along);
        if begin >= end {
            return None;
        }
        if piece.way.is_none() {
            let kept = !self.tight.overlaps(begin, end);
            let cost = self.kept_cost(begin, end);
            return (kept && cost < budget).then_some(Piece { from, to, way: None, cost });
        }
        let mut best: Option<(Way, f64)> = None;
        self.each_leg(begin, end, self.pose(from), self.pose(to), |way, cost| {
            if cost < best.as_ref().map_or(budget, |b| b.1) {
                best = Some((way, cost));
            }
        });
        let (way, cost) = best?;
        let cost = cost + self.crowding(begin, end, &way)?;
        (cost < budget).then_some(Piece { from, to, way: Some(way), cost })
    }
}
