//! The tree: every ring cut open once and linked to the one before.

use super::rings::Ring;
use crate::chain;
use crate::point::{Point, segment_distance, segments_distance};
use crate::region::Region;

/// The centreline of the band.
pub(super) struct Tree {
    /// Pieces of centreline, each starting on the piece before it or the stub.
    pub(super) tracks: Vec<Vec<Point>>,
    /// For each piece, the piece from whose end it continues.
    follows: Vec<Option<usize>>,
    /// The beginning of the first piece, where it lies flush with the stub.
    pub(super) flush: Option<[Point; 2]>,
}

/// Links longer than this many spacings are not tried.
const LONGEST_LINK: f64 = 40.0;

/// Links longer than this many spacings must keep to the middle of the floor.
const SHORT_LINK: f64 = 3.4;

/// Cost of a wholly slanted link, in spacings of its length.
const SLANTED: f64 = 1.0;

impl Tree {
    /// Lays the tree over all rings, beginning where the stub meets one.
    ///
    pub(super) fn grown(
        rings: &[Ring],
        first: usize,
        stub: &[Point],
        gap: f64,
        floor: &Region,
        spacing: f64,
    ) -> Option<Tree> {
        let tree = Tree { tracks: Vec::new(), follows: Vec::new(), flush: None };
        let todo = vec![true; rings.len()];
        let mut grower = Grower { rings, stub, gap, floor, spacing, tree, todo, tips: Vec::new() };
        grower.start(first)?;
        while grower.todo.contains(&true) {
            if !grower.wind_on() && !grower.branch() {
                break;
            }
        }
        Some(grower.tree)
    }

    /// The pieces joined into unbroken chains where one continues another.
    pub(super) fn chains(&self) -> Vec<Vec<Point>> {
        let mut next: Vec<Option<usize>> = vec![None; self.tracks.len()];
        for (piece, before) in self.follows.iter().enumerate() {
            if let Some(before) = before {
                next[*before] = Some(piece);
            }
        }
        let mut chains = Vec::new();
        for start in 0..self.tracks.len() {
            if self.follows[start].is_some() {
                continue;
            }
            let mut chain = self.tracks[start].clone();
            let mut here = start;
            while let Some(piece) = next[here] {
                for p in &self.tracks[piece] {
                    chain::push_new(&mut chain, *p);
                }
                here = piece;
            }
            chains.push(chain);
        }
        chains
    }
}

struct Grower<'a> {
    rings: &'a [Ring],
    stub: &'a [Point],
    /// Distance between the two strands of the stub.
    gap: f64,
    floor: &'a Region,
    spacing: f64,
    tree: Tree,
    todo: Vec<bool>,
    /// Open ends from which the winding may go on: piece and level.
    tips: Vec<(usize, usize)>,
}

impl Grower<'_> {
    fn start(&mut self, first: usize) -> Option<()> {
        let ring = &self.rings[first];
        let meets = self.stub.last().copied()?;
        let along = chain::project(&ring.closed, meets).2;
        let keep = 1.5 * self.spacing + self.gap / 2.0;
        let track = cut_open(&ring.closed, along, self.stub, keep, self.spacing)?;
        let (track, flush) = flush_with_stub(track, self.stub, self.gap, self.spacing);
        self.tree.flush = flush;
        self.add(track, None, first);
        Some(())
    }

    fn add(&mut self, track: Vec<Point>, follows: Option<usize>, ring: usize) {
        self.todo[ring] = false;
        self.tree.tracks.push(track);
        self.tree.follows.push(follows);
        self.tips.push((self.tree.tracks.len() - 1, self.rings[ring].level));
    }

    /// Goes on from the latest open end to the next ring inwards.
    fn wind_on(&mut self) -> bool {
        while let Some(&(piece, level)) = self.tips.last() {
            for ring in self.nearest_rings(piece, level + 1) {
                if self.link_on(piece, ring) {
                    return true;
                }
            }
            self.tips.pop();
        }
        false
    }

    /// Unused rings of a level near the end of a piece, the nearest first.
    fn nearest_rings(&self, piece: usize, level: usize) -> Vec<usize> {
        let end = last_of(&self.tree.tracks[piece]);
        let mut near: Vec<(f64, usize)> = (0..self.rings.len())
            .filter(|&i| self.todo[i] && self.rings[i].level == level)
            .map(|i| (chain::distance_to(&self.rings[i].closed, end), i))
            .filter(|(distance, _)| *distance <= 3.0 * self.spacing)
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        near.into_iter().map(|(_, i)| i).collect()
    }

    /// Links the end of a piece to a ring; true if the ring is dealt with.
    fn link_on(&mut self, piece: usize, ring: usize) -> bool {
        let target = &self.rings[ring].closed;
        let trimmed = trimmed_end(&self.tree.tracks[piece], target, self.spacing);
        let end = last_of(&trimmed);
        let (foot, distance, along) = chain::project(target, end);
        if distance < 1e-6 {
            return false;
        }
        let link = [end, foot];
        if !self.is_clear(&link, piece) {
            return false;
        }
        match cut_open(target, along, &link, 2.0 * self.spacing, self.spacing) {
            None => self.todo[ring] = false,
            Some(rest) => {
                let mut track = vec![end];
                rest.into_iter().for_each(|p| chain::push_new(&mut track, p));
                self.tree.tracks[piece] = trimmed;
                // The end of the piece is taken now.
                self.tips.pop();
                self.add(track, Some(piece), ring);
            }
        }
        true
    }

    /// Joins the unused ring nearest to the tree by a side link.
    fn branch(&mut self) -> bool {
        let mut best: Option<(f64, usize, usize)> = None;
        for (i, ring) in self.rings.iter().enumerate().filter(|(i, _)| self.todo[*i]) {
            for (piece, track) in self.tree.tracks.iter().enumerate() {
                let gap = chain::gap(&ring.closed, track);
                if gap < LONGEST_LINK * self.spacing && best.is_none_or(|b| gap < b.0 - 1e-9) {
                    best = Some((gap, i, piece));
                }
            }
        }
        let Some((_, ring, piece)) = best else { return false };
        self.todo[ring] = false;
        let target = &self.rings[ring].closed;
        for (from, to) in side_links(&self.tree.tracks[piece], target, self.spacing) {
            if !self.is_clear(&[from, to], piece) {
                continue;
            }
            let along = chain::project(target, to).2;
            if let Some(rest) =
                cut_open(target, along, &[from, to], 2.0 * self.spacing, self.spacing)
            {
                let mut track = vec![from];
                rest.into_iter().for_each(|p| chain::push_new(&mut track, p));
                self.add(track, None, ring);
            }
            break;
        }
        true
    }

    /// Whether a link keeps its distance from all pieces but its own and from
    /// the floor's edge; a long one keeps to the middle of the floor.
    fn is_clear(&self, link: &[Point; 2], own: usize) -> bool {
        let [from, to] = *link;
        let long = from.distance(to) > SHORT_LINK * self.spacing;
        let margin = if long { 0.8 } else { 0.5 } * self.spacing;
        let apart = |(a, b)| segments_distance(from, to, a, b) >= margin;
        self.floor.edges().all(apart)
            && self
                .tree
                .tracks
                .iter()
                .enumerate()
                .all(|(i, track)| i == own || chain::gap(link, track) >= 0.8 * self.spacing)
    }
}

fn last_of(chain: &[Point]) -> Point {
    chain.last().copied().unwrap_or_default()
}

/// A ring walked from `along` until it would come back to its own start.
///
/// The open end keeps the distance `keep` from `guard` and two spacings from the
/// first stretch of the ring, so that a strand fits between.
fn cut_open(ring: &[Point], along: f64, guard: &[Point], keep: f64, s: f64) -> Option<Vec<Point>> {
    let walk = chain::restarted(ring, along);
    let total = chain::length(&walk);
    let first = chain::slice(&walk, 0.0, (0.45 * total).min(3.0 * s));
    let mut cut = 1.999 * s;
    while cut < 0.6 * total {
        let end = chain::at(&walk, total - cut);
        let free = chain::distance_to(guard, end) >= keep - 0.01 * s;
        if free && chain::distance_to(&first, end) >= 1.99 * s {
            return Some(chain::slice(&walk, 0.0, total - cut));
        }
        cut += 0.05 * s;
    }
    (total > 2.5 * s).then(|| chain::slice(&walk, 0.0, (0.3 * total).max(total - 2.0 * s)))
}

/// A track moved at its start so that the strand behind its square end goes on in
/// line with the stub's own strand.
fn flush_with_stub(
    track: Vec<Point>,
    stub: &[Point],
    gap: f64,
    s: f64,
) -> (Vec<Point>, Option<[Point; 2]>) {
    let ([.., before, end], [start, next, ..]) = (stub, &track[..]) else { return (track, None) };
    let ahead = (*next - *start).unit();
    let shift = (*end - *start).dot(ahead) + (s - gap) / 2.0;
    let is_square = (*end - *before).unit().dot(ahead).abs() <= 0.5;
    if !is_square || shift > 0.9 * start.distance(*next) || shift < -1.5 * s {
        return (track, None);
    }
    let mut moved = track;
    moved[0] = moved[0] + ahead * shift;
    let flush = [moved[0] - ahead * (s / 2.0), moved[0] + ahead * (0.1 * s)];
    (moved, Some(flush))
}

/// A piece shortened at its end so that the link to the next ring is short and
/// does not turn back.
fn trimmed_end(track: &[Point], target: &[Point], s: f64) -> Vec<Point> {
    let total = chain::length(track);
    let longest = (4.2 * s).min(0.3 * total);
    let mut best = (f64::INFINITY, 0.0);
    let steps = (longest / (0.1 * s)).ceil() as usize;
    for k in 0..steps {
        let cut = k as f64 * 0.1 * s;
        let end = chain::at(track, total - cut);
        let heading = (end - chain::at(track, total - cut - 0.3 * s)).unit();
        let link = chain::project(target, end).0 - end;
        let cosine = heading.dot(link.unit());
        let cost =
            (link.norm() / s - 2.05).max(0.0) + 3.0 * (-cosine - 0.05).max(0.0) + 0.12 * cut / s;
        if link.norm() > 1e-9 && cost < best.0 - 1e-9 {
            best = (cost, cut);
        }
    }
    if best.1 > 0.0 { chain::slice(track, 0.0, total - best.1) } else { track.to_vec() }
}

/// How far a link is from meeting a chain square, 0 to 1; at corners either edge will do.
fn slant(chain: &[Point], foot: Point, link: Point) -> f64 {
    let here = |(a, b): &(Point, Point)| segment_distance(*a, *b, foot) < 1e-6;
    let along = |(a, b): (Point, Point)| link.unit().dot((b - a).unit()).abs();
    chain::edges(chain).filter(here).map(along).fold(1.0, f64::min)
}

/// Straight links from a piece to a ring, short and square ones first.
fn side_links(track: &[Point], target: &[Point], s: f64) -> Vec<(Point, Point)> {
    let total = chain::length(track);
    let mut links: Vec<(Point, Point)> = Vec::new();
    // From corners of the ring as well, whose nearest places even steps miss.
    for corner in target {
        links.push((chain::project(track, *corner).0, *corner));
    }
    for k in 0..=24 {
        let from = chain::at(track, total * (0.02 + 0.04 * f64::from(k)));
        links.push((from, chain::project(target, from).0));
    }
    links.retain(|(a, b)| (1e-6..=LONGEST_LINK * s).contains(&a.distance(*b)));
    let cost = |(from, to): &(Point, Point)| {
        let link = *to - *from;
        let slants = slant(track, *from, link) + slant(target, *to, link);
        link.norm() + SLANTED * s * slants
    };
    links.sort_by(|p, q| cost(p).total_cmp(&cost(q)));
    links.truncate(14);
    links
}
