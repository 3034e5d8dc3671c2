//! Serpentines, doubled serpentines and bands: rows along walls.

use super::body;
use super::comb::{self, Spine, Track};
use super::entry::Stub;
use super::guide::Guides;
use super::rows::{self, Pitch};
use super::search::Draft;
use super::zone::Zone;
use crate::chain;
use crate::point::Point;
use crate::storey::Pattern;

/// Least cold area for which a lobe is made, in square spacings.
const LOBE_LEAST: [f64; 2] = [0.8, 1e9];

/// Loops of rows at about one spacing.
pub(super) fn drafts(
    zone: &Zone<'_>,
    stub: &Stub,
    guides: &Guides,
    pattern: Pattern,
    s: f64,
) -> Vec<Draft> {
    let mut drafts = Vec::new();
    for line in &guides.lines {
        let spacing = fitted(zone, line, s);
        for spine in spines(pattern, guides.known) {
            let outlines = outlines(zone, stub, line, pattern, spine, spacing);
            let draft = |(corners, way)| Draft { corners, spacing, pattern, way };
            drafts.extend(outlines.into_iter().map(draft));
        }
    }
    drafts
}

/// The spacing nearest to `s` at which whole rows fill the depth behind a straight guide.
fn fitted(zone: &Zone<'_>, line: &[Point], s: f64) -> f64 {
    let [a, b] = *line else { return s };
    let along = (b - a).unit();
    let far = zone.floor.outer().iter().map(|p| along.cross(*p - a)).fold(0.0, f64::max);
    let fit = far / (2.0 * (far / (2.0 * s)).round().max(1.0));
    if (fit / zone.spacing_m - 1.0).abs() <= 0.09 { fit } else { s }
}

/// With the rows joined where the guide begins, supply comes to the guide first.
fn spines(pattern: Pattern, known: bool) -> Vec<Spine> {
    match (pattern, known) {
        (Pattern::DoubledSerpentine, _) => vec![Spine::InTurn],
        (_, true) => vec![Spine::Start],
        (_, false) => vec![Spine::Start, Spine::End],
    }
}

fn outlines(
    zone: &Zone<'_>,
    stub: &Stub,
    line: &[Point],
    pattern: Pattern,
    spine: Spine,
    s: f64,
) -> Vec<(Vec<Point>, f64)> {
    let (dense, dense_s) = match pattern {
        Pattern::Band { spacing_m, depth_m } => {
            ((depth_m / (2.0 * spacing_m)).round().max(1.0) as usize, spacing_m)
        }
        _ => (0, s),
    };
    let pitch = Pitch { dense, dense_s, s };
    let rows = rows::rows(zone.floor, line, &pitch);
    let tree = comb::tree(&rows, zone.floor, stub.foot, spine, &pitch);
    let (close, normal): (Vec<_>, Vec<_>) = tree.into_iter().partition(|track| track.level < dense);
    let lines = |tracks: Vec<Track>| tracks.into_iter().map(|t| t.line).collect::<Vec<_>>();
    let tracks = [(dense_s, lines(close)), (s, lines(normal))];
    let all: Vec<Vec<Point>> = tracks.iter().flat_map(|t| t.1.iter().cloned()).collect();
    let Some(way) = stub.way(zone.floor, &all, s) else { return Vec::new() };
    let length = chain::length(&way.line);
    body::with_lobes(&tracks, zone.floor, (s, zone.turn_m()), &LOBE_LEAST)
        .into_iter()
        .filter_map(|band| body::outline(&band, stub, &way, None, s.min(dense_s)))
        .map(|corners| (chain::thinned(&corners, 0.003), length))
        .collect()
}
