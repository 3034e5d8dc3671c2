//! Storeys laid from plan to tube.

use crate::notation;
use plane::storey::{Kept, Layout, Plan, Reason, lay};
use plane::{Point, Region, verify};

const RECTANGLE: &str = include_str!("../cases/01_rect_4x5.txt");
const L_ROOM: &str = include_str!("../cases/02_l_room.txt");
const BATH: &str = include_str!("../cases/05_bath_1p5x2.txt");
const DOGLEG: &str = include_str!("../cases/14_dogleg_hall.txt");

fn laid(text: &str) -> (Plan, Layout) {
    let plan = notation::plan(text);
    let layout = lay(&plan, &mut Kept::new());
    (plan, layout)
}

#[test]
fn cases_keep_every_hard_rule() {
    for (text, loops) in [(RECTANGLE, 1), (L_ROOM, 2), (BATH, 2), (DOGLEG, 8)] {
        let (plan, layout) = laid(text);
        let report = verify::storey(&plan, &layout);
        assert_eq!(layout.loops.len(), loops, "{text}");
        assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
        assert!(report.crossings.is_empty(), "{:?}", report.crossings);
        assert!(report.tight_bends.is_empty(), "{:?}", report.tight_bends);
        assert!(report.outside_m < 1e-6 && report.kept_out_m < 1e-6);
        assert_eq!(report.over_limit(), 0);
    }
}

#[test]
fn loops_tell_their_whole_length_by_room() {
    let (_, layout) = laid(DOGLEG);
    for l in &layout.loops {
        let sum: f64 = l.lengths_m.iter().map(|(_, length)| length).sum();
        crate::near(sum, l.path.length_m(), 1e-6);
        assert_eq!(l.doors.len() + 1, l.lengths_m.len());
    }
}

#[test]
fn turned_and_mirrored_plans_get_the_same_layout() {
    let (plan, layout) = laid(BATH);
    // A quarter turn, a mirror image and a shift; exact in binary or nearly so.
    let moves: [fn(Point) -> Point; 3] = [
        |p| Point::new(-p.y, p.x),
        |p| Point::new(-p.x, p.y),
        |p| Point::new(p.x + 17.25, p.y - 4.5),
    ];
    for (number, there) in moves.into_iter().enumerate() {
        let moved = lay(&moved(&plan, there), &mut Kept::new());
        assert_eq!(moved.loops.len(), layout.loops.len());
        for (one, other) in layout.loops.iter().zip(&moved.loops) {
            assert_eq!((one.room, one.number, one.port), (other.room, other.number, other.port));
            assert_eq!(one.path.segments.len(), other.path.segments.len(), "move {number}");
            for (a, b) in one.path.segments.iter().zip(&other.path.segments) {
                assert!(there(a.to()).distance(b.to()) < 1e-9, "move {number}: {a:?} {b:?}");
            }
        }
    }
}

/// A hall with two rooms on either side and a manifold at each end of it.
const TWO_MANIFOLDS: &str = "\
# hall with four rooms and two manifolds
tube 0.08 100
room hall counterflow 0.15 0.1 - 0,0 9,0 9,1.6 0,1.6
room a counterflow 0.15 0.1 - 0,1.7 4.4,1.7 4.4,4.7 0,4.7
room b counterflow 0.15 0.1 - 4.5,1.7 9,1.7 9,4.7 4.5,4.7
room c counterflow 0.15 0.1 - 0,-3.1 4.4,-3.1 4.4,-0.1 0,-0.1
room d counterflow 0.15 0.1 - 4.5,-3.1 9,-3.1 9,-0.1 4.5,-0.1
door hall a 2.5,1.65 0.8
door hall b 6.5,1.65 0.8
door hall c 2.5,-0.05 0.8
door hall d 6.5,-0.05 0.8
manifold hall 0,0.3 0,1.3
manifold hall 9,0.3 9,1.3
";

fn manifold_of(layout: &Layout, room: usize) -> Vec<usize> {
    layout.loops.iter().filter(|l| l.room == room).map(|l| l.manifold).collect()
}

#[test]
fn rooms_hang_on_the_nearer_of_two_manifolds() {
    let (plan, layout) = laid(TWO_MANIFOLDS);
    let report = verify::storey(&plan, &layout);
    assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
    assert!(report.crossings.is_empty() && report.tight_bends.is_empty());
    for (room, manifold) in [(1, 0), (2, 1), (3, 0), (4, 1)] {
        assert_eq!(manifold_of(&layout, room), [manifold], "room {room}");
    }
    // The hall is heated from both.
    assert_eq!(manifold_of(&layout, 0), [0, 1]);
}

#[test]
fn a_held_manifold_is_obeyed_and_a_full_one_takes_no_more() {
    let mut plan = notation::plan(TWO_MANIFOLDS);
    plan.rooms[1].manifold = Some(1);
    let layout = lay(&plan, &mut Kept::new());
    let on = manifold_of(&layout, 1);
    assert!(!on.is_empty() && on.iter().all(|m| *m == 1), "{on:?}");
    let report = verify::storey(&plan, &layout);
    assert!(report.crossings.is_empty(), "{:?}", report.crossings);

    plan.rooms[1].manifold = None;
    plan.rooms[0].heated = false;
    plan.manifolds[0].most_loops = 1;
    plan.manifolds[1].most_loops = 2;
    let layout = lay(&plan, &mut Kept::new());
    assert_eq!(layout.loops.len(), 3);
    let reasons: Vec<Reason> = layout.refusals.iter().map(|r| r.reason).collect();
    assert!(
        matches!(reasons.as_slice(), [Reason::TooManyLoops { loops: 2 | 3, .. }]),
        "{reasons:?}"
    );
}

#[test]
fn kept_loops_change_nothing() {
    let plan = notation::plan(L_ROOM);
    let mut kept = Kept::new();
    let first = lay(&plan, &mut kept);
    assert_eq!(lay(&plan, &mut kept), first);
}

fn moved(plan: &Plan, there: fn(Point) -> Point) -> Plan {
    let mut plan = plan.clone();
    let ring = |points: &[Point]| -> Vec<Point> { points.iter().map(|p| there(*p)).collect() };
    for room in &mut plan.rooms {
        room.floor = Region::simple(ring(room.floor.outer())).expect("a moved room");
        room.keep_outs = room.keep_outs.iter().map(|k| ring(k)).collect();
    }
    for door in &mut plan.doors {
        door.at = there(door.at);
    }
    for manifold in &mut plan.manifolds {
        manifold.ports = manifold.ports.map(there);
    }
    plan
}
