//! Tube in joist bays: nothing meets, every bend can be bent, every hole keeps the rules.

use plane::bays::{self, BlockKind, Floor, Layout, NoBays, Verdict, Why};
use plane::{Path, Point, Region, Segment, verify};

use crate::joist_floors as floors;
use crate::near;

fn laid(floor: &Floor) -> Layout {
    bays::lay(floor).expect("a floor that can be laid")
}

/// Places along a tube in space, about a centimetre apart: place, depth, distance along.
fn in_space(tube: &bays::Loop) -> Vec<(Point, f64, f64)> {
    let mut places = Vec::new();
    let mut gone = 0.0;
    for (segment, depth) in tube.path.segments.iter().zip(&tube.depths_m) {
        let length = segment.length_m();
        let count = (length / 0.01).ceil().max(1.0);
        for k in 0..count as usize {
            let share = k as f64 / count;
            // Between depths along a smooth curve; half way it is half way down.
            let down = (1.0 - (std::f64::consts::PI * share).cos()) / 2.0;
            let z = depth[0] + (depth[1] - depth[0]) * down;
            places.push((segment.point_at(length * share), z, gone + length * share));
        }
        gone += length;
    }
    places
}

/// Least distance in space between tubes, and of a tube to itself beyond its own bends.
fn closest_in_space(layout: &Layout, bend_m: f64) -> f64 {
    let mut all: Vec<(Point, f64, f64, usize)> = Vec::new();
    for (number, tube) in layout.loops.iter().enumerate() {
        all.extend(in_space(tube).into_iter().map(|(p, z, along)| (p, z, along, number)));
    }
    all.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    let mut least = f64::INFINITY;
    for (i, a) in all.iter().enumerate() {
        for b in all[i + 1..].iter().take_while(|b| b.0.x - a.0.x < 0.06) {
            if a.3 != b.3 || (a.2 - b.2).abs() > 4.0 * bend_m {
                let flat = a.0.distance(b.0);
                least = least.min(flat.hypot(a.1 - b.1));
            }
        }
    }
    least
}

/// The stretches of all tubes that lie at one depth, each as a path of its own.
fn at_depth(layout: &Layout, depth_m: f64) -> Vec<Path> {
    let mut paths = Vec::new();
    for tube in &layout.loops {
        let mut open: Vec<Segment> = Vec::new();
        for (segment, depths) in tube.path.segments.iter().zip(&tube.depths_m) {
            if depths.iter().all(|z| (z - depth_m).abs() < 1e-9) {
                open.push(*segment);
            } else if !open.is_empty() {
                paths.push(Path { segments: std::mem::take(&mut open) });
            }
        }
        if !open.is_empty() {
            paths.push(Path { segments: open });
        }
    }
    paths
}

fn depths(layout: &Layout) -> Vec<f64> {
    let mut depths: Vec<f64> = layout.loops.iter().flat_map(|l| l.depths_m.concat()).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    depths
}

#[test]
fn no_tube_meets_another_at_its_own_depth() {
    for (name, floor) in floors::all() {
        let layout = laid(&floor);
        assert!(!layout.loops.is_empty(), "{name}");
        for depth in depths(&layout) {
            let met = verify::crossings(&at_depth(&layout, depth));
            assert!(met.is_empty(), "{name} at {depth} m: {met:?}");
        }
        let least = closest_in_space(&layout, floor.tube.bend_radius_m);
        assert!(least > floor.tube.outside_m + 0.006, "{name}: {least} m apart in space");
    }
}

#[test]
fn every_bend_can_be_bent_and_is_smooth() {
    for (name, floor) in floors::all() {
        for tube in laid(&floor).loops {
            let tight = verify::tight_bends(&tube.path, floor.tube.bend_radius_m);
            assert!(tight.is_empty(), "{name}: {tight:?}");
            assert!(verify::faults(&tube.path).is_empty(), "{name}");
            let sampled = verify::least_sampled_radius_m(&tube.path, 0.03);
            assert!(sampled > 0.98 * floor.tube.bend_radius_m, "{name}: {sampled}");
        }
    }
}

#[test]
fn no_loop_is_longer_than_the_longest() {
    for (name, floor) in floors::all() {
        for tube in laid(&floor).loops {
            assert!(tube.length_m <= floor.tube.longest_loop_m, "{name}: {} m", tube.length_m);
            assert!(tube.length_m > tube.path.length_m(), "{name}");
        }
    }
}

#[test]
fn every_hole_keeps_the_rules_and_is_straight() {
    for (name, floor) in floors::all() {
        let layout = laid(&floor);
        for hole in &layout.holes {
            assert_eq!(hole.verdict, Verdict::Keeps, "{name}: {hole:?}");
        }
        let joists = &floor.joists;
        let across = -joists.along.unit().left();
        let (mut crossings, mut straight) = (0, 0);
        for tube in &layout.loops {
            for (segment, depths) in tube.path.segments.iter().zip(&tube.depths_m) {
                let from = (segment.from() - joists.on).dot(across) / joists.pitch_m;
                let to = (segment.to() - joists.on).dot(across) / joists.pitch_m;
                let (low, high) = (from.min(to), from.max(to));
                if depths[0] > joists.depth_m && depths[1] > joists.depth_m {
                    continue;
                }
                let half = joists.width_m / 2.0 / joists.pitch_m;
                for joist in low.ceil() as i64..=high.floor() as i64 {
                    crossings += 1;
                    let line = matches!(segment, Segment::Line { .. }) && depths[0] == depths[1];
                    let through = low < joist as f64 - half && high > joist as f64 + half;
                    straight += usize::from(line && through);
                }
            }
        }
        assert_eq!(straight, crossings, "{name}: tube bends inside a joist");
        assert_eq!(layout.holes.len(), crossings, "{name}");
    }
}

/// The share of floor near tube that was measured of the method on these floors before, 0.905,
/// 0.900, 0.895, 0.948 and 0.954 without blocks, less what leader bays take here.
#[test]
fn verified_measures_hold_and_floors_are_covered() {
    let least = [0.87, 0.90, 0.88, 0.92, 0.93, 0.80, 0.85, 0.5];
    for ((name, floor), least) in floors::all().into_iter().zip(least) {
        let report = verify::bays(&floor, &laid(&floor));
        assert!(report.crossings.is_empty(), "{name}: {:?}", report.crossings);
        assert_eq!((report.over_limit, report.tight_bends), (0, 0), "{name}");
        assert!(report.outside_m < 0.02, "{name}: {} m outside", report.outside_m);
        assert!(report.covered_fraction > least, "{name}: {}", report.covered_fraction);
    }
}

/// A tube moved onto another is found, and so is one in the middle of a duct.
#[test]
fn the_verifier_finds_what_is_spoiled() {
    let mut floor = floors::one_room();
    let mut layout = laid(&floor);
    let mut twin = layout.loops[1].clone();
    twin.number += 7;
    layout.loops.push(twin);
    assert!(!verify::bays(&floor, &layout).crossings.is_empty());
    layout.loops.pop();
    let at = layout.plates[0].ends[0].lerp(layout.plates[0].ends[1], 0.5);
    let around = [[-0.1, -0.1], [0.1, -0.1], [0.1, 0.1], [-0.1, 0.1]];
    let outline = around.iter().map(|[x, y]| at + Point::new(*x, *y)).collect();
    floor.blocks.push(bays::Block { outline, kind: BlockKind::Full });
    assert!(verify::bays(&floor, &layout).outside_m > 0.15);
}

#[test]
fn no_tube_enters_what_is_blocked() {
    for (name, floor) in floors::all() {
        let layout = laid(&floor);
        for block in &floor.blocks {
            let outline = Region::simple(block.outline.clone()).expect("a block");
            for tube in &layout.loops {
                for (p, z, _) in in_space(tube) {
                    let in_the_way = match block.kind {
                        BlockKind::Full => z < floor.joists.depth_m,
                        BlockKind::Plate => z < 0.03,
                    };
                    assert!(!(in_the_way && outline.contains(p)), "{name}: {p:?} at {z} m");
                }
            }
        }
    }
}

/// The published measurements of the method on these floors: loops, their lengths, total tube, and
/// holes; ours may need less tube, and leave the leader bay bare.
#[test]
fn loops_and_lengths_are_those_measured_before() {
    let expected = [
        ("one room", floors::one_room(), 2..=4, 151.0, 40),
        ("shallow joists", floors::shallow(), 2..=3, 123.0, 38),
        ("four rooms", floors::four_rooms(), 4..=5, 304.0, 96),
        ("big room", floors::big_room(), 4..=5, 305.0, 78),
        ("long row", floors::long_row(), 6..=7, 462.0, 162),
    ];
    for (name, floor, loops, total_m, holes) in expected {
        let layout = laid(&floor);
        let total: f64 = layout.loops.iter().map(|l| l.length_m).sum();
        assert!(loops.contains(&layout.loops.len()), "{name}: {} loops", layout.loops.len());
        assert!((total / total_m - 1.0).abs() < 0.12, "{name}: {total} m, before {total_m} m");
        let share = layout.holes.len() as f64 / f64::from(holes);
        assert!((0.7..=1.3).contains(&share), "{name}: {} holes", layout.holes.len());
    }
}

#[test]
fn a_joist_too_shallow_for_the_hole_is_refused_with_what_it_takes() {
    let refused = bays::lay(&floors::too_shallow());
    let Err(NoBays::HoleTooLarge { most_m, depth_m }) = refused else { panic!("{refused:?}") };
    // 120 mm less 2 in on each side leaves 18.4 mm; a third of the depth would be 40 mm.
    near(most_m, 0.0184, 1e-6);
    // 42 mm and 2 in on each side are 143.6 mm, and three times 42 mm are 126 mm.
    near(depth_m, 0.1436, 1e-6);
}

#[test]
fn a_bay_too_narrow_for_the_bends_is_refused() {
    let mut floor = floors::half_inch();
    floor.joists.pitch_m = 0.3;
    let refused = bays::lay(&floor);
    let Err(NoBays::BayTooNarrow { needed_m, clear_m }) = refused else { panic!("{refused:?}") };
    near(clear_m, 0.262, 1e-9);
    assert!(needed_m > 2.0 * 0.127 + 0.0159);
}

#[test]
fn bays_beyond_a_duct_are_reached_from_below_or_told() {
    let mut floor = floors::one_room();
    let far = |layout: &Layout| layout.loops.iter().flat_map(|l| &l.bays).any(|b| *b >= 12);
    assert!(far(&laid(&floor)));
    floor.under_joists = false;
    let layout = laid(&floor);
    assert!(!far(&layout));
    let told = layout.unreached.iter().filter(|u| u.bay >= 12 && u.why == Why::Blocked);
    assert!(told.count() >= 4);
}

/// By British practice holes lie at mid depth between 0.25 and 0.4 of the span.
#[test]
fn lanes_keep_to_the_zone_of_the_rule() {
    let layout = laid(&floors::british());
    assert!(!layout.holes.is_empty());
    for hole in &layout.holes {
        assert_eq!(hole.verdict, Verdict::Keeps, "{hole:?}");
        near(hole.below_top_m, 0.235 / 2.0, 1e-9);
        assert!((0.25 * 4.5..=0.4 * 4.5).contains(&hole.from_bearing_m), "{hole:?}");
    }
    assert!(layout.unreached.iter().any(|u| u.why == Why::BehindLanes));
}

#[test]
fn quarter_turns_and_shifts_give_the_same_tube() {
    let floor = floors::four_rooms();
    let before = laid(&floor);
    let turn = |p: Point| p.left() + Point::new(3.0, -2.0);
    let mut turned = floor.clone();
    for room in &mut turned.rooms {
        let outline = room.floor.outer().iter().map(|p| turn(*p)).collect();
        room.floor = Region::simple(outline).expect("a turned room");
    }
    for block in &mut turned.blocks {
        block.outline = block.outline.iter().map(|p| turn(*p)).collect();
    }
    turned.manifold.at = turn(floor.manifold.at);
    turned.joists.on = turn(floor.joists.on);
    turned.joists.along = floor.joists.along.left();
    let after = laid(&turned);
    assert_eq!(before.loops.len(), after.loops.len());
    for (a, b) in before.loops.iter().zip(&after.loops) {
        near(a.length_m, b.length_m, 1e-6);
        let start = a.path.start().map(turn).unwrap_or_default();
        near(start.distance(b.path.start().unwrap_or_default()), 0.0, 1e-6);
    }
    assert_eq!(before.holes.len(), after.holes.len());
}

#[test]
fn plates_fill_the_strands_and_stop_at_a_junction_box() {
    let floor = floors::one_room();
    let layout = laid(&floor);
    for run in &layout.plates {
        let strand = run.ends[0].distance(run.ends[1]);
        let joints = (run.whole + usize::from(run.cut_m > 0.0)).saturating_sub(1) as f64;
        let filled = run.whole as f64 * 0.6 + joints * 0.01 + run.cut_m;
        assert!(filled <= strand + 1e-6 && filled > strand - 0.16 - 0.01, "{filled} of {strand}");
        let middle = run.ends[0].lerp(run.ends[1], 0.5);
        assert!(!(middle.x > 3.7 && middle.x < 4.1 && middle.y > 2.0 && middle.y < 2.5));
    }
}

#[test]
fn unusable_figures_are_refused_and_nothing_panics() {
    let odd = [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e-9, 0.05, 1e3, 1e300];
    let set: [fn(&mut Floor, f64); 12] = [
        |f, v| f.joists.pitch_m = v,
        |f, v| f.joists.width_m = v,
        |f, v| f.joists.depth_m = v,
        |f, v| f.joists.bearings_m[1] = v,
        |f, v| f.joists.along = Point::new(v, v),
        |f, v| f.manifold.at = Point::new(v, 0.0),
        |f, v| f.plate.strands_m = v,
        |f, v| f.plate.length_m = v,
        |f, v| f.tube.bend_radius_m = v,
        |f, v| f.tube.longest_loop_m = v,
        |f, v| f.drilling.hole_m = v,
        |f, v| f.drilling.lanes_m = [v, v],
    ];
    for set in set {
        for value in odd {
            let mut floor = floors::one_room();
            set(&mut floor, value);
            if let Ok(layout) = bays::lay(&floor) {
                assert!(layout.loops.iter().all(|l| l.length_m <= floor.tube.longest_loop_m));
            }
        }
    }
    let mut empty = floors::one_room();
    empty.rooms.clear();
    assert_eq!(bays::lay(&empty), Err(NoBays::NoBay));
}

/// A seeded sequence of numbers from 0 to 1.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

/// Two or four rooms on one span with up to four blocks anywhere.
fn random_floor(seed: u64) -> Floor {
    let mut chance = Chance(seed);
    let (width, span) = (chance.within(4.0, 14.0), chance.within(3.0, 7.0));
    let depth = [0.14, 0.184, 0.235, 0.286][(chance.next() * 4.0) as usize % 4];
    let mut floor = floors::floor(chance.within(-0.2, 0.2), depth, [0.0, span], [0.15, 0.9]);
    let middle = chance.within(0.3, 0.7) * width;
    let wall = if chance.next() < 0.5 { span } else { chance.within(0.35, 0.65) * span };
    let corner = |x: f64, y: f64| Point::new(x, y);
    for (x0, x1) in [(0.1, middle), (middle + 0.1, width)] {
        for (y0, y1) in [(0.1, wall - 0.1), (wall + 0.1, span - 0.1)] {
            if let Ok(floor_region) = Region::rectangle(corner(x0, y0), corner(x1, y1))
                && y1 > y0
            {
                let key = format!("room {}", floor.rooms.len());
                floor.rooms.push(bays::Room {
                    key,
                    floor: floor_region,
                    loop_aim_m: f64::INFINITY,
                });
            }
        }
    }
    for _ in 0..(chance.next() * 5.0) as usize {
        let at = corner(chance.within(0.0, width), chance.within(0.0, span));
        let far = at + corner(chance.within(0.1, 0.7), chance.within(0.1, 1.5));
        let kind = if chance.next() < 0.5 { BlockKind::Full } else { BlockKind::Plate };
        let outline = vec![at, corner(far.x, at.y), far, corner(at.x, far.y)];
        floor.blocks.push(bays::Block { outline, kind });
    }
    floor.manifold.at = corner(chance.within(0.0, width), chance.within(0.0, span));
    if chance.next() < 0.4 {
        floor.tube.bend_radius_m = 0.127;
    }
    floor
}

#[test]
fn random_floors_keep_every_hard_rule() {
    let (mut laid, mut lost, mut heated) = (0, 0.0, 0.0);
    for seed in 0..24 {
        let floor = random_floor(seed);
        let Ok(layout) = bays::lay(&floor) else { continue };
        laid += 1;
        for depth in depths(&layout) {
            let met = verify::crossings(&at_depth(&layout, depth));
            assert!(met.is_empty(), "{seed} at {depth} m: {met:?}");
        }
        let least = closest_in_space(&layout, floor.tube.bend_radius_m);
        assert!(least > floor.tube.outside_m + 0.006, "{seed}: {least} m apart in space");
        for tube in &layout.loops {
            assert!(verify::tight_bends(&tube.path, floor.tube.bend_radius_m).is_empty(), "{seed}");
            assert!(verify::faults(&tube.path).is_empty(), "{seed}");
            assert!(tube.length_m <= floor.tube.longest_loop_m, "{seed}");
        }
        let keeps = layout.holes.iter().all(|hole| hole.verdict == Verdict::Keeps);
        assert!(keeps, "{seed}");
        lost += layout.unreached.iter().map(|u| u.length_m).sum::<f64>();
        heated += layout.plates.iter().map(|p| p.ends[0].distance(p.ends[1])).sum::<f64>() / 2.0;
    }
    println!("{laid} of 24 floors laid, {:.1} % of bay unreached", 100.0 * lost / (lost + heated));
    assert!(laid >= 23, "{laid} of 24 floors laid");
}
