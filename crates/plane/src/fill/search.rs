//! Trying the ways to lay a zone and keeping a short list.

use super::entry::Stub;
use super::guide::{self, Guides};
use super::zone::{Effort, Outline, Zone};
use super::{NoFill, around, body, even, judge, rings};
use super::{grooved, rowed, wind};
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
    /// Length of the double strand from the port to the field.
    pub(super) way: f64,
}

/// A pattern with the reason for it.
#[derive(Clone, Copy)]
struct Choice {
    pattern: Pattern,
    why: &'static str,
}

/// Share of cold floor above which other patterns are tried as well.
const COLD: f64 = 0.03;

pub(super) fn outlines(zone: &Zone<'_>, effort: Effort) -> Result<Vec<Outline>, NoFill> {
    let guides = guide::guides(zone);
    let search = Search { zone, effort, guides, judge: judge::Judge::of(zone), stub: stub(zone) };
    let mut found = Vec::new();
    for choice in search.choices() {
        // As a way out one spacing will do for rows, which fit themselves to the floor. Rings are
        // sought as if they had been asked for, so that they lie alike when they are held.
        let winds = choice.pattern == Pattern::Counterflow;
        let scales = if found.is_empty() || winds { &SCALES[..] } else { &SCALES[..1] };
        let mut own = search.of_pattern(choice, scales);
        search.even_out(&mut own);
        found.extend(own);
        // The first choice stands unless it leaves floor cold.
        if found.iter().any(|o: &Outline| o.uncovered < COLD) {
            break;
        }
        let held = zone.pattern != Pattern::Auto;
        if (held || effort == Effort::Quick) && !found.is_empty() {
            break;
        }
    }
    let is_asked = matches!(zone.pattern, Pattern::Auto | Pattern::Counterflow);
    if found.is_empty() || (is_asked && !found.iter().any(|o| o.uncovered < COVERED)) {
        let mut around = search.around();
        search.even_out(&mut around);
        found.extend(around);
    }
    if found.is_empty() { Err(too_small(zone)) } else { Ok(short_list(found, effort)) }
}

fn stub(zone: &Zone<'_>) -> Stub {
    Stub { foot: zone.port.at, inward: zone.port.inward, gap: zone.port.gap_m }
}

/// What stays the same for all ways to lay a zone.
struct Search<'a> {
    zone: &'a Zone<'a>,
    effort: Effort,
    guides: Guides,
    judge: judge::Judge<'a>,
    stub: Stub,
}

impl Search<'_> {
    /// The patterns to try, the best first; those after the first as a way out.
    fn choices(&self) -> Vec<Choice> {
        let counterflow = Choice { pattern: Pattern::Counterflow, why: self.why_counterflow() };
        let serpentine = Choice {
            pattern: Pattern::Serpentine,
            why: if self.guides.known {
                "the warmest strands lie along the outside walls"
            } else {
                "row after row; no outside wall is known"
            },
        };
        let doubled = Choice {
            pattern: Pattern::DoubledSerpentine,
            why: "rows of supply and return side by side",
        };
        match self.zone.pattern {
            Pattern::Auto if self.rows_first() => vec![serpentine, counterflow, doubled],
            Pattern::Auto | Pattern::Counterflow => vec![counterflow, serpentine, doubled],
            Pattern::Serpentine => vec![serpentine, counterflow],
            Pattern::Grooves(_) => {
                vec![Choice {
                    pattern: self.zone.pattern,
                    why: "rows in the grooves of the boards",
                }]
            }
            Pattern::DoubledSerpentine => vec![doubled, serpentine, counterflow],
            Pattern::Band { spacing_m, depth_m } => {
                let closest_m = self.zone.turn_m();
                let band = Pattern::Band { spacing_m: spacing_m.max(closest_m), depth_m };
                let why = if spacing_m < closest_m {
                    "closer strands along the walls, as close as the tube can be bent"
                } else if self.guides.known {
                    "closer strands along the outside walls"
                } else {
                    "closer strands along the longest wall; no outside wall is known"
                };
                vec![Choice { pattern: band, why }, serpentine, counterflow]
            }
        }
    }

    /// Rows suit a floor with one to three outside walls if every turn has its radius
    /// without a bulb.
    fn rows_first(&self) -> bool {
        self.guides.known && self.zone.spacing_m >= 2.0 * self.zone.bend_radius_m
    }

    fn why_counterflow(&self) -> &'static str {
        if self.zone.spacing_m < 2.0 * self.zone.bend_radius_m {
            "few turns, as the bends are wider than the spacing"
        } else {
            "supply and return side by side warm the floor evenly"
        }
    }

    /// Outlines of one pattern, at one spacing after the other until good.
    fn of_pattern(&self, choice: Choice, scales: &[f64]) -> Vec<Outline> {
        let mut found: Vec<Outline> = Vec::new();
        let mut ways = vec![false, true];
        for (tried, scale) in scales.iter().enumerate() {
            let hopeless = tried >= FEW && found.is_empty();
            if hopeless || self.enough(&found, tried) {
                break;
            }
            let s = self.zone.spacing_m * scale;
            match choice.pattern {
                Pattern::Auto | Pattern::Counterflow => {
                    ways = self.wind(choice, s, ways, &mut found);
                }
                // The grid does not stretch.
                Pattern::Grooves(grooves) => {
                    let drafts = grooved::drafts(self.zone, &self.stub, &grooves);
                    self.take(drafts, choice, &mut found);
                    break;
                }
                pattern => {
                    let drafts = rowed::drafts(self.zone, &self.stub, &self.guides, pattern, s);
                    self.take(drafts, choice, &mut found);
                }
            }
        }
        found
    }

    /// Counterflow at one spacing, until one way round will do.
    ///
    /// Gives the ways round that are worth trying at another spacing: the better one.
    fn wind(&self, choice: Choice, s: f64, ways: Vec<bool>, found: &mut Vec<Outline>) -> Vec<bool> {
        let rings = rings::rings(self.zone.floor, s);
        if rings.is_empty() {
            self.take(wind::lone_draft(self.zone, &self.stub, s), choice, found);
        }
        let mut best: Option<(f64, bool)> = None;
        for &mirrored in &ways {
            let before = found.len();
            let drafts = wind::drafts(self.zone, &rings, &self.stub, s, mirrored);
            self.take(drafts, choice, found);
            let costs = found.iter().skip(before).map(|outline| outline.cost);
            let least = costs.fold(f64::INFINITY, f64::min);
            if best.map_or(least.is_finite(), |b| least < b.0) {
                best = Some((least, mirrored));
            }
            if self.enough(found, 1) {
                break;
            }
        }
        best.map_or(ways, |(_, mirrored)| vec![mirrored])
    }

    /// Adds the sound ones of some drafts.
    fn take(
        &self,
        drafts: impl IntoIterator<Item = Draft>,
        choice: Choice,
        found: &mut Vec<Outline>,
    ) {
        found.extend(drafts.into_iter().filter_map(|d| self.judge.judged(d, choice.why)));
    }

    /// Moves the strands of the best outlines evenly apart where floor is cold or crowded.
    fn even_out(&self, found: &mut [Outline]) {
        found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let is_good = |o: &Outline| o.uncovered < WELL_COVERED && o.cost < CROWDED;
        if found.iter().any(is_good) {
            return;
        }
        for outline in found.iter_mut().take(EVENED) {
            let draft = Draft {
                corners: self.evened(outline),
                spacing: outline.spacing_m,
                pattern: outline.pattern,
                way: outline.way_m,
            };
            if let Some(even) = self.judge.judged(draft, outline.why)
                && even.cost < outline.cost
            {
                *outline = even;
            }
        }
    }

    fn evened(&self, outline: &Outline) -> Vec<Point> {
        match outline.pattern {
            Pattern::Band { .. } | Pattern::Grooves(_) => outline.corners.clone(),
            _ => even::evened(&outline.corners, self.zone.floor, outline.spacing_m, outline.way_m),
        }
    }

    /// Tube along all walls first, where floor stays cold otherwise.
    fn around(&self) -> Vec<Outline> {
        let why = "along all walls, then inwards, as the floor has narrow arms";
        let mut found = Vec::new();
        for (tried, scale) in SCALES.into_iter().step_by(3).enumerate().take(2) {
            if self.enough(&found, tried) {
                break;
            }
            let drafts = around::drafts(self.zone, &self.stub, self.zone.spacing_m * scale);
            found.extend(drafts.into_iter().filter_map(|d| self.judge.judged(d, why)));
        }
        found
    }
    /// Whether enough is found after some spacings, so that further ones are not worth it.
    fn enough(&self, found: &[Outline], tried: usize) -> bool {
        let any = |is_good: &dyn Fn(&Outline) -> bool| found.iter().any(is_good);
        // Bends so wide do not fit into every outline.
        let is_wide = self.zone.bend_radius_m > WIDE_BENDS * self.zone.spacing_m;
        if is_wide && found.len() < CHOICE && self.effort == Effort::Full && tried < SCALES.len() {
            return false;
        }
        any(&|o| o.uncovered < WELL_COVERED && o.cost < CROWDED)
            || (tried >= FEW && any(&|o| o.uncovered < COVERED))
            || (self.effort == Effort::Quick && any(&|o| o.uncovered < 0.02 || tried >= FEW))
    }
}

/// Share of cold floor below which no further change of spacing is worth its price.
const WELL_COVERED: f64 = 0.008;

/// Outlines whose strands are moved.
const EVENED: usize = 2;

/// Share of cold floor that is put up with after a few spacings.
const COVERED: f64 = 0.012;

/// Cost above which other spacings are tried although the floor is well covered.
const CROWDED: f64 = 0.025;

/// Bend radius in spacings above which several outlines are wanted, and how many.
const WIDE_BENDS: f64 = 0.75;
const CHOICE: usize = 3;

/// Spacings after which those without any sound outline are given up.
const FEW: usize = 3;

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
