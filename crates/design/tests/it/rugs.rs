//! Rugs on a heated floor.

use crate::{ONE_ROOM, design};
use quantity::Quantity;

fn rugged(lines: &str) -> String {
    ONE_ROOM.replace("finish =", &format!("{lines}finish ="))
}

/// All of the floor under a rug is a floor with one layer more: the finish and the rug in a row.
#[test]
fn a_floor_wholly_under_a_rug_is_one_with_a_thicker_finish() {
    let under =
        design(&rugged("spacing = \"150 mm\"\nrugs = \"100 %\"\nrug_resistance = \"0.1 m²K/W\"\n"));
    let bare = design(&rugged("spacing = \"150 mm\"\n"));
    let (under, bare) = (&under.emitters.floors[0], &bare.emitters.floors[0]);
    let (with, without) = (under.output_coefficient.si(), bare.output_coefficient.si());
    // One layer more cannot cost more than its own resistance in a row, and spreads the heat a bit.
    let in_a_row = 1.0 / (1.0 / without + 0.1);
    assert!(with >= in_a_row && with < 1.15 * in_a_row, "{with} {in_a_row} {without}");
}

#[test]
fn half_under_rugs_is_half_way() {
    let coefficient = |share: u32| {
        let lines =
            format!("spacing = \"150 mm\"\nrugs = \"{share} %\"\nrug_resistance = \"0.1 m²K/W\"\n");
        design(&rugged(&lines)).emitters.floors[0].output_coefficient.si()
    };
    let [none, half, all] = [0, 50, 100].map(coefficient);
    // Each of the three has a flow of its own, whose film is worth up to 2 % of its output.
    assert!((half - 0.5 * (none + all)).abs() < 0.02 * none, "{none} {half} {all}");
    assert!(all < 0.8 * none);
}

#[test]
fn rugs_are_told_with_what_they_cost() {
    let rugged = design(&rugged("rugs = \"40 %\"\n"));
    let told = rugged.findings.iter().find(|it| it.kind == "rugs").unwrap();
    assert!(told.amount.unwrap() > 0.0 && told.message.contains("40 %"), "{}", told.message);
    let without = design(ONE_ROOM);
    assert!(!without.findings.iter().any(|it| it.kind == "rugs"));
    let supply = |design: &design::Design| design.emitters.waters[0].supply.value.si();
    assert!(supply(&rugged) > supply(&without));
}
