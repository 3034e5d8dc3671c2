//! Rows on the locked grid: where they fit, and the tree that links them.

use crate::chain;
use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// Places of the grid that are tried between one groove and the next row.
const PHASES: usize = 24;

/// Rows flush with the edge of what may hold them lie this far inside, metres.
const FLUSH_M: f64 = 1e-4;

/// The place for rows is taken larger by this than walls allow; ends of rows give it back, metres.
pub(crate) const SPARE_M: f64 = 2.0 * FLUSH_M;

/// At which ends neighbouring rows are linked where both can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ends {
    Low,
    High,
}

/// A row: the middle between two grooves, in the frame where grooves run along x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Row {
    /// Number of the row on the grid.
    pub(crate) line: i64,
    pub(crate) y: f64,
    pub(crate) from: f64,
    pub(crate) to: f64,
}

impl Row {
    pub(super) fn length_m(&self) -> f64 {
        self.to - self.from
    }
}

/// Rows at `phase + 2 p m` inside the regions, `end` short of their edges, no shorter than `least`.
pub(crate) fn rows(inside: &[Region], pitch: f64, phase: f64, least: f64, end: f64) -> Vec<Row> {
    let mut found = Vec::new();
    for region in inside {
        let (low, high) = region.bounds();
        let step = 2.0 * pitch;
        let first = ((low.y - phase) / step).floor() as i64;
        let last = ((high.y - phase) / step).ceil() as i64;
        for line in first..=last {
            let y = phase + line as f64 * step;
            let mut cuts: Vec<f64> =
                region.rings().flat_map(chain::ring_edges).filter_map(|e| cut(e, y)).collect();
            cuts.sort_by(f64::total_cmp);
            for pair in cuts.chunks_exact(2) {
                let (from, to) = (pair[0] + end, pair[1] - end);
                if to - from >= least {
                    found.push(Row { line, y, from, to });
                }
            }
        }
    }
    found.sort_by(|a, b| a.line.cmp(&b.line).then(a.from.total_cmp(&b.from)));
    found
}

/// Where an edge crosses a level line.
fn cut((a, b): (Point, Point), y: f64) -> Option<f64> {
    ((a.y > y) != (b.y > y)).then(|| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
}

/// Floor that rows serve with both their grooves, square metres.
pub(super) fn served_m2(rows: &[Row], pitch: f64) -> f64 {
    rows.iter().map(|row| (row.length_m() + pitch) * 2.0 * pitch).sum()
}

/// The place of the grid that serves most floor, with what it gains over the worst.
///
/// Of equal ones the one with the fewest rows, hence the fewest cuts, then the one that leaves the
/// most even margins.
pub(super) fn best_phase(inside: &[Region], pitch: f64, end_m: f64) -> (f64, f64) {
    let (low, high) = extent(inside);
    let margin = |rows: &[Row]| match (rows.first(), rows.last()) {
        (Some(first), Some(last)) => (first.y - low).min(high - last.y),
        _ => f64::NEG_INFINITY,
    };
    let mut best = (0.0, f64::NEG_INFINITY, usize::MAX, f64::NEG_INFINITY);
    let mut worst = f64::INFINITY;
    let even = (0..PHASES).map(|k| 2.0 * pitch * k as f64 / PHASES as f64);
    // Flush with the first or the last place of a row, where whole rows just fit.
    for phase in even.chain([low + FLUSH_M, high - FLUSH_M]) {
        // On the micrometre grid of regions, so that half turns keep their full radius.
        let phase = (1e6 * phase.rem_euclid(2.0 * pitch)).round() / 1e6;
        let rows = rows(inside, pitch, phase, 1.2 * pitch, end_m);
        let (served, margin) = (served_m2(&rows, pitch), margin(&rows));
        worst = worst.min(served);
        let same = (served - best.1).abs() <= 1e-3;
        let fewer = rows.len() < best.2 || (rows.len() == best.2 && margin > best.3 + 1e-6);
        if served > best.1 + 1e-3 || (same && fewer) {
            best = (phase, served, rows.len(), margin);
        }
    }
    (best.0, (best.1 - worst).max(0.0))
}

/// Lowest and highest ordinate of regions.
fn extent(inside: &[Region]) -> (f64, f64) {
    let ys = inside.iter().flat_map(|region| region.outer()).map(|p| p.y);
    ys.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)))
}

/// The outline of a tree of rows, and the length of rows that could not be linked.
///
/// Neighbouring rows are linked at an end, best at the low end; links stay in the region. The tree
/// that holds the row nearest to `root` counts.
pub(super) fn outline(
    rows: &[Row],
    inside: &[Region],
    pitch: f64,
    root: Point,
) -> Option<(Vec<Point>, f64)> {
    let (tracks, lost) = tree(rows, inside, root, Ends::Low)?;
    let body = clip::thick(&tracks, pitch / 2.0, clip::Cap::Square);
    let largest = body.into_iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))?;
    largest.holes().is_empty().then(|| (straightened(largest.outer()), lost))
}

/// The rows of a tree with their links as lines, and the length of rows that could not be linked.
///
/// Neighbouring rows are linked at an end; links stay in the region. The tree that holds the row
/// nearest to `root` counts.
pub(crate) fn tree(
    rows: &[Row],
    inside: &[Region],
    root: Point,
    ends: Ends,
) -> Option<(Vec<Vec<Point>>, f64)> {
    let mut links = links(rows, inside, ends);
    links.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut tree: Vec<usize> = (0..rows.len()).collect();
    let mut lines: Vec<(usize, [Point; 2])> = Vec::new();
    for (_, x, [i, j]) in links {
        let (a, b) = (top(&tree, i), top(&tree, j));
        if a != b {
            tree[b] = a;
            lines.push((i, [Point::new(x, rows[i].y), Point::new(x, rows[j].y)]));
        }
    }
    let away = |i: &usize| {
        let (a, b) = (Point::new(rows[*i].from, rows[*i].y), Point::new(rows[*i].to, rows[*i].y));
        crate::point::segment_distance(a, b, root)
    };
    let nearest = (0..rows.len()).min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let kept = top(&tree, nearest);
    let mut lost = 0.0;
    for (i, row) in rows.iter().enumerate() {
        if top(&tree, i) == kept {
            lines.push((i, [Point::new(row.from, row.y), Point::new(row.to, row.y)]));
        } else {
            lost += row.length_m();
        }
    }
    let chains: Vec<Vec<Point>> = lines
        .into_iter()
        .filter(|(i, _)| top(&tree, *i) == kept)
        .map(|(_, ends)| ends.to_vec())
        .collect();
    Some((chains, lost))
}

/// Links of neighbouring rows at their ends: rank, place, and the two rows.
fn links(rows: &[Row], inside: &[Region], ends: Ends) -> Vec<(u8, f64, [usize; 2])> {
    let mut found = Vec::new();
    for (i, a) in rows.iter().enumerate() {
        for (j, b) in rows.iter().enumerate().filter(|(_, b)| b.line == a.line + 1) {
            let (low, high) = (a.from.max(b.from), a.to.min(b.to));
            if high < low {
                continue;
            }
            let [first, second] = if ends == Ends::Low { [low, high] } else { [high, low] };
            for (rank, x) in [(0, first), (1, second)] {
                let ends = [Point::new(x, a.y), Point::new(x, b.y)];
                let clear = (0..=8).all(|k| {
                    let p = ends[0].lerp(ends[1], f64::from(k) / 8.0);
                    inside
                        .iter()
                        .any(|region| region.encloses(p) || region.boundary_distance_m(p) < 2e-3)
                });
                if clear {
                    found.push((rank, x, [i, j]));
                }
            }
        }
    }
    found
}

fn top(tree: &[usize], mut i: usize) -> usize {
    while tree[i] != i {
        i = tree[i];
    }
    i
}

/// A ring without corners that do not turn.
fn straightened(ring: &[Point]) -> Vec<Point> {
    let n = ring.len();
    let turns = |i: &usize| {
        let (a, b, c) = (ring[(i + n - 1) % n], ring[*i], ring[(i + 1) % n]);
        (b - a).angle_to(c - b).abs() > 1e-3
    };
    (0..n).filter(turns).map(|i| ring[i]).collect()
}
