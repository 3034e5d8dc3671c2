//! Bare tube in joist bays: radiation and convection instead of conduction.

use super::curve::{Panel, Solution};
use super::cut::{Bays, Cut, Slab};
use solve::cavity::{Bay, Cavity, Tubes};
use solve::section::SectionError;

/// Surface resistances inside the bay, heat going up and down (ISO 6946), m²K/W.
const UP_M2K_W: f64 = 0.10;
const DOWN_M2K_W: f64 = 0.17;
/// Surface of the tube, room and what is below, at which a tube's heat for each degree is taken, °C.
///
/// It rises a little with the water: 15 K more or less change what a floor gives by some 3 %.
const REFERENCE_C: [f64; 2] = [50.0, 20.0];

/// Conductances of a floor with bare tube so far apart, as a net of tube, bay, room and underside.
pub(super) fn hung(cut: &Cut, bays: &Bays, spacing_m: f64) -> Solution {
    let up_m2k_w = UP_M2K_W + Slab::resistance_of(&cut.over) + 1.0 / cut.film_w_m2k;
    let down_m2k_w = DOWN_M2K_W + Slab::resistance_of(&cut.under);
    // The tubes of a floor hang in what the joists leave of it.
    let width_m = spacing_m * bays.clear;
    let tubes = Tubes {
        count: 1,
        diameter_m: cut.tube_m,
        emissivity: bays.emissivity,
        resistance_mk_w: 0.0,
    };
    let [tube_c, room_c] = REFERENCE_C;
    let bay = Bay { width_m, up_m2k_w, down_m2k_w };
    let cavity =
        Cavity::settle(&bay, &tubes, tube_c, room_c, room_c).map_err(|_| SectionError::NoPath)?;
    let tube = cavity.tube_w_m / (tube_c - cavity.bay_c) / width_m;
    let (up, down) = (1.0 / up_m2k_w, 1.0 / down_m2k_w);
    let all = tube + up + down;
    let surface = tube * up / all / cut.film_w_m2k;
    Ok(Panel {
        spacing_m,
        film: cut.film_w_m2k,
        room: bays.clear * tube * up / all,
        below: bays.clear * tube * down / all,
        through: bays.clear * up * down / all,
        warmest: surface,
        coolest: surface,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::emitters::section::FLOOR_W_M2K;

    /// The net gives what the kernel settles at the same temperatures, joists left out.
    #[test]
    fn the_net_is_the_kernel_at_its_reference() {
        let bays = Bays { clear: 1.0, emissivity: 0.9 };
        let cut = Cut {
            over: vec![Slab::new(0.019, 0.13)],
            holder: Slab::new(0.05, 0.24),
            cover_m: 0.0,
            tube_m: 0.0159,
            spread: None,
            bays: Some(bays),
            film_w_m2k: FLOOR_W_M2K,
            under: vec![Slab::new(0.105, 0.035)],
        };
        let panel = hung(&cut, &bays, 0.2).unwrap();
        let over = 0.019 / 0.13;
        let bay = Bay { width_m: 0.2, up_m2k_w: 0.10 + over + 1.0 / FLOOR_W_M2K, down_m2k_w: 3.17 };
        let tubes = Tubes { count: 1, diameter_m: 0.0159, emissivity: 0.9, resistance_mk_w: 0.0 };
        let settled =
            |tube_c: f64| Cavity::settle(&bay, &tubes, tube_c, 20.0, 20.0).unwrap().up_w_m2;
        assert!((panel.room * 30.0 - settled(50.0)).abs() < 1e-6, "{panel:?}");
        // What a net with one conductance for all temperatures misses, 15 K to either side.
        for tube_c in [35.0, 65.0] {
            let off = panel.room * (tube_c - 20.0) / settled(tube_c) - 1.0;
            assert!(off.abs() < 0.08, "{tube_c}: {off}");
        }
    }
}
