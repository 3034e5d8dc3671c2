//! The widest leaders that find their ways.

use super::draft::{Draft, Fault};
use super::hug::Gauge;
use super::net::{Net, Zone};
use super::order::Order;
use super::search::Search;
use super::shares::Cut;

/// Widths of leaders tried, as shares of the widest.
const GAUGES: [f64; 6] = [1.0, 0.8, 0.65, 0.5, 0.4, 0.33];

/// Leaders are not set out closer than this over the least gap between tubes.
const GAP_PLAY: f64 = 1.04;

/// The same where nothing else fits.
const LAST_PLAY: f64 = 1.0;

impl Search<'_> {
    /// The zones, with a cut from the manifold where its loops part.
    fn net(&mut self) -> Result<Net, Fault> {
        let mut net = self.ground.net(&self.sharings)?;
        let room = self.ground.plan.manifolds[self.ground.manifold].room;
        for _ in 0..3 {
            let Cut::FromEntry { from, inward } = self.sharings[room].cut else { break };
            let order = Order::of(&net, &[]);
            let [(one, [_, q]), (_, [p, _])] = net.entry.parts.as_slice() else { break };
            let first = order.loops_from(&net, *one) as f64 / order.loops.len().max(1) as f64;
            let parted = q.lerp(*p, first);
            if parted.distance(from) < 1e-3 {
                break;
            }
            self.sharings[room].cut = Cut::FromEntry { from: parted, inward };
            net = self.ground.net(&self.sharings)?;
        }
        Ok(net)
    }

    /// The widest leaders that find their ways.
    pub(super) fn drafted(&mut self) -> Result<Draft, Fault> {
        let net = self.net()?;
        let plan = &self.ground.plan;
        let least = plan.leader_gap_m * GAP_PLAY;
        let own = |zone: &Zone| plan.rooms[zone.room].spacing_m;
        let widest = net.zones.iter().map(own).fold(f64::INFINITY, f64::min);
        let widest = widest.min(self.widest_through(&net)).max(least);
        let clearance =
            net.zones.iter().map(|z| plan.rooms[z.room].wall_clearance_m).fold(0.0, f64::max);
        let edge = |z: &Zone| (plan.rooms[z.room].wall_clearance_m - own(z) / 2.0).max(0.0);
        let edge = net.zones.iter().map(edge).fold(f64::INFINITY, f64::min);
        let mut fault = None;
        let mut tried = f64::INFINITY;
        let gauges = GAUGES.iter().map(|share| (widest * share).max(least));
        for half_m in gauges.chain(std::iter::once(plan.leader_gap_m * LAST_PLAY)) {
            if half_m >= tried {
                continue;
            }
            tried = half_m;
            for depth in [1.0, 0.75, 0.55] {
                let inset_m = (depth * clearance - edge - half_m / 2.0).max(0.0);
                match self.ground.draft(&net, &self.sharings, Gauge { half_m, inset_m }) {
                    Ok(draft) => return Ok(draft),
                    Err(found) => fault = Some(found),
                }
                if inset_m == 0.0 {
                    break;
                }
            }
        }
        Err(fault.unwrap_or(Fault::Shares { room: 0 }))
    }

    /// Widest half strips that manifold and doors let pass side by side, metres.
    fn widest_through(&self, net: &Net) -> f64 {
        let order = Order::of(net, &[]);
        let ports: f64 = net.entry.parts.iter().map(|(_, [a, b])| a.distance(*b)).sum();
        let mut widest = ports / (2.0 * order.loops.len() as f64 - 1.0).max(1.0);
        for (zone, openings) in net.zones.iter().zip(&order.openings) {
            for opening in openings.iter().filter(|o| !o.loops.is_empty()) {
                let portal = &zone.portals[opening.portal];
                if portal.door.is_some() {
                    let width = portal.ends[0].distance(portal.ends[1]);
                    widest = widest.min(width / (2.0 * opening.loops.len() as f64));
                }
            }
        }
        widest * (1.0 - 1e-6)
    }
}
