//! Rows joined into a tree: a comb for serpentines, a winding for doubled ones.

use super::rows::{Pitch, Row};
use crate::chain;
use crate::point::{Point, segments_distance};
use crate::region::Region;

/// Which ends of the rows are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spine {
    /// The ends where the guide begins.
    Start,
    /// The ends where the guide ends.
    End,
    /// One and the other in turn.
    InTurn,
}

/// A row or a link in the tree.
pub(super) struct Track {
    /// Level of the row, or of the lower of the two that a link joins.
    pub(super) level: usize,
    pub(super) line: Vec<Point>,
}

/// A possible join between two rows.
struct Link {
    cost: f64,
    rows: [usize; 2],
    ends: [Point; 2],
}

/// The rows that hang together, and the links between them, as chains.
///
/// Those that hang together with the row nearest to `port` are taken.
pub(super) fn tree(
    rows: &[Row],
    floor: &Region,
    port: Point,
    spine: Spine,
    pitch: &Pitch,
) -> Vec<Track> {
    let mut links = links(rows, floor, spine, pitch);
    links.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.rows.cmp(&b.rows)));
    let mut group: Vec<usize> = (0..rows.len()).collect();
    let mut taken: Vec<Link> = Vec::new();
    for link in links {
        let [a, b] = link.rows.map(|row| group[row]);
        if a != b {
            group.iter_mut().filter(|g| **g == b).for_each(|g| *g = a);
            taken.push(link);
        }
    }
    let near = |i: &usize| chain::distance_to(&rows[*i].line, port);
    let Some(root) = (0..rows.len()).min_by(|a, b| near(a).total_cmp(&near(b))) else {
        return Vec::new();
    };
    let here = |row: usize| group[row] == group[root];
    let kept: Vec<&Link> = taken.iter().filter(|l| here(l.rows[0])).collect();
    let level = |i: usize| rows[i].level;
    // Beside dense rows the floor is cut closer to the walls, which would not stop them.
    let free = |i: usize| match pitch.dense {
        0 => drawn_out(&rows[i].line, &kept, pitch.s),
        _ => rows[i].line.clone(),
    };
    let own =
        (0..rows.len()).filter(|i| here(*i)).map(|i| Track { level: level(i), line: free(i) });
    let joins = kept.iter().map(|link| Track {
        level: link.rows.map(level)[0].min(link.rows.map(level)[1]),
        line: link.ends.to_vec(),
    });
    own.chain(joins).collect()
}

/// A row with its free ends drawn out, so that cut to the floor they end along
/// the wall, however the wall runs.
fn drawn_out(line: &[Point], links: &[&Link], s: f64) -> Vec<Point> {
    let is_free = |p: Point| links.iter().flat_map(|l| l.ends).all(|q| q.distance(p) > 0.9 * s);
    let mut long = line.to_vec();
    if let [first, second, ..] = *line
        && is_free(first)
    {
        long[0] = first + (first - second).unit() * (0.3 * s);
    }
    if let [.., before, last] = *line
        && is_free(last)
    {
        long.pop();
        long.push(last + (last - before).unit() * (0.3 * s));
    }
    long
}

fn links(rows: &[Row], floor: &Region, spine: Spine, pitch: &Pitch) -> Vec<Link> {
    let mut links = Vec::new();
    for (i, one) in rows.iter().enumerate() {
        for (j, other) in rows.iter().enumerate().skip(i + 1) {
            if one.level.abs_diff(other.level) > 1 {
                continue;
            }
            // A link is as wide as the lower of its rows and reaches half of each.
            let s = pitch.spacing(one.level.min(other.level));
            let longest = 1.6 * (pitch.spacing(one.level) + pitch.spacing(other.level));
            for at_start in [true, false] {
                let wanted = match spine {
                    Spine::Start => at_start,
                    Spine::End => !at_start,
                    Spine::InTurn => at_start == one.level.min(other.level).is_multiple_of(2),
                };
                let (a, b) = (end_of(&one.line, at_start), end_of(&other.line, at_start));
                let across = |from, line: &[Point]| [from, chain::project(line, from).0];
                // End to end runs along the wall, square across starts at the shorter row.
                for ends in [[a, b], across(a, &other.line), across(b, &one.line)] {
                    let length = ends[0].distance(ends[1]);
                    let aside = ends[1].distance(a).min(ends[1].distance(b));
                    let cost = if wanted { 0.0 } else { 100.0 } + (length + aside) / s;
                    if (1e-6..=longest).contains(&length)
                        && is_clear(rows, floor, ends, [i, j], s, pitch)
                    {
                        links.push(Link { cost, rows: [i, j], ends });
                    }
                }
            }
        }
    }
    links
}

fn end_of(line: &[Point], start: bool) -> Point {
    let end = if start { line.first() } else { line.last() };
    end.copied().unwrap_or_default()
}

/// Whether a link keeps off walls and rows that it does not join.
fn is_clear(
    rows: &[Row],
    floor: &Region,
    [from, to]: [Point; 2],
    own: [usize; 2],
    s: f64,
    pitch: &Pitch,
) -> bool {
    let mut others = rows.iter().enumerate().filter(|(i, _)| !own.contains(i)).map(|(_, row)| row);
    // Half of the link, half of the row, and most of the gap between them.
    let apart = |row: &Row| 0.8 * (s + pitch.spacing(row.level));
    floor.edges().all(|(a, b)| segments_distance(from, to, a, b) >= 0.93 * s)
        && others.all(|row| chain::gap(&[from, to], &row.line) >= apart(row))
}
