//! What is set or fixed into a floor: tube keeps away, and where it does not it is told.

use crate::{FLAT, close, design, with};
use design::Design;
use design::loops::TubeLoop;
use plane::Point;

fn flat(fixture: &str) -> Design {
    design(&format!("{FLAT}\n[fixture.it]\n{fixture}\n"))
}

/// Least distance of any tube from a straight piece, by looking every millimetre.
fn nearest_m(loops: &[TubeLoop], [a, b]: [Point; 2]) -> f64 {
    let square = (b.x - a.x).powi(2) + (b.y - a.y).powi(2);
    let off = |p: Point| {
        let along = (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y);
        let share = if square > 0.0 { (along / square).clamp(0.0, 1.0) } else { 0.0 };
        (p.x - a.x - share * (b.x - a.x)).hypot(p.y - a.y - share * (b.y - a.y))
    };
    let of_loop = |tube: &TubeLoop| {
        let steps = (tube.path.length_m() / 0.001) as usize;
        let at = (0..=steps).filter_map(|k| tube.path.point_at(k as f64 * 0.001));
        at.map(off).fold(f64::INFINITY, f64::min)
    };
    loops.iter().map(of_loop).fold(f64::INFINITY, f64::min)
}

fn kinds(design: &Design) -> Vec<&'static str> {
    let own = design.findings.iter().filter(|it| it.subject == "fixture.it");
    own.map(|it| it.kind).collect()
}

/// Trade practice: 6 in, here 150 mm, from the edge of a flange 180 mm wide.
#[test]
fn tube_keeps_away_from_the_flange_of_a_toilet() {
    let at = Point::new(7.4, 3.5);
    let before = nearest_m(&design(FLAT).loops, [at, at]);
    let flat = flat("kind = \"toilet flange\"\nroom = \"bath\"\nat = [7.4, 3.5]");
    let after = nearest_m(&flat.loops, [at, at]);
    assert!(before < 0.09, "tube lay there before: {before}");
    assert!(after >= 0.24 - 1e-3, "{after} from its middle");
    let near = &flat.fixtures[0];
    close(near.nearest.as_ref().unwrap().1.si(), after - 0.09, 2e-3);
    assert_eq!((near.crossed, kinds(&flat)), (0, vec![]));
    assert!(flat.figure("fixture.it.clearance").is_some());
}

#[test]
fn a_stated_size_and_distance_hold_instead_of_the_rules() {
    let keys =
        "kind = \"toilet flange\"\nroom = \"bath\"\nat = [7.4, 3.5]\nsize = 100\nclearance = 100";
    let at = Point::new(7.4, 3.5);
    let design = flat(keys);
    let nearest = nearest_m(&design.loops, [at, at]);
    assert!((0.15 - 1e-3..0.24).contains(&nearest), "{nearest}");
    close(design.fixtures[0].clearance.si(), 0.1, 1e-12);
}

/// 50 mm from a fastener, plates taken as 100 mm wide: common practice, from memory.
#[test]
fn plates_and_pins_keep_tube_off_their_lines() {
    let line = [Point::new(6.2, 0.6), Point::new(7.6, 0.6)];
    let at = "room = \"bedroom\"\nline = [[6.2, 0.6], [7.6, 0.6]]";
    for (kind, least_m) in [("wall plate", 0.1), ("shot pins", 0.05)] {
        let design = flat(&format!("kind = \"{kind}\"\n{at}"));
        let nearest = nearest_m(&design.loops, line);
        assert!(nearest >= least_m - 1e-3, "{kind}: {nearest}");
        assert_eq!(kinds(&design), Vec::<&str>::new(), "{kind}");
    }
}

#[test]
fn a_sill_lets_leaders_pass_and_is_told() {
    let sill =
        flat("kind = \"door sill\"\nroom = \"bedroom\"\nline = [[5.26, 0.86], [5.26, 1.74]]");
    assert_eq!(sill.fixtures[0].crossed, 2, "supply and return");
    assert_eq!(kinds(&sill), ["tube-under-sill"]);
    // No tube moves for it.
    assert!(sill.loops == design(FLAT).loops);
}

#[test]
fn what_tube_cannot_keep_is_told() {
    // A plate across the doorway that the bedroom's leaders need.
    let plate = "kind = \"wall plate\"\nroom = \"bath\"\nline = [[5.26, 0.86], [5.26, 1.74]]";
    let design = flat(plate);
    assert_eq!(kinds(&design), ["tube-under-fixture"]);
    assert!(design.fixtures[0].crossed >= 2);
    let nowhere = flat("kind = \"toilet flange\"\nroom = \"bath\"");
    assert_eq!(kinds(&nowhere), ["fixture-without-place"]);
    assert!(nowhere.fixtures.is_empty());
}

#[test]
fn a_fixture_moves_nothing_on_other_storeys_or_rooms() {
    let flange = "[fixture.it]\nkind = \"toilet flange\"\nroom = \"bath\"\nat = [7.4, 3.5]\n";
    let other = design(&format!("{FLAT}\n{flange}"));
    let plain = design(&with(FLAT, "name = \"Flat at the mill\"", "name = \"Flat\""));
    let of = |design: &Design| {
        design
            .loops
            .iter()
            .filter(|it| it.room == "bedroom")
            .map(|it| it.region.clone())
            .collect::<Vec<_>>()
    };
    assert!(of(&other) == of(&plain));
}
