//! Open and closed chains of straight edges: measuring, cutting, thinning out.
//!
//! A closed chain (ring) does not repeat its first point.

use crate::point::{Point, nearest_share, segment_distance, segments_distance};

/// Edges of a ring, the closing one included.
pub(crate) fn ring_edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| (*a, *b))
}

/// Edges of an open chain.
pub(crate) fn edges(chain: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    chain.windows(2).map(|w| (w[0], w[1]))
}

/// Length of an open chain.
pub(crate) fn length(chain: &[Point]) -> f64 {
    edges(chain).map(|(a, b)| a.distance(b)).sum()
}

/// Twice the signed area of a ring, positive counter-clockwise.
pub(crate) fn double_area(ring: &[Point]) -> f64 {
    // Relative to a corner, so that rooms far from the origin keep their digits.
    let Some(&origin) = ring.first() else { return 0.0 };
    ring_edges(ring).map(|(a, b)| (a - origin).cross(b - origin)).sum()
}

/// Point at distance `along` on an open chain, clamped to its ends.
pub(crate) fn at(chain: &[Point], along: f64) -> Point {
    let mut rest = along.max(0.0);
    for (a, b) in edges(chain) {
        let step = a.distance(b);
        if rest <= step && step > 0.0 {
            return a.lerp(b, rest / step);
        }
        rest -= step;
    }
    chain.last().copied().unwrap_or_default()
}

/// The piece of an open chain between two distances.
pub(crate) fn slice(chain: &[Point], from: f64, to: f64) -> Vec<Point> {
    let mut piece = vec![at(chain, from)];
    let mut gone = 0.0;
    for (a, b) in edges(chain) {
        gone += a.distance(b);
        if gone >= to {
            break;
        }
        if gone > from {
            push_new(&mut piece, b);
        }
    }
    push_new(&mut piece, at(chain, to));
    piece
}

/// Appends a point unless the chain already ends there.
pub(crate) fn push_new(chain: &mut Vec<Point>, point: Point) {
    if chain.last().is_none_or(|last| last.distance(point) > 1e-9) {
        chain.push(point);
    }
}

/// Nearest place of an open chain to `p`: point, distance to it, distance along.
pub(crate) fn project(chain: &[Point], p: Point) -> (Point, f64, f64) {
    let mut best = (chain.first().copied().unwrap_or_default(), f64::INFINITY, 0.0);
    let mut gone = 0.0;
    for (a, b) in edges(chain) {
        let share = nearest_share(a, b, p);
        let foot = a.lerp(b, share);
        let distance = foot.distance(p);
        if distance < best.1 {
            best = (foot, distance, gone + share * a.distance(b));
        }
        gone += a.distance(b);
    }
    best
}

/// Distance from `p` to an open chain.
pub(crate) fn distance_to(chain: &[Point], p: Point) -> f64 {
    if let [only] = chain {
        return only.distance(p);
    }
    edges(chain).map(|(a, b)| segment_distance(a, b, p)).fold(f64::INFINITY, f64::min)
}

/// Smallest distance between two open chains.
pub(crate) fn gap(one: &[Point], other: &[Point]) -> f64 {
    let mut least = f64::INFINITY;
    for (a, b) in edges(one) {
        for (c, d) in edges(other) {
            // Between upright boxes first, as most pairs are far apart.
            let x = (a.x.min(b.x) - c.x.max(d.x)).max(c.x.min(d.x) - a.x.max(b.x));
            let y = (a.y.min(b.y) - c.y.max(d.y)).max(c.y.min(d.y) - a.y.max(b.y));
            if x.max(y) < least {
                least = least.min(segments_distance(a, b, c, d));
            }
        }
    }
    least
}

/// The ring as an open chain that starts and ends at its first point.
pub(crate) fn opened(ring: &[Point]) -> Vec<Point> {
    let mut chain = ring.to_vec();
    chain.extend(ring.first());
    chain
}

/// The opened ring started anew at distance `along`.
pub(crate) fn restarted(closed: &[Point], along: f64) -> Vec<Point> {
    let total = length(closed);
    let mut chain = slice(closed, along, total);
    for point in slice(closed, 0.0, along) {
        push_new(&mut chain, point);
    }
    chain
}

/// Leaves out points of an open chain that a tolerance cannot tell from the rest.
pub(crate) fn thinned(chain: &[Point], tolerance: f64) -> Vec<Point> {
    if chain.len() < 3 {
        return chain.to_vec();
    }
    let mut keep = vec![false; chain.len()];
    let last = chain.len() - 1;
    keep[0] = true;
    keep[last] = true;
    let mut stack = vec![(0, last)];
    while let Some((from, to)) = stack.pop() {
        let mut worst = (from, tolerance);
        for i in from + 1..to {
            let off = segment_distance(chain[from], chain[to], chain[i]);
            if off > worst.1 {
                worst = (i, off);
            }
        }
        if worst.0 != from {
            keep[worst.0] = true;
            stack.push((from, worst.0));
            stack.push((worst.0, to));
        }
    }
    chain.iter().zip(keep).filter(|(_, keep)| *keep).map(|(p, _)| *p).collect()
}

/// Leaves out points of a ring that a tolerance cannot tell from the rest.
pub(crate) fn thinned_ring(ring: &[Point], tolerance: f64) -> Vec<Point> {
    if ring.len() < 4 {
        return ring.to_vec();
    }
    // Anchored at the sharpest corner, which no tolerance would remove.
    let turn = |i: usize| {
        let (a, b) = (ring[(i + ring.len() - 1) % ring.len()], ring[i]);
        (b - a).angle_to(ring[(i + 1) % ring.len()] - b).abs()
    };
    let mut start = 0;
    for i in 1..ring.len() {
        if turn(i) > turn(start) + 1e-9 {
            start = i;
        }
    }
    let mut chain: Vec<Point> = ring[start..].to_vec();
    chain.extend_from_slice(&ring[..=start]);
    let mut thin = thinned(&chain, tolerance);
    thin.pop();
    thin
}

/// Whether `p` is enclosed by a ring, by counting crossings of a ray.
pub(crate) fn encloses(ring: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (a, b) in ring_edges(ring) {
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}
