//! Ports of a manifold in the order in which they are seen.

use super::walls::Wall;
use crate::drawing::Plan;
use design::loops::TubeLoop;
use plane::Point;

/// Half the length of a manifold without loops, metres.
const HALF_EMPTY_M: f64 = 0.3;
/// How far a manifold reaches beyond its outermost tubes, metres.
const BEYOND_M: f64 = 0.05;

/// The ports of one manifold, or of the riser by which its tubes reach a storey.
pub(crate) struct PortGroup<'a> {
    /// The manifold, by key.
    pub(crate) manifold: &'a str,
    /// The riser or way under the floor, by key, unless the manifold hangs here.
    pub(crate) through: Option<&'a str>,
    /// The wall that it stands at.
    pub(crate) wall: Wall,
    /// The ports from left to right, as seen by somebody who faces the wall.
    pub(crate) ports: Vec<Port<'a>>,
    /// Its two ends on the wall, left and right as seen.
    pub(crate) ends: [Point; 2],
}

/// Where one loop begins and ends.
#[derive(Clone, Copy)]
pub(crate) struct Port<'a> {
    pub(crate) tube: &'a TubeLoop,
    pub(crate) supply: Point,
    pub(crate) back: Point,
}

impl Port<'_> {
    /// Halfway between supply and return.
    pub(crate) fn middle(&self) -> Point {
        self.supply.lerp(self.back, 0.5)
    }
}

impl PortGroup<'_> {
    /// Middle of the group, on the wall.
    pub(crate) fn middle(&self) -> Point {
        self.ends[0].lerp(self.ends[1], 0.5)
    }

    /// Unit vector to the right as seen.
    pub(crate) fn right(&self) -> Point {
        -self.wall.along()
    }

    /// What it is called on paper.
    pub(crate) fn name(&self) -> String {
        match self.through {
            Some(riser) => {
                format!("{} from manifold {}", crate::source::spoken(riser), self.manifold)
            }
            None => format!("manifold {}", self.manifold),
        }
    }
}

/// All groups of ports on a storey: manifolds first, then risers.
pub(crate) fn port_groups<'a>(plan: &Plan<'a>) -> Vec<PortGroup<'a>> {
    let mut keys: Vec<(&'a str, Option<&'a str>)> =
        plan.manifolds.iter().map(|(manifold, _)| (*manifold, None)).collect();
    for (tube, _) in &plan.loops {
        let key = (tube.manifold.as_str(), tube.leader.through.as_deref());
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys.into_iter().filter_map(|key| group(plan, key)).collect()
}

fn group<'a>(
    plan: &Plan<'a>,
    (manifold, through): (&'a str, Option<&'a str>),
) -> Option<PortGroup<'a>> {
    let own = plan.loops.iter().map(|(tube, _)| *tube);
    let own = own.filter(|it| it.manifold == manifold && it.leader.through.as_deref() == through);
    let mut ports: Vec<Port<'a>> = own
        .filter_map(|tube| Some(Port { tube, supply: tube.path.start()?, back: tube.path.end()? }))
        .collect();
    let stated = plan.manifolds.iter().find(|(key, _)| *key == manifold).map(|(_, at)| *at);
    let sum = ports.iter().map(Port::middle).reduce(|a, b| a + b);
    let middle = sum.map(|sum| sum * (1.0 / ports.len() as f64)).or(stated)?;
    let wall = nearest_wall(plan, middle)?;
    // Who faces the wall sees its beginning on the right.
    ports.sort_by(|a, b| wall.at_m(b.middle()).total_cmp(&wall.at_m(a.middle())));
    let places = ports.iter().flat_map(|port| [port.supply, port.back]);
    let places: Vec<f64> = places.map(|place| wall.at_m(place)).collect();
    let at = wall.at_m(middle);
    let low = places.iter().copied().fold(f64::INFINITY, f64::min).min(at + BEYOND_M);
    let high = places.iter().copied().fold(f64::NEG_INFINITY, f64::max).max(at - BEYOND_M);
    let [low, high] = if places.is_empty() {
        [at - HALF_EMPTY_M, at + HALF_EMPTY_M]
    } else {
        [low - BEYOND_M, high + BEYOND_M]
    };
    let on_wall = |at_m: f64| wall.from + wall.along() * at_m;
    let ends = [on_wall(high), on_wall(low)];
    Some(PortGroup { manifold, through, wall, ports, ends })
}

/// The wall of any room that is nearest to a place; the first of equals.
fn nearest_wall(plan: &Plan, place: Point) -> Option<Wall> {
    let walls = plan.rooms.iter().flat_map(|(room, _, region)| Wall::all(room, region));
    let mut best: Option<(f64, Wall)> = None;
    for wall in walls {
        let distance = wall.distance_m(place);
        if best.as_ref().is_none_or(|(least, _)| distance < least - 1e-6) {
            best = Some((distance, wall));
        }
    }
    best.map(|(_, wall)| wall)
}
