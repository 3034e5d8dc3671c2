//! Every mend, applied and designed again, does what it said.

use crate::{CABIN, FLAT, read, with};
use design::{Design, Memo};
use job::{Finding, Promise};
use std::collections::BTreeSet;

fn design(text: &str) -> Design {
    design::design(&read(text).0, &mut Memo::new())
}

/// Applies every mend of every finding of a text; gives the first words of each mend.
fn try_all(text: &str) -> BTreeSet<String> {
    let before = design(text);
    let mut kinds = BTreeSet::new();
    for finding in &before.findings {
        for mend in &finding.mends {
            let mended = job::apply(text, &mend.edits).unwrap();
            let after = design(&mended);
            let same =
                |other: &&Finding| other.kind == finding.kind && other.subject == finding.subject;
            let left = after.findings.iter().find(same);
            // The finding must not go because its room went, nor at the cost of another stop.
            assert_eq!(after.emitters.floors.len(), before.emitters.floors.len());
            assert!(stops(&after) <= stops(&before), "{}", mend.words);
            let words = format!("{} {}: {}", finding.kind, finding.subject, mend.words);
            match (mend.promise, left) {
                (_, None) => {}
                (Promise::Goes, Some(left)) => panic!("{words}: it stayed: {}", left.message),
                (Promise::Lessens, Some(left)) => {
                    assert!(left.amount < finding.amount, "{words}: {}", left.message);
                }
            }
            let first = mend.words.split(':').next().unwrap().to_owned();
            kinds.insert(first);
        }
    }
    kinds
}

fn stops(design: &Design) -> usize {
    let all = design.findings.iter();
    all.filter(|finding| finding.severity == job::Severity::Stop).count()
}

/// A band of keep-out cuts a long room in two, and one loop is held: no water mends that half.
#[test]
fn no_mend_is_offered_that_does_not_serve() {
    let text = format!(
        "{CABIN}\n[keep_out.band]\nroom = \"great\"\nstart = [\"0\", \"11'\"]\noutline = \"E 15', N \
         2', W 15', S 2'\"\n"
    );
    let design = design(&text);
    // Either the piece behind the band is told, or that the room cannot be laid at all.
    let told = |kind: &str| design.findings.iter().any(|finding| finding.kind == kind);
    let kinds = ["piece-without-tube", "no-loop", "passage-too-narrow"];
    assert!(kinds.into_iter().any(told), "{:#?}", design.findings);
    try_all(&text);
}

#[test]
fn every_mend_of_the_examples() {
    let kinds = try_all(CABIN);
    assert!(!kinds.is_empty());
    try_all(FLAT);
}

#[test]
fn every_mend_of_the_cabin_held_badly() {
    let mut all = BTreeSet::new();
    let cold = with(CABIN, "supply = \"auto\"", "supply = \"98 F\"");
    all.extend(try_all(&cold));
    let wide = with(CABIN, "indoor = 70", "indoor = 70\nspacing = \"16 in\"");
    all.extend(try_all(&with(&wide, "supply = \"auto\"", "supply = \"106 F\"")));
    let one = with(CABIN, "indoor = 70", "indoor = 70\nloops = 1\nspacing = \"9 in\"");
    all.extend(try_all(&one));
    let one =
        with(FLAT, "finish = \"laminate\"", "finish = \"laminate\"\nloops = 1\nspacing = 100");
    all.extend(try_all(&one));
    let hot = with(CABIN, "supply = \"auto\"", "supply = \"150 F\"");
    all.extend(try_all(&hot));
    for kind in ["cooler supply", "closer spacing", "warmer supply", "another loop"] {
        assert!(all.contains(kind), "{kind} is not among {all:?}");
    }
}

#[test]
fn a_loop_over_its_limit_stops_the_job_and_more_loops_mend_it() {
    let text = with(CABIN, "indoor = 70", "indoor = 70\nloops = 1\nspacing = \"6 in\"");
    let design = design(&text);
    let finding = design.findings.iter().find(|f| f.kind == "loop-too-long").unwrap();
    assert_eq!(finding.severity, job::Severity::Stop);
    let place = finding.place.unwrap();
    assert_eq!(&text[place.start..place.end], "1");
    assert!(finding.limit.as_ref().unwrap().value.starts_with("300.0 ft"));
    assert_eq!(finding.mends.len(), 1);
}

/// Nine loops are eighteen tubes, with those of the other rooms more than the wall has room for.
#[test]
fn an_open_count_mends_a_wall_too_short() {
    let text = with(CABIN, "[room.south_bedroom]", "[room.south_bedroom]\nloops = 9");
    let design = design(&text);
    let finding = design.findings.iter().find(|f| f.kind == "manifold-too-short");
    let finding = finding.unwrap_or_else(|| panic!("{:#?}", design.findings));
    assert!(finding.amount.is_some_and(|lacking_m| lacking_m > 0.0));
    let kinds = try_all(&text);
    assert!(kinds.contains("open count"), "{kinds:?}");
}
