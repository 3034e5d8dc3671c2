//! Conductances of a floor at any distance of its tubes.

use super::bare::hung;
use super::cut::Cut;
use super::pairs::Pairs;
use solve::section::{Accuracy, Port, SectionError};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

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
