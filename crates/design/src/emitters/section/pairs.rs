//! A floor between two tubes that need not be equally warm, at any distance from tube to tube.

use super::curve::{SOLVED_M, WIDEST_M};
use super::cut::Cut;
use solve::section::{Accuracy, Port, SectionError};

/// Distances from one row of the table to the next, metres.
const STEP_M: f64 = 0.005;
/// Places from tube to tube, both ends included.
const PLACES: usize = 49;

/// A floor between two tubes, by their distance.
#[derive(Debug)]
pub(crate) struct Pairs {
    /// By distance, [`STEP_M`] apart.
    rows: Vec<Pair>,
}

/// A floor between two tubes at one distance, its underside held at a temperature.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pair {
    /// Both tubes to room, for each square metre of floor, W/m²K.
    pub(crate) room: f64,
    /// Both tubes to the underside, W/m²K.
    pub(crate) below: f64,
    /// Room to underside past the tubes, W/m²K.
    pub(crate) through: f64,
    /// Tube to tube, for each metre of their length, W/mK.
    pub(crate) exchange: f64,
    /// Share of one tube's temperature in that of the surface, from it to the other.
    surface: Vec<f64>,
    /// The same of the underside's.
    underside: Vec<f64>,
}

impl Pairs {
    /// Solves a floor at all distances.
    pub(super) fn of(cut: &Cut) -> Result<Pairs, SectionError> {
        let solved = SOLVED_M.map(|distance_m| Pair::solved(cut, distance_m));
        let solved = solved.into_iter().collect::<Result<Vec<Pair>, _>>()?;
        let count = ((WIDEST_M - SOLVED_M[0]) / STEP_M).round() as usize + 1;
        let rows = (0..count).map(|row| between(&solved, SOLVED_M[0] + row as f64 * STEP_M));
        Ok(Pairs { rows: rows.collect() })
    }

    /// Conductances at a distance from tube to tube: room, below, through (W/m²K), exchange (W/mK).
    pub(crate) fn conductances(&self, distance_m: f64) -> [f64; 4] {
        let (low, high, share) = self.beside(distance_m);
        let of = |pair: &Pair| [pair.room, pair.below, pair.through, pair.exchange];
        let (low, high) = (of(low), of(high));
        std::array::from_fn(|i| low[i] + share * (high[i] - low[i]))
    }

    /// Shares in the surface's temperature so far from the nearer of two tubes: of that tube, of
    /// the other, and of the underside.
    pub(crate) fn shares(&self, distance_m: f64, away_m: f64) -> [f64; 3] {
        let (low, high, share) = self.beside(distance_m);
        let along = (away_m / distance_m).clamp(0.0, 0.5) * (PLACES - 1) as f64;
        let place = (along as usize).min(PLACES - 2);
        let rest = along - place as f64;
        let of = |pair: &Pair| {
            let back = PLACES - 1 - place;
            let line = |values: &[f64], from: usize, to: usize| {
                values[from] + rest * (values[to] - values[from])
            };
            [
                line(&pair.surface, place, place + 1),
                line(&pair.surface, back, back - 1),
                line(&pair.underside, place, place + 1),
            ]
        };
        let (low, high) = (of(low), of(high));
        std::array::from_fn(|i| low[i] + share * (high[i] - low[i]))
    }

    /// The rows on both sides of a distance, and how far it is from the first to the second.
    fn beside(&self, distance_m: f64) -> (&Pair, &Pair, f64) {
        let last = self.rows.len() - 1;
        let along = ((distance_m - SOLVED_M[0]) / STEP_M).clamp(0.0, last as f64);
        let row = (along as usize).min(last - 1);
        (&self.rows[row], &self.rows[row + 1], along - row as f64)
    }
}

impl Pair {
    fn solved(cut: &Cut, distance_m: f64) -> Result<Pair, SectionError> {
        let solved = cut.between_two(distance_m).solve(&Accuracy::default())?;
        let each = |tube: usize, other: Port| solved.conductance_w_m2k(Port::Tube(tube), other);
        let places = solved.places_m();
        let at = |profile: &[f64]| -> Vec<f64> {
            let place = |k: usize| distance_m * k as f64 / (PLACES - 1) as f64;
            (0..PLACES).map(|k| value_at(places, profile, place(k))).collect()
        };
        // Both tubes are alike, so each side of the answer is the other's mirror image.
        let mirrored = |one: Vec<f64>, other: Vec<f64>| -> Vec<f64> {
            one.iter().zip(other.iter().rev()).map(|(a, b)| 0.5 * (a + b)).collect()
        };
        let own = at(&solved.above(Port::Tube(0)));
        let under = at(&solved.above(Port::Below));
        Ok(Pair {
            room: each(0, Port::Room) + each(1, Port::Room),
            below: each(0, Port::Below) + each(1, Port::Below),
            through: solved.conductance_w_m2k(Port::Room, Port::Below),
            exchange: solved.conductance_w_mk(Port::Tube(0), Port::Tube(1)),
            surface: mirrored(own, at(&solved.above(Port::Tube(1)))),
            underside: mirrored(under.clone(), under),
        })
    }
}

/// A value on straight lines between places.
fn value_at(places_m: &[f64], values: &[f64], at_m: f64) -> f64 {
    let last = places_m.len().min(values.len()).saturating_sub(1);
    if last == 0 {
        return values.first().copied().unwrap_or(0.0);
    }
    let next = places_m.partition_point(|place| *place <= at_m).clamp(1, last);
    let (from, to) = (places_m[next - 1], places_m[next]);
    let share = if to > from { ((at_m - from) / (to - from)).clamp(0.0, 1.0) } else { 0.0 };
    values[next - 1] + share * (values[next] - values[next - 1])
}

/// The floor at a distance, by the cubic through the four nearest that were solved.
fn between(solved: &[Pair], distance_m: f64) -> Pair {
    let last = SOLVED_M.len() - 1;
    let next = SOLVED_M.partition_point(|m| *m <= distance_m).clamp(1, last);
    let first = (next.max(2) - 2).min(SOLVED_M.len() - 4);
    let four: [usize; 4] = std::array::from_fn(|i| first + i);
    let weights = four.map(|i| {
        let others = four.iter().filter(|j| **j != i);
        others.fold(1.0, |product, j| {
            product * (distance_m - SOLVED_M[*j]) / (SOLVED_M[i] - SOLVED_M[*j])
        })
    });
    let weighed = |value: &dyn Fn(&Pair) -> f64| -> f64 {
        four.iter().zip(weights).map(|(i, weight)| weight * value(&solved[*i])).sum()
    };
    let places = |values: &dyn Fn(&Pair) -> &Vec<f64>| -> Vec<f64> {
        (0..PLACES).map(|place| weighed(&|pair| values(pair)[place])).collect()
    };
    Pair {
        room: weighed(&|pair| pair.room),
        below: weighed(&|pair| pair.below),
        through: weighed(&|pair| pair.through),
        exchange: weighed(&|pair| pair.exchange).max(0.0),
        surface: places(&|pair| &pair.surface),
        underside: places(&|pair| &pair.underside),
    }
}

#[cfg(test)]
mod tests {
    use super::super::cut::Slab;
    use super::*;
    use solve::section::Temperatures;

    fn screed() -> Cut {
        Cut {
            over: vec![Slab::new(0.01, 0.15)],
            holder: Slab::new(0.065, 1.2),
            cover_m: 0.045,
            tube_m: 0.016,
            spread: None,
            bays: None,
            film_w_m2k: 10.8,
            under: vec![Slab::new(0.05, 0.04)],
        }
    }

    /// Equal tubes give the profile of the section with one tube, at distances that were not
    /// solved too; 20 K of excess make 0.05 K a share of 0.0025.
    #[test]
    fn equal_tubes_give_the_section_of_one() {
        let (cut, pairs) = (screed(), Pairs::of(&screed()).unwrap());
        for distance_m in [0.062, 0.1016, 0.1524, 0.2, 0.3048] {
            let solved = cut.section(distance_m).solve(&Accuracy::default()).unwrap();
            let of_tube = solved.above(Port::Tube(0));
            let of_underside = solved.above(Port::Below);
            for (place, x_m) in solved.places_m().iter().enumerate() {
                let [own, other, underside] = pairs.shares(distance_m, *x_m);
                let off = (own + other - of_tube[place]).abs();
                assert!(off < 0.0025, "{distance_m} {x_m}: {off}");
                assert!((underside - of_underside[place]).abs() < 0.0025, "{distance_m} {x_m}");
            }
            let [room, below, through, _] = pairs.conductances(distance_m);
            for (got, port) in [(room, Port::Room), (below, Port::Below)] {
                let expected = solved.conductance_w_m2k(Port::Tube(0), port);
                assert!((got / expected - 1.0).abs() < 0.006, "{distance_m}: {got} {expected}");
            }
            let expected = solved.conductance_w_m2k(Port::Room, Port::Below);
            assert!((through - expected).abs() < 0.004 * room, "{through} {expected}");
        }
    }

    /// Unequal tubes: heat and surface as the section of two solved at those temperatures has it.
    #[test]
    fn unequal_tubes_superpose() {
        let (cut, pairs) = (screed(), Pairs::of(&screed()).unwrap());
        let solved = cut.between_two(0.16).solve(&Accuracy::default()).unwrap();
        let given = Temperatures { tubes_c: vec![45.0, 30.0], room_c: 20.0, below_c: 18.0 };
        let state = solved.superpose(&given);
        let [room, below, _, exchange] = pairs.conductances(0.16);
        let each = |tube_c: f64| 0.08 * (room * (tube_c - 20.0) + below * (tube_c - 18.0));
        // Half of each tube lies in the section.
        let heat_w_m = 2.0 * (each(45.0) + exchange * 15.0);
        assert!((state.tubes[0].heat_w_m / heat_w_m - 1.0).abs() < 0.01, "{heat_w_m} {state:?}");
        let [own, other, underside] = pairs.shares(0.16, 0.0);
        let over_warm_c = 20.0 + own * 25.0 + other * 10.0 - underside * 2.0;
        let expected = solved.above(Port::Tube(0))[0] * 25.0
            + solved.above(Port::Tube(1))[0] * 10.0
            - solved.above(Port::Below)[0] * 2.0;
        assert!((over_warm_c - 20.0 - expected).abs() < 0.05, "{over_warm_c} {expected}");
        assert!(exchange > 0.2 && own > other, "{exchange} {own} {other}");
    }
}
