//! Trying the ways to lay a zone and keeping a short list.

use super::entry::Stub;
use super::zone::{Effort, Outline, Zone};
use super::{NoFill, body, judge, rings};
use super::{rowed, wind};
use crate::point::Point;
use crate::storey::Pattern;

/// Spacings tried, as multiples of the one wanted, the likeliest first.
///
/// A closed curve crosses every line an even number of times, so an odd number
/// of gaps must fit between opposite walls; a small change of spacing makes it.
const SCALES: [f64; 7] = [1.0, 0.97, 1.03, 0.94, 1.06, 0.91, 1.09];

/// Most outlines offered with full effort.
const MOST: usize = 7;

/// A chain of corners and how it came about.
pub(super) struct Draft {
    pub(super) corners: Vec<Point>,
    pub(super) spacing: f64,
    pub(super) pattern: Pattern,
    pub(super) why: &'static str,
    /// Length of the double strand from the port to the field.
    pub(super) way: f64,
}

pub(super) fn outlines(zone: &Zone<'_>, effort: Effort) -> Result<Vec<Outline>, NoFill> {
    let judge = judge::Judge::of(zone);
    let stub = Stub { foot: zone.port.at, inward: zone.port.inward, gap: zone.port.gap_m };
    let mut found: Vec<Outline> = Vec::new();
    for scale in SCALES {
        if enough(&found, effort, scale) {
            break;
        }
        let drafts = drafts(zone, &stub, zone.spacing_m * scale);
        found.extend(drafts.into_iter().filter_map(|draft| judge.judged(draft)));
    }
    if found.is_empty() {
        return Err(too_small(zone));
    }
    Ok(short_list(found, effort))
}

/// All ways at one spacing that the pattern allows.
fn drafts(zone: &Zone<'_>, stub: &Stub, s: f64) -> Vec<Draft> {
    match zone.pattern {
        Pattern::Auto | Pattern::Counterflow => wind::drafts(zone, stub, s),
        pattern => rowed::drafts(zone, stub, pattern, s),
    }
}

/// Whether no later scale can give a better outline than the best so far.
///
/// Scales come in the order of their change, so once an outline costs less than
/// the next change alone, no later one can be better.
fn enough(found: &[Outline], effort: Effort, scale: f64) -> bool {
    let least = judge::CHANGE_COST * (scale - 1.0).abs();
    let wanted = if effort == Effort::Quick { 1 } else { 2 };
    let good = found.iter().filter(|o| o.cost <= least + 1e-12).count();
    good >= wanted || (effort == Effort::Quick && found.iter().any(|o| o.uncovered < 0.02))
}

/// The cheapest, at most two of one spacing and pattern.
fn short_list(mut found: Vec<Outline>, effort: Effort) -> Vec<Outline> {
    found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let most = if effort == Effort::Quick { 2 } else { MOST };
    let mut list: Vec<Outline> = Vec::new();
    for outline in found {
        let alike = list
            .iter()
            .filter(|o| o.spacing_m == outline.spacing_m && o.pattern == outline.pattern)
            .count();
        if alike < 2 && list.len() < most && !list.iter().any(|o| o.corners == outline.corners) {
            list.push(outline);
        }
    }
    list
}

fn too_small(zone: &Zone<'_>) -> NoFill {
    let s = zone.spacing_m;
    if rings::rings(zone.floor, s).is_empty() && body::single_turn(zone.floor, s).is_empty() {
        NoFill::SmallerThanOneTurn { needed_width_m: 1.6 * s }
    } else {
        NoFill::NoLayout
    }
}
