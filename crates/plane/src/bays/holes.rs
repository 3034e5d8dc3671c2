//! Holes in joists: what the rules allow, and a verdict for each.

/// Figures that differ by less than this are equal, metres.
const SAME_M: f64 = 1e-6;

/// How the joists of a floor are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JoistKind {
    /// Sawn lumber, for which codes give limits.
    Sawn,
    /// Flanges and a thin web; only the maker's chart tells.
    IJoist,
    /// Chords and an open web; tube passes between the webs.
    OpenWeb,
}

/// What a rule set allows in a sawn joist.
///
/// The values are data of the rule set that holds; none is kept here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleLimits {
    /// Largest diameter as a share of the joist's depth.
    pub diameter_per_depth: f64,
    /// Largest diameter whatever the depth, metres.
    pub diameter_most_m: Option<f64>,
    /// Least distance from the hole's edge to the top or bottom edge, metres.
    pub edge_m: f64,
    /// Whether holes must lie at mid depth.
    pub mid_depth: bool,
    /// Least distance between the edges of two holes, metres.
    pub apart_m: f64,
    /// Least distance between the centres of two holes, in diameters of the larger one.
    pub apart_diameters: f64,
    /// Nearest and farthest place from a bearing, as shares of the span.
    pub span_shares: Option<[f64; 2]>,
    /// Deepest joist that the rule speaks of, metres.
    pub depth_most_m: Option<f64>,
}

/// A hole through a joist.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Number of the joist, 0 for the one at the given place.
    pub joist: i64,
    /// The bearing it is measured from: 0 or 1, the nearer one.
    pub bearing: usize,
    /// From that bearing to the centre of the hole, metres.
    pub from_bearing_m: f64,
    /// From the top of the joist to the centre of the hole, metres.
    pub below_top_m: f64,
    /// Diameter in metres.
    pub diameter_m: f64,
    /// Edge of the hole to the nearer of top and bottom, metres.
    pub edge_m: f64,
    /// Edge to edge to the nearest other hole in the joist, metres.
    pub to_next_m: Option<f64>,
    /// The loop that passes, by number in the layout.
    pub of_loop: usize,
    /// What the rules say.
    pub verdict: Verdict,
}

/// What the rules say about a hole.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// All limits are kept.
    Keeps,
    /// At least one limit is broken.
    Breaks(Vec<Fault>),
    /// No published rule speaks of it; the words say whom to ask.
    CannotTell(&'static str),
}

/// A limit that a hole breaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The hole is too large for the joist.
    TooLarge {
        /// Largest diameter allowed, metres.
        most_m: f64,
    },
    /// The hole is too near the top or bottom edge.
    NearEdge {
        /// Wood between hole and edge, metres.
        has_m: f64,
        /// Wood that is needed, metres.
        needs_m: f64,
    },
    /// The hole is off the middle of the depth where it must lie there.
    OffMiddle {
        /// Where its centre must lie below the top, metres.
        at_m: f64,
    },
    /// The hole is too near another one.
    NearHole {
        /// Wood between the two, metres.
        has_m: f64,
        /// Wood that is needed, metres.
        needs_m: f64,
    },
    /// The hole is nearer to a bearing, or farther from it, than allowed.
    OutsideZone {
        /// Nearest and farthest place allowed, metres from the bearing.
        zone_m: [f64; 2],
    },
}

/// Something that mends a fault.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mend {
    /// Drill no larger than this, metres.
    SmallerHole(f64),
    /// Drill with the centre at this depth below the top, metres.
    OtherDepth(f64),
    /// Move the lane to this distance from the bearing, metres.
    OtherLane(f64),
    /// Use joists at least this deep, metres.
    DeeperJoist(f64),
    /// Fewer loops through this joist: another way for the leaders, or a second manifold.
    FewerHoles,
}

/// A place in a joist, for judging: along it, below its top, and the diameter, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) along_m: f64,
    pub(super) below_top_m: f64,
    pub(super) diameter_m: f64,
}

/// Largest hole that a sawn joist of that depth takes, metres; 0 if none.
///
/// The smaller of the share of the depth, the largest diameter, and what the edges leave.
pub fn largest_hole_m(depth_m: f64, limits: &HoleLimits) -> f64 {
    let by_depth = depth_m * limits.diameter_per_depth;
    let by_edges = depth_m - 2.0 * limits.edge_m;
    by_depth.min(by_edges).min(limits.diameter_most_m.unwrap_or(f64::INFINITY)).max(0.0)
}

/// Least depth of a joist that takes a hole, metres.
pub(super) fn least_depth_m(hole_m: f64, limits: &HoleLimits) -> f64 {
    (hole_m / limits.diameter_per_depth).max(hole_m + 2.0 * limits.edge_m)
}

/// Clear distance that two holes of one diameter must keep, edge to edge, metres.
pub(super) fn apart_m(hole_m: f64, limits: &HoleLimits) -> f64 {
    limits.apart_m.max((limits.apart_diameters - 1.0) * hole_m)
}

/// Judges all holes of one joist of a span; the others are the ones beside each.
///
/// `holes` are place along the span, depth of the centre below the top, and diameter, metres.
pub fn judge(
    kind: JoistKind,
    depth_m: f64,
    span_m: f64,
    holes: &[[f64; 3]],
    limits: &HoleLimits,
) -> Vec<Verdict> {
    let place = |h: &[f64; 3]| Place { along_m: h[0], below_top_m: h[1], diameter_m: h[2] };
    let places: Vec<Place> = holes.iter().map(place).collect();
    let one = |i| verdict(kind, depth_m, span_m, &places, i, limits);
    (0..places.len()).map(one).collect()
}

pub(super) fn verdict(
    kind: JoistKind,
    depth_m: f64,
    span_m: f64,
    places: &[Place],
    number: usize,
    limits: &HoleLimits,
) -> Verdict {
    match kind {
        JoistKind::IJoist => {
            return Verdict::CannotTell(
                "only the maker's hole chart for this joist tells; flanges are never cut",
            );
        }
        JoistKind::OpenWeb => {
            return Verdict::CannotTell(
                "pass between the webs; chords and webs are never drilled unless the maker says so",
            );
        }
        JoistKind::Sawn => {}
    }
    if limits.depth_most_m.is_some_and(|most| depth_m > most + SAME_M) {
        return Verdict::CannotTell("the rule does not speak of joists this deep; ask an engineer");
    }
    let Some(hole) = places.get(number) else { return Verdict::Keeps };
    let mut faults: Vec<Fault> = Vec::new();
    faults.extend(size_fault(hole, depth_m, limits));
    faults.extend(depth_fault(hole, depth_m, limits));
    faults.extend(zone_fault(hole, span_m, limits));
    faults.extend(neighbour_fault(places, number, limits));
    if faults.is_empty() { Verdict::Keeps } else { Verdict::Breaks(faults) }
}

fn size_fault(hole: &Place, depth_m: f64, limits: &HoleLimits) -> Option<Fault> {
    let by_depth = depth_m * limits.diameter_per_depth;
    let most_m = by_depth.min(limits.diameter_most_m.unwrap_or(f64::INFINITY));
    (hole.diameter_m > most_m + SAME_M).then_some(Fault::TooLarge { most_m })
}

fn depth_fault(hole: &Place, depth_m: f64, limits: &HoleLimits) -> Option<Fault> {
    let has_m = edge_m(hole, depth_m);
    if has_m < limits.edge_m - SAME_M {
        return Some(Fault::NearEdge { has_m, needs_m: limits.edge_m });
    }
    let at_m = depth_m / 2.0;
    (limits.mid_depth && (hole.below_top_m - at_m).abs() > 1e-3)
        .then_some(Fault::OffMiddle { at_m })
}

fn zone_fault(hole: &Place, span_m: f64, limits: &HoleLimits) -> Option<Fault> {
    let zone_m = limits.span_shares?.map(|share| share * span_m);
    let from = hole.along_m.min(span_m - hole.along_m);
    let inside = from >= zone_m[0] - SAME_M && from <= zone_m[1] + SAME_M;
    (!inside).then_some(Fault::OutsideZone { zone_m })
}

fn neighbour_fault(places: &[Place], number: usize, limits: &HoleLimits) -> Option<Fault> {
    let (other, has_m) = nearest(places, number)?;
    let larger_m = places[number].diameter_m.max(places[other].diameter_m);
    let between = (places[number].diameter_m + places[other].diameter_m) / 2.0;
    let needs_m = limits.apart_m.max(limits.apart_diameters * larger_m - between);
    (has_m < needs_m - SAME_M).then_some(Fault::NearHole { has_m, needs_m })
}

/// Wood between a hole and the nearer edge of the joist, metres.
pub(super) fn edge_m(hole: &Place, depth_m: f64) -> f64 {
    hole.below_top_m.min(depth_m - hole.below_top_m) - hole.diameter_m / 2.0
}

/// The nearest other hole and the wood between the two, metres.
pub(super) fn nearest(places: &[Place], number: usize) -> Option<(usize, f64)> {
    let hole = places.get(number)?;
    let mut best: Option<(usize, f64)> = None;
    for (i, other) in places.iter().enumerate() {
        let (along, down) = (hole.along_m - other.along_m, hole.below_top_m - other.below_top_m);
        let wood = along.hypot(down) - (hole.diameter_m + other.diameter_m) / 2.0;
        if i != number && best.is_none_or(|(_, least)| wood < least) {
            best = Some((i, wood));
        }
    }
    best
}

/// What mends a fault of a hole in a joist of that depth, best first.
pub fn mends(fault: &Fault, diameter_m: f64, limits: &HoleLimits) -> Vec<Mend> {
    match *fault {
        Fault::TooLarge { most_m } => {
            vec![Mend::SmallerHole(most_m), Mend::DeeperJoist(least_depth_m(diameter_m, limits))]
        }
        Fault::NearEdge { needs_m, .. } => vec![
            Mend::OtherDepth(needs_m + diameter_m / 2.0),
            Mend::DeeperJoist(least_depth_m(diameter_m, limits)),
        ],
        Fault::OffMiddle { at_m } => vec![Mend::OtherDepth(at_m)],
        Fault::OutsideZone { zone_m } => vec![Mend::OtherLane(zone_m[0])],
        Fault::NearHole { .. } => vec![Mend::FewerHoles],
    }
}
