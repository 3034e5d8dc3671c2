//! Sections to be drawn, responses in time, and who sets the water.

use crate::{CABIN, FLAT, ONE_ROOM, close, design, with};
use design::Standing;
use job::Decision;
use quantity::{Quantity, System};

const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");

/// The picture keeps every layer apart, the design takes those below the tube as one; it shows the
/// floor bare, so floors under rugs are left out.
#[test]
fn a_picture_shows_what_was_designed() {
    for text in [CABIN, SCHOOLHOUSE] {
        let (job, _) = crate::read(text);
        let has_rugs = |key: &str| job.rooms.iter().any(|own| own.key == key && own.rugs.is_some());
        for floor in &design(text).emitters.floors {
            let Some(section) = floor.section.as_ref().filter(|_| !has_rugs(&floor.room)) else {
                continue;
            };
            let picture = section.picture(System::Si).expect("it can be solved");
            let (up, flux) = (picture.up_w_m2, floor.flux.si());
            assert!((up - flux).abs() < 0.04 * flux.max(5.0), "{}: {up} and {flux}", floor.room);
            let top = picture.layers.first().expect("it has layers");
            close(top.over_tube_k, floor.warmest.si(), 0.4);
            close(top.midway_k, floor.coolest.si(), 0.4);
            assert_eq!(picture.layers.iter().filter(|layer| layer.holds_tube).count(), 1);
            let inside = |kelvin: f64| kelvin < picture.water_k.max(picture.room_k);
            assert!(picture.isotherms.iter().all(|line| inside(line.kelvin)));
            assert!(picture.isotherms.iter().all(|line| !line.lines.is_empty()));
        }
    }
}

/// Lines stand at round degrees of the system that comes first.
#[test]
fn lines_stand_at_round_degrees() {
    let design = design(CABIN);
    let section = design.emitters.floors[0].section.as_ref().unwrap();
    for (system, scale) in [(System::Us, 1.8), (System::Si, 1.0)] {
        let picture = section.picture(system).unwrap();
        let degree = |kelvin: f64| match system {
            System::Us => (kelvin - 273.15) * scale + 32.0,
            System::Si => kelvin - 273.15,
        };
        assert!((2..=10).contains(&picture.isotherms.len()));
        for line in &picture.isotherms {
            close(2.0 * degree(line.kelvin), (2.0 * degree(line.kelvin)).round(), 1e-6);
        }
    }
}

#[test]
fn plates_answer_sooner_than_slabs() {
    let design = design(SCHOOLHOUSE);
    let hours = |room: &str| {
        let response = design.responses.iter().find(|it| it.room == room).expect("it is heated");
        let times = response.times.as_ref().expect("its layers are known");
        assert!(times.most.si() < times.nearly_all.si());
        assert!((0.0..=1.0).contains(&times.day_share.si()));
        times.nearly_all.si() / 3600.0
    };
    // 4 in of concrete and more against plates under a wood floor.
    assert!(hours("laundry") > 3.0 * hours("study"), "{} {}", hours("laundry"), hours("study"));
}

/// EN 1264-3 leaves baths out of the rooms that set the supply.
#[test]
fn a_bath_without_a_say_is_told_what_it_lacks() {
    let supply = |text: &str| design(text).emitters.waters[0].supply.value.si();
    let all = with(FLAT, "supply = \"auto\"", "supply = \"auto\"\nsupply_for = \"all rooms\"");
    let cold = |text: &str| with(text, "use = \"bath\"", "use = \"bath\"\nspacing = 300");
    let (without, every) = (cold(FLAT), cold(&all));
    let design = design(&without);
    assert_ne!(design.emitters.waters[0].governing, "bath");
    assert!(supply(&without) < supply(&every));
    let told = design.findings.iter().find(|it| it.kind == "bath-short").expect("it is told");
    assert!(told.amount.is_some_and(|watts| watts > 0.0));
    assert!(told.limit.as_ref().is_some_and(|limit| limit.source.contains("EN 1264-3")));
    assert!(!crate::design(&every).findings.iter().any(|it| it.kind == "bath-short"));
}

#[test]
fn equal_drops_are_equal() {
    let text = with(FLAT, "supply = \"auto\"", "supply = \"auto\"\ndrops = \"equal\"");
    let drops = |text: &str| -> Vec<f64> {
        design(text).flows.loops.iter().map(|flow| flow.drop.si()).collect()
    };
    let equal = drops(&text);
    assert!(equal.iter().all(|drop| (drop - 5.0).abs() < 1e-6), "{equal:?}");
    assert!(drops(FLAT).iter().any(|drop| *drop > 5.5), "{:?}", drops(FLAT));
}

#[test]
fn the_water_rule_is_held_like_other_decisions() {
    let job = crate::job(FLAT);
    let design = design(FLAT);
    let edits = design.hold_all(&job);
    let held = job::apply(FLAT, &edits).expect("they apply");
    let after = crate::job(&held);
    assert!(matches!(after.heating.supply_for, Decision::Held(_)));
    assert!(matches!(after.heating.drops, Decision::Held(_)));
}

/// What a closer spacing is said to save is what it saves once it is held.
#[test]
fn ways_to_cooler_water_hold_what_they_say() {
    let before = design(FLAT);
    let governed = &before.emitters.governed[0];
    let way = governed.ways.iter().find(|way| way.what.starts_with("tube at"));
    let way = way.expect("a closer spacing saves something");
    let millimetres: String = way.what.chars().filter(char::is_ascii_digit).take(3).collect();
    let room = format!("[room.{}]\n", governed.room);
    let after = design(&with(FLAT, &room, &format!("{room}spacing = {millimetres}\n")));
    let needs = &after.emitters.governed[0].needs;
    // The loop is laid anew and its film is another: within a kelvin and a half.
    close(needs.si(), way.all_need.si(), 1.5);
    assert!(way.saves.si() > 0.5);
}

#[test]
fn an_emitter_that_counts_for_nothing_is_told() {
    let text = format!(
        "{}\n[circuit.low]\n[circuit.high]\n[emitter.rail]\nkind = \"towel rail\"\nroom = \"bath\"\n\
         circuit = \"high\"\noutput = 400\n",
        with(FLAT, "[manifold.m1]", "[manifold.m1]\ncircuit = \"low\"")
    );
    let design = design(&text);
    let told = design.findings.iter().find(|it| it.kind == "emitter-unused").expect("it is told");
    assert_eq!(told.subject, "emitter.rail");
    assert!(told.message.contains("high"), "{}", told.message);
    assert!(design.emitters.helpers.is_empty());
}

/// Radiation and convection of EN 1264-5: 8 W/m²K at a wall, 6.5 W/m²K at a heated ceiling.
#[test]
fn panels_give_what_their_section_and_surface_let_through() {
    let panel = |kind: &str| {
        let text = format!(
            "{FLAT}\n[emitter.panel]\nkind = \"{kind}\"\nroom = \"bath\"\npanel = \"plastered-wall\"\n\
             area = 4\nspacing = 100\n"
        );
        let design = design(&text);
        let told: Vec<_> =
            design.findings.iter().filter(|it| it.subject == "emitter.panel").collect();
        assert!(told.iter().all(|it| it.kind != "emitter-unused"), "{told:?}");
        design.emitters.helpers[0].clone()
    };
    let (wall, ceiling) = (panel("wall panel"), panel("ceiling panel"));
    for (helper, film) in [(&wall, 8.0), (&ceiling, 6.5)] {
        let panel = helper.panel.as_ref().unwrap();
        close(helper.output.si(), panel.flux.si() * 4.0, 1e-6);
        let over_room = panel.surface.si() - (273.15 + 24.0);
        close(over_room * film, panel.flux.si(), 1e-6);
        assert!(panel.behind.si() > 0.0 && helper.share.is_some());
    }
    assert!(ceiling.output.si() < wall.output.si());
}

#[test]
fn bare_tube_is_told_as_unchecked() {
    let text = with(ONE_ROOM, "floor = \"floor\"", "floor = \"bare-in-joist-bay\"");
    let text = with(&text, "indoor = 20", "indoor = 20\nbelow = \"outdoors\"");
    let design = design(&text);
    let floor = &design.emitters.floors[0];
    assert!(floor.output_coefficient.si() > 0.5 && floor.output_coefficient.si() < 5.0);
    assert_eq!(floor.output_coefficient.work.standing(), Standing::Estimated);
    assert!(floor.section.is_none() && design.responses[0].times.is_err());
    assert!(design.findings.iter().any(|it| it.kind == "floor-unchecked"));
}

/// A floor left open takes the construction that needs least of what is scarce, and says why.
#[test]
fn an_open_floor_takes_the_best_that_the_job_allows() {
    let among = |list: &str| {
        let text = with(ONE_ROOM, "floor = \"floor\"\n", "");
        with(
            &text,
            "indoor = 20",
            &format!("indoor = 20\nbelow = \"outdoors\"\nfloor_among = {list}"),
        )
    };
    let text = among("[\"bare-grooved-board-over-floor\", \"screed-on-insulation\", \"nonsense\"]");
    let design = design(&text);
    let choice = &design.floor_choices[0];
    assert_eq!((choice.room.as_str(), choice.tried.len()), ("only", 2));
    let taken = choice.tried.iter().find(|it| it.floor == choice.floor.value).unwrap();
    for other in &choice.tried {
        assert!((taken.stops, taken.warnings) <= (other.stops, other.warnings), "{choice:?}");
    }
    let job::Reason::Chosen(why) = &choice.floor.reason else { panic!("{choice:?}") };
    let other = choice.tried.iter().find(|it| it.floor != choice.floor.value).unwrap();
    assert!(why.contains(&other.floor), "{why}");
    assert!(design.findings.iter().any(|it| it.message.contains("nonsense")));
    // Held, it is the same floor; and what is stated is not chosen.
    let held = job::apply(&text, &design.hold_all(&crate::job(&text))).expect("they apply");
    let after = crate::design(&held);
    assert!(after.floor_choices.is_empty());
    assert_eq!(after.build_ups[0].assembly, choice.floor.value);
}

/// Half-inch tube lies in more loops than three-quarter-inch; which of them is taken hangs on what
/// they cost, and the working tells what the other would have.
#[test]
fn an_open_tube_takes_the_best_that_the_job_allows() {
    let among = |rates: &str| {
        let text = with(
            ONE_ROOM,
            "tube = \"pe-x-16x2\"",
            "tube_among = [\"pe-x-16x2\", \"pe-x-20x2\", \"nonsense\"]",
        );
        format!("{text}{rates}")
    };
    let chosen = |text: &str| {
        let design = design(text);
        let choice = design.tube_choice.clone().expect("a choice");
        assert_eq!(choice.tried.len(), 2);
        assert!(design.layouts.iter().all(|layout| layout.tube == choice.tube));
        assert!(design.findings.iter().any(|it| it.message.contains("nonsense")));
        let job::Reason::Chosen(why) = &choice.tube.reason else { panic!("{choice:?}") };
        (choice.tube.value.clone(), why.clone(), choice.tried)
    };
    let rates = |thin: &str, thick: &str| {
        among(&format!(
            "[rate.pe-x-16x2]\nprice = {thin}\n[rate.pe-x-20x2]\nprice = {thick}\n\
             [rate.port]\nprice = 40\n"
        ))
    };
    let (thin, why, tried) = chosen(&rates("1.5", "2.5"));
    assert_eq!(thin, "pe-x-16x2", "{why}");
    // By hand: metres of tube at its price and 40 for each loop.
    for own in &tried {
        let price = if own.tube == "pe-x-16x2" { 1.5 } else { 2.5 };
        let by_hand = own.length.si() * price + 40.0 * own.loops as f64;
        assert!((own.cost.unwrap() - by_hand).abs() < 1e-9, "{own:?}");
        assert!(
            own.tube == thin || why.contains(&format!("costs {:.0} against", by_hand)),
            "{why}"
        );
    }
    let (thick, why, _) = chosen(&rates("2.5", "1.0"));
    assert_eq!(thick, "pe-x-20x2", "{why}");
    // Without rates nothing is told of costs.
    let (_, why, tried) = chosen(&among(""));
    assert!(tried.iter().all(|own| own.cost.is_none()) && !why.contains("costs"), "{why}");
    // Held, it is the same design.
    let text = rates("2.5", "1.0");
    let before = design(&text);
    let held = job::apply(&text, &before.hold_all(&crate::job(&text))).expect("they apply");
    let after = design(&held);
    assert!(after.tube_choice.is_none());
    assert_eq!(after.loops[0].length, before.loops[0].length);
}

/// Of two floors that both do, rates take the cheaper one; by hand: area and tube at their prices.
#[test]
fn rates_choose_among_floors() {
    let text = with(ONE_ROOM, "floor = \"floor\"\n", "");
    let among = "floor_among = [\"floor\", \"thicker\"]\nspacing = \"150 mm\"\n";
    let text = with(&text, "indoor = 20\n", &format!("indoor = 20\n{among}"));
    let thicker = "[assembly.thicker]\nlayers = [\"cement screed 65 mm with tube, cover 45 mm\", \
                   \"EPS 140 mm\"]\n";
    let priced = |thin: u32, thick: u32| {
        let rates = format!(
            "{thicker}[rate.floor]\nprice = {thin}\n[rate.thicker]\nprice = {thick}\n\
             [rate.pe-x-16x2]\nprice = 1.2\n[rate.straw]\nprice = 3\n"
        );
        let design = design(&format!("{text}{rates}"));
        assert!(design.findings.iter().any(|it| it.subject == "rate.straw"));
        design.floor_choices[0].clone()
    };
    for (thin, thick, wanted) in [(30, 40, "floor"), (40, 30, "thicker")] {
        let choice = priced(thin, thick);
        assert_eq!(choice.floor.value, wanted);
        let job::Reason::Chosen(why) = &choice.floor.reason else { panic!("{choice:?}") };
        assert!(why.contains("costs") && why.contains("against"), "{why}");
        for own in &choice.tried {
            let price = f64::from(if own.floor == "floor" { thin } else { thick });
            let by_hand = 20.0 * (price + 1.2 / 0.15);
            assert!((own.cost.unwrap() / by_hand - 1.0).abs() < 0.05, "{own:?} {by_hand}");
        }
    }
}

/// Whatever film goes with its heat, a floor's mean lies between its spots; closest where tube is
/// closest, and there within what the film of the section leaves open.
#[test]
fn the_mean_lies_between_the_spots() {
    for text in [crate::CABIN, crate::FLAT, crate::TERRACE, crate::SCHOOLHOUSE] {
        for floor in design(text).emitters.floors.iter().filter(|it| it.flux.si() > 1.0) {
            let [cool, mean, warm] =
                [&floor.coolest, &floor.surface, &floor.warmest].map(|figure| figure.si());
            assert!(
                cool < mean + 0.06 && mean < warm + 0.06,
                "{}: {cool} {mean} {warm}",
                floor.room
            );
        }
    }
}
