//! Doors that are open in part, or lie where the manifold hangs, and rooms around a core.

use crate::notation;
use plane::storey::{Kept, Layout, Plan, Reason, lay};
use plane::verify;

fn laid(text: &str) -> (Plan, Layout) {
    let plan = notation::plan(text);
    let layout = lay(&plan, &mut Kept::new());
    (plan, layout)
}

fn assert_sound(plan: &Plan, layout: &Layout) {
    let report = verify::storey(plan, layout);
    assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
    assert!(report.crossings.is_empty(), "{:?}", report.crossings);
    assert!(report.tight_bends.is_empty(), "{:?}", report.tight_bends);
    assert!(report.outside_m < 1e-6 && report.kept_out_m < 1e-6 && report.through_walls.is_empty());
    assert_eq!(report.over_limit(), 0);
}

/// A hall with a room on either side.
const HALL: &str = "\
# hall with two rooms
tube 0.08 100
room hall counterflow 0.15 0.1 - 0,0 6,0 6,1.6 0,1.6
room a counterflow 0.15 0.1 - 0,1.7 4,1.7 4,4.7 0,4.7
";

#[test]
fn leaders_pass_what_is_open_of_a_door() {
    // The room's corner hides 50 mm of the door and its clearance 25 mm more.
    let (plan, layout) =
        laid(&format!("{HALL}door hall a 0.25,1.65 0.6\nmanifold hall 6,0.4 6,1.2\n"));
    assert_sound(&plan, &layout);
    assert!(layout.loops.iter().any(|l| l.room == 1));
}

#[test]
fn a_door_behind_a_fixture_is_refused_with_its_width() {
    let (_, layout) = laid(&format!(
        "{HALL}keep-out 0.5,1.7 2.5,1.7 2.5,2.4 0.5,2.4\n\
         door hall a 1.5,1.65 0.8\nmanifold hall 6,0.4 6,1.2\n"
    ));
    let reasons: Vec<(usize, Reason)> =
        layout.refusals.iter().map(|r| (r.room, r.reason)).collect();
    let [(1, reason @ Reason::PassageTooNarrow { door: Some(0), loops: 1, width_m, .. })] =
        reasons.as_slice()
    else {
        panic!("{reasons:?}");
    };
    assert_eq!((*width_m, reason.loops_that_pass()), (0.0, Some(0)));
    assert_eq!(layout.loops.len(), 1, "the hall is laid all the same");
}

#[test]
fn tube_goes_straight_through_a_door_in_the_stretch_of_the_manifold() {
    let (plan, layout) = laid(&format!(
        "{HALL}room b counterflow 0.15 0.1 - 0,-3.1 4,-3.1 4,-0.1 0,-0.1\n\
         door hall a 2,1.65 0.7\ndoor hall b 2,-0.05 0.7\nmanifold hall 1.2,1.6 3.2,1.6\n"
    ));
    assert_sound(&plan, &layout);
    let short = layout.loops.iter().find(|l| l.room == 1).expect("a loop behind the door");
    assert!(short.supply_leader_m < 1.0, "{}", short.supply_leader_m);
    assert!(short.lengths_m.iter().all(|(room, length_m)| *room == 1 || *length_m < 0.6));
}

#[test]
fn a_room_around_a_core_is_shared_between_two_to_five_loops() {
    for loops in 2..=5 {
        let (plan, layout) = laid(&format!(
            "tube 0.08 400\n\
             room ring counterflow 0.15 0.1 {loops} 0,0 8,0 8,8 0,8\n\
             keep-out 2.8,2.8 5.2,2.8 5.2,5.2 2.8,5.2\nmanifold ring 3.4,0 4.6,0\n"
        ));
        assert_eq!(layout.loops.len(), loops, "{:?}", layout.refusals);
        let covered = verify::storey(&plan, &layout).covered_fraction();
        assert!(covered > 0.95, "{loops} loops cover {covered}");
    }
}

#[test]
fn a_short_manifold_tells_how_many_loops_it_takes() {
    let reason = |loops: usize, needed_m: f64, width_m: f64| {
        Reason::ManifoldTooShort { manifold: 0, loops, needed_m, width_m }.loops_that_pass()
    };
    // Loops of 50 mm between their tubes and 35 mm to the next: 0.05, 0.135, 0.22, 0.305 m.
    assert_eq!(reason(4, 0.305, 0.25), Some(3));
    assert_eq!(reason(4, 0.305, 0.04), Some(0));
    assert_eq!(Reason::NoWay.loops_that_pass(), None);
}
