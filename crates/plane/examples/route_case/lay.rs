//! Stands in until a whole storey can be laid: one loop in rooms with a manifold.

use plane::fill::{FillSpec, counterflow};
use plane::storey::{Layout, Loop, Pattern, Plan, Reason, Refusal};

/// What is kept from one layout to the next.
#[derive(Default)]
pub(crate) struct Kept;

/// Lays one counterflow loop in each manifold's own room.
pub(crate) fn lay(plan: &Plan, _kept: &mut Kept) -> Layout {
    let mut layout = Layout::default();
    for (number, room) in plan.rooms.iter().enumerate().filter(|(_, r)| r.heated) {
        let spec = FillSpec {
            spacing_m: room.spacing_m,
            wall_clearance_m: room.wall_clearance_m,
            bend_radius_m: room.tube.bend_radius_m,
        };
        let manifold = plan.manifolds.iter().position(|m| m.room == number);
        let free = room.floor.difference(&room.keep_outs).unwrap_or_default();
        let filled = manifold.and_then(|m| {
            let [p, q] = plan.manifolds[m].ports;
            let fill = counterflow(free.first()?, p.lerp(q, 0.5), &spec).ok()?;
            Some((m, fill))
        });
        let Some((manifold, fill)) = filled else {
            let at = room.floor.middle();
            layout.refusals.push(Refusal { room: number, at, reason: Reason::NoLayout });
            continue;
        };
        layout.loops.push(Loop {
            room: number,
            number: 1,
            manifold,
            port: 0,
            supply_leader_m: 0.0,
            return_leader_m: 0.0,
            lengths_m: vec![(number, fill.path.length_m())],
            doors: Vec::new(),
            passed: Vec::new(),
            region: room.floor.clone(),
            covered_fraction: fill.covered_fraction,
            spacing_laid_m: fill.spacing_used_m,
            pattern: Pattern::Counterflow,
            why: String::new(),
            path: fill.path,
        });
    }
    layout
}
