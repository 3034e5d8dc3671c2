//! Straight pieces in no order, joined to lines.

use plane::Point;
use std::collections::BTreeMap;

/// Ends closer than this are one, as a share of a metre.
const SAME: f64 = 1e6;

/// Joins pieces that share an end; each point ends two pieces at most.
pub(super) fn joined(pieces: impl Iterator<Item = [Point; 2]>) -> Vec<Vec<Point>> {
    let pieces: Vec<[Point; 2]> = pieces.filter(|[a, b]| key(*a) != key(*b)).collect();
    let mut ends: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (number, piece) in pieces.iter().enumerate() {
        piece.iter().for_each(|end| ends.entry(key(*end)).or_default().push(number));
    }
    let mut used = vec![false; pieces.len()];
    let follow = |from: Point, used: &mut Vec<bool>| {
        let (mut line, mut here) = (Vec::new(), from);
        while let Some(next) =
            ends.get(&key(here)).and_then(|all| all.iter().find(|number| !used[**number]))
        {
            used[*next] = true;
            let [a, b] = pieces[*next];
            here = if key(a) == key(here) { b } else { a };
            line.push(here);
        }
        line
    };
    let mut lines = Vec::new();
    for number in 0..pieces.len() {
        if used[number] {
            continue;
        }
        used[number] = true;
        let [a, b] = pieces[number];
        let mut line = follow(a, &mut used);
        line.reverse();
        line.extend([a, b]);
        line.extend(follow(b, &mut used));
        lines.push(line);
    }
    lines
}

/// A place to the micrometre.
fn key(at: Point) -> (i64, i64) {
    ((at.x * SAME).round() as i64, (at.y * SAME).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_become_lines_and_rings() {
        let at = |x: f64, y: f64| Point::new(x, y);
        let ring = [at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 1.0)];
        let mut pieces: Vec<[Point; 2]> = (0..4).map(|i| [ring[i], ring[(i + 1) % 4]]).collect();
        pieces.extend([[at(6.0, 0.0), at(5.0, 0.0)], [at(6.0, 0.0), at(7.0, 0.0)]]);
        pieces.swap(1, 4);
        let lines = joined(pieces.into_iter());
        let mut sizes: Vec<usize> = lines.iter().map(Vec::len).collect();
        sizes.sort_unstable();
        assert_eq!(sizes, [3, 5]);
        let ring = lines.iter().find(|line| line.len() == 5).unwrap();
        assert_eq!(ring.first(), ring.last());
    }
}
