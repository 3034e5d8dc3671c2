//! Coil cuts and loops as laid, in the design of a whole job.

use crate::{CABIN, ONE_ROOM, close, design};
use design::{Design, Standing};
use job::{Finding, Severity};

const FOOT: f64 = 0.3048;

fn finding<'a>(design: &'a Design, kind: &str) -> Option<&'a Finding> {
    design.findings.iter().find(|finding| finding.kind == kind)
}

/// Tube of the longest loop of the room, as drawn.
fn drawn_m(text: &str, key: &str) -> f64 {
    let design = design(text);
    let found = design.loops.iter().find(|tube_loop| tube_loop.key == key);
    found.expect("the loop is there").length.si()
}

#[test]
fn every_loop_comes_whole_from_one_coil_with_its_marks() {
    let design = design(CABIN);
    let [tube] = design.coils.tubes.as_slice() else { panic!("one tube") };
    assert!(tube.without.is_empty() && tube.exact && !tube.sizes_assumed);
    let mut cut: Vec<&str> = Vec::new();
    for coil in &tube.coils {
        let mut left_m = coil.length.si();
        let mut mark_m = coil.cuts[0].start.si();
        let first_m = if coil.on_hand { 388.0 * FOOT } else { 0.0 };
        close(mark_m, first_m, 1e-9);
        for one in &coil.cuts {
            cut.push(&one.key);
            close(one.start.si(), mark_m, 1e-9);
            close(one.length.si(), one.drawn.si() + 3.0 * FOOT, 1e-9);
            mark_m += one.length.si();
            left_m -= one.length.si();
            close(one.end.si(), mark_m, 1e-9);
            close(one.left.si(), left_m, 1e-9);
        }
        assert!(left_m >= -1e-6, "coil {} is cut beyond its end", coil.number);
        close(coil.left.si(), left_m, 1e-9);
        let longest_first = coil.cuts.windows(2).all(|two| two[0].drawn.si() >= two[1].drawn.si());
        assert!(longest_first);
    }
    cut.sort_unstable();
    let mut loops: Vec<&str> = design.loops.iter().map(|it| it.key.as_str()).collect();
    loops.sort_unstable();
    assert_eq!(cut, loops);
    let on_coils: f64 = tube.coils.iter().map(|coil| coil.length.si()).sum();
    close(tube.cut.si() + tube.left.si(), on_coils, 1e-9);
}

#[test]
fn a_job_without_coils_takes_the_usual_sizes_and_says_so() {
    let design = design(ONE_ROOM);
    let tube = &design.coils.tubes[0];
    assert!(tube.sizes_assumed);
    let usual = [120.0, 240.0, 500.0];
    for coil in &tube.coils {
        assert!(usual.iter().any(|metres| (coil.length.si() - metres).abs() < 1e-9));
        assert_eq!(coil.length.work.standing(), Standing::Estimated);
    }
}

#[test]
fn the_stated_order_goes_before_the_longest_first() {
    let coil = "[coil.long]\nlength = 500\n";
    let text = |order: &str| {
        let stated = format!("fluid = \"water\"\nlaying_order = [{order}]");
        let text = crate::with(ONE_ROOM, "fluid = \"water\"", &stated);
        crate::with(&text, "indoor = 20\n", "indoor = 20\nloops = 3\n") + coil
    };
    let order = |design: &Design| -> Vec<String> {
        let cuts = design.coils.tubes[0].coils.iter().flat_map(|coil| &coil.cuts);
        cuts.map(|cut| cut.key.clone()).collect()
    };
    let stated = order(&design(&text("\"only/3\", \"only/1\"")));
    assert_eq!(stated, ["only/3", "only/1", "only/2"]);
    let unknown = design(&text("\"only/9\""));
    let told = finding(&unknown, "order-unknown").expect("told");
    assert!(told.message.contains("only/9"), "{}", told.message);
}

#[test]
fn marks_that_count_down_go_down() {
    let text = format!("{ONE_ROOM}[coil.rest]\nstart = \"460 m\"\nend = \"40 m\"\non_hand = 1\n");
    let design = design(&text);
    let coil = &design.coils.tubes[0].coils[0];
    close(coil.length.si(), 420.0, 1e-9);
    assert!(coil.on_hand);
    let first = &coil.cuts[0];
    close(first.start.si(), 460.0, 1e-9);
    close(first.end.si(), 460.0 - first.length.si(), 1e-9);
    close(design.coils.tubes[0].bought.si(), 0.0, 0.0);
}

#[test]
fn a_loop_longer_than_every_coil_stops_the_job() {
    let design = design(&format!("{ONE_ROOM}[coil.tiny]\nlength = 20\n"));
    let told = finding(&design, "coil-too-short").expect("told");
    assert_eq!(told.severity, Severity::Stop);
    assert!(told.advice.contains("no joint"), "{}", told.advice);
    assert!(!design.coils.tubes[0].without.is_empty());
    assert!(finding(&design, "coils-run-out").is_none(), "told once is enough");
}

#[test]
fn coils_on_hand_run_out() {
    let three = ONE_ROOM.replace("indoor = 20\n", "indoor = 20\nloops = 3\n");
    let all_m: f64 = design(&three).loops.iter().map(|it| it.length.si() + 1.0).sum();
    let van = format!("[coil.van]\nlength = {:.2}\non_hand = 1\n", all_m - 1.0);
    let text = three + &van;
    let design = design(&text);
    assert!(finding(&design, "coils-run-out").is_some());
    assert_eq!(design.coils.tubes[0].coils.len(), 1);
    assert!(!design.coils.tubes[0].without.is_empty());
}

#[test]
fn marks_and_stated_length_of_a_coil_must_agree() {
    let text = |length: u32| {
        format!("{ONE_ROOM}[coil.a]\nlength = {length}\nstart = 100\nend = 250\non_hand = 1\n")
    };
    assert!(finding(&design(&text(150)), "coil-marks-differ").is_none());
    let differs = design(&text(200));
    assert!(finding(&differs, "coil-marks-differ").is_some());
    close(differs.coils.tubes[0].coils[0].length.si(), 150.0, 1e-9);
}

/// Marks 10 m and 10 m + `share` of the drawn length.
fn laid(share: f64) -> String {
    let end = 10.0 + share * drawn_m(ONE_ROOM, "only/1");
    format!("{ONE_ROOM}[laid.\"only/1\"]\nstart = 10\nend = {end}\ndate = \"after the pour\"\n")
}

#[test]
fn a_laid_loop_has_its_laid_length_in_flow_head_and_volume() {
    let (drawn, laid) = (design(ONE_ROOM), design(&laid(1.2)));
    let (before, after) = (&drawn.loops[0], &laid.loops[0]);
    close(after.length.si(), 1.2 * before.length.si(), 1e-9);
    close(after.volume.si(), 1.2 * before.volume.si(), 1e-12);
    close(after.field_length.si(), before.field_length.si(), 0.0);
    assert_eq!(after.length.work.standing(), Standing::Measured);
    let read = laid.coils.laid("only/1").expect("read");
    close(read.drawn.si(), before.length.si(), 0.0);
    close(read.difference.si(), 0.2 * before.length.si(), 1e-9);
    close(read.share.si(), 0.2, 1e-9);
    // Friction of one flow grows with the length; bends of the field stay, so by less than 20 %.
    let (head, more) = (drawn.flows.loops[0].head.si(), laid.flows.loops[0].head.si());
    assert!(more > 1.1 * head && more <= 1.2 * head + 1e-9, "{head} to {more}");
    let told = finding(&laid, "laid-otherwise").expect("told");
    assert!(told.message.contains("20 % more"), "{}", told.message);
    close(told.amount.expect("a share"), 0.2, 1e-9);
}

#[test]
fn a_small_difference_is_not_told_and_no_laid_loop_is_cut_again() {
    let laid = design(&laid(0.97));
    assert!(finding(&laid, "laid-otherwise").is_none());
    let cuts = laid.coils.tubes.iter().flat_map(|tube| &tube.coils).flat_map(|coil| &coil.cuts);
    assert!(cuts.clone().all(|cut| cut.key != "only/1"));
    assert_eq!(cuts.count(), laid.loops.len() - 1);
}

#[test]
fn what_was_laid_from_a_single_coil_is_gone_from_it() {
    let three = ONE_ROOM.replace("indoor = 20\n", "indoor = 20\nloops = 3\n");
    let text = format!(
        "{three}[coil.big]\nlength = 300\non_hand = 1\n\
         [laid.\"only/1\"]\nstart = 0\nend = 55\ncoil = \"big\"\n"
    );
    let design = design(&text);
    let coil = &design.coils.tubes[0].coils[0];
    close(coil.length.si(), 245.0, 1e-9);
    close(coil.cuts[0].start.si(), 55.0, 1e-9);
}

#[test]
fn marks_of_no_loop_and_marks_without_a_length_are_told() {
    let unknown = design(&format!("{ONE_ROOM}[laid.\"attic/1\"]\nstart = 0\nend = 55\n"));
    let told = finding(&unknown, "laid-unknown").expect("told");
    assert!(told.place.is_some() && told.message.contains("attic/1"));
    let same = design(&format!("{ONE_ROOM}[laid.\"only/1\"]\nstart = 55\nend = 55\n"));
    assert!(finding(&same, "laid-unreadable").is_some());
    close(same.loops[0].length.si(), drawn_m(ONE_ROOM, "only/1"), 0.0);
}
