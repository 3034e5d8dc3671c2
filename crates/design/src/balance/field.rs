//! The field of one loop: its drop and the heat that its floors give with it.

use crate::emitters::{Floor, Response};

/// Rounds in which the heat of one field fits its own flow.
const FIELD_ROUNDS: usize = 40;

/// Logarithmic mean excess for a supply excess and a drop.
fn mean_excess(supply_excess_k: f64, drop_k: f64) -> f64 {
    if supply_excess_k <= 0.0 || drop_k >= supply_excess_k {
        return 0.0;
    }
    if drop_k < 1e-9 {
        return supply_excess_k;
    }
    drop_k / (supply_excess_k / (supply_excess_k - drop_k)).ln()
}

/// The field of one loop at the end of its leaders, in one room or several.
///
/// The drop from port to port is what is chosen. Leaders take their share of it, half on the way
/// out and half on the way back, so the field's mean temperature stays that of the ports. Supply
/// and return lie side by side in every room, so that all have the same mean water.
pub(super) struct Field<'a> {
    pub(super) parts: Vec<Part<'a>>,
    /// Heat of the leaders, up and down.
    pub(super) lost_w: f64,
}

/// What of a field lies in one room.
pub(super) struct Part<'a> {
    pub(super) floor: &'a Floor,
    /// What the floor gives with the film of this loop.
    pub(super) response: Response,
    pub(super) area_m2: f64,
    /// Supply at the port over the room.
    pub(super) supply_excess_k: f64,
    /// Heat per area that this floor shall give.
    pub(super) target_w_m2: f64,
}

impl Part<'_> {
    /// Heat per area upward at a mean excess, W/m².
    fn up_w_m2(&self, excess_k: f64) -> f64 {
        let build_up = &self.floor.build_up;
        self.response.up_w_m2(excess_k, self.floor.indoor.si(), &build_up.beyond()).max(0.0)
    }

    /// Mean excess at which it gives what it shall.
    fn wanted_k(&self) -> f64 {
        let (build_up, room_k) = (&self.floor.build_up, self.floor.indoor.si());
        self.response.excess_k(self.target_w_m2, room_k, &build_up.beyond()).max(0.0)
    }

    /// Heat up and down at a mean excess.
    fn both_w(&self, excess_k: f64) -> f64 {
        let build_up = &self.floor.build_up;
        let down = self.response.down_w_m2(excess_k, self.floor.indoor.si(), &build_up.beyond());
        (self.up_w_m2(excess_k) + down) * self.area_m2
    }

    /// Mean excess at a drop from port to port, if the field carries so much.
    fn excess_k(&self, drop_k: f64, both_w: f64, lost_w: f64) -> f64 {
        let share = if both_w > 0.0 { both_w / (both_w + lost_w) } else { 0.0 };
        let on_the_way_k = 0.5 * drop_k * (1.0 - share);
        mean_excess(self.supply_excess_k - on_the_way_k, drop_k * share)
    }

    /// The drop from port to port at which the floor just gives its target, within bounds, where
    /// the field carries so much.
    fn drop_for(&self, [least_k, most_k]: [f64; 2], both_w: f64, lost_w: f64) -> f64 {
        // Never down to the room itself: the last of the water must still be warmer.
        let most_k = most_k.min(0.95 * self.supply_excess_k).max(0.0);
        let (mut low, mut high) = (least_k.min(most_k), most_k);
        let wanted_k = self.wanted_k();
        if self.excess_k(low, both_w, lost_w) <= wanted_k {
            return low;
        }
        if self.excess_k(high, both_w, lost_w) >= wanted_k {
            return high;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.excess_k(middle, both_w, lost_w) > wanted_k {
                low = middle
            } else {
                high = middle
            }
        }
        0.5 * (low + high)
    }
}

impl Field<'_> {
    /// Heat up and down where every floor gives what it shall.
    pub(super) fn wanted_w(&self) -> f64 {
        self.parts.iter().map(|part| part.both_w(part.wanted_k())).sum()
    }

    /// The drop at which the room that asks for the warmest water has it; the others get more.
    pub(super) fn drop_for_all(&self, bounds_k: [f64; 2]) -> f64 {
        let wanted_w = self.wanted_w();
        let drops = self.parts.iter().map(|part| part.drop_for(bounds_k, wanted_w, self.lost_w));
        drops.fold(f64::INFINITY, f64::min)
    }

    /// Heat up in each room, and down in all, at a drop: what is given fits what is carried.
    pub(super) fn heats(&self, drop_k: f64, first_w: f64) -> (Vec<f64>, f64) {
        let mut both_w = first_w.max(1e-6);
        let mut excesses_k = vec![0.0; self.parts.len()];
        let sum_w = |excesses_k: &[f64]| -> f64 {
            self.parts.iter().zip(excesses_k).map(|(part, k)| part.both_w(*k)).sum()
        };
        for _ in 0..FIELD_ROUNDS {
            for (excess_k, part) in excesses_k.iter_mut().zip(&self.parts) {
                *excess_k = part.excess_k(drop_k, both_w, self.lost_w);
            }
            both_w = 0.5 * (both_w + sum_w(&excesses_k));
        }
        let parts = self.parts.iter().zip(&excesses_k);
        let ups_w: Vec<f64> =
            parts.map(|(part, excess_k)| part.up_w_m2(*excess_k) * part.area_m2).collect();
        let up_w: f64 = ups_w.iter().sum();
        (ups_w, (sum_w(&excesses_k) - up_w).max(0.0))
    }
}
