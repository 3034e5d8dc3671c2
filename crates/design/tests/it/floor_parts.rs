//! Floors whose parts differ: another finish, or closer tube along outside walls.

use crate::{ONE_ROOM, close, design, with};
use design::emitters::{HeatedFloor, HeatedPart};
use design::warmth::warmth;
use design::{Memo, State};

/// The western part, 2 by 4 m of 5 by 4 m, under thick carpet.
const CARPET: &str = "[floor_part.west]\nroom = \"only\"\noutline = \"E 2, N 4, W 2, S 4\"\n\
                      finish = \"thick-carpet\"\n";

fn one_room(lines: &str, more: &str) -> String {
    format!("{}{more}", ONE_ROOM.replace("finish =", &format!("{lines}finish =")))
}

fn floor(text: &str) -> HeatedFloor {
    design(text).emitters.floors[0].clone()
}

fn part<'a>(floor: &'a HeatedFloor, name: &str) -> &'a HeatedPart {
    floor.parts.iter().find(|part| part.name == name).unwrap_or_else(|| panic!("no `{name}`"))
}

/// Two fifths of the floor as if all were carpet, the rest as if all were tile.
#[test]
fn a_floor_of_two_finishes_gives_the_sum_of_both() {
    let held = "spacing = \"150 mm\"\n";
    let both = floor(&one_room(held, CARPET));
    let tile = floor(&one_room(held, ""));
    let carpet = floor(&with(&one_room(held, ""), "\"tile\"", "\"thick-carpet\""));
    let coefficient = |floor: &HeatedFloor| floor.output_coefficient.si();
    let sum = 0.4 * coefficient(&carpet) + 0.6 * coefficient(&tile);
    // Flow and film differ a little between the three.
    close(coefficient(&both) / sum, 1.0, 0.02);
    assert!(coefficient(&carpet) < 0.75 * coefficient(&tile));
    assert!(tile.parts.is_empty());
    let [rest, west] = both.parts.as_slice() else { panic!("{:?}", both.parts) };
    assert_eq!([rest.finish.as_str(), west.finish.as_str()], ["tile", "thick-carpet"]);
    close(west.area.si() / both.area.si(), 0.4, 0.01);
    let sum_w = rest.flux.si() * rest.area.si() + west.flux.si() * west.area.si();
    close(sum_w, both.output.si(), 0.005 * both.output.si());
    assert!(west.surface.si() < rest.surface.si() - 1.0);
}

/// EN 1264-2: 29 °C where people stay, 35 °C in a strip of at most 1 m along outside walls.
#[test]
fn the_strip_along_outside_walls_has_its_own_limit() {
    let band = "pattern = \"perimeter band\"\nspacing = \"200 mm\"\nedge_spacing = \"100 mm\"\n";
    let floor = floor(&one_room(&format!("{band}edge_depth = \"1 m\"\n"), ""));
    let celsius = |figure: &design::Figure<quantity::Temperature>| figure.si() - 273.15;
    let (rest, strip) = (part(&floor, "the rest"), part(&floor, "along outside walls"));
    close(celsius(&strip.peak_limit), 35.0, 1e-9);
    close(celsius(&rest.peak_limit), 29.0, 1e-9);
    // All walls of a room alone are outside walls: 1 m all round leaves 3 by 2 of 5 by 4 m.
    close(strip.area.si() / floor.area.si(), 14.0 / 20.0, 0.02);
    close(strip.spacing.si(), 0.1, 1e-9);
    assert!(strip.flux.si() > 1.15 * rest.flux.si(), "{} {}", strip.flux.si(), rest.flux.si());
    // Deeper than the rule allows it is floor where people stay, with closer tube all the same.
    let deep = self::floor(&one_room(&format!("{band}edge_depth = \"1.2 m\"\n"), ""));
    close(celsius(&part(&deep, "along outside walls").peak_limit), 29.0, 1e-9);
}

/// A room so cold that its floor is at its limit may give more with a strip than without.
#[test]
fn a_strip_lets_a_floor_give_more() {
    let cold = |lines: &str| {
        let text = with(&one_room(lines, ""), "design = -10", "design = -45");
        let design = design(&with(&text, "u = 0.3", "u = 1.5"));
        let found = design.findings.iter().find(|it| it.kind == "floor-too-warm");
        found.and_then(|it| it.amount).unwrap_or(0.0)
    };
    let plain = cold("spacing = \"200 mm\"\n");
    let strip = cold(
        "pattern = \"perimeter band\"\nspacing = \"200 mm\"\nedge_spacing = \"100 mm\"\n\
         edge_depth = \"1 m\"\n",
    );
    assert!(plain > 500.0 && strip < plain - 200.0, "{plain} {strip} W are missing");
}

#[test]
fn the_picture_shows_each_part_with_its_finish() {
    let (job, _) = crate::read(&one_room("spacing = \"150 mm\"\n", CARPET));
    let mut memo = Memo::new();
    let day = design::design(&job, &mut memo);
    let seen = warmth(&job, &day, &State::default(), &mut memo).unwrap();
    let storey = &seen.storeys[0];
    let mean = |from_m: f64, to_m: f64| {
        let cells = (0..storey.grid.len()).filter_map(|cell| {
            let x = storey.grid.middle(cell).x;
            storey.surface_k[cell].filter(|_| from_m < x && x < to_m).map(f64::from)
        });
        let (sum, count) = cells.fold((0.0, 0.0), |(sum, n), kelvin| (sum + kelvin, n + 1.0));
        sum / count
    };
    let floor = &day.emitters.floors[0];
    let colder = part(floor, "the rest").surface.si() - part(floor, "part west").surface.si();
    let seen_colder = mean(2.2, 4.8) - mean(0.2, 1.8);
    assert!(colder > 1.0 && (seen_colder / colder - 1.0).abs() < 0.25, "{seen_colder} {colder}");
}

#[test]
fn parts_astray_or_on_one_another_are_told() {
    let kinds = |more: &str| -> Vec<&'static str> {
        design(&one_room("", more)).findings.iter().map(|it| it.kind).collect()
    };
    assert!(!kinds(CARPET).contains(&"floor-part-astray"));
    let astray = with(CARPET, "outline", "start = [7, 7]\noutline");
    assert!(kinds(&astray).contains(&"floor-part-astray"));
    let twice = format!("{CARPET}{}", with(CARPET, "floor_part.west", "floor_part.other"));
    assert!(kinds(&twice).contains(&"floor-parts-overlap"));
}
