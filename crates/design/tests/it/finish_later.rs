//! Another finish on a floor whose tube lies.

use crate::{CABIN, FLAT, ONE_ROOM, design, job, with};
use design::{Design, FinishLater, Memo, NoFinish, finish_later};
use quantity::Quantity;

fn later(text: &str, room: &str, finish: &str) -> Result<FinishLater, NoFinish> {
    let job = job(text);
    let mut memo = Memo::new();
    let day = design::design(&job, &mut memo);
    finish_later(&job, &day, room, finish, &mut memo)
}

fn tube_m(design: &Design) -> f64 {
    design.loops.iter().map(|own| own.length.si()).sum()
}

/// With the supply held, tube and water stay, so a text that says the other finish, with all held
/// that was decided, must come to the same floor.
#[test]
fn the_answer_is_the_design_with_that_finish_and_all_held() {
    let answer = later(ONE_ROOM, "only", "thick-carpet").unwrap();
    let tiled = design(ONE_ROOM);
    let held = job::apply(ONE_ROOM, &tiled.hold_all(&job(ONE_ROOM))).unwrap();
    let carpeted = design(&with(&held, "\"tile\"", "\"thick-carpet\""));
    let (asked, told) = (&answer.same_water.floor, &carpeted.emitters.floors[0]);
    assert!((asked.output.si() - told.output.si()).abs() < 1e-6 * told.output.si());
    assert!((asked.surface.si() - told.surface.si()).abs() < 1e-6);
    assert_eq!(answer.now.floor.output, tiled.emitters.floors[0].output);
    let lengths = [tube_m(&carpeted), tube_m(&tiled)];
    assert!((lengths[0] - lengths[1]).abs() < 1e-6, "{lengths:?} {held}");
}

#[test]
fn a_thicker_finish_gives_less_or_takes_warmer_water() {
    for (text, room) in [(ONE_ROOM, "only"), (CABIN, "great"), (FLAT, "living")] {
        let answer = later(text, room, "thick-carpet").unwrap();
        let outputs = [&answer.now, &answer.same_water, &answer.warmer_water];
        let [now, same, warmer] = outputs.map(|it| it.floor.output.si());
        assert!(same < 0.85 * now && same < warmer, "{room}: {now} {same} {warmer}");
        let supply_k = |it: &design::Underfoot| it.supply.unwrap().si();
        assert_eq!(supply_k(&answer.same_water), supply_k(&answer.now), "{room}");
        assert!(supply_k(&answer.warmer_water) > supply_k(&answer.now) + 1.0, "{room}");
    }
}

#[test]
fn water_that_is_held_does_not_follow() {
    let held = with(ONE_ROOM, "fluid = \"water\"", "fluid = \"water\"\nsupply = \"40 °C\"");
    let answer = later(&held, "only", "thick-carpet").unwrap();
    assert!(answer.is_held);
    assert_eq!(answer.warmer_water.floor.output, answer.same_water.floor.output);
}

#[test]
fn what_is_not_there_is_told() {
    let NoFinish::Room(rooms) = later(ONE_ROOM, "attic", "tile").unwrap_err() else { panic!() };
    assert_eq!(rooms, ["only"]);
    let NoFinish::Finish(known) = later(ONE_ROOM, "only", "straw").unwrap_err() else { panic!() };
    assert!(known.iter().any(|key| key == "cork"));
    assert_eq!(later(ONE_ROOM, "only", "tile").unwrap_err(), NoFinish::Same);
}
