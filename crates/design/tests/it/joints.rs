//! Joints in slabs: no field crosses a movement joint, and what crosses is told.

use crate::{FLAT, close, design, job, with};
use design::loops::{LoopPart, TubeLoop};
use design::{Design, Memo};
use job::JointKind;
use plane::Point;

/// The flat with a movement joint across its living room, from wall to wall.
fn jointed() -> String {
    joint(FLAT, "line = [[2.60, 0], [2.60, 4.40]]")
}

fn joint(text: &str, keys: &str) -> String {
    format!("{text}\n[joint.field]\nkind = \"movement\"\n{keys}\n")
}

fn saw_cut(keys: &str) -> String {
    format!("{FLAT}\n[joint.cut]\nkind = \"saw cut\"\nline = [[5.315, 1.3], [8.8, 1.3]]\n{keys}\n")
}

fn told<'a>(design: &'a Design, kind: &str) -> Vec<&'a job::Finding> {
    design.findings.iter().filter(|finding| finding.kind == kind).collect()
}

/// Distances along a tube at which it changes the side of a line, by looking every millimetre.
fn sides_changed_m(tube: &TubeLoop, [a, b]: [Point; 2]) -> Vec<f64> {
    let side = |p: Point| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0.0;
    let steps = (tube.path.length_m() / 0.001) as usize;
    let at = |k: usize| tube.path.point_at(k as f64 * 0.001).unwrap();
    let within = |p: Point| {
        let along = (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y);
        (0.0..=a.distance(b).powi(2)).contains(&along)
    };
    let changes = |k: &usize| side(at(*k - 1)) != side(at(*k)) && within(at(*k));
    (1..=steps).filter(changes).map(|k| k as f64 * 0.001).collect()
}

#[test]
fn only_leaders_cross_a_movement_joint_and_in_sleeves() {
    let design = design(&jointed());
    let line = [Point::new(2.6, -0.1), Point::new(2.6, 4.5)];
    let mut crossed = 0;
    for tube in design.loops.iter().filter(|tube| tube.room == "living") {
        let [begin, end] = tube.field_m();
        let found = sides_changed_m(tube, line);
        let own: Vec<_> =
            design.joint_crossings.iter().filter(|it| it.of_loop == tube.key).collect();
        assert_eq!(found.len(), own.len(), "{}", tube.key);
        for (seen_m, told) in found.iter().zip(own) {
            assert!(*seen_m < begin || *seen_m > end, "{}: field at {seen_m}", tube.key);
            assert!((seen_m - told.along.si()).abs() < 0.0015, "{seen_m} {}", told.along.si());
            assert_ne!(told.part, LoopPart::Field);
            // EN 1264-4, from memory: about 0.3 m of sleeve, here to each side of the joint.
            let [from, to] = told.sleeved_m().unwrap();
            close(told.along.si() - from, 0.3, 1e-9);
            close(to - told.along.si(), 0.3, 1e-9);
            crossed += 1;
        }
    }
    assert!(crossed >= 2 && crossed % 2 == 0, "{crossed} crossings");
    assert!(told(&design, "field-crosses-joint").is_empty());
    assert!(design.figure("joint.field.1.along").is_some());
}

#[test]
fn a_sleeve_beside_a_port_ends_there() {
    let mut crossing = design(&jointed()).joint_crossings[0].clone();
    crossing.tube_m = crossing.along.si() + 0.1;
    let [_, to] = crossing.sleeved_m().unwrap();
    close(to, crossing.tube_m, 1e-9);
}

#[test]
fn both_sides_get_tube_and_floor_is_neither_lost_nor_won() {
    let (plain, design) = (design(FLAT), design(&jointed()));
    let living: Vec<&TubeLoop> = design.loops.iter().filter(|it| it.room == "living").collect();
    let west = living.iter().filter(|it| it.region.middle().x < 2.6).count();
    assert!(west > 0 && west < living.len());
    let keys: Vec<&str> = living.iter().map(|it| it.key.as_str()).collect();
    let expected: Vec<String> = (1..=living.len()).map(|n| format!("living/{n}")).collect();
    assert_eq!(keys, expected.iter().map(String::as_str).collect::<Vec<_>>());
    // 5.20 by 4.40 m: loops and the strip that leaders to the other side take up.
    let own_m2: f64 = living.iter().map(|it| it.floor_in("living").unwrap().area.si()).sum();
    let passed = design.loops.iter().flat_map(|it| &it.leader.passed);
    let passed_m2: f64 = passed.filter(|it| it.room == "living").map(|it| it.area_m2).sum();
    assert!(own_m2 < 22.88 && own_m2 + passed_m2 > 22.3, "{own_m2} and {passed_m2}");
    // The other rooms do not feel it.
    let bedroom = |design: &Design| design.loops.iter().filter(|it| it.room == "bedroom").count();
    assert_eq!(bedroom(&plain), bedroom(&design));
    assert!(design.balance.settled);
}

#[test]
fn holding_all_of_a_cut_room_changes_nothing() {
    let text = jointed();
    let open = design(&text);
    let held = design(&job::apply(&text, &open.hold_all(&job(&text))).unwrap());
    let paths = |design: &Design| {
        design.loops.iter().map(|it| (it.key.clone(), it.path.clone())).collect::<Vec<_>>()
    };
    assert!(paths(&open) == paths(&held), "{:?}", told(&held, "not-as-held"));
    assert!(told(&held, "loops-not-as-held").is_empty());
}

#[test]
fn more_loops_that_are_held_are_shared_out_over_both_sides() {
    let text = with(&jointed(), "[room.living]\n", "[room.living]\nloops = 4\n");
    let design = design(&text);
    let living: Vec<&TubeLoop> = design.loops.iter().filter(|it| it.room == "living").collect();
    assert_eq!(living.len(), 4);
    assert_eq!(living.iter().filter(|it| it.region.middle().x < 2.6).count(), 2);
}

#[test]
fn skew_and_bent_joints_part_a_floor_too() {
    for line in ["[[2.0, 0], [3.2, 4.4]]", "[[0, 2.0], [2.5, 2.0], [2.5, 4.4]]"] {
        let design = design(&joint(FLAT, &format!("room = \"living\"\nline = {line}")));
        let field = design.joint_crossings.iter().filter(|it| it.part == LoopPart::Field);
        assert_eq!(field.count(), 0, "{line}");
        assert!(design.joint_crossings.len() >= 2, "{line}");
        assert!(told(&design, "no-loop").is_empty() && told(&design, "no-way").is_empty());
    }
}

#[test]
fn a_joint_that_ends_in_a_floor_is_told() {
    let design = design(&joint(FLAT, "line = [[2.6, 0], [2.6, 2.4]]"));
    assert_eq!(told(&design, "joint-ends-in-floor").len(), 1);
    let crossing = told(&design, "field-crosses-joint");
    assert_eq!(crossing[0].severity, job::Severity::Stop);
    let astray = crate::design(&joint(FLAT, "line = [[20, 0], [20, 2.4]]"));
    assert_eq!(told(&astray, "joint-nowhere").len(), 1);
    assert!(astray.joint_crossings.is_empty());
}

/// The flat's screed covers its tube by 45 mm; the rule set asks for 10 mm below a cut.
#[test]
fn a_saw_cut_is_held_against_the_cover() {
    let kinds = |keys: &str| {
        let design = design(&saw_cut(keys));
        assert!(design.joint_crossings.iter().all(|it| it.kind == JointKind::SawCut));
        assert!(!design.joint_crossings.is_empty());
        let saw = design.findings.into_iter().filter(|it| it.subject == "joint.cut");
        saw.map(|it| (it.kind, it.severity)).collect::<Vec<_>>()
    };
    assert_eq!(kinds("depth = 34"), []);
    assert_eq!(kinds("depth = 36"), [("saw-cut-meets-tube", job::Severity::Warn)]);
    assert_eq!(kinds("depth = 46"), [("saw-cut-meets-tube", job::Severity::Stop)]);
    assert_eq!(kinds(""), [("saw-cut-depth", job::Severity::Warn)]);
}

#[test]
fn what_is_held_of_single_loops_of_a_cut_room_is_told() {
    let held = "\n[loop.\"living/1\"]\noutline = [[3, 0], [5, 0], [5, 2], [3, 2]]\n";
    let design = design(&format!("{}{held}", jointed()));
    let told = told(&design, "not-as-held");
    assert_eq!(told.len(), 1);
    assert!(told[0].message.contains("joint"), "{}", told[0].message);
    assert!(!told[0].mends.is_empty());
}

#[test]
fn with_and_without_memory_it_is_the_same() {
    let job = job(&jointed());
    let mut memo = Memo::new();
    let first = design::design(&job, &mut memo);
    assert_eq!(first.loops, design::design(&job, &mut memo).loops);
    assert_eq!(first.loops, design(&jointed()).loops);
}

/// Uniform Mechanical Code 1217.5: sleeved not less than 12 in on either side of the joint.
#[test]
fn north_american_sleeves_reach_a_foot_to_either_side() {
    let text = with(FLAT, "rules = \"eu\"", "rules = \"us-residential\"");
    assert!(job(&text).rules.joint_sleeve.si() / 2.0 >= 12.0 * 0.0254 - 1e-9);
}
