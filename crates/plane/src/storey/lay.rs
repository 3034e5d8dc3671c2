//! Laying a storey from plan to tube.

use super::draft::{Draft, Fault, Ground};
use super::frame::Frame;
use super::free::Free;
use super::kept::Kept;
use super::layout::{Layout, Loop, Reason, Refusal};
use super::own::{Laid, Order};
use super::plan::Plan;
use super::search::{Found, Search};
use super::ways;
use crate::fill::{Effort, NoFill};
use crate::point::Point;

/// Lays the tube of a storey.
///
/// What `kept` holds from earlier layouts is used again where nothing has changed; the
/// layout is the same with an empty one. Rooms that cannot be served are refused with a
/// reason, and the others are laid all the same.
pub fn lay(plan: &Plan, kept: &mut Kept) -> Layout {
    laid(plan, kept, Effort::Full)
}

/// Lays a storey quickly: ways and lengths as they will be, bends not all bendable.
pub fn sketch(plan: &Plan) -> Layout {
    laid(plan, &mut Kept::new(), Effort::Quick)
}

fn laid(plan: &Plan, kept: &mut Kept, effort: Effort) -> Layout {
    let Some(frame) = Frame::of(plan) else { return Layout::default() };
    let framed = frame.plan(plan);
    let ground = Ground {
        free: framed.rooms.iter().map(Free::of).collect(),
        ways: ways::ways(&framed),
        plan: &framed,
    };
    let mut layout = Layout::default();
    ground.refuse_hopeless(&mut layout);
    for manifold in 0..framed.manifolds.len() {
        ground.lay_manifold(manifold, kept, effort, &mut layout);
    }
    for (room, given) in framed.rooms.iter().enumerate().filter(|(_, r)| r.heated) {
        let free = ground.free[room].iter();
        layout.dead.extend(free.flat_map(|f| f.dead_floor(room)));
        debug_assert!(given.heated);
    }
    layout.loops.sort_by_key(|l| (l.room, l.number));
    frame.layout_back(layout)
}

impl Ground<'_> {
    /// Refuses rooms to which no way leads.
    fn refuse_hopeless(&self, layout: &mut Layout) {
        for (room, given) in self.plan.rooms.iter().enumerate().filter(|(_, r)| r.heated) {
            let reason = if self.free[room].is_none() {
                let needed_m =
                    2.0 * given.wall_clearance_m.max(given.spacing_m / 2.0) + given.spacing_m;
                Reason::SmallerThanOneTurn { needed_m }
            } else if self.ways[room].is_none() {
                Reason::NoWay
            } else {
                continue;
            };
            layout.refusals.push(Refusal { room, at: given.floor.middle(), reason });
        }
    }

    /// Lays all loops of one manifold.
    fn lay_manifold(&self, manifold: usize, kept: &mut Kept, effort: Effort, layout: &mut Layout) {
        let mut search = Search::new(self, manifold);
        let found = search.found(&mut |draft, asked| {
            let bent = effort == Effort::Full && asked == Effort::Full;
            self.fields(draft, kept, effort, bent)
        });
        let Found { draft, laid: fields, .. } = match found {
            Ok(found) => found,
            Err(fault) => return self.refuse_all(manifold, fault, layout),
        };
        let mut counts = vec![0; self.plan.rooms.len()];
        for (zone, field) in draft.order.loops.iter().zip(fields) {
            let room = draft.net.zones[*zone].room;
            match field {
                Ok(laid) => {
                    counts[room] += 1;
                    let told = self.told(manifold, &draft, *zone, laid);
                    layout.loops.push(Loop { number: counts[room], ..told });
                }
                Err(flaw) => {
                    let at = draft.leaders[*zone].end().unwrap_or_default();
                    layout.refusals.push(Refusal { room, at, reason: reason(flaw) });
                }
            }
        }
        for room in search.given_up() {
            let at = self.plan.rooms[room].floor.middle();
            layout.refusals.push(Refusal { room, at, reason: Reason::HeatedByLeaders });
        }
        self.number_ports(manifold, layout);
    }

    /// The field of every loop of a draft, in the order of the manifold.
    fn fields(
        &self,
        draft: &Draft,
        kept: &mut Kept,
        effort: Effort,
        bent: bool,
    ) -> Vec<Result<Laid, NoFill>> {
        let needed_width_m = 0.0;
        let none = Err(NoFill::SmallerThanOneTurn { needed_width_m });
        draft
            .order
            .loops
            .iter()
            .map(|zone| {
                let order = self.order(draft, *zone);
                order.map_or(none.clone(), |order| kept.laid(&order, effort, bent))
            })
            .collect()
    }

    /// What the loop of a zone depends on.
    fn order(&self, draft: &Draft, zone: usize) -> Option<Order> {
        let given = &self.plan.rooms[draft.net.zones[zone].room];
        let leader = draft.leaders[zone].clone();
        let (rooms, _) = self.chain(draft.net.zones[zone].room);
        let rooms =
            rooms.iter().filter_map(|r| Some(self.free[*r].as_ref()?.bare.clone())).collect();
        Some(Order {
            floor: draft.floors[zone].clone()?,
            rooms,
            wall_clearance_m: given.wall_clearance_m,
            leader,
            gap_m: draft.gauge.half_m,
            spacing_m: given.spacing_m,
            bend_radius_m: given.tube.bend_radius_m,
            pattern: given.pattern,
            outside_walls: given.outside_walls.clone(),
        })
    }

    /// Numbers the ports of a manifold's loops from its first end.
    fn number_ports(&self, manifold: usize, layout: &mut Layout) {
        let [from, to] = self.plan.manifolds[manifold].ports;
        let along = (to - from).unit();
        let place = |l: &Loop| {
            let ends = [l.path.start(), l.path.end()].map(Option::unwrap_or_default);
            along.dot(ends[0].lerp(ends[1], 0.5) - from)
        };
        let mut here: Vec<(f64, usize)> = layout
            .loops
            .iter()
            .enumerate()
            .filter(|(_, l)| l.manifold == manifold)
            .map(|(number, l)| (place(l), number))
            .collect();
        here.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (port, (_, number)) in here.into_iter().enumerate() {
            layout.loops[number].port = port;
        }
    }

    /// Refuses every heated room of a manifold for one fault.
    fn refuse_all(&self, manifold: usize, fault: Fault, layout: &mut Layout) {
        let reason = self.reason(manifold, fault);
        for (room, given) in self.plan.rooms.iter().enumerate() {
            let here = self.ways[room].is_some_and(|w| w.manifold == manifold);
            if here && given.heated && self.free[room].is_some() {
                let at: Point = given.floor.middle();
                layout.refusals.push(Refusal { room, at, reason });
            }
        }
    }

    fn reason(&self, manifold: usize, fault: Fault) -> Reason {
        use super::peel::Blocked;
        match fault {
            Fault::Blocked(Blocked::Opening { door, loops, width_m }) => {
                let needed_m = 2.0 * self.plan.leader_gap_m * loops as f64;
                match door {
                    Some(door) => {
                        Reason::PassageTooNarrow { door: Some(door), loops, needed_m, width_m }
                    }
                    None => Reason::ManifoldTooShort { manifold, loops, needed_m, width_m },
                }
            }
            _ => Reason::NoLayout,
        }
    }
}

fn reason(flaw: NoFill) -> Reason {
    match flaw {
        NoFill::UnusableSpacing | NoFill::UnusableClearance | NoFill::UnusableRadius => {
            Reason::UnusableFigure
        }
        NoFill::SmallerThanOneTurn { needed_width_m } => {
            Reason::SmallerThanOneTurn { needed_m: needed_width_m }
        }
        NoFill::BendsTooWide { closest_m } => Reason::BendsTooWide { closest_m },
        _ => Reason::NoLayout,
    }
}
