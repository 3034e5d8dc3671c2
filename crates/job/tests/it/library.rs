//! The catalogue's build-ups, the families of its materials, and which limit holds where.

use job::{BuildUpKind, Family, FinishKind, FloorZone, Layer, Library, RoomUse, RuleSet};
use quantity::{Quantity, Temperature};

const FAHRENHEIT_ZERO: f64 = 459.67;

fn rules(key: &str) -> RuleSet {
    let sets = Library::built_in().rule_sets;
    sets.into_iter().find(|rules| rules.key == key).unwrap()
}

#[test]
fn build_ups_hold_tube_once_and_name_finishes_that_are_there() {
    let catalogue = Library::built_in().catalogue;
    assert!(catalogue.build_ups.len() >= 14);
    for build_up in &catalogue.build_ups {
        let key = &build_up.key;
        let holds = |layer: &&Layer| matches!(layer, Layer::Material { holds_tube: true, .. });
        assert_eq!(build_up.layers.iter().filter(holds).count(), 1, "{key}");
        assert!((build_up.added as usize) < build_up.layers.len(), "{key}: something bears it");
        for finish in &build_up.bears {
            assert!(catalogue.finish(finish).is_some(), "{key} bears {finish}");
        }
        let floor = build_up.kind == BuildUpKind::Floor;
        assert_eq!(build_up.bears.is_empty(), !floor, "{key}");
    }
}

#[test]
fn a_floor_names_a_build_up_by_key_or_name() {
    let text = "[house]\nfloor = \"new slab on the ground\"\n[room.a]\n\
                floor = \"grooved-board-over-floor\"\n[room.b]\nfloor = \"new-slab\"\n";
    let (job, findings) = job::read(text, &Library::built_in());
    assert!(!findings.iter().any(|it| it.kind == "unknown-reference"), "{findings:?}");
    assert_eq!(job.house.floor.as_ref().unwrap().value, "new-slab");
    let keys: Vec<&str> = job.assemblies.iter().map(|it| it.key.as_str()).collect();
    assert_eq!(keys, ["new-slab", "grooved-board-over-floor"]);
    let board = job.assembly("grooved-board-over-floor").unwrap();
    assert_eq!(board.build_up.as_deref(), Some("grooved-board-over-floor"));
    assert_eq!(board.added.as_ref().map(|it| it.value), Some(1));
    assert_eq!(board.place.start, text.find("\"grooved-board").unwrap());
}

#[test]
fn an_assembly_of_the_job_goes_before_a_build_up() {
    let text = "[house]\nfloor = \"new-slab\"\n[assembly.new-slab]\nu = \"U-0.5\"\n";
    let (job, _) = job::read(text, &Library::built_in());
    assert_eq!(job.assemblies.len(), 1);
    assert_eq!(job.assemblies[0].build_up, None);
}

#[test]
fn a_floor_that_nobody_knows_is_told_with_the_nearest() {
    let told = super::told("[house]\nfloor = \"new-slap\"\n[room.a]\nfloor = \"wall-panel\"\n");
    assert!(told.contains("no assembly called `new-slap`"), "{told}");
    assert!(told.contains("no assembly called `wall-panel`"), "a wall is no floor: {told}");
    let (_, findings) = job::read("[house]\nfloor = \"new-slap\"", &Library::built_in());
    let near = findings.iter().find(|it| it.kind == "unknown-reference").unwrap();
    assert_eq!(near.advice, "write new-slab if that is meant");
}

#[test]
fn a_build_up_of_unknown_stuff_is_told_and_left_out() {
    let text = "[build_up.a]\nname = \"a\"\nkind = \"floor\"\nlayers = [\"unobtainium 1 in\"]\n\
                added = 0\nsuits = \"\"\nbears = []\ncannot = \"\"\nsource = \"\"\n";
    let (library, findings) = Library::read(&[text], &[]);
    assert!(library.catalogue.build_ups.is_empty());
    assert!(findings[0].message.contains("unobtainium"), "{findings:?}");
}

#[test]
fn the_lower_of_use_and_finish_limits_a_floor() {
    let us = rules("us-residential");
    let fahrenheit = |it: &job::Rule<Temperature>| it.si() * 1.8 - FAHRENHEIT_ZERO;
    let limits = |zone, finish| {
        let limit = us.surface_limit(zone, finish);
        [limit.mean, limit.peak].map(|it| fahrenheit(it).round())
    };
    // Cautions of the trade: 85 F where people stay, 90 F in baths, 80 F on wood.
    assert_eq!(limits(FloorZone::Living, FinishKind::Stone), [85.0, 90.0]);
    assert_eq!(limits(FloorZone::from(RoomUse::Bath), FinishKind::Bare), [90.0, 95.0]);
    assert_eq!(limits(FloorZone::Bath, FinishKind::Wood), [80.0, 80.0]);
    // EN 1264-2: 29, 33 and 35 °C at the hottest spot; BS 8203: 27 °C at the glue line.
    let eu = rules("eu");
    let peak = |zone, finish| (eu.surface_limit(zone, finish).peak.si() - 273.15).round();
    assert_eq!(peak(FloorZone::Living, FinishKind::Stone), 29.0);
    assert_eq!(peak(FloorZone::Bath, FinishKind::Bare), 33.0);
    assert_eq!(peak(FloorZone::Perimeter, FinishKind::Bare), 35.0);
    assert_eq!(peak(FloorZone::Perimeter, FinishKind::Resilient), 27.0);
}

#[test]
fn gypsum_beside_the_tube_lowers_the_water() {
    let (eu, catalogue) = (rules("eu"), Library::built_in().catalogue);
    let material = |key: &str| catalogue.material(key).unwrap();
    let celsius = |holder: &str, beside: &[&str]| {
        let beside: Vec<_> = beside.iter().map(|key| material(key)).collect();
        (eu.hottest_supply(material(holder), beside).si() - 273.15).round()
    };
    // EN 1264-4: 55 °C in cement and calcium sulphate screed, 50 °C at gypsum board.
    assert_eq!(celsius("anhydrite-screed", &["eps"]), 55.0);
    assert_eq!(celsius("grooved-gypsum-board", &[]), 50.0);
    assert_eq!(celsius("grooved-foam-board", &["gypsum-fibre-board", "concrete"]), 50.0);
    assert_eq!(material("gypsum-topping").family, Family::GypsumTopping);
}

#[test]
fn insulation_over_outdoor_air_follows_the_cold() {
    // EN 1264-4 table 1: 1.25, 1.50 and 2.00 m²K/W down to 0, -5 and -15 °C; no step is colder.
    let eu = rules("eu");
    let least = |celsius: f64| {
        let rule = eu.insulation_outdoors(Temperature::from_si(celsius + 273.15));
        rule.map(|rule| (rule.si() * 100.0).round())
    };
    let found = [4.0, 0.0, -3.0, -5.0, -12.0, -30.0].map(least);
    assert_eq!(found, [125.0, 125.0, 150.0, 150.0, 200.0, 200.0].map(Some));
}

#[test]
fn the_european_rules_hold_the_values_of_their_standard() {
    let eu = rules("eu");
    // EN 1264-4 table 1: over heated rooms, over unheated ones and the ground, m²K/W.
    assert_eq!(eu.insulation_heated.si(), 0.75);
    assert_eq!(eu.insulation_unheated.si(), 1.25);
    assert_eq!(eu.insulation_ground.si(), 1.25);
    // EN 1264-5, from memory: total coefficient of a heated ceiling, W/m²K.
    assert_eq!(eu.ceiling_film.si(), 6.5);
    // EN 1264-2: widest edge strip, metres.
    assert_eq!(eu.perimeter_depth.si(), 1.0);
}

#[test]
fn limits_that_conflict_say_what_others_say() {
    for rules in Library::built_in().rule_sets {
        let disputed = [&rules.floor_wood, &rules.floor_resilient, &rules.peak_living];
        for rule in disputed {
            assert!(rule.against.len() > 20, "{}: {}", rules.key, rule.source);
        }
    }
}

/// The widest ranges bear no slack below zero.
#[test]
fn an_emitter_of_negative_output_cannot_be() {
    let text = include_str!("../../../../jobs/schoolhouse.toml");
    let text = text.replace("output = \"2,200 Btu/h\"", "output = \"-5 Btu/h\"");
    let (_, findings) = job::read(&text, &Library::built_in());
    assert!(findings.iter().any(|finding| finding.kind == "impossible-value"), "{findings:?}");
}
