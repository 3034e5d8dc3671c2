//! Counterflow: a band along the rings of a zone.

use super::body;
use super::entry::Stub;
use super::rings::Ring;
use super::search::Draft;
use super::tree::Tree;
use super::zone::Zone;
use crate::chain;
use crate::point::Point;
use crate::region::Region;
use crate::storey::Pattern;

/// Least cold area for which a lobe is made, in square spacings; none at last, as a lobe in a
/// narrow place may leave no room to bend.
const LOBE_LEAST: [f64; 3] = [0.8, 3.0, f64::INFINITY];

/// Counterflow loops of a zone along its rings, wound one way round.
pub(super) fn drafts(
    zone: &Zone<'_>,
    rings: &[Ring],
    stub: &Stub,
    s: f64,
    mirrored: bool,
) -> Vec<Draft> {
    let outlines = wound(zone.floor, rings, stub, (s, zone.turn_m()), mirrored);
    outlines.into_iter().map(|outline| draft(outline, s)).collect()
}

/// A single turn along the walls of a zone.
pub(super) fn lone_draft(zone: &Zone<'_>, stub: &Stub, s: f64) -> Option<Draft> {
    single_turn(zone.floor, stub, s).map(|outline| draft(outline, s))
}

fn draft((corners, way): (Vec<Point>, f64), spacing: f64) -> Draft {
    Draft { corners, spacing, pattern: Pattern::Counterflow, way }
}

/// All loops that start at one place of the wall, each with the length of its way in.
pub(super) fn outlines(
    floor: &Region,
    rings: &[Ring],
    stub: &Stub,
    s: f64,
) -> Vec<(Vec<Point>, f64)> {
    let mut outlines = Vec::new();
    if rings.is_empty() {
        outlines.extend(single_turn(floor, stub, s));
    }
    for mirrored in [false, true] {
        outlines.extend(wound(floor, rings, stub, (s, 0.0), mirrored));
    }
    outlines
}

/// The loop that is a single turn along the walls.
fn single_turn(floor: &Region, stub: &Stub, s: f64) -> Option<(Vec<Point>, f64)> {
    let band = body::single_turn(floor, s);
    let target = band.iter().min_by(|a, b| {
        a.boundary_distance_m(stub.foot).total_cmp(&b.boundary_distance_m(stub.foot))
    })?;
    let way = stub.way(floor, &[chain::opened(target.outer())], s)?;
    let length = chain::length(&way.line);
    let corners = body::outline(&band, stub, &way, None, s)?;
    Some((chain::thinned(&corners, 0.003), length))
}

/// Loops along the rings, wound one way round.
pub(super) fn wound(
    floor: &Region,
    rings: &[Ring],
    stub: &Stub,
    (s, turn_m): (f64, f64),
    mirrored: bool,
) -> Vec<(Vec<Point>, f64)> {
    let turned: Vec<Ring> = rings
        .iter()
        .map(|r| {
            let mut closed = r.closed.clone();
            if mirrored {
                closed.reverse();
            }
            Ring { level: r.level, closed }
        })
        .collect();
    let first = (0..turned.len()).min_by(|&i, &j| {
        let key = |k: usize| chain::distance_to(&turned[k].closed, stub.foot);
        turned[i].level.cmp(&turned[j].level).then(key(i).total_cmp(&key(j)))
    });
    let Some(first) = first else { return Vec::new() };
    let target = std::slice::from_ref(&turned[first].closed);
    let Some(way) = stub.way(floor, target, s) else { return Vec::new() };
    let grown = Tree::grown(&turned, first, &way.line, stub.gap, floor, s);
    let Some(tree) = grown else { return Vec::new() };
    let chains = tree.chains();
    let length = chain::length(&way.line);
    let mut outlines: Vec<(Vec<Point>, f64)> = Vec::new();
    for whole in body::with_lobes(&[(s, chains)], floor, (s, turn_m), &LOBE_LEAST) {
        let outline = body::outline(&whole, stub, &way, tree.flush, s);
        outlines.extend(outline.map(|c| (chain::thinned(&c, 0.003), length)));
    }
    outlines.dedup();
    outlines
}
