//! The cheapest chain of legs over stations, measured only where it matters.

/// Chooses legs from station to station.
///
/// A leg's cost is first a guess from below; `measure` makes it exact, dearer or
/// impossible. Only legs of the cheapest chain are ever measured.
pub(super) struct Table<L> {
    stations: usize,
    span: usize,
    /// Possible legs by station and number of steps, the cheapest last.
    legs: Vec<Vec<Leg<L>>>,
}

/// One possible leg.
pub(super) struct Leg<L> {
    pub(super) cost: f64,
    pub(super) measured: bool,
    pub(super) what: L,
}

impl<L> Table<L> {
    pub(super) fn new(stations: usize, span: usize) -> Table<L> {
        let legs = (0..stations * span).map(|_| Vec::new()).collect();
        Table { stations, span, legs }
    }

    /// Sets the legs from one station to another.
    pub(super) fn set(&mut self, from: usize, to: usize, mut legs: Vec<Leg<L>>) {
        legs.sort_by(|a, b| b.cost.total_cmp(&a.cost));
        if let Some(place) = self.place(from, to) {
            self.legs[place] = legs;
        }
    }

    /// The cheapest leg from one station to another.
    pub(super) fn best(&self, from: usize, to: usize) -> Option<&Leg<L>> {
        self.legs[self.place(from, to)?].last()
    }

    /// Strikes the cheapest leg from one station to another.
    pub(super) fn strike(&mut self, from: usize, to: usize) {
        if let Some(place) = self.place(from, to) {
            self.legs[place].pop();
        }
    }

    /// Puts the exact cost of the cheapest leg in its place, nothing if it is impossible.
    pub(super) fn price(&mut self, from: usize, to: usize, cost: Option<f64>) {
        let Some(place) = self.place(from, to) else { return };
        let Some(mut leg) = self.legs[place].pop() else { return };
        if let Some(cost) = cost {
            leg.cost = cost;
            leg.measured = true;
            let legs = &mut self.legs[place];
            let at = legs.iter().position(|other| other.cost < cost).unwrap_or(legs.len());
            legs.insert(at, leg);
        }
    }

    fn place(&self, from: usize, to: usize) -> Option<usize> {
        let steps = to.checked_sub(from + 1)?;
        (from < self.stations && steps < self.span).then_some(from * self.span + steps)
    }

    /// The stations of the cheapest chain from the first to the last, as things stand.
    pub(super) fn cheapest(&self) -> Option<Vec<usize>> {
        let mut costs = vec![f64::INFINITY; self.stations];
        let mut from = vec![0; self.stations];
        *costs.first_mut()? = 0.0;
        for to in 1..self.stations {
            for start in to.saturating_sub(self.span)..to {
                let Some(leg) = self.best(start, to) else { continue };
                if costs[start] + leg.cost < costs[to] {
                    costs[to] = costs[start] + leg.cost;
                    from[to] = start;
                }
            }
        }
        let mut here = self.stations.checked_sub(1)?;
        if !costs[here].is_finite() {
            return None;
        }
        let mut chain = vec![here];
        while here > 0 {
            here = from[here];
            chain.push(here);
        }
        chain.reverse();
        Some(chain)
    }
}
