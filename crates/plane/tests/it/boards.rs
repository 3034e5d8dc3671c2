//! Grooved boards: tube on the grid, half turns that the tube allows, boards counted.

use plane::boards::{self, Floor, Layout, NoBoards};
use plane::{Path, Point, Region, Segment, verify};

use crate::board_floors as floors;
use crate::near;

fn laid(floor: &Floor) -> Layout {
    boards::lay(floor).expect("a floor that can be laid")
}

fn paths(layout: &Layout) -> Vec<Path> {
    layout.loops.iter().map(|l| l.path.clone()).collect()
}

#[test]
fn nothing_crosses_every_bend_bends_and_limits_are_kept() {
    for (name, floor) in floors::all() {
        let layout = laid(&floor);
        let paths = paths(&layout);
        assert!(verify::crossings(&paths).is_empty(), "{name}");
        for (tube, path) in layout.loops.iter().zip(&paths) {
            assert!(verify::tight_bends(path, floor.bend_radius_m).is_empty(), "{name}");
            assert!(verify::faults(path).is_empty(), "{name}");
            assert!(tube.length_m <= floor.longest_loop_m, "{name}: {} m", tube.length_m);
            near(tube.length_m, path.length_m() + floor.outside_m, 1e-9);
        }
        let gap = verify::closest_between(&paths, 0.2).map_or(0.2, |c| c.gap_m);
        assert!(gap > 0.0499, "{name}: {gap} m between loops");
    }
}

#[test]
fn tube_stays_in_the_room_and_off_keep_outs() {
    for (name, floor) in floors::all() {
        for path in paths(&laid(&floor)) {
            assert!(verify::outside_m(&path, &floor.room) < 1e-6, "{name}");
            for keep_out in &floor.keep_outs {
                let taken = Region::simple(keep_out.clone()).expect("a keep-out");
                let touches = path.sample(0.01).into_iter().any(|p| taken.contains(p));
                assert!(!touches, "{name}");
            }
        }
    }
}

/// Straight tube lies in grooves, but for leaders and headers.
#[test]
fn straight_tube_lies_on_the_grid() {
    for (name, floor) in floors::all() {
        let layout = laid(&floor);
        let pitch = floor.board.pitch_m;
        for path in paths(&layout) {
            for segment in &path.segments {
                let Segment::Line { from, to } = *segment else { continue };
                let along = (to - from).dot(layout.along).abs();
                if along < 1.0 || along < 0.99 * from.distance(to) {
                    continue;
                }
                let groove = (from - layout.on).dot(layout.along.left()) / pitch + 0.5;
                let off = (groove - groove.round()).abs() * pitch;
                // Leaders that cross the room lie in boards of their own.
                let leads = [from, to].iter().any(|p| {
                    (*p - floor.door[0]).cross((floor.door[1] - floor.door[0]).unit()).abs() < 0.2
                });
                assert!(off < 1e-4 || leads, "{name}: {off} m off its groove");
            }
        }
    }
}

#[test]
fn a_turn_tighter_than_the_tube_is_refused_with_both_radii() {
    let mut floor = floors::rectangle(0.15);
    floor.bend_radius_m = 0.08;
    let refused = boards::lay(&floor);
    assert_eq!(refused, Err(NoBoards::TurnTooTight { turn_m: 0.075, needs_m: 0.08 }));
    floor.board.pitch_m = 0.2;
    assert!(boards::lay(&floor).is_ok());
}

/// At 150 mm the floor needs eight loops: 0.80 m of door, of which 0.55 m are there.
#[test]
fn a_door_too_narrow_is_refused_with_what_it_needs() {
    let refused = boards::lay(&floors::narrow_door(0.15));
    let Err(NoBoards::DoorTooNarrow { loops, needs_m, has_m }) = refused else {
        panic!("{refused:?}");
    };
    assert!((6..=9).contains(&loops));
    near(needs_m, loops as f64 * 0.1, 1e-9);
    near(has_m, 0.55, 1e-9);
}

/// The published measurements of the method on these floors: loops, and straight boards laid whole or
/// cut with offcuts used again.
#[test]
fn loops_and_boards_are_about_those_measured_before() {
    let expected = [
        ("rectangle at 150", floors::rectangle(0.15), 3, 27, 15),
        ("rectangle at 200", floors::rectangle(0.2), 2, 27, 12),
        ("rectangle at 250", floors::rectangle(0.25), 2, 20, 9),
        ("L at 150", floors::l_room(0.15), 4, 32, 20),
        ("askew at 200", floors::skew_wall(0.2), 2, 29, 16),
        ("narrow door at 200", floors::narrow_door(0.2), 5, 75, 22),
        ("column at 150", floors::column(0.15), 3, 31, 19),
    ];
    for (name, floor, loops, straight, turns) in expected {
        let layout = laid(&floor);
        let bill = boards::bill(&floor, &layout);
        assert_eq!(layout.loops.len(), loops, "{name}");
        let boards = (bill.whole + bill.cut_boards) as f64;
        let share = boards / f64::from(straight);
        assert!((0.75..1.2).contains(&share), "{name}: {boards} boards, before {straight}");
        let share = bill.turn_boards as f64 / f64::from(turns);
        assert!((0.6..1.3).contains(&share), "{name}: {} turn boards", bill.turn_boards);
        // No fewer boards than the straight tube on the grid asks for.
        let total: f64 = layout.loops.iter().map(|l| l.path.length_m()).sum();
        let each = floor.board.length_m * (floor.board.width_m / floor.board.pitch_m).round();
        assert!(boards * each > 0.8 * bill.on_grid_fraction * total, "{name}");
    }
}

#[test]
fn whole_rows_cover_the_floor() {
    for (name, floor) in floors::all() {
        let paths = paths(&laid(&floor));
        let near_m = 0.75 * floor.board.pitch_m;
        let covered = verify::covered_fraction(&paths, &floor.room, near_m, 0.02);
        assert!(covered > 0.94, "{name}: {covered}");
    }
}

#[test]
fn verified_measures_hold() {
    for (name, floor) in floors::all() {
        let report = verify::boards(&floor, &laid(&floor));
        assert!(report.crossings.is_empty(), "{name}");
        assert_eq!((report.over_limit, report.tight_bends), (0, 0), "{name}");
        assert!(report.outside_m < 1e-3, "{name}");
        let closest_m = report.closest_strands_m.unwrap_or_default();
        assert!((closest_m / floor.board.pitch_m - 1.0).abs() < 0.02, "{name}: {closest_m} m");
    }
}

#[test]
fn quarter_turns_and_shifts_give_the_same_loops() {
    let floor = floors::skew_wall(0.15);
    let turn = |p: Point| p.left() + Point::new(7.0, 1.0);
    let mut turned = floor.clone();
    turned.room = Region::simple(floor.room.outer().iter().map(|p| turn(*p)).collect())
        .expect("a turned room");
    turned.door = floor.door.map(turn);
    let (before, after) = (laid(&floor), laid(&turned));
    assert_eq!(before.loops.len(), after.loops.len());
    for (a, b) in before.loops.iter().zip(&after.loops) {
        near(a.length_m, b.length_m, 1e-4);
        let (start, end) = (a.path.start().map(turn), b.path.start());
        near(start.unwrap_or_default().distance(end.unwrap_or_default()), 0.0, 1e-4);
    }
}

#[test]
fn odd_figures_are_refused_and_nothing_panics() {
    let set: [fn(&mut Floor, f64); 8] = [
        |f, v| f.board.pitch_m = v,
        |f, v| f.board.width_m = v,
        |f, v| f.board.length_m = v,
        |f, v| f.board.leader_pitch_m = v,
        |f, v| f.wall_clearance_m = v,
        |f, v| f.bend_radius_m = v,
        |f, v| f.longest_loop_m = v,
        |f, v| f.door[0] = Point::new(v, v),
    ];
    for set in set {
        for value in [f64::NAN, f64::INFINITY, -1.0, 0.0, 0.02, 0.3, 5.0, 1e3, 1e300] {
            let mut floor = floors::rectangle(0.15);
            set(&mut floor, value);
            if let Ok(layout) = boards::lay(&floor) {
                assert!(verify::crossings(&paths(&layout)).is_empty());
            }
        }
    }
}
