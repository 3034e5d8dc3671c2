//! Parts of a layout that the text takes in hand; the rest is laid around them.

use crate::{CABIN, close, design, job, with};
use design::Design;
use job::Severity;

/// The cabin with one loop held in the hall, which leaders fill.
fn cabin() -> String {
    let hall = "W 19'7 1/2, S 3'7 1/2\"";
    with(CABIN, hall, &format!("{hall}\nloops = 1"))
}

/// The cabin with a closet in a corner of the south bedroom.
fn with_closet(keys: &str) -> String {
    let text = with(
        &cabin(),
        "outline = \"E 12'7 1/2, N 10', W 12'7 1/2, S 10'\"",
        "outline = \"E 12'7 1/2, N 10', W 8', S 4', W 4'7 1/2, S 6'\"",
    );
    let text = with(&text, "at = [\"26'\", \"10'2 1/4\"]", "at = [\"30'\", \"10'2 1/4\"]");
    format!(
        "{text}\n[room.closet]\nstorey = \"main\"\nstart = [\"22'4 1/2\", \"6'4 1/2\"]\n\
         outline = \"E 4'3, N 3'7 1/2, W 4'3, S 3'7 1/2\"\nindoor = 68\n\
         finish = \"engineered-wood\"\n{keys}\n[opening.to_closet]\nkind = \"door\"\n\
         at = [\"24'6\", \"6'2 1/4\"]\nwidth = \"2'6\"\nheight = \"6'8\"\n"
    )
}

/// Findings about what could not be kept.
fn not_kept(design: &Design) -> Vec<&job::Finding> {
    design.findings.iter().filter(|finding| finding.kind == "not-as-held").collect()
}

#[track_caller]
fn assert_held_again(text: &str) -> Design {
    let open = design(text);
    let held = design(&job::apply(text, &open.hold_all(&job(text))).unwrap());
    let keys = |of: &Design| of.loops.iter().map(|l| l.key.clone()).collect::<Vec<_>>();
    assert_eq!(keys(&open), keys(&held), "{:?}", held.findings);
    for (one, other) in open.loops.iter().zip(&held.loops) {
        assert_eq!((&one.key, &one.path, &one.leader), (&other.key, &other.path, &other.leader));
        assert_eq!(one.area.si(), other.area.si());
    }
    open
}

#[test]
fn a_closet_is_taken_in_by_the_loop_beside_it() {
    let by_rule = assert_held_again(&with_closet(""));
    let through = by_rule.loops.iter().find(|l| l.rooms.len() > 1).expect("a loop of two rooms");
    let rooms: Vec<&str> = through.rooms.iter().map(|part| part.room.as_str()).collect();
    assert_eq!(rooms, ["south_bedroom", "closet"]);
    assert!(by_rule.loops.iter().all(|l| l.room != "closet"));
    close(through.rooms.iter().map(|part| part.area.si()).sum::<f64>(), through.area.si(), 1e-9);
    // All tube lies in a room that it heats or passes.
    let passed: f64 = through.leader.passed.iter().map(|passed| passed.length_m).sum();
    let heated: f64 = through.rooms.iter().map(|part| part.length.si()).sum();
    close(passed + heated, through.path.length_m(), 1e-6);
    let held = design(&with_closet("shares_loop = \"south_bedroom\""));
    assert_eq!(
        held.loops.iter().map(|l| &l.path).collect::<Vec<_>>(),
        by_rule.loops.iter().map(|l| &l.path).collect::<Vec<_>>()
    );
    let alone = design(&with_closet("loops = 1"));
    assert_eq!(alone.loops.len(), by_rule.loops.len() + 1);
}

/// Every room of a shared loop gives the heat that its floor and the loop's water come to.
#[test]
fn a_shared_loop_gives_each_room_its_share() {
    let design = design(&with_closet(""));
    let outputs: f64 = design.emitters.floors.iter().map(|floor| floor.output.si()).sum();
    let loops: f64 = design.flows.loops.iter().map(|flow| flow.heat_up.si()).sum();
    close(outputs, loops, 1e-6 * loops);
    let floor = |room: &str| design.emitters.floors.iter().find(|f| f.room == room).unwrap();
    let (closet, bedroom) = (floor("closet"), floor("south_bedroom"));
    assert!(closet.output.si() > 0.0);
    // One water for both: neither is short. Floors alike give alike to rooms as warm but for the
    // bedroom's edge along outside walls: what is lost there passes film and wall of the tube too,
    // so it costs heat upward, but less than itself.
    assert!(closet.short.si() < 1.0 && bedroom.short.si() < 1.0);
    let less_up = closet.flux.si() - bedroom.flux.si();
    let more_down = bedroom.flux_down.si() - closet.flux_down.si();
    assert!(0.0 < less_up && less_up < more_down, "{less_up} {more_down}");
    assert!(design.balance.settled);
}

#[test]
fn a_loop_keeps_the_floor_held_for_it() {
    let region = "\n[loop.\"great/2\"]\nstart = [\"0\", \"18'6\"]\noutline = \"E 15', N 6'6, W 15', S 6'6\"\n";
    let text = format!("{}{region}", cabin());
    let design = assert_held_again(&text);
    assert!(not_kept(&design).is_empty(), "{:?}", not_kept(&design));
    let own = design.loops.iter().find(|l| l.key == "great/2").unwrap();
    // But for its leaders' strip it lies there alone.
    let (a, b) = (plane::Point::new(0.0, 18.5 * 0.3048), plane::Point::new(4.572, 7.62));
    let apart = plane::Region::rectangle(a, b).unwrap();
    let common_m2 = own.region.overlap_area_m2(&apart);
    assert!(common_m2 > 0.9 * apart.area_m2(), "{common_m2} m2");
    assert!(own.region.area_m2() < 1.15 * apart.area_m2(), "{} m2", own.region.area_m2());
    let crossing =
        with(&text, "\"E 15', N 6'6, W 15', S 6'6\"", "[[0, 18], [15, 24], [15, 18], [0, 24]]");
    assert!(
        job::read(&crossing, &job::Library::built_in())
            .1
            .iter()
            .any(|f| f.severity == Severity::Stop)
    );
}

#[test]
fn loops_stand_in_the_order_held_or_it_is_told() {
    let open = design(CABIN);
    let tail = "tail = \"3 ft\"";
    let text = |order: &str| with(CABIN, tail, &format!("{tail}\norder = [{order}]"));
    // One way round or the other leaders would cross.
    let orders = [
        "\"bath/1\", \"south_bedroom/1\", \"north_bedroom/1\", \"great/1\"",
        "\"great/1\", \"north_bedroom/1\", \"south_bedroom/1\", \"bath/1\"",
    ];
    let broken = orders.into_iter().map(text).find(|text| !not_kept(&design(text)).is_empty());
    let broken = broken.expect("one is told");
    let told = design(&broken);
    let finding = not_kept(&told)[0];
    assert_eq!(finding.subject, "manifold.m1.order");
    let mended = design(&job::apply(&broken, &finding.mends[0].edits).unwrap());
    assert!(not_kept(&mended).is_empty(), "{:?}", not_kept(&mended));
    for laid in [&told, &mended] {
        for (one, other) in laid.loops.iter().zip(&open.loops) {
            assert_eq!(one.path, other.path);
        }
    }
}

#[test]
fn what_names_no_loop_or_doorway_is_told() {
    let text = with(CABIN, "indoor = 72", "indoor = 72\nentry = \"front_door\"");
    let text = format!("{text}\n[loop.\"attic/1\"]\nway = [[1, 1], [2, 2]]\n");
    let design = design(&text);
    let told: Vec<&str> = not_kept(&design).iter().map(|f| f.subject.as_str()).collect();
    assert!(told.contains(&"room.bath.entry") && told.contains(&"loop.attic/1"), "{told:?}");
    let entry = not_kept(&design).into_iter().find(|f| f.subject == "room.bath.entry").unwrap();
    assert!(!entry.mends.is_empty());
}

/// A way through the middle of the hall for the leaders of the south bedroom.
const WAY: &str = "\n[loop.\"south_bedroom/1\"]\nway = [[\"22'6\", \"14'\"], [\"22'6\", \"12'2\"], \
                   [\"26'\", \"12'2\"], [\"26'\", \"9'6\"]]\n";

#[test]
fn leaders_follow_a_drawn_way_and_a_new_room_moves_nothing() {
    let text = format!("{}{WAY}", with(&cabin(), "loops = 1", "heated = false"));
    let before = assert_held_again(&text);
    assert!(not_kept(&before).is_empty(), "{:?}", not_kept(&before));
    let own = before.loops.iter().find(|l| l.key == "south_bedroom/1").unwrap();
    let middle = plane::Point::new(24.0 * 0.3048, (12.0 + 1.0 / 6.0) * 0.3048);
    let length_m = own.path.length_m();
    let places = (0..4000).filter_map(|k| own.path.point_at(length_m * f64::from(k) / 4e3));
    let nearest = places.map(|p| p.distance(middle)).fold(f64::INFINITY, f64::min);
    assert!(nearest < 0.1, "{nearest} m off the way");
    let shed = "\n[room.shed]\nstorey = \"main\"\nstart = [\"60'\", \"0\"]\n\
                outline = \"E 6', N 6', W 6', S 6'\"\n";
    let after = design(&format!("{text}{shed}"));
    for one in &before.loops {
        let same = after.loops.iter().find(|other| other.key == one.key).unwrap();
        assert_eq!((&one.path, &one.manifold), (&same.path, &same.manifold));
    }
}
