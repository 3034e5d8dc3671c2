//! Conductances of a floor at any distance of its tubes.

use super::bare::hung;
use super::cut::Cut;
use super::pairs::Pairs;
use solve::section::{Accuracy, Port, SectionError};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Distances at which a floor is solved, metres: what it gives at others follows by
/// cubics. A sheet that ends short of the next makes a kink, so such floors are solved anew.
pub(super) const SOLVED_M: [f64; 9] = [0.05, 0.075, 0.1, 0.14, 0.18, 0.23, 0.29, 0.35, WIDEST_M];
/// Closest and widest that tube is laid, metres; beyond them a floor is taken at the nearer end.
const SPACINGS_M: [f64; 2] = [0.05, WIDEST_M];
/// Tube warms no floor farther than half of this from it, metres.
pub(crate) const WIDEST_M: f64 = 0.42;
/// Floors that are remembered at most: those of a few designs on trial.
const CURVES_MOST: usize = 64;

/// Conductances of a floor for each square metre, W/m²K, from the outside of its tubes.
///
/// What is below is the underside of the floor's own layers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Panel {
    /// Distance of the tubes, metres.
    pub(crate) spacing_m: f64,
    /// From tube to room.
    pub(crate) room: f64,
    /// From tube to the underside.
    pub(crate) below: f64,
    /// From room to the underside, past the tubes.
    pub(crate) through: f64,
    /// From its surface to the room.
    pub(crate) film: f64,
    /// Share of the tube's temperature in the warmest place of the surface.
    pub(crate) warmest: f64,
    /// The same in the coolest place.
    pub(crate) coolest: f64,
}

/// A floor solved at the distances of its tubes that were asked for.
#[derive(Debug)]
pub(crate) struct Curve {
    cut: Cut,
    known: Mutex<Vec<(f64, Solution)>>,
    pairs: OnceLock<Result<Arc<Pairs>, SectionError>>,
}

pub(super) type Solution = Result<Panel, SectionError>;

/// Floors solved before, for any design that has them again.
#[derive(Debug, Default)]
pub(crate) struct Sections {
    known: Vec<Arc<Curve>>,
}

impl Sections {
    /// The curve of a floor, new or known.
    pub(crate) fn curve(&mut self, cut: Cut) -> Arc<Curve> {
        if let Some(curve) = self.known.iter().find(|curve| curve.cut == cut) {
            return curve.clone();
        }
        let curve = Arc::new(Curve { cut, known: Mutex::default(), pairs: OnceLock::new() });
        self.known.push(curve.clone());
        curve
    }

    /// Forgets the oldest beyond a bound.
    pub(crate) fn begin(&mut self) {
        let surplus = self.known.len().saturating_sub(CURVES_MOST);
        self.known.drain(..surplus);
    }
}

impl Curve {
    /// The floor itself.
    pub(crate) fn cut(&self) -> &Cut {
        &self.cut
    }

    /// The floor with its tubes so far apart.
    ///
    /// # Errors
    /// What makes no sense about the section.
    pub(crate) fn at(&self, spacing_m: f64) -> Solution {
        let spacing_m = spacing_m.clamp(SPACINGS_M[0], SPACINGS_M[1]);
        let has_gap = self.cut.spread.is_some_and(|sheet| sheet.width_m.is_some());
        let is_smooth = !has_gap && self.cut.bays.is_none();
        if !is_smooth || SOLVED_M.contains(&spacing_m) {
            return self.solved(spacing_m);
        }
        let next = SOLVED_M.partition_point(|m| *m <= spacing_m);
        let first = next.max(2).min(SOLVED_M.len() - 2) - 2;
        let four: Result<Vec<Panel>, _> =
            SOLVED_M[first..first + 4].iter().map(|m| self.solved(*m)).collect();
        Ok(Panel::between(&four?, spacing_m))
    }

    /// The same without a look at its neighbours.
    fn solved(&self, spacing_m: f64) -> Solution {
        // A thread that panicked left whole answers behind, as each is pushed at once.
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, solution)) = known.iter().find(|(m, _)| *m == spacing_m) {
            return solution.clone();
        }
        let solution = solved(&self.cut, spacing_m);
        known.push((spacing_m, solution.clone()));
        solution
    }

    /// The floor between two tubes that need not be equally warm.
    ///
    /// # Errors
    /// What makes no sense about the section.
    pub(crate) fn pairs(&self) -> Result<Arc<Pairs>, SectionError> {
        self.pairs.get_or_init(|| Pairs::of(&self.cut).map(Arc::new)).clone()
    }
}

impl Panel {
    /// The floor at a distance, by the polynomial through panels at others.
    fn between(solved: &[Panel], spacing_m: f64) -> Panel {
        let weight = |own: &Panel| {
            let others = solved.iter().filter(|it| it.spacing_m != own.spacing_m);
            others.fold(1.0, |product, it| {
                product * (spacing_m - it.spacing_m) / (own.spacing_m - it.spacing_m)
            })
        };
        let weighed = |value: &dyn Fn(&Panel) -> f64| -> f64 {
            solved.iter().map(|own| weight(own) * value(own)).sum()
        };
        Panel {
            spacing_m,
            // Resistances are smoother in the distance than conductances.
            room: 1.0 / weighed(&|it| 1.0 / it.room),
            below: weighed(&|it| it.below).max(0.0),
            through: weighed(&|it| it.through).max(0.0),
            film: weighed(&|it| it.film),
            warmest: weighed(&|it| it.warmest),
            coolest: weighed(&|it| it.coolest),
        }
    }
}

/// One section solved, without film and wall of its tube.
fn solved(cut: &Cut, spacing_m: f64) -> Solution {
    if let Some(bays) = &cut.bays {
        return hung(cut, bays, spacing_m);
    }
    let solved = cut.section(spacing_m).solve(&Accuracy::default())?;
    let between = |a, b| solved.conductance_w_m2k(a, b);
    let surface = solved.above(Port::Tube(0));
    Ok(Panel {
        spacing_m,
        film: cut.film_w_m2k,
        room: between(Port::Tube(0), Port::Room),
        below: between(Port::Tube(0), Port::Below),
        through: between(Port::Room, Port::Below),
        warmest: surface.iter().copied().fold(0.0, f64::max),
        coolest: surface.iter().copied().fold(1.0, f64::min),
    })
}

#[cfg(test)]
mod tests {
    use super::super::cut::Slab;
    use super::*;

    /// What follows by cubics is what the section itself gives: within what it is solved to.
    #[test]
    fn cubics_meet_the_section() {
        let wet = |cover_m, finish_m2k_w: f64, under_m2k_w: f64| Cut {
            over: Slab::resisting(finish_m2k_w, Some(0.01)).into_iter().collect(),
            holder: Slab::new(0.1, 1.2),
            cover_m,
            tube_m: 0.016,
            spread: None,
            bays: None,
            film_w_m2k: 10.8,
            under: Slab::resisting(under_m2k_w, Some(0.05)).into_iter().collect(),
        };
        // A cover of few millimetres, a bare slab, carpet; insulation below or hardly any.
        for cut in [wet(0.008, 0.0, 1.5), wet(0.042, 0.02, 0.3), wet(0.06, 0.15, 3.0)] {
            let mut sections = Sections::default();
            let curve = sections.curve(cut);
            for spacing_m in [0.0635, 0.0889, 0.1016, 0.1524, 0.2032, 0.2286, 0.263, 0.3048, 0.4] {
                let (by_cubic, solved) =
                    (curve.at(spacing_m).unwrap(), curve.solved(spacing_m).unwrap());
                let pairs = [
                    (by_cubic.room, solved.room),
                    (by_cubic.below, solved.below),
                    (by_cubic.warmest, solved.warmest),
                    (by_cubic.coolest, solved.coolest),
                ];
                for (got, want) in pairs {
                    assert!((got / want - 1.0).abs() < 0.002, "{spacing_m}: {got} {want}");
                }
                assert!((by_cubic.through - solved.through).abs() < 0.001 * solved.room);
            }
        }
    }
}
