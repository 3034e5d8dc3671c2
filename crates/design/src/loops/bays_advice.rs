//! What stands in the way of tube in joist bays, in a contractor's words.

use super::bays::Span;
use super::framing;
use super::mends::{fewer_in, smaller_tubes};
use crate::words::Words;
use job::{Finding, Framing, Job, Severity};
use plane::bays::{NoBays, Verdict};

/// Floor without tube below this is not worth a word, square metres.
const LEAST_M2: f64 = 0.5;

/// One laid group, to be told about.
pub(super) struct Telling<'a> {
    pub(super) job: &'a Job,
    pub(super) framing: &'a Framing,
    /// Rooms of the group, by key.
    pub(super) rooms: Vec<&'a str>,
    /// Loops laid in each.
    pub(super) counts: &'a [usize],
    pub(super) spans: &'a [Span],
}

impl Telling<'_> {
    pub(super) fn findings(&self) -> Vec<Finding> {
        let mut findings: Vec<Finding> = Vec::new();
        let refused = self.spans.iter().filter_map(|span| span.laid.as_ref().err());
        let mut told: Vec<NoBays> = Vec::new();
        for reason in refused.filter(|reason| **reason != NoBays::NoBay) {
            if !told.contains(reason) {
                told.push(*reason);
                findings.push(self.refused(reason));
            }
        }
        for (room, count) in self.rooms.iter().zip(self.counts) {
            if *count == 0 && told.is_empty() {
                findings.push(self.no_loop(room));
            }
        }
        findings.extend(self.not_allowed());
        findings.extend(self.cannot_tell());
        findings.extend(self.rooms.iter().enumerate().filter_map(|(i, room)| self.bare(i, room)));
        findings
    }

    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }

    fn at_framing(&self, finding: Finding) -> Finding {
        finding.at(self.framing.place)
    }

    fn refused(&self, reason: &NoBays) -> Finding {
        let words = self.words();
        let small = |m: f64| words.small(m);
        let (message, advice) = match *reason {
            NoBays::BayTooNarrow { needed_m, clear_m } => (
                format!(
                    "turns of this tube need {} between joists, there are {}",
                    small(needed_m),
                    small(clear_m)
                ),
                "take a smaller tube",
            ),
            NoBays::HoleTooLarge { most_m, depth_m } => (
                format!(
                    "a joist this deep takes holes of {} at most; the hole for this tube needs one \
                     {} deep",
                    small(most_m),
                    small(depth_m)
                ),
                "take a smaller tube, or lay this floor over the joists",
            ),
            NoBays::NoLane => (
                "the rule for holes leaves no place along these joists".to_owned(),
                "ask an engineer where these joists may be drilled, or lay over them",
            ),
            NoBays::OverLimit { length_m } => (
                format!("one bay alone makes a loop of {}", words.run(length_m)),
                "hang a manifold nearer to these joists, or take a larger tube",
            ),
            NoBays::UnusableFigure | NoBays::NoBay => (
                "joists, tube or rules are not usable as stated".to_owned(),
                "look at depth, spacing, bearings and at of the framing",
            ),
        };
        let subject = format!("framing.{}", self.framing.key);
        let message = format!("no tube can be laid between these joists: {message}");
        let finding = Finding::new(Severity::Stop, "no-loop-in-bays", subject, message, advice);
        let mut finding = self.at_framing(finding);
        if let NoBays::BayTooNarrow { .. } | NoBays::HoleTooLarge { .. } = reason {
            finding.mends.extend(smaller_tubes(self.job));
        }
        finding
    }

    fn no_loop(&self, room: &str) -> Finding {
        let message = "no joist bay below it can be reached and is long enough for tube";
        let advice = "look at bearings, direction and blocks of its framing, and where the \
                      manifold hangs";
        let subject = format!("room.{room}");
        let place = self.job.room(room).map(|room| room.place);
        Finding::new(Severity::Stop, "no-loop", subject, message, advice).at(place)
    }

    fn holes(&self, counts: impl Fn(&Verdict) -> bool) -> usize {
        let laid = self.spans.iter().filter_map(|span| span.laid.as_ref().ok());
        laid.flat_map(|layout| &layout.holes).filter(|hole| counts(&hole.verdict)).count()
    }

    fn not_allowed(&self) -> Option<Finding> {
        let count = self.holes(|verdict| matches!(verdict, Verdict::Breaks(_)));
        let rule = self.spans.first().map_or("", |span| span.rule.as_str());
        (count > 0).then(|| {
            let subject = format!("framing.{}", self.framing.key);
            let message = format!("{count} holes break a limit; the hole schedule says which");
            let advice = "drill smaller or elsewhere as the schedule says, or ask an engineer";
            let finding =
                Finding::new(Severity::Stop, "hole-not-allowed", subject, message, advice);
            let mut finding =
                self.at_framing(finding).amount(count as f64).limit("none", rule.to_owned());
            finding.mends.extend(smaller_tubes(self.job));
            for (room, count) in self.rooms.iter().zip(self.counts) {
                finding.mends.extend(fewer_in(room, *count));
            }
            finding
        })
    }

    fn cannot_tell(&self) -> Option<Finding> {
        let count = self.holes(|verdict| matches!(verdict, Verdict::CannotTell(_)));
        (count > 0).then(|| {
            let kind = self.framing.kind.as_ref().map(|kind| kind.value);
            let rule = kind.map_or_else(String::new, |kind| framing::hole_limits(self.job, kind).1);
            let subject = format!("framing.{}", self.framing.key);
            let message = format!(
                "whether {count} holes are allowed cannot be told here: no published table speaks of \
                 these joists ({rule})"
            );
            let advice = "hold the hole schedule against the maker's chart before anything is drilled";
            let finding = Finding::new(Severity::Warn, "holes-cannot-tell", subject, message, advice);
            self.at_framing(finding).amount(count as f64)
        })
    }

    /// Floor of a room over bays without tube.
    fn bare(&self, number: usize, room: &str) -> Option<Finding> {
        let mut whys: Vec<&str> = Vec::new();
        let mut bare_m2 = 0.0;
        for span in self.spans {
            let Ok(layout) = &span.laid else { continue };
            for lost in layout.unreached.iter().filter(|lost| lost.room == number) {
                bare_m2 += lost.length_m * span.floor.joists.pitch_m;
                if !whys.contains(&lost.why.words()) {
                    whys.push(lost.why.words());
                }
            }
        }
        (bare_m2 > LEAST_M2).then(|| {
            let message = format!(
                "about {} of its floor lie over bays without tube: {}",
                self.words().area(bare_m2),
                whys.join("; ")
            );
            let advice = "nothing to do where the rest carries the room; else move the manifold to \
                          another bay, or clear what blocks";
            let subject = format!("room.{room}");
            let place = self.job.room(room).map(|room| room.place);
            Finding::new(Severity::Note, "bays-without-tube", subject, message, advice)
                .at(place)
                .amount(bare_m2)
        })
    }
}
