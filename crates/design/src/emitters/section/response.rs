//! A floor with film and wall of its tube, and with what lies below it.

use super::curve::Panel;
use super::cut::FLOOR_W_M2K;
use laws::panel as law;

/// How far the film may move spots of a surface, either way: it is known for floors that heat.
const STRETCHED: [f64; 2] = [0.85, 1.2];

/// What lies below a floor's own layers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Beyond {
    /// Resistance from the underside, m²K/W; infinite where no heat leaves by resistance.
    pub(crate) resistance_m2k_w: f64,
    /// Temperature that it leads to.
    pub(crate) below_k: f64,
    /// Heat that leaves the tube's own layer by the slab's edge, whatever the water, W/m².
    pub(crate) edge_w_m2: f64,
}

/// Heat of a floor for each square metre, by the water and by what is around.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Response {
    /// From water to room, W/m²K.
    pub(crate) room: f64,
    /// From water to what is below, W/m²K.
    pub(crate) below: f64,
    /// From room to what is below, past the tubes, W/m²K.
    pub(crate) through: f64,
    /// Share of the excess of the water in that of the warmest place of the surface.
    pub(crate) warmest: f64,
    /// The same of the coolest place.
    pub(crate) coolest: f64,
    /// What heat lost by the edge takes of that excess: it passes film and wall of the tube with
    /// the rest, so the tube is that much cooler. The others count from what is left.
    pub(crate) held_back_k: f64,
}

impl Response {
    /// The floor with that conductance from water to the outside of its tube, W/mK, over what is
    /// below it.
    pub(crate) fn of(panel: &Panel, tube_w_mk: f64, beyond: &Beyond) -> Response {
        // The tube's surface is a node between water, room and underside.
        let film = tube_w_mk / panel.spacing_m;
        let all = film + panel.room + panel.below;
        let (room, under) = (film * panel.room / all, film * panel.below / all);
        let through = panel.through + panel.room * panel.below / all;
        let share = film / all;
        // The underside is a node between water, room and what is below.
        let last = 1.0 / beyond.resistance_m2k_w;
        let all = last + under + through;
        // An underside that the tubes warm lets the room lose less, all over its floor.
        let raised = under * through / all / panel.film;
        Response {
            room: room + under * through / all,
            below: under * last / all,
            through: through * last / all,
            warmest: panel.warmest * share + raised,
            coolest: panel.coolest * share + raised,
            // What leaves a node behind a resistance is water cooler by so much.
            held_back_k: beyond.edge_w_m2 / film.max(1e-9),
        }
    }

    /// A floor of parts, each with its share, the water the same in all; surfaces stay those of the
    /// first.
    pub(crate) fn of_parts(parts: &[(f64, Response)]) -> Option<Response> {
        let (_, first) = parts.first()?;
        let sum = |of: fn(&Response) -> f64| parts.iter().map(|(share, it)| share * of(it)).sum();
        Some(Response {
            room: sum(|it| it.room),
            below: sum(|it| it.below),
            through: sum(|it| it.through),
            ..*first
        })
    }

    /// This floor with a share of it like another, the water the same in both; surfaces stay
    /// those of this one.
    pub(crate) fn beside(&self, other: &Response, share: f64) -> Response {
        let mix = |own: f64, other: f64| own + share * (other - own);
        Response {
            room: mix(self.room, other.room),
            below: mix(self.below, other.below),
            through: mix(self.through, other.through),
            ..*self
        }
    }

    /// What lacks upward of conductance times excess, W/m²: heat that the room loses through its
    /// floor past the tubes, and what it does not get as the edge cools the tube.
    pub(crate) fn lacking_w_m2(&self, room_k: f64, beyond: &Beyond) -> f64 {
        self.passing_w_m2(room_k, beyond) + self.room * self.held_back_k
    }

    fn passing_w_m2(&self, room_k: f64, beyond: &Beyond) -> f64 {
        self.through * (room_k - beyond.below_k)
    }

    /// Heat that goes up at an excess of the water over the room, W/m².
    pub(crate) fn up_w_m2(&self, excess_k: f64, room_k: f64, beyond: &Beyond) -> f64 {
        self.room * excess_k - self.lacking_w_m2(room_k, beyond)
    }

    /// Heat that goes down and by the edge at the same, W/m²; nothing comes up from below.
    pub(crate) fn down_w_m2(&self, excess_k: f64, room_k: f64, beyond: &Beyond) -> f64 {
        let tube_k = room_k + excess_k - self.held_back_k;
        let down = self.below * (tube_k - beyond.below_k) + self.passing_w_m2(room_k, beyond);
        down.max(0.0) + beyond.edge_w_m2
    }

    /// The warmest place of the surface at an excess of the water, kelvin over the room.
    pub(crate) fn warmest_k(&self, excess_k: f64) -> f64 {
        self.warmest * (excess_k - self.held_back_k)
    }

    /// The same of the coolest place.
    pub(crate) fn coolest_k(&self, excess_k: f64) -> f64 {
        self.coolest * (excess_k - self.held_back_k)
    }

    /// The warmest and the coolest place of the surface at an excess of the water, kelvin over the
    /// room, with the film that goes with the heat: sections are solved with the one of a warm
    /// floor, but a cooler floor gives less for each kelvin (EN 1264-2, base curve). So spots lie
    /// about the mean that the same curve gives.
    pub(crate) fn spots_k(&self, excess_k: f64, room_k: f64, beyond: &Beyond) -> [f64; 2] {
        let up_w_m2 = self.up_w_m2(excess_k, room_k, beyond).max(0.0);
        let by_film_k = up_w_m2 / FLOOR_W_M2K;
        let by_curve_k = law::floor_surface_temperature(up_w_m2, room_k)[1];
        let stretched = match by_film_k > 0.0 {
            true => (by_curve_k / by_film_k).clamp(STRETCHED[0], STRETCHED[1]),
            false => 1.0,
        };
        [self.warmest_k(excess_k), self.coolest_k(excess_k)].map(|spot_k| stretched * spot_k)
    }

    /// Excess of the water over the room at which so much goes up.
    pub(crate) fn excess_k(&self, up_w_m2: f64, room_k: f64, beyond: &Beyond) -> f64 {
        (up_w_m2 + self.lacking_w_m2(room_k, beyond)) / self.room
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One layer each way and no spreading: resistances in a row and side by side.
    #[test]
    fn plain_layers_add() {
        let panel = Panel {
            spacing_m: 0.2,
            room: 4.0,
            below: 1.0,
            through: 0.0,
            film: 10.8,
            warmest: 0.5,
            coolest: 0.4,
        };
        let beyond = Beyond { resistance_m2k_w: 1.0, below_k: 283.15, edge_w_m2: 0.0 };
        let response = Response::of(&panel, 1e9, &beyond);
        let down = 1.0 / (1.0 / panel.below + 1.0);
        assert!((response.room - 4.0).abs() < 1e-6, "{response:?}");
        assert!((response.below - down).abs() < 1e-6, "{response:?}");
        // Heat in is heat out, whatever the temperatures.
        let thin = Response::of(&panel, 0.8, &beyond);
        let (room_k, excess_k) = (293.15, 20.0);
        let surface = 1.0 / (1.0 / (0.8 / 0.2) + 1.0 / (4.0 + down));
        let both =
            thin.up_w_m2(excess_k, room_k, &beyond) + thin.down_w_m2(excess_k, room_k, &beyond);
        let alone = surface / (4.0 + down) * (4.0 * excess_k + down * (excess_k + 10.0));
        assert!((both - alone).abs() < 1e-9, "{both} {alone}");
    }

    /// Heat lost by the edge passes film and wall too: the network of three resistances by hand.
    #[test]
    fn the_edge_cools_the_tube() {
        let panel = Panel {
            spacing_m: 0.3,
            room: 4.0,
            below: 1.0,
            through: 0.0,
            film: 10.8,
            warmest: 0.5,
            coolest: 0.4,
        };
        let beyond = Beyond { resistance_m2k_w: f64::INFINITY, below_k: 283.15, edge_w_m2: 15.0 };
        // Laminar glycol and wall: 3 W/mK over 0.3 m are 10 W/m²K.
        let response = Response::of(&panel, 3.0, &beyond);
        let tube_excess_k = (10.0 * 20.0 - 15.0) / (10.0 + 4.0);
        let (up, down) = (4.0 * tube_excess_k, 15.0);
        let room_k = 293.15;
        assert!((response.up_w_m2(20.0, room_k, &beyond) - up).abs() < 1e-9, "{response:?}");
        assert!((response.down_w_m2(20.0, room_k, &beyond) - down).abs() < 1e-9);
        assert!((response.excess_k(up, room_k, &beyond) - 20.0).abs() < 1e-9);
        assert!((response.held_back_k - 15.0 / 10.0).abs() < 1e-9);
        assert!((response.warmest_k(1.5)).abs() < 1e-9);
    }
}
