//! Loops at a manifold in an order that is held, where no leaders need cross for it.
//!
//! Openings of a zone follow each other along its edge, and so do their loops; what is free is
//! where between them the zone's own loop stands, which decides who goes round which way.

use super::draft::{Fault, Ground, Sharing};
use super::held::{Held, LoopName, NotTaken, Unheld};
use super::layout::Layout;
use super::net::Net;
use super::order::Order;
use super::plan::Plan;
use super::search::Search;

/// Rounds in which a storey is looked through without what is held.
const ROUNDS: usize = 3;

/// Most ways of going round that are looked through.
const MOST_WAYS: usize = 4096;

impl Ground {
    /// How many openings of each zone are reached counter-clockwise, as far as it is held.
    pub(super) fn turns(
        &self,
        net: &Net,
        sharings: &[Sharing],
    ) -> Result<Vec<Option<usize>>, Fault> {
        let mut turns = vec![None; net.zones.len()];
        if let Some((first, _)) = net.entry.parts.first() {
            turns[*first] = sharings[net.zones[*first].room].turn;
        }
        let Some(held) = self.plan.held.orders.iter().find(|o| o.manifold == self.manifold) else {
            return Ok(turns);
        };
        let is_kept = |order: &Order| {
            let mut names = named(net, order, &self.plan.held);
            if self.is_port_order_reversed() {
                names.reverse();
            }
            follow(&names, &held.loops)
        };
        let order = Order::of(net, &turns);
        if is_kept(&order) {
            return Ok(turns);
        }
        let usual: Vec<usize> =
            order.openings.iter().map(|all| all.iter().filter(|o| o.ahead).count()).collect();
        let free: Vec<usize> = (0..net.zones.len())
            .filter(|zone| !order.openings[*zone].is_empty() && net.zones[*zone].annexes.is_empty())
            .collect();
        let counts: Vec<usize> = free.iter().map(|zone| order.openings[*zone].len() + 1).collect();
        let ways = counts.iter().product::<usize>().min(MOST_WAYS);
        let mut best: Option<(usize, Vec<Option<usize>>)> = None;
        for way in 0..ways {
            let mut rest = way;
            let mut tried = turns.clone();
            for (zone, count) in free.iter().zip(&counts) {
                tried[*zone] = Some(rest % count);
                rest /= count;
            }
            let moved = free.iter().map(|z| tried[*z].unwrap_or(0).abs_diff(usual[*z])).sum();
            let is_nearer = best.as_ref().is_none_or(|(least, _)| moved < *least);
            if is_nearer && is_kept(&Order::of(net, &tried)) {
                best = Some((moved, tried));
            }
        }
        best.map(|(_, turns)| turns).ok_or(Fault::Order)
    }

    /// Whether ports are counted against the order in which loops leave.
    fn is_port_order_reversed(&self) -> bool {
        let first = self.plan.manifolds[self.manifold].ports[0];
        let away = |p: &crate::point::Point| p.distance(first);
        self.manifold_entry().is_some_and(|([a, b], _)| away(&a) < away(&b))
    }

    /// Something held without which the loops of this manifold would find their ways; none if
    /// nothing is held, or they would not.
    pub(super) fn to_blame(&self) -> Option<Unheld> {
        let way = self.ways_in_hand().next();
        let way = way.map(|way| Unheld::Way { name: way.name, why: NotTaken::NoRoomLeft });
        let manifold = self.manifold;
        let is_ordered = self.plan.held.orders.iter().any(|order| order.manifold == manifold);
        let unheld = way.or(is_ordered.then_some(Unheld::Order { manifold }))?;
        let mut open = self.clone();
        open.plan.held.ways.clear();
        open.plan.held.orders.clear();
        Search::new(&open).settled(ROUNDS).is_ok().then_some(unheld)
    }
}

/// Loops by name, in the order in which they leave.
pub(super) fn named(net: &Net, order: &Order, held: &Held) -> Vec<LoopName> {
    let mut last = vec![0; net.zones.iter().map(|zone| zone.room + 1).max().unwrap_or(0)];
    let name = |zone: &usize| {
        let zone = &net.zones[*zone];
        let number = zone.number.unwrap_or_else(|| {
            last[zone.room] = held.next_open(zone.room, last[zone.room]);
            last[zone.room]
        });
        LoopName { room: zone.room, number }
    };
    order.loops.iter().map(name).collect()
}

/// Whether all that are wanted follow each other so among all.
fn follow(all: &[LoopName], wanted: &[LoopName]) -> bool {
    let places: Option<Vec<usize>> =
        wanted.iter().map(|name| all.iter().position(|other| other == name)).collect();
    places.is_some_and(|places| places.is_sorted())
}

/// Whether loops stand at every manifold as held; the first where they do not.
pub(super) fn kept(plan: &Plan, layout: &Layout) -> Result<(), Unheld> {
    for held in &plan.held.orders {
        let mut here: Vec<_> =
            layout.loops.iter().filter(|l| l.manifold == held.manifold).collect();
        here.sort_by_key(|l| l.port);
        let names: Vec<LoopName> =
            here.iter().map(|l| LoopName { room: l.room, number: l.number }).collect();
        if !follow(&names, &held.loops) {
            return Err(Unheld::Order { manifold: held.manifold });
        }
    }
    Ok(())
}
