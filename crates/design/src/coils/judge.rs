//! What is wrong with coils, and with what was laid.

use super::stock::{marked, tube_of};
use super::{LaidLength, TubeCuts};
use crate::loops::TubeLoop;
use crate::words::Words;
use job::{Coil, Finding, Job, Severity};
use quantity::Quantity;

/// Marks are read to the whole foot or metre, so that a coil may seem longer by this.
const MARK_M: f64 = 1.0;

/// Findings of coils, of laid loops, and of the order of laying.
pub(crate) fn judge(
    job: &Job,
    loops: &[TubeLoop],
    laid: &[LaidLength],
    findings: &mut Vec<Finding>,
) {
    findings.extend(loops.iter().filter_map(|tube_loop| too_long(job, tube_loop)));
    findings.extend(job.coils.iter().filter_map(|coil| marks_differ(job, coil)));
    findings.extend(laid.iter().filter_map(|laid| laid_otherwise(job, laid)));
    findings.extend(not_usable(job, loops, laid));
    findings.extend(unknown_in_order(job, loops));
}

/// A loop that no coil takes in one piece.
fn too_long(job: &Job, tube_loop: &TubeLoop) -> Option<Finding> {
    if job.laid.iter().any(|laid| laid.key == tube_loop.key) {
        return None;
    }
    let coils = job.coils.iter().filter(|coil| tube_of(job, coil) == tube_loop.tube);
    let there = coils.filter(|coil| coil.on_hand.as_ref().is_none_or(|count| count.value > 0));
    let longest = there.filter_map(marked).map(|coil| coil.length.si()).reduce(f64::max);
    let usual = job.rules.coil_lengths.value.iter().map(|length| length.si());
    let longest_m = longest.or_else(|| usual.reduce(f64::max))?;
    let cut_m = tube_loop.length.si() + job.rules.cut_allowance.value.si();
    let words = Words { first: job.units.value };
    (cut_m > longest_m + 1e-6).then(|| {
        let message = format!(
            "needs {} of tube in one piece, but the longest coil has {}",
            words.run(cut_m),
            words.run(longest_m)
        );
        let advice = "add a longer coil, or lay more loops in this room; no joint may lie under \
                      the floor";
        let subject = format!("loop.{}", tube_loop.key);
        Finding::new(Severity::Stop, "coil-too-short", subject, message, advice)
            .at(job.room(&tube_loop.room).map(|room| room.place))
            .amount(cut_m - longest_m)
    })
}

fn marks_differ(job: &Job, coil: &Coil) -> Option<Finding> {
    let (length, end) = (coil.length.as_ref()?, coil.end.as_ref()?);
    let by_marks_m = (end.value.si() - coil.start.value.si()).abs();
    let words = Words { first: job.units.value };
    ((by_marks_m - length.value.si()).abs() > MARK_M).then(|| {
        let message = format!(
            "is stated to hold {}, but its marks tell {}",
            words.run(length.value.si()),
            words.run(by_marks_m)
        );
        let advice = "read the marks again; the shorter one is taken";
        Finding::new(
            Severity::Warn,
            "coil-marks-differ",
            format!("coil.{}", coil.key),
            message,
            advice,
        )
        .at(end.place())
        .amount((by_marks_m - length.value.si()).abs())
    })
}

fn laid_otherwise(job: &Job, laid: &LaidLength) -> Option<Finding> {
    let rule = &job.rules.laid_difference;
    let share = laid.share.si();
    let words = Words { first: job.units.value };
    (share.abs() > rule.value.si()).then(|| {
        let message = format!(
            "drawn {}, laid {}: {:.0} % {}; head and water follow the laid length, heat and flow the field as drawn",
            words.run(laid.drawn.si()),
            words.run(laid.laid.si()),
            100.0 * share.abs(),
            if share > 0.0 { "more" } else { "less" }
        );
        let advice = "read both marks again; if they hold, the loop does not lie as drawn: mark \
                      up the drawing where it differs";
        let subject = format!("loop.{}", laid.key);
        let limit = format!("{:.0} %", 100.0 * rule.value.si());
        Finding::new(Severity::Warn, "laid-otherwise", subject, message, advice)
            .at(place_of(job, &laid.key))
            .amount(share.abs())
            .limit(limit, rule.citation())
    })
}

/// Marks that tell nothing: of no loop of this design, or twice the same.
fn not_usable(job: &Job, loops: &[TubeLoop], laid: &[LaidLength]) -> Vec<Finding> {
    let unused = job.laid.iter().filter(|read| !laid.iter().any(|laid| laid.key == read.key));
    let finding = |read: &job::LaidLoop| {
        let known = loops.iter().any(|tube_loop| tube_loop.key == read.key);
        let (kind, message, advice) = match known {
            true => (
                "laid-unreadable",
                "the marks at its two ports leave no length".to_owned(),
                "read both marks again; until then the loop is taken as drawn, and not cut",
            ),
            false => (
                "laid-unknown",
                format!("marks were read of a loop {}, which is not in this design", read.key),
                "write the key as it stands on the drawing, and hold the number of loops of a \
                 room that is laid",
            ),
        };
        let subject = format!("laid.{}", read.key);
        Finding::new(Severity::Warn, kind, subject, message, advice).at(read.place)
    };
    unused.map(finding).collect()
}

fn unknown_in_order<'a>(job: &'a Job, loops: &'a [TubeLoop]) -> impl Iterator<Item = Finding> + 'a {
    let order = job.heating.laying_order.iter();
    let unknown = order.filter(|key| !loops.iter().any(|tube_loop| tube_loop.key == key.value));
    unknown.map(|key| {
        let message = format!("the order of laying names {}, which is no loop", key.value);
        let advice = "write the key as it stands on the drawing, such as kitchen/1";
        Finding::new(Severity::Note, "order-unknown", "heating.laying_order", message, advice)
            .at(key.place)
    })
}

/// Loops for which the coils on hand do not suffice.
pub(crate) fn run_out(job: &Job, tubes: &[TubeCuts], known: &[Finding]) -> Vec<Finding> {
    let told = |key: &String| {
        let subject = format!("loop.{key}");
        known.iter().any(|it| it.kind == "coil-too-short" && it.subject == subject)
    };
    let finding = |tube: &TubeCuts| {
        let without: Vec<&str> =
            tube.without.iter().filter(|key| !told(key)).map(String::as_str).collect();
        (!without.is_empty()).then(|| {
            let message = format!("the coils on hand do not suffice for {}", without.join(", "));
            let advice = "add a coil without `on_hand`, so that it can be bought";
            let coil = job.coils.iter().find(|coil| tube_of(job, coil) == tube.tube);
            Finding::new(Severity::Warn, "coils-run-out", "coil", message, advice)
                .at(coil.map(|coil| coil.place))
                .amount(without.len() as f64)
        })
    };
    tubes.iter().filter_map(finding).collect()
}

fn place_of(job: &Job, key: &str) -> Option<job::Place> {
    job.laid.iter().find(|laid| laid.key == key).map(|laid| laid.place)
}
