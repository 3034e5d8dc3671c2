//! Tube in joist bays: which rooms share joists, and how each span is laid.

use super::access::Access;
use super::framing;
use super::limit;
use super::plan::StoreyPlan;
use crate::emitters::Floor;
use crate::envelope::Envelope;
use job::{BayBlockKind, Framing, Job, PassageKind};
use plane::bays::{
    self, Block, BlockKind, Drilling, Joists, Layout, Manifold, NoBays, Plate, Tube,
};
use quantity::Quantity;

/// Length of a plate whose material names none, metres.
const PLATE_M: f64 = 0.6;
/// Shortest piece of plate that is cut, metres.
const SHORTEST_PLATE_M: f64 = 0.15;
/// No loop of any tube is longer, metres.
const LONGEST_M: f64 = 1000.0;
/// Rounds in which loops are shortened until there are as many as are asked for.
const COUNT_ROUNDS: usize = 12;

/// Rooms over the joists of one framing that hang on one manifold.
pub(super) struct Group<'a> {
    pub(super) framing: &'a Framing,
    pub(super) access: &'a Access<'a>,
    /// Numbers of the floors.
    pub(super) floors: Vec<usize>,
}

/// One laid span.
pub(super) struct Span {
    pub(super) floor: bays::Floor,
    pub(super) rule: String,
    pub(super) laid: Result<Layout, NoBays>,
}

/// The floors of a storey whose tube lies in joist bays, by framing.
///
/// One manifold serves a framing: that held first, or else the nearest to its rooms.
pub(super) fn groups<'a>(
    job: &'a Job,
    envelope: &Envelope,
    floors: &[Floor],
    plan: &'a StoreyPlan<'a>,
) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for number in &plan.rooms {
        let Some(index) = floors.iter().position(|floor| floor.number == *number) else { continue };
        let Some(framing) = framing::of_room(job, &job.rooms[*number]) else { continue };
        if !floors[index].build_up.is_in_bays() {
            continue;
        }
        match groups.iter_mut().find(|group| group.framing.key == framing.key) {
            Some(group) => group.floors.push(index),
            None => {
                let Some(access) = plan.accesses.first() else { continue };
                groups.push(Group { framing, access, floors: vec![index] });
            }
        }
    }
    for group in &mut groups {
        group.access = access(job, envelope, floors, plan, group);
    }
    groups
}

fn access<'a>(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    plan: &'a StoreyPlan<'a>,
    group: &Group<'a>,
) -> &'a Access<'a> {
    let rooms = || group.floors.iter().map(|index| floors[*index].number);
    let held = rooms().find_map(|number| job.rooms[number].manifold.held());
    let held = held.and_then(|held| plan.accesses.iter().find(|a| a.manifold.key == held.value));
    let away_m = |access: &Access<'_>| -> f64 {
        let floors = rooms().filter_map(|number| envelope.enclosures[number].floor.as_ref());
        floors.map(|floor| floor.middle().distance(access.at)).sum()
    };
    let nearest = || plan.accesses.iter().min_by(|a, b| away_m(a).total_cmp(&away_m(b)));
    held.or_else(nearest).unwrap_or(group.access)
}

/// Lays every span of a group; `counts` are loops asked for at least, by floor of the group.
pub(super) fn lay(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    group: &Group<'_>,
    counts: &[usize],
) -> Result<Vec<Span>, Vec<&'static str>> {
    let spans = framing::spans(group.framing)?;
    // Every loop of a room is shortened alike until there are enough of them.
    let mut shares = vec![1.0_f64; group.floors.len()];
    let mut laid = all(job, envelope, floors, group, &spans, &shares);
    for _ in 0..COUNT_ROUNDS {
        let few: Vec<usize> = (0..shares.len())
            .filter(|room| loops_of(&laid, *room) > 0 && loops_of(&laid, *room) < counts[*room])
            .collect();
        if few.is_empty() {
            break;
        }
        few.iter().for_each(|room| shares[*room] *= 0.88);
        let next = all(job, envelope, floors, group, &spans, &shares);
        if few.iter().any(|room| loops_of(&next, *room) == 0) {
            break;
        }
        laid = next;
    }
    Ok(laid)
}

fn loops_of(spans: &[Span], room: usize) -> usize {
    let loops = spans.iter().filter_map(|span| span.laid.as_ref().ok()).flat_map(|l| &l.loops);
    loops.filter(|tube| tube.room == room).count()
}

fn all(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    group: &Group<'_>,
    spans: &[Joists],
    shares: &[f64],
) -> Vec<Span> {
    let one = |joists: &Joists| {
        let (floor, rule) = floor(job, envelope, floors, group, *joists, shares)?;
        let laid = bays::lay(&floor);
        Some(Span { floor, rule, laid })
    };
    spans.iter().filter_map(one).collect()
}

/// One span as those see it who lay tube from below.
fn floor(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    group: &Group<'_>,
    joists: Joists,
    shares: &[f64],
) -> Option<(bays::Floor, String)> {
    let first = &floors[*group.floors.first()?];
    let tube = &first.build_up.tube;
    let kind = group.framing.kind.as_ref()?.value;
    let (limits, rule) = framing::hole_limits(job, kind);
    let longest_m = limit(job, first).map_or(f64::INFINITY, |rule| rule.value.si());
    let rooms = group.floors.iter().zip(shares).filter_map(|(index, share)| {
        Some(bays::Room {
            key: floors[*index].room.clone(),
            floor: envelope.enclosures[floors[*index].number].floor.clone()?,
            loop_aim_m: share * longest_m.min(LONGEST_M),
        })
    });
    let access = group.access;
    let floor = bays::Floor {
        joists,
        rooms: rooms.collect(),
        blocks: blocks(job, floors, group),
        manifold: Manifold { at: access.at, rise_m: access.extra_m() / 2.0 },
        plate: Plate {
            strands_m: joists.pitch_m / 2.0,
            length_m: first.build_up.material.piece_length.map_or(PLATE_M, Quantity::si),
            joint_m: job.rules.plate_gap.value.si(),
            shortest_m: SHORTEST_PLATE_M,
        },
        tube: Tube {
            outside_m: tube.outside.si(),
            bend_radius_m: tube.bend_radius.si(),
            longest_loop_m: longest_m.min(LONGEST_M),
        },
        drilling: Drilling {
            hole_m: tube.outside.si() + job.rules.hole_over_tube.value.si(),
            lanes_m: [job.rules.lane_nearest.value.si(), job.rules.lane_farthest.value.si()],
            limits,
        },
        under_joists: job.passages.iter().any(|it| it.kind.value == PassageKind::UnderJoists),
    };
    Some((floor, rule))
}

/// What is in the way: blocks of the framing, holes in these floors, and floor without tube.
fn blocks(job: &Job, floors: &[Floor], group: &Group<'_>) -> Vec<Block> {
    let here = |room: &str| group.floors.iter().any(|index| floors[*index].room == room);
    let own = job.bay_blocks.iter().filter(|block| block.framing.value == group.framing.key);
    let own = own.filter_map(|block| {
        let kind = match block.kind.value {
            BayBlockKind::NothingPasses => BlockKind::Full,
            BayBlockKind::NoPlate => BlockKind::Plate,
        };
        Some((block.outline.as_ref()?, kind))
    });
    let voids = job.voids.iter().filter(|void| here(&void.room.value));
    let voids = voids.filter_map(|void| Some((void.outline.as_ref()?, BlockKind::Full)));
    let outs = job.keep_outs.iter().filter(|keep_out| here(&keep_out.room.value));
    let outs = outs.filter_map(|out| Some((out.outline.as_ref()?, BlockKind::Plate)));
    own.chain(voids)
        .chain(outs)
        .map(|(outline, kind)| Block { outline: outline.corners.clone(), kind })
        .collect()
}
