//! A piece of floor: one outer ring with holes, checked when it is made.

use std::fmt;

use crate::chain::{self, ring_edges};
use crate::clip;
use crate::point::{Point, crossing, segment_distance};

/// Coordinates beyond this are no building, metres.
const FARTHEST_M: f64 = 1e5;

/// Areas below this are no floor, square metres.
const LEAST_AREA_M2: f64 = 1e-6;

/// Edges closer than this touch each other, metres.
const TOUCH_M: f64 = 1e-7;

/// A connected piece of the plane with straight edges.
///
/// The outer ring runs counter-clockwise, every hole clockwise; no ring repeats
/// its first corner. Coordinates are metres on a grid of a micrometre. A region
/// that exists is sound: it can only be made through checks.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    outer: Vec<Point>,
    holes: Vec<Vec<Point>>,
}

/// Why corners do not describe a piece of floor.
///
/// Rings are numbered 0 for the outer one and 1, 2, … for the holes in the order
/// given; edge `i` of a ring starts at its corner `i` as given.
#[derive(Clone, Debug, PartialEq)]
pub enum Flaw {
    /// A coordinate is not a number, or farther than 100 km from the origin.
    OutOfReach {
        /// Ring of the offending corner.
        ring: usize,
        /// Number of the offending corner.
        corner: usize,
    },
    /// Fewer than three different corners.
    TooFewCorners {
        /// Ring that is too short.
        ring: usize,
    },
    /// The corners enclose nothing.
    NoArea {
        /// Ring without area.
        ring: usize,
    },
    /// Two edges of one ring cross, touch or run back over each other.
    CrossesItself {
        /// Ring that crosses itself.
        ring: usize,
        /// The two offending edges, the lower number first.
        edges: [usize; 2],
    },
    /// An edge of one ring meets an edge of another.
    RingsMeet {
        /// The two rings.
        rings: [usize; 2],
        /// The edge of each.
        edges: [usize; 2],
    },
    /// A hole lies outside the outer ring or inside another hole.
    MisplacedHole {
        /// Ring number of the hole.
        ring: usize,
    },
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Flaw::OutOfReach { ring, corner } => {
                write!(f, "corner {corner} of ring {ring} is not a usable place")
            }
            Flaw::TooFewCorners { ring } => {
                write!(f, "ring {ring} has fewer than three different corners")
            }
            Flaw::NoArea { ring } => write!(f, "ring {ring} encloses no area"),
            Flaw::CrossesItself { ring, edges: [a, b] } => {
                write!(f, "edges {a} and {b} of ring {ring} meet")
            }
            Flaw::RingsMeet { rings: [r, q], edges: [a, b] } => {
                write!(f, "edge {a} of ring {r} meets edge {b} of ring {q}")
            }
            Flaw::MisplacedHole { ring } => {
                write!(f, "hole {ring} does not lie inside the outer ring alone")
            }
        }
    }
}

impl std::error::Error for Flaw {}

impl Region {
    /// A region from an outer ring and holes, either way round.
    ///
    /// Repeated corners and a repeated first corner are dropped, corners are
    /// snapped to the micrometre, rings are turned the right way round.
    ///
    /// # Errors
    /// The first [`Flaw`] found, ring by ring.
    pub fn new(outer: Vec<Point>, holes: Vec<Vec<Point>>) -> Result<Region, Flaw> {
        let mut rings = Vec::with_capacity(1 + holes.len());
        for (number, given) in std::iter::once(outer).chain(holes).enumerate() {
            rings.push(NumberedRing::checked(number, &given)?);
        }
        check_rings_apart(&rings)?;
        let mut points = rings.into_iter().map(|r| r.points);
        let outer = points.next().unwrap_or_default();
        Ok(Region::trusted(outer, points.collect()))
    }

    /// A region without holes from its corners, either way round.
    ///
    /// # Errors
    /// The first [`Flaw`] found.
    pub fn simple(outer: Vec<Point>) -> Result<Region, Flaw> {
        Region::new(outer, Vec::new())
    }

    /// The rectangle between two opposite corners.
    ///
    /// # Errors
    /// A [`Flaw`] when the corners do not span an area.
    pub fn rectangle(a: Point, b: Point) -> Result<Region, Flaw> {
        Region::simple(vec![a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)])
    }

    /// A region from rings known to be sound; only turns them the right way round.
    pub(crate) fn trusted(mut outer: Vec<Point>, mut holes: Vec<Vec<Point>>) -> Region {
        if chain::double_area(&outer) < 0.0 {
            outer.reverse();
        }
        for hole in &mut holes {
            if chain::double_area(hole) > 0.0 {
                hole.reverse();
            }
        }
        Region { outer, holes }
    }

    /// The outer ring, counter-clockwise.
    pub fn outer(&self) -> &[Point] {
        &self.outer
    }

    /// The holes, each clockwise.
    pub fn holes(&self) -> &[Vec<Point>] {
        &self.holes
    }

    /// Every ring: the outer one, then the holes.
    pub fn rings(&self) -> impl Iterator<Item = &[Point]> {
        std::iter::once(self.outer.as_slice()).chain(self.holes.iter().map(Vec::as_slice))
    }

    /// Every edge of every ring, with the region on its left.
    pub fn edges(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        self.rings().flat_map(ring_edges)
    }

    /// Enclosed area less the holes, square metres.
    pub fn area_m2(&self) -> f64 {
        self.rings().map(chain::double_area).sum::<f64>() / 2.0
    }

    /// Length of all rings together, metres.
    pub fn perimeter_m(&self) -> f64 {
        self.edges().map(|(a, b)| a.distance(b)).sum()
    }

    /// The centroid, which may lie beside a region with bays; the first corner of one without area.
    pub fn middle(&self) -> Point {
        let origin = self.outer.first().copied().unwrap_or_default();
        let (mut sum, mut double_m2) = (Point::default(), 0.0);
        for (a, b) in self.edges() {
            let cross = (a - origin).cross(b - origin);
            sum = sum + ((a - origin) + (b - origin)) * cross;
            double_m2 += cross;
        }
        if double_m2 > 0.0 { origin + sum * (1.0 / (3.0 * double_m2)) } else { origin }
    }

    /// Corners of the smallest upright rectangle around the region: low, high.
    pub fn bounds(&self) -> (Point, Point) {
        bounds_of(&self.outer)
    }

    /// Whether a place lies in the region or on its boundary.
    ///
    /// The boundary is taken a tenth of a micrometre thick; false for NaN.
    pub fn contains(&self, p: Point) -> bool {
        p.is_finite() && (self.encloses(p) || self.boundary_distance_m(p) <= TOUCH_M)
    }

    /// As `contains`, without care on the boundary itself.
    pub(crate) fn encloses(&self, p: Point) -> bool {
        chain::encloses(&self.outer, p) && !self.holes.iter().any(|h| chain::encloses(h, p))
    }

    /// Distance from a place to the nearest edge, metres.
    pub fn boundary_distance_m(&self, p: Point) -> f64 {
        self.edges().map(|(a, b)| segment_distance(a, b, p)).fold(f64::INFINITY, f64::min)
    }

    /// The place of the boundary nearest to `p`; the first edge wins ties.
    pub fn nearest_boundary(&self, p: Point) -> Point {
        let mut best = (p, f64::INFINITY);
        for ring in self.rings() {
            let (foot, distance, _) = chain::project(&chain::opened(ring), p);
            if distance < best.1 - 1e-9 {
                best = (foot, distance);
            }
        }
        best.0
    }

    /// What is left when `d_m` is taken off along every edge.
    ///
    /// Corners stay sharp. A negative distance grows the region instead; there
    /// corners sharper than 47° are cut off 2.5 distances out. Nothing for a
    /// distance that is not a number or not a building's.
    pub fn offset_inward(&self, d_m: f64) -> Vec<Region> {
        if d_m.is_nan() || d_m.abs() > FARTHEST_M {
            return Vec::new();
        }
        clip::erode(std::slice::from_ref(self), d_m)
    }

    /// What is left when keep-out rings are taken out.
    ///
    /// Rings may overlap each other and the boundary, either way round.
    ///
    /// # Errors
    /// The [`Flaw`] of the first unusable ring; its number counts keep-outs from 0.
    pub fn difference(&self, keep_outs: &[Vec<Point>]) -> Result<Vec<Region>, Flaw> {
        let mut left = vec![self.clone()];
        for (number, ring) in keep_outs.iter().enumerate() {
            let checked = NumberedRing::checked(number, ring)?;
            left = clip::difference(&left, &[Region::trusted(checked.points, Vec::new())]);
        }
        Ok(left)
    }

    /// The places in both regions.
    pub fn intersection(&self, other: &Region) -> Vec<Region> {
        clip::intersection(std::slice::from_ref(self), std::slice::from_ref(other))
    }

    /// Area common to both regions, square metres.
    pub fn overlap_area_m2(&self, other: &Region) -> f64 {
        self.intersection(other).iter().map(Region::area_m2).sum()
    }
}

/// Corners of the smallest upright rectangle around points: low, high.
pub(crate) fn bounds_of(points: &[Point]) -> (Point, Point) {
    let far = f64::INFINITY;
    let mut low = Point::new(far, far);
    let mut high = Point::new(-far, -far);
    for p in points {
        low = Point::new(low.x.min(p.x), low.y.min(p.y));
        high = Point::new(high.x.max(p.x), high.y.max(p.y));
    }
    (low, high)
}

/// A ring whose corners still know their numbers as given.
struct NumberedRing {
    points: Vec<Point>,
    numbers: Vec<usize>,
}

impl NumberedRing {
    fn checked(ring: usize, given: &[Point]) -> Result<NumberedRing, Flaw> {
        let usable = |p: &Point| p.x.abs() <= FARTHEST_M && p.y.abs() <= FARTHEST_M;
        if let Some(corner) = given.iter().position(|p| !usable(p)) {
            return Err(Flaw::OutOfReach { ring, corner });
        }
        let mut points: Vec<Point> = Vec::with_capacity(given.len());
        let mut numbers = Vec::with_capacity(given.len());
        for (number, p) in given.iter().enumerate() {
            let p = clip::snapped(*p);
            // Of equal corners the last one starts the edge.
            if points.last() == Some(&p) {
                points.pop();
                numbers.pop();
            }
            points.push(p);
            numbers.push(number);
        }
        while points.len() > 1 && points.first() == points.last() {
            points.pop();
            numbers.pop();
        }
        if points.len() < 3 {
            return Err(Flaw::TooFewCorners { ring });
        }
        if let Some([a, b]) = first_contact(&points) {
            let edges = [numbers[a].min(numbers[b]), numbers[a].max(numbers[b])];
            // A ring folded flat meets itself everywhere: that is no area.
            if chain::double_area(&points).abs() >= 2.0 * LEAST_AREA_M2 {
                return Err(Flaw::CrossesItself { ring, edges });
            }
            if points.len() > 3 && crosses_properly(&points, a, b) {
                return Err(Flaw::CrossesItself { ring, edges });
            }
        }
        if chain::double_area(&points).abs() < 2.0 * LEAST_AREA_M2 {
            return Err(Flaw::NoArea { ring });
        }
        Ok(NumberedRing { points, numbers })
    }
}

fn crosses_properly(ring: &[Point], a: usize, b: usize) -> bool {
    let edge = |i: usize| (ring[i], ring[(i + 1) % ring.len()]);
    let ((p, q), (r, s)) = (edge(a), edge(b));
    let open = |t: f64| t > 1e-9 && t < 1.0 - 1e-9;
    crossing(p, q, r, s).is_some_and(|(t, w)| open(t) && open(w))
}

/// The two edges of a ring that meet although they are not neighbours, or that
/// are neighbours and fold back over each other; smallest numbers first.
fn first_contact(ring: &[Point]) -> Option<[usize; 2]> {
    let n = ring.len();
    let edge = |i: usize| (ring[i], ring[(i + 1) % n]);
    let mut found: Option<[usize; 2]> = None;
    let mut note = |a: usize, b: usize| {
        let pair = [a.min(b), a.max(b)];
        if found.is_none_or(|f| pair < f) {
            found = Some(pair);
        }
    };
    for i in 0..n {
        let ((a, b), (_, c)) = (edge(i), edge((i + 1) % n));
        let (u, v) = (b - a, c - b);
        if u.dot(v) < 0.0 && u.cross(v).abs() <= TOUCH_M * u.norm().max(v.norm()) {
            note(i, (i + 1) % n);
        }
    }
    let mut order: Vec<usize> = (0..n).collect();
    let low = |i: usize| edge(i).0.x.min(edge(i).1.x);
    let high = |i: usize| edge(i).0.x.max(edge(i).1.x);
    order.sort_by(|&a, &b| low(a).total_cmp(&low(b)).then(a.cmp(&b)));
    for (k, &i) in order.iter().enumerate() {
        for &j in order[k + 1..].iter().take_while(|&&j| low(j) <= high(i) + TOUCH_M) {
            let neighbours = (i + 1) % n == j || (j + 1) % n == i;
            if !neighbours && edges_meet(edge(i), edge(j)) {
                note(i, j);
            }
        }
    }
    found
}

fn edges_meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let apart = |p: f64, q: f64, r: f64, s: f64| p.max(q) + TOUCH_M < r.min(s);
    if apart(a.y, b.y, c.y, d.y) || apart(c.y, d.y, a.y, b.y) {
        return false;
    }
    crate::point::segments_distance(a, b, c, d) <= TOUCH_M
}

fn check_rings_apart(rings: &[NumberedRing]) -> Result<(), Flaw> {
    for (i, one) in rings.iter().enumerate() {
        for (j, other) in rings.iter().enumerate().skip(i + 1) {
            for (a, edge) in ring_edges(&one.points).enumerate() {
                for (b, across) in ring_edges(&other.points).enumerate() {
                    if edges_meet(edge, across) {
                        let edges = [one.numbers[a], other.numbers[b]];
                        return Err(Flaw::RingsMeet { rings: [i, j], edges });
                    }
                }
            }
            let inside = chain::encloses(&one.points, other.points[0]);
            let around = chain::encloses(&other.points, one.points[0]);
            if around || (inside != (i == 0)) {
                return Err(Flaw::MisplacedHole { ring: if around && i > 0 { i } else { j } });
            }
        }
    }
    Ok(())
}
