//! Measures of a storey laid by hand, checked by hand; then spoiled, and noticed.

use plane::storey::{DeadFloor, Layout, Plan};
use plane::verify::{StoreyReport, storey};
use plane::{Path, Point, Region, Segment};

use crate::laid::{self, RADIUS_M, SPACING_M};
use crate::near;
use crate::plans::points;

fn measured(layout: &Layout) -> StoreyReport {
    storey(&laid::plan(), layout)
}

fn one_tube(plan: &Plan, corners: &[(f64, f64)]) -> StoreyReport {
    let path = Path::rounded(&points(corners), RADIUS_M);
    let loops = vec![laid::tube(0, 1, path, 0.0)];
    storey(plan, &Layout { loops, ..Layout::default() })
}

/// The segment in which a loop is farthest along at `p`, and `p` on it.
fn segment_at(path: &Path, p: Point) -> usize {
    let off = |s: &Segment| {
        let count = (s.length_m() / 0.005).ceil().max(1.0) as usize;
        let step = s.length_m() / count as f64;
        (0..=count).map(|k| s.point_at(step * k as f64).distance(p)).fold(f64::INFINITY, f64::min)
    };
    let places = path.segments.iter().map(off).enumerate();
    places.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap().0
}

/// A straight piece replaced by one through other places.
fn detour(path: &mut Path, at: Point, through: &[Point]) {
    let i = segment_at(path, at);
    let mut places = vec![path.segments[i].from()];
    places.extend(through);
    places.push(path.segments[i].to());
    let lines = places.windows(2).map(|w| Segment::Line { from: w[0], to: w[1] });
    let lines: Vec<Segment> = lines.collect();
    path.segments.splice(i..=i, lines);
}

#[test]
fn a_sound_storey_passes_every_measure() {
    let report = measured(&laid::layout());
    assert_eq!(report.crossings, []);
    near(report.outside_m + report.kept_out_m, 0.0, 0.0);
    assert_eq!(report.tight_bends, []);
    assert!(report.through_walls.is_empty() && report.forgotten.is_empty());
    assert_eq!(report.over_limit(), 0);
    assert!(report.covered_fraction() > 0.98, "{}", report.covered_fraction());
    for l in &report.loops {
        near(l.misstated_m, 0.0, 1e-3);
        near(l.off_manifold_m, 0.0, 1e-9);
    }
}

#[test]
fn gaps_and_clearances_are_those_drawn() {
    let gaps = measured(&laid::layout()).gaps;
    let field = gaps.field.unwrap();
    // In the middle of the spiral, from the last ring's beginning to the row above it.
    near(field.gap_m, 1.5 - 1.35, 1e-6);
    near(field.ratio, 0.15 / SPACING_M, 1e-5);
    assert!(gaps.bulb.is_none(), "no turn is wider than the spacing");
    // The two leaders of the spiral, where they pass the door.
    near(gaps.leader.unwrap().gap_m, 0.1, 2e-4);
    near(gaps.field_wall.unwrap().distance_m, 0.1, 1e-6);
    near(gaps.field_wall.unwrap().ratio, 1.0, 1e-5);
}

#[test]
fn lengths_are_those_of_lines_and_quarter_turns() {
    let plan = laid::plan();
    let corners = [(2.0, 0.0), (2.0, 0.5), (6.0, 0.5), (6.0, 0.7), (2.2, 0.7), (2.2, 0.0)];
    let report = one_tube(&plan, &corners);
    let corner = (2.0 - std::f64::consts::FRAC_PI_2) * RADIUS_M;
    let by_room = &report.loops[0].lengths_m;
    assert_eq!(by_room.iter().map(|r| r.0).collect::<Vec<_>>(), [0, 1]);
    near(by_room[0].1, 0.5 + 2.0 + 1.8 + 0.7 - 2.0 * corner, 2e-3);
    near(by_room[1].1, 2.0 + 2.0 + 0.2 - 2.0 * corner, 2e-3);
    near(report.loops[0].length_m, 0.5 + 4.0 + 0.2 + 3.8 + 0.7 - 4.0 * corner, 1e-9);
}

#[test]
fn cover_is_the_area_near_tube() {
    // One straight tube down the middle of a room of 4 by 3 m covers 0.3 m of its width.
    let mut plan = laid::plan();
    plan.rooms.truncate(1);
    plan.doors.clear();
    let report = one_tube(&plan, &[(2.0, 0.0), (2.0, 3.0)]);
    near(report.covered_fraction(), 0.3 / 4.0, 0.003);
    near(report.cover[0].floor_m2, 12.0, 0.1);
    plan.rooms[0].keep_outs = vec![points(&[(3.0, 0.0), (4.0, 0.0), (4.0, 3.0), (3.0, 3.0)])];
    let report = one_tube(&plan, &[(2.0, 0.0), (2.0, 3.0)]);
    near(report.covered_fraction(), 0.3 / 3.0, 0.004);
}

#[test]
fn dead_floor_is_left_out_of_the_cover_and_told() {
    let mut layout = laid::layout();
    let before = measured(&layout);
    let low = Point::new(5.3, 1.15);
    let region = Region::rectangle(low, Point::new(6.8, 1.45)).unwrap();
    layout.dead.push(DeadFloor { room: 1, region });
    let after = measured(&layout);
    assert!(after.covered_fraction() > before.covered_fraction() + 0.001);
    let dead = after.cover[1].dead_m2;
    assert!(dead > 0.05 && dead < 1.5 * 0.3, "{dead}: what tube reaches is not dead");
}

#[test]
fn a_crossing_is_counted_once_and_placed() {
    let mut layout = laid::layout();
    // Up and down over the row above.
    let (low, tip) = (Point::new(1.0, 1.5), Point::new(1.0, 1.75));
    detour(&mut layout.loops[1].path, low, &[tip]);
    let report = measured(&layout);
    assert_eq!(report.crossings.len(), 2);
    assert!(report.crossings.iter().all(|c| c.paths == [1, 1]));
    assert!(report.tight_bends.iter().any(|b| b.at == tip && b.radius_m == 0.0));
}

#[test]
fn a_kink_and_a_jump_are_bends_without_radius() {
    for shift in [0.012, 0.05] {
        let mut layout = laid::layout();
        let path = &mut layout.loops[2].path;
        let i = segment_at(path, Point::new(6.0, 0.1));
        let (from, to) = (path.segments[i].from(), path.segments[i].to());
        let middle = from.lerp(to, 0.5) + Point::new(0.0, shift);
        detour(path, from.lerp(to, 0.5), &[middle]);
        let kinked = measured(&layout);
        assert!(kinked.tight_bends.iter().any(|b| b.radius_m == 0.0 && b.loop_number == 2));
    }
    let mut layout = laid::layout();
    let path = &mut layout.loops[2].path;
    let i = segment_at(path, Point::new(6.0, 0.1));
    if let Segment::Line { from, .. } = &mut path.segments[i] {
        from.x += 0.004;
    }
    let jumped = measured(&layout);
    assert_eq!(jumped.tight_bends.len(), 1);
    near(jumped.tight_bends[0].radius_m, 0.0, 0.0);
}

#[test]
fn a_shrunk_radius_is_tight_and_a_false_one_is_noticed() {
    let mut layout = laid::layout();
    let corners = [(1.8, 0.0), (1.8, 2.9), (1.0, 2.9)];
    layout.loops[1].path = Path::rounded(&points(&corners), 0.06);
    let report = measured(&layout);
    assert_eq!(report.tight_bends.len(), 1);
    near(report.tight_bends[0].radius_m, 0.06, 1e-9);
    let mut layout = laid::layout();
    let path = &mut layout.loops[1].path;
    let i = segment_at(path, Point::new(1.8 - 0.0234, 2.9 - 0.0234));
    let Segment::Arc { radius_m, .. } = &mut path.segments[i] else { panic!("a corner") };
    *radius_m *= 1.3;
    let report = measured(&layout);
    assert_eq!(report.tight_bends.iter().map(|b| b.radius_m).collect::<Vec<_>>(), [0.0]);
}

#[test]
fn many_small_kinks_are_found_by_places_along_the_tube() {
    // A quarter turn of radius 50 mm in steps of 0.28°, none of which is a kink by itself.
    let step = 0.28_f64.to_radians();
    let mut corners = vec![Point::new(0.0, 1.0)];
    let mut heading: f64 = 0.0;
    for _ in 0..322 {
        let last = *corners.last().unwrap();
        corners.push(last + Point::new(heading.cos(), heading.sin()) * (0.05 * step));
        heading += step;
    }
    let line = |w: &[Point]| Segment::Line { from: w[0], to: w[1] };
    let path = Path { segments: corners.windows(2).map(line).collect() };
    assert_eq!(plane::verify::faults(&path), []);
    assert_eq!(plane::verify::tight_bends(&path, RADIUS_M), []);
    let layout = Layout { loops: vec![laid::tube(0, 1, path, 0.0)], ..Layout::default() };
    let bends = measured(&layout).tight_bends;
    assert!(!bends.is_empty());
    near(bends[0].radius_m, 0.05, 0.004);
}

#[test]
fn a_removed_pass_leaves_floor_bare() {
    let sound = measured(&laid::layout()).covered_fraction();
    let mut layout = laid::layout();
    let path = &mut layout.loops[1].path;
    let first = segment_at(path, Point::new(1.0, 2.9 - 2.78 / 13.0 * 6.0));
    let last = segment_at(path, Point::new(1.0, 2.9 - 2.78 / 13.0 * 8.0));
    let (from, to) = (path.segments[first].from(), path.segments[last].from());
    path.segments.splice(first..last, [Segment::Line { from, to }]);
    let report = measured(&layout);
    assert!(report.covered_fraction() < sound - 0.01);
    assert!(report.loops[1].misstated_m > 1.0);
}

#[test]
fn pinched_strands_show_in_the_gap_of_their_kind() {
    let mut layout = laid::layout();
    // The divide between the two loops of the left room.
    let at = Point::new(1.8, 1.5);
    detour(&mut layout.loops[1].path, at, &[Point::new(1.92, 1.5)]);
    let field = measured(&layout).gaps.field.unwrap();
    assert!(field.ratio < 0.55, "{}", field.ratio);
    assert!(field.at[0].distance(at) < 0.3);
    let mut loops = [field.loops[0], field.loops[1]];
    loops.sort_unstable();
    assert_eq!(loops, [0, 1]);
    let mut layout = laid::layout();
    detour(&mut layout.loops[2].path, Point::new(4.0, 0.55), &[Point::new(4.05, 0.48)]);
    near(measured(&layout).gaps.leader.unwrap().gap_m, 0.03, 1e-3);
}

/// A turn of 100 mm between strands, opened to a head of twice the bend radius.
fn bulb() -> Path {
    let (half_gap, r) = (0.05, RADIUS_M);
    let lean = f64::acos((r + half_gap) / (2.0 * r));
    let head = Point::new(1.0, 1.0 + 2.0 * r * lean.sin());
    let arc = |from: Point, to: Point, centre: Point, turn_rad: f64| Segment::Arc {
        from,
        to,
        centre,
        radius_m: r,
        turn_rad,
    };
    let side = |s: f64| {
        let begin = Point::new(1.0 + s * half_gap, 1.0);
        let centre = Point::new(begin.x + s * r, 1.0);
        (begin, centre, centre.lerp(head, 0.5))
    };
    let ((right, right_centre, right_end), (left, left_centre, left_end)) = (side(1.0), side(-1.0));
    let down = Point::new(0.0, -0.8);
    let segments = vec![
        Segment::Line { from: right + down, to: right },
        arc(right, right_end, right_centre, -lean),
        arc(right_end, left_end, head, std::f64::consts::PI + 2.0 * lean),
        arc(left_end, left, left_centre, -lean),
        Segment::Line { from: left, to: left + down },
    ];
    Path { segments }
}

#[test]
fn beside_a_bulb_the_gap_is_counted_apart() {
    let mut plan = laid::plan();
    plan.rooms[0].spacing_m = 0.1;
    let line = Segment::Line { from: Point::new(1.15, 0.2), to: Point::new(1.15, 2.0) };
    let beside = Path { segments: vec![line] };
    let loops = vec![laid::tube(0, 1, bulb(), 0.0), laid::tube(0, 2, beside, 0.0)];
    let report = storey(&plan, &Layout { loops, ..Layout::default() });
    assert_eq!(report.tight_bends, []);
    near(report.gaps.bulb.unwrap().gap_m, 0.15 - RADIUS_M, 1e-4);
    assert!(report.gaps.field.is_none_or(|f| f.ratio > 0.99));
}

#[test]
fn tube_in_a_keep_out_is_measured() {
    let mut plan = laid::plan();
    plan.rooms[1].keep_outs = vec![points(&[(6.0, 1.9), (6.4, 1.9), (6.4, 2.6), (6.0, 2.6)])];
    let report = storey(&plan, &laid::layout());
    // Rows at 2.5, 2.3, 2.1 and along the edge at 1.9, which is no trespass.
    near(report.kept_out_m, 3.0 * 0.4, 1e-6);
    near(report.outside_m, 0.0, 0.0);
    assert!(report.gaps.field_wall.unwrap().distance_m < 1e-6);
}

#[test]
fn tube_through_the_wall_beside_a_door_is_outside() {
    let plan = laid::plan();
    let through = |y: f64| one_tube(&plan, &[(3.0, y), (5.0, y)]);
    near(through(0.5).outside_m, 0.0, 0.0);
    near(through(0.89).outside_m, 0.0, 0.0);
    near(through(0.91).outside_m, 0.1, 1e-9);
    near(through(2.0).outside_m, 0.1, 1e-9);
    near(one_tube(&plan, &[(3.0, 2.0), (3.0, 4.0)]).outside_m, 1.0, 1e-9);
}

#[test]
fn tube_through_a_wall_without_thickness_is_noticed() {
    let mut plan = laid::plan();
    plan.rooms[1] = laid::room("right", (4.0, 0.0), (8.0, 3.0));
    plan.doors = vec![laid::door([1, 0], (4.0, 0.5), 0.8)];
    let through = |y: f64| one_tube(&plan, &[(3.0, y), (5.0, y)]);
    assert_eq!(through(0.5).through_walls, []);
    assert_eq!(through(2.0).through_walls, [Point::new(4.0, 2.0)]);
}

#[test]
fn a_shifted_loop_leaves_its_manifold_and_its_floor() {
    let mut layout = laid::layout();
    let shift = Point::new(0.0, 0.16);
    layout.loops[0].path = laid::moved(&layout.loops[0].path, shift);
    let report = measured(&layout);
    near(report.loops[0].off_manifold_m, 0.16, 1e-9);
    assert!(report.outside_m > 1.0);
    assert!(report.gaps.field_wall.unwrap().ratio < 0.1);
}

#[test]
fn a_deleted_loop_leaves_its_floor_bare() {
    let mut layout = laid::layout();
    layout.loops.remove(1);
    let report = measured(&layout);
    assert!(report.covered_fraction() < 0.8);
    assert_eq!(report.spreads, []);
    let mut layout = laid::layout();
    layout.loops.remove(2);
    assert_eq!(measured(&layout).forgotten, [1]);
}

#[test]
fn an_overlong_loop_is_over_by_its_tube_at_the_manifold_too() {
    let mut plan = laid::plan();
    let layout = laid::layout();
    let length = layout.loops[0].path.length_m();
    plan.rooms[0].tube.longest_loop_m = length + 1.5;
    let report = storey(&plan, &layout);
    near(report.loops[0].over_m, 0.5, 1e-9);
    plan.rooms[0].tube.longest_loop_m = length + 2.0;
    assert_eq!(storey(&plan, &layout).over_limit(), 0);
}

#[test]
fn spread_is_that_of_the_longest() {
    let layout = laid::layout();
    let lengths = [layout.loops[0].path.length_m(), layout.loops[1].path.length_m()];
    let report = measured(&layout);
    let expected = (lengths[0] - lengths[1]).abs() / lengths[0].max(lengths[1]);
    assert_eq!(report.spreads, [(0, expected)]);
    assert!(expected > 0.01);
}

#[test]
fn nothing_panics_on_broken_tube() {
    let nan = Point::new(f64::NAN, f64::INFINITY);
    let mut layout = laid::layout();
    layout.loops[0].path.segments[0] = Segment::Line { from: nan, to: nan };
    layout.loops[1].path.segments.clear();
    layout.loops[2].room = 77;
    layout.loops[2].manifold = 77;
    let report = measured(&layout);
    assert!(report.tight_bends.iter().any(|b| b.loop_number == 0));
    let far = Point::new(1e300, -1e300);
    layout.loops[2].path.segments = vec![Segment::Line { from: Point::default(), to: far }];
    let _ = measured(&layout);
    let mut plan = laid::plan();
    plan.doors[0].rooms = [9, 0];
    plan.doors[0].width_m = f64::NAN;
    plan.rooms[0].keep_outs = vec![Vec::new(), vec![nan; 3]];
    let _ = storey(&plan, &laid::layout());
    let _ = storey(&plan, &Layout::default());
}
