//! Spacing of each floor.

use super::build_up::BuildUp;
use super::supply::{held_supply, supply_for};
use crate::words::Words;
use job::{Decided, Decision, Job, Room};
use quantity::{Length, Quantity};

/// Grooves from tube to tube at most.
const GROOVES_MOST: u32 = 4;

/// Warmth of a spot over its limit that counts, kelvin: less than a surface thermometer tells.
pub(crate) const SPOT_OVER_K: f64 = 0.5;

/// What a floor's spacing is chosen by.
pub(super) struct Wanted<'a> {
    pub(super) job: &'a Job,
    pub(super) room: &'a Room,
    pub(super) build_up: &'a BuildUp,
    pub(super) room_k: f64,
    /// Heat per area that the floor shall give.
    pub(super) target_w_m2: f64,
    pub(super) drop_k: f64,
    /// Hottest spot allowed.
    pub(super) peak_k: f64,
}

/// One spacing that was looked at.
struct Candidate {
    spacing: Length,
    /// Supply that the floor needs with it.
    supply_k: f64,
    /// The floor over the tube where that water enters.
    spot_k: f64,
}

impl Wanted<'_> {
    /// The spacing of a floor: held, or the widest that does with the water meant for it and keeps
    /// spots over the tubes within their limit.
    pub(super) fn spacing(&self) -> Decided<Length> {
        self.room.spacing.or_else(|| self.choose())
    }

    fn choose(&self) -> Decided<Length> {
        if let Some(bays) = self.in_bays() {
            return bays;
        }
        let aim_k = match held_supply(self.job, likely_circuit(self.job, self.room)) {
            Decision::Held(held) => held.value.si(),
            Decision::Open => self.job.rules.supply_preferred.value.si(),
        };
        let words = Words { first: self.job.units.value };
        let spacings = spacings_for(self.job, self.build_up);
        let cool = |it: &Candidate| it.supply_k <= aim_k;
        let even = |it: &Candidate| it.spot_k <= self.peak_k + SPOT_OVER_K;
        let aim = words.temperature(aim_k);
        // Widest first, no further than the first that will do: each costs a section.
        let mut looked: Vec<Candidate> = Vec::new();
        for spacing in &spacings {
            looked.extend(self.candidate(*spacing));
            if looked.last().is_some_and(|it| cool(it) && even(it)) {
                break;
            }
        }
        let found = looked.iter().position(|it| cool(it) && even(it));
        if let Some(at) = found.or_else(|| looked.iter().position(cool)) {
            let found = &looked[at];
            let mut why = format!("the widest that needs no more than {aim}");
            if let Some(wider) = at.checked_sub(1).map(|wider| &looked[wider]) {
                let size = words.small(wider.spacing.si());
                why.push_str(&match cool(wider) {
                    true => {
                        format!("; {size} gets to {} over a tube", words.temperature(wider.spot_k))
                    }
                    false => format!("; {size} needs {}", words.temperature(wider.supply_k)),
                });
            }
            return Decided::chosen(found.spacing, why);
        }
        match (looked.last(), spacings.last()) {
            (Some(closest), _) => Decided::chosen(
                closest.spacing,
                format!(
                    "the closest there is; no spacing does with {aim}, this one needs {}",
                    words.temperature(closest.supply_k)
                ),
            ),
            (None, Some(closest)) => Decided::chosen(
                *closest,
                format!("the closest there is; no spacing does with {aim}"),
            ),
            (None, None) => Decided::chosen(Length::from_si(0.15), "the rule set names no spacing"),
        }
    }

    /// The spacing of tube in joist bays: two strands lie in each. None where joists are unknown.
    fn in_bays(&self) -> Option<Decided<Length>> {
        let framing = self.room.framing.as_ref().filter(|_| self.build_up.is_in_bays())?;
        let framing = self.job.framings.iter().find(|own| own.key == framing.value)?;
        let half_m = framing.spacing.as_ref()?.value.si() / 2.0;
        Some(Decided::chosen(Length::from_si(half_m), "two strands in each joist bay"))
    }

    fn candidate(&self, spacing: Length) -> Option<Candidate> {
        let build_up = self.build_up;
        let response = build_up.response(spacing.si(), build_up.nominal_tube_w_mk()).ok()?;
        let lacking_w_m2 = response.lacking_w_m2(self.room_k, &build_up.beyond());
        let supply_k =
            supply_for(self.target_w_m2, lacking_w_m2, response.room, self.room_k, self.drop_k);
        let beyond = build_up.beyond();
        let [warmest_k, _] = response.spots_k(supply_k - self.room_k, self.room_k, &beyond);
        let spot_k = self.room_k + warmest_k;
        Some(Candidate { spacing, supply_k, spot_k })
    }
}

/// The circuit that will feed a room, as far as the text tells: by its manifold, or by its zone.
pub(super) fn likely_circuit<'a>(job: &'a Job, room: &'a Room) -> Option<&'a str> {
    let manifold = room.manifold.held().map(|held| held.value.as_str());
    let manifold = job.manifolds.iter().find(|own| Some(own.key.as_str()) == manifold);
    let by_manifold = manifold.and_then(|manifold| manifold.circuit.as_ref());
    let zone = room.zone.as_ref().map(|zone| zone.value.as_str());
    let zone = job.zones.iter().find(|own| Some(own.key.as_str()) == zone);
    let by_zone = zone.and_then(|zone| zone.circuit.as_ref());
    by_manifold.or(by_zone).map(|circuit| circuit.value.as_str())
}

/// Spacings that an open design chooses from, widest first: those of the rule set, or what the
/// grooves allow.
pub(super) fn spacings_for(job: &Job, build_up: &BuildUp) -> Vec<Length> {
    let ruled = &job.rules.spacings.value;
    let Some(grooves) = build_up.grooves else { return ruled.clone() };
    let widest_m = ruled.iter().map(|spacing| spacing.si()).fold(grooves.si(), f64::max);
    let mut grooved: Vec<Length> = (1..=GROOVES_MOST)
        .map(|times| Length::from_si(f64::from(times) * grooves.si()))
        .filter(|spacing| spacing.si() <= widest_m + 1e-9)
        .collect();
    grooved.reverse();
    grooved
}
