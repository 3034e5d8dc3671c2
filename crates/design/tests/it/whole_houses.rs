//! The two example houses of several storeys, and what must hold for any such house.

use crate::{close, design, job, with};
use design::{Design, Memo, State, doubt, heat_loss};
use job::Severity;
use proptest::prelude::*;
use quantity::Quantity;

const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");
const TERRACE: &str = include_str!("../../../../jobs/terrace.toml");

fn stops(design: &Design) -> Vec<String> {
    let stop = design.findings.iter().filter(|finding| finding.severity == Severity::Stop);
    stop.map(|finding| format!("{}: {}", finding.subject, finding.message)).collect()
}

#[test]
fn both_houses_design_without_a_stop() {
    for text in [SCHOOLHOUSE, TERRACE] {
        let design = design(text);
        assert_eq!(stops(&design), Vec::<String>::new());
        let heated = job(text).rooms.iter().filter(|room| !room.unheated.value).count();
        assert_eq!(design.loads.rooms.len(), heated);
    }
}

#[test]
fn holding_every_decision_of_a_house_gives_the_same_house() {
    for text in [SCHOOLHOUSE, TERRACE] {
        let job = job(text);
        let first = design::design(&job, &mut Memo::new());
        let held = job::apply(text, &first.hold_all(&job)).unwrap();
        let second = design(&held);
        let keys = |design: &Design| -> Vec<String> {
            design.loops.iter().map(|own| own.key.clone()).collect()
        };
        assert_eq!(keys(&first), keys(&second));
        for (one, other) in first.loops.iter().zip(&second.loops) {
            assert_eq!(one.length.si(), other.length.si(), "{}", one.key);
        }
        for (one, other) in first.loads.rooms.iter().zip(&second.loads.rooms) {
            assert_eq!(one.heat.total.si(), other.heat.total.si(), "{}", one.room);
        }
    }
}

#[test]
fn a_window_towards_the_next_house_is_told() {
    let text = with(
        TERRACE,
        "room = \"kitchen\"\nwall = \"yard\"\nalong = 2.40",
        "room = \"kitchen\"\nwall = \"east\"",
    );
    let design = design(&text);
    let told = design.findings.iter().find(|finding| finding.kind == "window-inside").unwrap();
    assert_eq!(told.subject, "opening.kitchen_window");
    assert!(told.message.contains("next house"), "{}", told.message);
}

#[test]
fn ground_over_the_ceiling_and_a_hole_beside_its_room_are_told() {
    let kinds = |from: &str, to: &str| -> Vec<&'static str> {
        let job = crate::read(&with(SCHOOLHOUSE, from, to)).0;
        heat_loss(&job, &State::default()).findings.iter().map(|finding| finding.kind).collect()
    };
    let deep = kinds("left = \"4'6\"", "left = \"14'6\"");
    assert!(deep.contains(&"grade-over-ceiling"), "{deep:?}");
    let beside = kinds("start = [\"26'\", \"14'\"]", "start = [\"126'\", \"14'\"]");
    assert!(beside.contains(&"void-outside-room"), "{beside:?}");
}

#[test]
fn a_face_told_on_one_side_only_or_towards_itself_is_told() {
    let kinds = |face: &str| -> Vec<&'static str> {
        let job = crate::read(&format!("{TERRACE}\n[face.odd]\n{face}\n")).0;
        heat_loss(&job, &State::default()).findings.iter().map(|finding| finding.kind).collect()
    };
    let one = kinds("room = \"hall\"\npart = \"north\"\nfaces = \"next house\"");
    assert!(one.contains(&"one-sided"), "{one:?}");
    let own = kinds("room = \"hall\"\npart = \"north\"\nfaces = \"room.hall\"");
    assert!(own.contains(&"faces-itself"), "{own:?}");
    assert!(
        !kinds("room = \"hall\"\npart = \"street\"\nassembly = \"outside_wall\"")
            .contains(&"one-sided")
    );
}

/// EN 12831:2003: by outside dimensions a wall between two houses counts to its middle. The bath's
/// wall to the yard: 1.60 m, half of 420 mm party wall, half of 115 mm partition; 2.45 m and the
/// 272.5 mm of the ceiling; less a window of 0.30 m².
#[test]
fn a_party_wall_counts_to_its_middle() {
    let envelope = heat_loss(&job(TERRACE), &State::default()).envelope;
    let bath = envelope.enclosures.iter().find(|one| one.room == "bath").unwrap();
    let wall = bath.faces.iter().find(|face| face.key == "wall yard").unwrap();
    close(wall.area.si(), (1.60 + 0.21 + 0.0575) * (2.45 + 0.2725) - 0.30, 1e-6);
}

/// Heat between rooms cancels over the house, however they lie over and beside each other.
#[test]
fn heat_between_rooms_cancels_over_the_house() {
    for text in [SCHOOLHOUSE, TERRACE] {
        let loads = heat_loss(&job(text), &State::default()).loads;
        let between: f64 = loads
            .rooms
            .iter()
            .flat_map(|room| &room.faces)
            .filter(|face| {
                matches!(&face.behind, design::envelope::Behind::Room(key)
                if loads.rooms.iter().any(|room| room.room == *key))
            })
            .map(|face| face.loss.si())
            .sum();
        close(between, 0.0, 1e-6);
    }
}

/// What a floor sends down into a heated room is shown there, is no part of its load, and the
/// house does not lose it.
#[test]
fn heat_from_above_is_shown_and_not_credited() {
    let design = design(TERRACE);
    let living = design.loads.room("living").unwrap();
    let above = living.from_above.as_ref().unwrap().si();
    assert!(above > 10.0, "{above} W");
    let parts = [
        &living.heat.outdoors,
        &living.heat.unheated,
        &living.heat.ground,
        &living.heat.neighbours,
        &living.heat.air,
    ];
    close(living.heat.total.si(), parts.iter().map(|part| part.si()).sum(), 1e-9);
    let lost = design.totals.lost_below.as_ref().unwrap().si();
    let all: f64 = design.emitters.floors.iter().map(|it| it.flux_down.si() * it.area.si()).sum();
    assert!(lost < all - above + 1e-6, "{lost} of {all} W, {above} W into the living room");
}

/// A lower ceiling in one storey takes wall and air off that storey alone.
#[test]
fn cutting_a_storeys_height_moves_only_what_it_should() {
    let before = heat_loss(&job(TERRACE), &State::default()).loads;
    let text = with(TERRACE, "height = 2.45", "height = 2.30");
    let after = heat_loss(&job(&text), &State::default()).loads;
    for (one, other) in before.rooms.iter().zip(&after.rooms) {
        let upper = job(TERRACE).room(&one.room).unwrap().storey.as_ref().unwrap().value == "upper";
        if upper {
            assert!(other.heat.air.si() < one.heat.air.si(), "{}", one.room);
            assert!(other.heat.outdoors.si() < one.heat.outdoors.si() + 1e-9, "{}", one.room);
        } else {
            close(other.heat.total.si(), one.heat.total.si(), 1e-6);
        }
    }
}

#[test]
fn more_insulation_outside_never_raises_a_load_to_outdoors() {
    let before = heat_loss(&job(SCHOOLHOUSE), &State::default()).loads;
    for (from, to) in [
        ("\"PIR 2 in\"", "\"PIR 4 in\""),
        (
            "R-13 batt 3.5 in between softwood 18 %\", \"air 1 in\"",
            "R-15 batt 3.5 in between softwood 18 %\", \"air 1 in\"",
        ),
        ("u = \"U-0.32\"", "u = \"U-0.25\""),
        ("\"XPS 2 in\", \"limestone 18 in\"", "\"XPS 3 in\", \"limestone 18 in\""),
    ] {
        let after = heat_loss(&job(&with(SCHOOLHOUSE, from, to)), &State::default()).loads;
        let watts = |loads: &design::loads::Loads| loads.house.as_ref().unwrap().heat.total.si();
        assert!(watts(&after) < watts(&before), "{from}");
        for (one, other) in before.rooms.iter().zip(&after.rooms) {
            assert!(other.heat.outdoors.si() <= one.heat.outdoors.si() + 1e-9, "{}", one.room);
        }
    }
}

/// The heat of another day follows from heat per degree, air and outdoors by the same degrees.
#[test]
fn another_outdoor_temperature_follows_from_heat_per_degree() {
    let job = job(TERRACE);
    let day = heat_loss(&job, &State::default()).loads.house.unwrap();
    let mild = State { outdoor: Some(Quantity::from_si(278.15)) };
    let mild = heat_loss(&job, &mild).loads.house.unwrap();
    let warmer_k = 278.15 - 261.15;
    for (one, other, per_degree) in [
        (&day.heat.outdoors, &mild.heat.outdoors, &day.per_degree.outdoors),
        (&day.heat.air, &mild.heat.air, &day.per_degree.air),
    ] {
        close(one.si() - other.si(), per_degree.si() * warmer_k, 1e-6);
    }
    close(day.heat.ground.si(), mild.heat.ground.si(), 1e-9);
}

#[test]
fn the_band_of_doubt_holds_the_loss_and_the_conventions() {
    for text in [SCHOOLHOUSE, TERRACE] {
        let doubt = doubt(&job(text)).unwrap();
        let [low, high] = doubt.band.map(Quantity::si);
        assert!(low < doubt.house.si() && doubt.house.si() < high);
        assert!(doubt.items.iter().any(|item| item.convention));
        let most: Vec<f64> = doubt
            .items
            .iter()
            .map(|item| item.effect[0].si().abs().max(item.effect[1].si().abs()))
            .collect();
        assert!(most.windows(2).all(|pair| pair[0] >= pair[1]), "the largest comes first");
        // No single effect leaves the band.
        assert!(
            doubt.items.iter().all(|item| item.effect[1].si() <= high - doubt.house.si() + 1e-6)
        );
    }
    assert_eq!(doubt(&crate::read("[job]\nname = \"nothing yet\"\n").0), None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// Spoiled texts of a house with roofs, grades and voids: designed without a panic.
    #[test]
    fn spoiled_houses_are_read_and_reckoned(
        cuts in prop::collection::vec((0usize..22_000, 0usize..40, 0usize..22_000, 0usize..40), 1..8),
        filling in prop::sample::select(vec!["", "[", "\"", "9", "-", "=", "\n", "0", "1e9", "'"]),
    ) {
        let mut text: Vec<char> = SCHOOLHOUSE.chars().collect();
        for (at, length, from, take) in cuts {
            let at = at % text.len();
            let end = (at + length).min(text.len());
            let from = from % text.len();
            let piece: Vec<char> =
                text[from..(from + take).min(text.len())].iter().copied().chain(filling.chars()).collect();
            text.splice(at..end, piece);
        }
        let (job, _) = crate::read(&text.into_iter().collect::<String>());
        let found = heat_loss(&job, &State::default());
        for room in &found.loads.rooms {
            prop_assert!(room.heat.total.si().is_finite(), "{}", room.room);
        }
        let _ = doubt(&job);
    }
}
