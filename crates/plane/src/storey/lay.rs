//! Laying a storey from plan to tube.

use super::again::Trial;
use super::annex;
use super::apart;
use super::draft::{Draft, Fault, Ground};
use super::drawn;
use super::frame::Frame;
use super::gate::Gate;
use super::held::{Held, Unheld};
use super::kept::Kept;
use super::layout::{CutOff, Layout, Loop, Reason, Refusal};
use super::own::{Laid, Order};
use super::plan::{Pattern, Plan};
use super::ready::{Ready, ready, turn_width_m};
use super::search::{Found, Search};
use super::sequence;
use crate::clip;
use crate::fill::{Effort, NoFill};
use crate::region::Region;

/// Why a room that was laid again has rows.
const ONLY_ROWS: &str = "rows, as no other pattern could be bent here";

/// Why the band of one that was laid again has another spacing.
const CLOSEST_BAND: &str = "closer strands along the walls, as close as they could be bent";

/// Floor is cold farther than this many spacings from any tube.
const COLD: f64 = 0.75;

/// Floor cut off by leaders that is worth telling, square metres.
const CUT_OFF_M2: f64 = 0.25;

/// Lays the tube of a storey.
///
/// What `kept` holds from earlier layouts is used again where nothing has changed; the
/// layout is the same with an empty one. Rooms that cannot be served are refused with a
/// reason, and the others are laid all the same.
pub fn lay(plan: &Plan, kept: &mut Kept) -> Layout {
    // Numbers that would be chosen anyway are met by the layout in which they are: a search that is
    // bound to them from the start may take another way.
    if let Some(open) = with_open_counts(plan) {
        let layout = best(&open, kept);
        if layout.unheld.is_empty() && has_counts(plan, &layout) {
            return layout;
        }
    }
    best(plan, kept)
}

/// The plan with all held numbers of loops left open but those of rooms without any; none if none
/// is held.
fn with_open_counts(plan: &Plan) -> Option<Plan> {
    let mut open = plan.clone();
    for room in &mut open.rooms {
        room.loops = room.loops.filter(|count| *count == 0);
    }
    (open != *plan).then_some(open)
}

/// Whether every room has the number of loops that is held for it.
fn has_counts(plan: &Plan, layout: &Layout) -> bool {
    let count = |room: usize| layout.loops.iter().filter(|own| own.room == room).count();
    plan.rooms.iter().enumerate().all(|(room, own)| own.loops.is_none_or(|it| it == count(room)))
}

/// The best layout of a few trials.
fn best(plan: &Plan, kept: &mut Kept) -> Layout {
    let (mut layout, trial) = Trial::of(plan).best(|trial| laid(trial, kept, Effort::Full));
    for told in &mut layout.loops {
        if trial.plan.rooms[told.room].pattern != plan.rooms[told.room].pattern {
            let is_band = matches!(told.pattern, Pattern::Band { .. });
            let why = if is_band { CLOSEST_BAND } else { ONLY_ROWS };
            told.why = why.to_owned();
        }
    }
    layout
}

/// Lays a storey quickly: ways and lengths as they will be, bends not all bendable.
pub fn sketch(plan: &Plan) -> Layout {
    laid(&Trial::of(plan), &mut Kept::new(), Effort::Quick)
}

/// What is held and cannot be kept is told, and the storey laid without it.
fn laid(trial: &Trial, kept: &mut Kept, effort: Effort) -> Layout {
    let plan = &trial.plan;
    let Some(frame) = Frame::of(plan) else { return Layout::default() };
    let unheld = match laid_as_held(&frame, trial, kept, effort) {
        Ok(layout) => return frame.layout_back(layout),
        Err(unheld) => unheld,
    };
    let without = plan.without(&unheld);
    let mut layout = if without == *plan {
        Layout::default()
    } else {
        laid(&Trial { plan: without, ..trial.clone() }, kept, effort)
    };
    layout.unheld.push(frame.unheld_back(unheld));
    layout
}

/// The layout in the frame, or the first that is held and cannot be kept.
fn laid_as_held(
    frame: &Frame,
    trial: &Trial,
    kept: &mut Kept,
    effort: Effort,
) -> Result<Layout, Unheld> {
    let Ready { plan, free, grounds, mut layout } = ready(frame, &trial.plan)?;
    for mut ground in grounds {
        ground.passed_over.clone_from(&trial.passed_over);
        ground.off_leader.clone_from(&trial.off_leader);
        ground.lay_what_fits(kept, effort, &mut layout)?;
    }
    annex::served(&plan, &layout)?;
    number_loops(&plan.held, &mut layout);
    apart::kept(&plan, &free, &layout)?;
    drawn::kept(&plan, &layout)?;
    sequence::kept(&plan, &layout)?;
    Ok(layout)
}

/// Sorts loops by room and numbers them there, whatever manifold they hang on.
///
/// A number that floor is held for stays with the loop on that floor.
fn number_loops(held: &Held, layout: &mut Layout) {
    layout.loops.sort_by_key(|l| (l.room, l.manifold, l.number));
    let mut last = (usize::MAX, 0);
    for told in &mut layout.loops {
        if last.0 != told.room {
            last = (told.room, 0);
        }
        if held.apart_in(told.room).all(|number| number != told.number) {
            last.1 = held.next_open(told.room, last.1);
            told.number = last.1;
        }
    }
    layout.loops.sort_by_key(|l| (l.room, l.number));
}

impl Layout {
    pub(super) fn refuse(&mut self, plan: &Plan, room: usize, reason: Reason) {
        self.refusals.push(Refusal { room, at: plan.rooms[room].floor.middle(), reason });
    }
}

impl Ground {
    /// Lays the loops of the manifold; rooms that stand in the way of the others go without.
    ///
    /// Gives back what is held and leaves them no way.
    fn lay_what_fits(
        &mut self,
        kept: &mut Kept,
        effort: Effort,
        layout: &mut Layout,
    ) -> Result<(), Unheld> {
        while self.own.iter().zip(&self.ways).any(|(own, way)| *own && way.is_some()) {
            let mut search = Search::new(self);
            let found = search.found(&mut |draft, asked| {
                let bent = effort == Effort::Full && asked == Effort::Full;
                self.fields(draft, kept, effort, bent)
            });
            let given_up = search.given_up();
            let fault = match found {
                Ok(found) => match self.too_many(&found) {
                    None => {
                        self.tell(found, &given_up, effort == Effort::Full, layout);
                        return Ok(());
                    }
                    Some(fault) => fault,
                },
                Err(fault) => fault,
            };
            // What is held stands back before a room goes without its loops.
            let to_blame = match fault {
                Fault::TooMany { .. } => None,
                Fault::Order => Some(Unheld::Order { manifold: self.manifold }),
                _ => self.to_blame(),
            };
            if let Some(unheld) = to_blame {
                return Err(unheld);
            }
            let reason = self.reason(fault);
            let rooms = self.in_the_way(fault);
            for room in &rooms {
                self.own[*room] = false;
                layout.refuse(&self.plan, *room, reason);
            }
            if rooms.is_empty() {
                self.refuse_all(reason, layout);
                return Ok(());
            }
            self.forget_ways();
        }
        Ok(())
    }

    fn too_many(&self, found: &Found) -> Option<Fault> {
        let loops = found.draft.order.loops.len();
        (loops > self.plan.manifolds[self.manifold].most_loops).then_some(Fault::TooMany { loops })
    }

    /// Adds the loops of a finished search to the layout; what breaks a rule is withheld.
    fn tell(&self, found: Found, given_up: &[usize], bent: bool, layout: &mut Layout) {
        let Found { draft, laid: fields, .. } = found;
        let mut counts = vec![0; self.plan.rooms.len()];
        let mut gate = Gate::of(self, layout.loops.iter().map(|l| &l.path));
        let extra_m = self.plan.manifolds[self.manifold].extra_m;
        for (zone, field) in draft.order.loops.iter().zip(fields) {
            let room = draft.net.zones[*zone].room;
            match field {
                Ok(laid) => {
                    if let Some(reason) = gate.passed(room, &laid.path, extra_m, bent) {
                        let at = draft.leaders[*zone].end().unwrap_or_default();
                        layout.refusals.push(Refusal { room, at, reason });
                        continue;
                    }
                    let held = draft.net.zones[*zone].number;
                    let number = held.unwrap_or_else(|| {
                        counts[room] = self.plan.held.next_open(room, counts[room]);
                        counts[room]
                    });
                    let told = self.told(&draft, *zone, laid);
                    layout.loops.push(Loop { number, ..told });
                }
                Err(flaw) => {
                    let at = draft.leaders[*zone].end().unwrap_or_default();
                    let is_taken = draft.floors[*zone].is_none() && draft.is_passed(*zone);
                    let reason = if is_taken { Reason::HeatedByLeaders } else { reason(flaw) };
                    layout.refusals.push(Refusal { room, at, reason });
                }
            }
        }
        let laid: Vec<usize> = layout.loops.iter().map(|l| l.room).collect();
        let zones = draft.net.zones.iter().zip(&draft.bare);
        for (zone, bare) in zones.filter(|(zone, _)| laid.contains(&zone.room)) {
            layout.cut_off.extend(self.cut_off(zone.room, bare, draft.gauge.half_m));
        }
        for room in given_up {
            layout.refuse(&self.plan, *room, Reason::HeatedByLeaders);
        }
        self.number_ports(layout);
    }

    /// What of some bare floor the leaders beside it do not warm, if it is worth telling.
    fn cut_off(&self, room: usize, bare: &[Region], half_m: f64) -> Option<CutOff> {
        // Leaders warm the floor beside them as a field does; a half of it is theirs already.
        let warmed_m = COLD * self.plan.rooms[room].spacing_m - half_m / 2.0;
        let cold = clip::erode(bare, warmed_m.max(0.0));
        let area_m2 = cold.iter().map(Region::area_m2).sum();
        let largest = cold.iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))?;
        (area_m2 >= CUT_OFF_M2).then(|| CutOff { room, at: largest.middle(), area_m2 })
    }

    /// The field of every loop of a draft, in the order of the manifold.
    fn fields(
        &self,
        draft: &Draft,
        kept: &mut Kept,
        effort: Effort,
        bent: bool,
    ) -> Vec<Result<Laid, NoFill>> {
        let field = |zone: &usize| match self.order(draft, *zone) {
            Some(order) => kept.laid(&order, effort, bent),
            None => {
                let room = &self.plan.rooms[draft.net.zones[*zone].room];
                Err(NoFill::SmallerThanOneTurn { needed_width_m: turn_width_m(room) })
            }
        };
        draft.order.loops.iter().map(field).collect()
    }

    /// What the loop of a zone depends on.
    fn order(&self, draft: &Draft, zone: usize) -> Option<Order> {
        let given = &self.plan.rooms[draft.net.zones[zone].room];
        let leader = draft.leaders[zone].clone();
        let (rooms, _) = self.chain(draft.net.zones[zone].room);
        let mut rooms: Vec<Region> =
            rooms.iter().filter_map(|r| Some(self.free[*r].as_ref()?.bare.clone())).collect();
        for (annexed, _) in &draft.net.zones[zone].annexes {
            let own = draft.net.zones[zone].room;
            let annex = self.annexes(own).iter().find(|annex| annex.room == *annexed);
            if let (Some(annex), Some(last)) = (annex, rooms.pop()) {
                rooms.extend(clip::union(&[last], std::slice::from_ref(&annex.bare)));
            }
        }
        Some(Order {
            floor: draft.floors[zone].clone()?,
            rooms,
            wall_clearance_m: given.wall_clearance_m,
            leader,
            face: draft.faces[zone]?,
            gap_m: draft.gauge.half_m,
            spacing_m: given.spacing_m,
            bend_radius_m: given.tube.bend_radius_m,
            pattern: given.pattern,
            outside_walls: given.outside_walls.clone(),
        })
    }

    /// Numbers the ports of a manifold's loops from its first end.
    fn number_ports(&self, layout: &mut Layout) {
        let [from, to] = self.plan.manifolds[self.manifold].ports;
        let along = (to - from).unit();
        let place = |l: &Loop| {
            let ends = [l.path.start(), l.path.end()].map(Option::unwrap_or_default);
            along.dot(ends[0].lerp(ends[1], 0.5) - from)
        };
        let mut here: Vec<(f64, usize)> = layout
            .loops
            .iter()
            .enumerate()
            .filter(|(_, l)| l.manifold == self.manifold)
            .map(|(number, l)| (place(l), number))
            .collect();
        here.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (port, (_, number)) in here.into_iter().enumerate() {
            layout.loops[number].port = port;
        }
    }

    /// Refuses every room that hangs on this manifold.
    fn refuse_all(&self, reason: Reason, layout: &mut Layout) {
        let here = |room: &usize| self.own[*room] && self.ways[*room].is_some();
        for room in (0..self.plan.rooms.len()).filter(here) {
            layout.refuse(&self.plan, room, reason);
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
        NoFill::EntryTooNarrow => Reason::EntryTooNarrow,
        _ => Reason::NoLayout,
    }
}
