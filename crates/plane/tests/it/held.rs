//! Storeys of which a part is held.

use crate::notation;
use plane::storey::{
    Kept, Layout, LoopName, NotApart, NotEntered, NotShared, NotTaken, Plan, Unheld, lay,
};
use plane::{Point, Region, verify};

/// A hall with three rooms, and a closet that opens off the hall.
const CLOSET: &str = "\
tube 0.08 100
room hall counterflow 0.15 0.1 - 0,0 8,0 8,1.8 0,1.8
room a counterflow 0.15 0.1 - 0,1.9 3.9,1.9 3.9,5 0,5
room b counterflow 0.15 0.1 - 4,1.9 8,1.9 8,5 4,5
room c counterflow 0.15 0.1 - 0,-3 5,-3 5,-0.1 0,-0.1
room closet counterflow 0.15 0.1 - 5.1,-1.6 6.9,-1.6 6.9,-0.1 5.1,-0.1
door hall a 2,1.85 0.8
door hall b 5,1.85 0.8
door hall c 2.5,-0.05 0.8
door hall closet 6,-0.05 0.8
manifold hall 0,0.3 0,1.5
";

fn laid(text: &str) -> (Plan, Layout) {
    let plan = notation::plan(text);
    let layout = lay(&plan, &mut Kept::new());
    (plan, layout)
}

/// No crossing, nothing outside, no bend too tight; lengths by room as measured on the drawing.
fn assert_sound(plan: &Plan, layout: &Layout) {
    let report = verify::storey(plan, layout);
    assert!(report.crossings.is_empty(), "{:?}", report.crossings);
    assert!(report.tight_bends.is_empty(), "{:?}", report.tight_bends);
    assert!(report.through_walls.is_empty(), "{:?}", report.through_walls);
    assert!(report.outside_m + report.kept_out_m < 1e-6, "{} m", report.outside_m);
    assert!(report.forgotten.is_empty(), "{:?}", report.forgotten);
    for told in &report.loops {
        assert!(told.misstated_m < 1e-3, "{} m misstated", told.misstated_m);
    }
}

#[test]
fn a_closet_shares_the_loop_of_the_hall() {
    let (alone, apart) = laid(CLOSET);
    let closet = 4;
    assert_eq!(apart.loops.iter().filter(|l| l.room == closet).count(), 1);
    let (plan, layout) = laid(&format!("{CLOSET}share closet hall\n"));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, []);
    assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
    assert_eq!(layout.loops.len() + 1, apart.loops.len());
    let through: Vec<_> =
        layout.loops.iter().filter(|l| l.lengths_m.iter().any(|(r, _)| *r == closet)).collect();
    assert_eq!(through.len(), 1, "one loop runs through the closet");
    assert_eq!(through[0].room, 0);
    let cover = |plan: &Plan, layout: &Layout| {
        let report = verify::storey(plan, layout);
        report.cover.iter().find(|c| c.room == closet).unwrap().fraction()
    };
    assert!(cover(&plan, &layout) > 0.95, "{}", cover(&plan, &layout));
    assert!(cover(&alone, &apart) > 0.9);
}

#[test]
fn what_cannot_share_a_loop_is_told_and_laid_alone() {
    for (held, why) in [
        ("share closet a", NotShared::NoDoor),
        ("share hall a", NotShared::HasManifold),
        ("share closet closet", NotShared::NoFloor),
    ] {
        let (plan, layout) = laid(&format!("{CLOSET}{held}\n"));
        let told = plan.held.shared[0];
        assert_eq!(layout.unheld, [Unheld::Shared { held: told, why }], "{held}");
        let (_, apart) = laid(CLOSET);
        assert_eq!(layout.loops, apart.loops, "{held}");
    }
}

/// A living room of three loops with the manifold in its wall.
const LIVING: &str = "\
tube 0.08 90
room living counterflow 0.15 0.1 3 0,0 7,0 7,4.5 0,4.5
manifold living 2.5,0 3.6,0
";

#[test]
fn a_loop_lies_on_the_floor_held_for_it() {
    let held = "region living 2 4.6,0 7,0 7,4.5 4.6,4.5\n";
    let (plan, layout) = laid(&format!("{LIVING}{held}"));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, []);
    assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
    assert_eq!(layout.loops.iter().map(|l| l.number).collect::<Vec<_>>(), [1, 2, 3]);
    // But for its leaders' strip it lies there alone, and on all of it.
    let apart = Region::rectangle(Point::new(4.6, 0.0), Point::new(7.0, 4.5)).unwrap();
    let own = &layout.loops[1].region;
    assert!(own.overlap_area_m2(&apart) > 0.95 * apart.area_m2());
    assert!(own.area_m2() < 1.05 * apart.area_m2());
    for other in [&layout.loops[0], &layout.loops[2]] {
        assert!(other.region.bounds().1.x < 4.65, "the others share the rest");
    }
    let report = verify::storey(&plan, &layout);
    assert!(report.covered_fraction() > 0.97, "{}", report.covered_fraction());
}

#[test]
fn a_floor_that_cannot_be_held_is_told() {
    let open = laid(LIVING).1;
    for (held, why) in [
        ("region living 2 1,1 3,3 3,1 1,3", NotApart::NoRing),
        ("region living 4 4.6,0 7,0 7,4.5 4.6,4.5", NotApart::TooFewLoops { needed: 4 }),
    ] {
        let (_, layout) = laid(&format!("{LIVING}{held}\n"));
        let name = LoopName { room: 0, number: held[14..15].parse().unwrap() };
        assert_eq!(layout.unheld, [Unheld::Region { name, why }]);
        assert_eq!(layout.loops, open.loops);
    }
    let (_, layout) = laid(&format!("{LIVING}region living 1 8,0 9,0 9,4 8,4\n"));
    let [Unheld::Region { why: NotApart::OffTheFloor { floor_m2 }, .. }] = layout.unheld[..] else {
        panic!("{:?}", layout.unheld)
    };
    assert_eq!(floor_m2, 0.0);
}

/// Loops as they follow each other at the ports.
fn at_ports(layout: &Layout) -> Vec<(usize, usize)> {
    let mut all: Vec<_> = layout.loops.iter().map(|l| (l.port, l.room, l.number)).collect();
    all.sort_unstable();
    all.into_iter().map(|(_, room, number)| (room, number)).collect()
}

#[test]
fn loops_stand_at_the_ports_in_the_order_held() {
    let (_, open) = laid(CLOSET);
    let usual = at_ports(&open);
    // The hall's own loop may stand anywhere between those that leave it.
    let names = ["hall", "a", "b", "c", "closet"];
    let hall = usual.iter().position(|(room, _)| *room == 0).unwrap();
    let mut wanted = usual.clone();
    let own = wanted.remove(hall);
    wanted.insert(if hall == 0 { 1 } else { hall - 1 }, own);
    let words = |loops: &[(usize, usize)]| {
        loops.iter().map(|(room, n)| format!(" {}/{n}", names[*room])).collect::<String>()
    };
    let (plan, layout) = laid(&format!("{CLOSET}order{}\n", words(&wanted)));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, []);
    assert_eq!(at_ports(&layout), wanted);
    // Rooms on two sides of the hall cannot change places.
    let mut crossed = usual.clone();
    crossed.reverse();
    let (plan, layout) = laid(&format!("{CLOSET}order{}\n", words(&crossed)));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, [Unheld::Order { manifold: 0 }]);
    assert_eq!(layout.loops, open.loops);
}

/// Two rooms with two doors between them.
const TWO_DOORS: &str = "\
tube 0.08 100
room hall counterflow 0.15 0.1 - 0,0 8,0 8,2.4 0,2.4
room den counterflow 0.15 0.1 - 0,2.5 8,2.5 8,4 0,4
door hall den 1.5,2.45 0.9
door den hall 6.5,2.45 1.2
manifold hall 0,0.5 0,1.9
";

#[test]
fn loops_come_in_by_the_door_and_at_the_place_held() {
    let (_, open) = laid(TWO_DOORS);
    let den = |layout: &Layout| layout.loops.iter().find(|l| l.room == 1).unwrap().clone();
    assert_eq!(den(&open).doors, [0]);
    let (plan, layout) = laid(&format!("{TWO_DOORS}entry den den-hall 6.05,2.45\n"));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, []);
    assert_eq!(den(&layout).doors, [1]);
    let door = Point::new(6.05, 2.45);
    let at = |l: &plane::storey::Loop| {
        let places = (0..5000).filter_map(|k| l.path.point_at(0.01 * f64::from(k)));
        places.map(|p| p.distance(door)).fold(f64::INFINITY, f64::min)
    };
    assert!(at(&den(&layout)) < 0.1, "{}", at(&den(&layout)));
    let (_, layout) = laid(&format!("{TWO_DOORS}entry hall den-hall\n"));
    assert_eq!(layout.unheld, [Unheld::Entry { room: 0, why: NotEntered::StartsThere }]);
    assert_eq!(layout.loops, open.loops);
}

#[test]
fn a_way_passes_no_wall_even_behind_its_manifold() {
    let text = "\
tube 0.08 100
room a counterflow 0.15 0.1 - 0,0 4,0 4,4 0,4
room b counterflow 0.15 0.1 - 4.1,0 8,0 8,4 4.1,4
door a b 4.05,0.6 0.8
manifold a 4,3.1 4,2.5
way b 1 3.9,2.8 6,2.8
";
    let (plan, layout) = laid(text);
    assert_sound(&plan, &layout);
    let [Unheld::Way { why: NotTaken::OffTheFloor { at }, .. }] = layout.unheld[..] else {
        panic!("{:?}", layout.unheld)
    };
    assert!((at.x - 4.1).abs() < 0.05 && (at.y - 2.8).abs() < 1e-6, "{at:?}");
    assert!(layout.refusals.is_empty(), "laid without it: {:?}", layout.refusals);
}

#[test]
fn leaders_follow_a_drawn_way() {
    let (_, open) = laid(CLOSET);
    let (plan, layout) = laid(&format!("{CLOSET}way b 1 0,0.9 4.4,0.9 4.9,1.4 4.9,2.4\n"));
    assert_sound(&plan, &layout);
    assert_eq!(layout.unheld, []);
    assert!(layout.refusals.is_empty(), "{:?}", layout.refusals);
    assert_eq!(layout.loops.len(), open.loops.len());
    let b = layout.loops.iter().find(|l| l.room == 2).unwrap();
    // Its first stretch is moved to the port; on the last, both tubes lie on either side of it.
    let middle = Point::new(4.9, 2.0);
    let length_m = b.path.length_m();
    let places = (0..40_000).map(|k| b.path.point_at(length_m * f64::from(k) / 4e4).unwrap());
    let near = places.filter(|p| (p.y - middle.y).abs() < 4e-3);
    let xs: Vec<f64> = near.map(|p| p.x).filter(|x| (4.7..5.1).contains(x)).collect();
    assert!(xs.len() >= 2 && xs.iter().all(|x| (x - 4.9).abs() < 0.09), "{xs:?}");
}

#[test]
fn a_way_that_cannot_be_taken_is_told() {
    let (_, open) = laid(CLOSET);
    let told = |held: &str| {
        let (_, layout) = laid(&format!("{CLOSET}{held}\n"));
        // The first way of two stays.
        assert!(layout.loops == open.loops || held.contains('\n'), "{held}");
        let [Unheld::Way { why, .. }] = layout.unheld[..] else { panic!("{:?}", layout.unheld) };
        why
    };
    let why = told("way b 1 0,0.9 3,0.9 3,2.5 5,2.5");
    assert!(matches!(why, NotTaken::OffTheFloor { at } if at.x > 2.8 && at.x < 4.2), "{why:?}");
    let why = told("way b 1 0,0.9 4.9,0.9 4.9,1 4.8,1 4.8,1.1 4.9,1.1 4.9,2.4");
    assert!(matches!(why, NotTaken::TooTight { radius_m, .. } if radius_m < 0.08), "{why:?}");
    let why = told("way b 1 4,0.9 4.9,0.9 4.9,2.4");
    assert_eq!(why, NotTaken::NotFromManifold);
    let why = told("way b 1 0,0.9 4,0.9");
    assert_eq!(why, NotTaken::NotIntoRoom);
    let why = told("way b 1 0,1.2 5,0.8 5,2.4\nway a 1 0,0.8 2.1,1.2 2.1,2.4");
    assert!(matches!(why, NotTaken::Crosses { .. }), "{why:?}");
}

#[test]
fn an_outline_tells_loops_and_about_their_lengths() {
    for text in [CLOSET, LIVING, TWO_DOORS] {
        let plan = notation::plan(text);
        let sketch = plane::storey::outlined(&plan);
        let layout = lay(&plan, &mut Kept::new());
        let names = |all: &mut dyn Iterator<Item = (usize, usize)>| all.collect::<Vec<_>>();
        assert_eq!(
            names(&mut sketch.iter().map(|l| (l.room, l.number))),
            names(&mut layout.loops.iter().map(|l| (l.room, l.number)))
        );
        for (drawn, laid) in sketch.iter().zip(&layout.loops) {
            let length_m = laid.path.length_m();
            assert!(
                (drawn.length_m / length_m - 1.0).abs() < 0.25,
                "{} {length_m} m",
                drawn.length_m
            );
            // A room of several loops may yet be shared out otherwise.
            let is_alone = layout.loops.iter().filter(|l| l.room == laid.room).count() == 1;
            let common_m2 = drawn.region.overlap_area_m2(&laid.region);
            assert!(!is_alone || common_m2 > 0.8 * laid.region.area_m2(), "{common_m2} m2");
        }
    }
}
