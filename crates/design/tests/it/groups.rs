//! Zones, storeys and the house; what the picture shows; what is usual and what was burnt.

use crate::{CABIN, ONE_ROOM, close, job, with};
use design::loads::{GroupLoss, Loads};
use design::{State, heat_loss};
use job::{Job, NextHouse, WarmerNeighbours};
use quantity::{HeatFlux, Quantity};

fn loads(job: &Job) -> Loads {
    heat_loss(job, &State::default()).loads
}

fn house(loads: &Loads) -> &GroupLoss {
    loads.house.as_ref().unwrap()
}

/// Heat between rooms of the house cancels to the last bit, for no face between them is summed.
#[test]
fn heat_between_own_rooms_cancels() {
    let loads = loads(&job(CABIN));
    assert_eq!(house(&loads).heat.neighbours.si(), 0.0);
    let rooms: f64 = loads.rooms.iter().map(|room| room.heat.total.si()).sum();
    close(house(&loads).heat.total.si(), rooms, 1e-6);
    let storey = loads.storeys.iter().find(|group| group.key == "main").unwrap();
    close(storey.heat.total.si(), rooms, 1e-6);
}

/// A zone sees the rooms outside it as neighbours; both zones together are the house.
#[test]
fn zones_see_each_other() {
    let mut text =
        with(CABIN, "[room.bath]\n", "[zone.warm]\n[zone.rest]\n[room.bath]\nzone = \"warm\"\n");
    for room in ["great", "hall", "south_bedroom", "north_bedroom"] {
        let head = format!("[room.{room}]\n");
        text = with(&text, &head, &format!("{head}zone = \"rest\"\n"));
    }
    let loads = loads(&job(&text));
    let [warm, rest] = [&loads.zones[0], &loads.zones[1]];
    assert!(warm.heat.neighbours.si() > 0.0, "the bath is the warmest room");
    close(warm.heat.neighbours.si() + rest.heat.neighbours.si(), 0.0, 1e-9);
    let both = warm.heat.total.si() + rest.heat.total.si();
    close(both, house(&loads).heat.total.si(), 1e-6);
}

/// Shown only, heat from warmer neighbours lowers no load, and what it lowers elsewhere stays.
#[test]
fn warmer_neighbours_shown_only() {
    let mut job = job(CABIN);
    let credited = loads(&job);
    job.rules.warmer_neighbours.value = WarmerNeighbours::Shown;
    let shown = loads(&job);
    for (before, after) in credited.rooms.iter().zip(&shown.rooms) {
        let gains: f64 = after.faces.iter().filter(|f| !f.counts).map(|f| f.loss.si()).sum();
        assert!(gains <= 0.0);
        close(after.heat.total.si() + gains, before.heat.total.si(), 1e-9);
    }
    assert!(shown.rooms.iter().any(|room| room.faces.iter().any(|face| !face.counts)));
    close(house(&shown).heat.total.si(), house(&credited).heat.total.si(), 1e-6);
}

/// The parts of the picture add up to the house, bridges apart from walls.
#[test]
fn parts_add_up() {
    let mut job = job(&with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nheated = false"));
    job.rules.thermal_bridges.value = Quantity::from_si(0.1);
    let loads = loads(&job);
    let part = |name: &str| loads.parts.iter().find(|part| part.name == name).unwrap().loss.si();
    close(part("walls"), 42.5 * 0.3 * 30.0, 1e-9);
    close(part("windows"), 90.0, 1e-9);
    close(part("thermal bridges"), 0.1 * 65.0 * 30.0, 1e-9);
    let sum: f64 = loads.parts.iter().map(|part| part.loss.si()).sum();
    close(sum, house(&loads).heat.total.si(), 1e-6);
    assert!(loads.parts.is_sorted_by(|a, b| a.loss.si() >= b.loss.si()));
}

/// W/K by where heat goes, times the difference to there, gives the watts: at any state.
#[test]
fn watts_follow_from_heat_per_degree() {
    for celsius in [-20.0, -10.0, 3.0, 15.0] {
        let outdoor = Some(Quantity::from_si(celsius + 273.15));
        let loads = heat_loss(&job(CABIN), &State { outdoor }).loads;
        for room in &loads.rooms {
            for face in &room.faces {
                let watts = face.coefficient.si() * face.difference.si();
                close(watts, face.loss.si(), 1e-6);
            }
        }
    }
}

/// The same house in feet and in metres loses the same (one foot is 0.3048 m).
#[test]
fn both_unit_systems_lose_the_same() {
    let si = loads(&job(ONE_ROOM));
    let us = with(ONE_ROOM, "units = \"si\"", "units = \"us\"");
    let us = with(&us, "design = -10", "design = 14");
    let us = with(&us, "annual_mean = 8", "annual_mean = 46.4");
    let us = with(&us, "ground = 2.0", "ground = \"2.0 W/mK\"");
    let us = with(&us, "height = 2.5", "height = \"2.5 m\"");
    let us = with(&us, "u = 0.3", "u = \"0.3 W/m²K\"");
    let us = with(&us, "u = 0.2", "u = \"0.2 W/m²K\"");
    let us = with(&us, "u = 1.2", "u = \"1.2 W/m²K\"");
    let us = with(&us, "\"E 5, N 4, W 5, S 4\"", "\"E 5 m, N 4 m, W 5 m, S 4 m\"");
    let us = with(&us, "indoor = 20", "indoor = 68");
    let us = with(&us, "width = 2\nheight = 1.25", "width = \"2 m\"\nheight = \"1.25 m\"");
    let us = with(&us, "at = [0.1, 2]", "at = [\"0.1 m\", \"2 m\"]");
    let us = loads(&job(&us));
    close(house(&us).heat.total.si(), house(&si).heat.total.si(), 1e-6);
}

/// The next house by the rule set: as warm, halfway to the mean of the year (14 °C), or as cold as
/// that mean (8 °C).
#[test]
fn next_house_by_rule() {
    let text = with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nabove = \"next house\"");
    let mut job = job(&text);
    let mut loss = |rule| {
        job.rules.next_house.value = rule;
        let loads = loads(&job);
        let house = house(&loads).heat.neighbours.si();
        assert_eq!(loads.rooms[0].heat.neighbours.si(), house);
        house
    };
    close(loss(NextHouse::SameTemperature), 0.0, 0.0);
    close(loss(NextHouse::Halfway), 4.0 * 6.0, 1e-9);
    close(loss(NextHouse::AnnualMean), 4.0 * 12.0, 1e-9);
}

/// More insulation on any outside construction never raises a load to outdoors.
#[test]
fn insulation_never_raises_a_load() {
    let loss = |wall: f64, ceiling: f64| {
        let text = with(ONE_ROOM, "u = 0.3", &format!("u = {wall}"));
        let text = with(&text, "u = 0.2", &format!("u = {ceiling}"));
        loads(&job(&text)).rooms[0].heat.outdoors.si()
    };
    let steps = [0.1, 0.2, 0.35, 0.8, 1.7];
    for pair in steps.windows(2) {
        assert!(loss(pair[0], 0.2) < loss(pair[1], 0.2));
        assert!(loss(0.3, pair[0]) < loss(0.3, pair[1]));
    }
}

/// Reheat stands apart from the load, and is doubted where the tube lies in screed.
#[test]
fn reheat_is_a_line_of_its_own() {
    let plain = heat_loss(&job(ONE_ROOM), &State::default());
    assert!(plain.loads.rooms[0].reheat.is_none() && house(&plain.loads).reheat.is_none());
    let text = with(ONE_ROOM, "fluid = \"water\"", "fluid = \"water\"\nreheat = 11");
    let asked = heat_loss(&job(&text), &State::default());
    // 20 m² × 11 W/m² = 220 W (EN 12831).
    close(house(&asked.loads).reheat.as_ref().unwrap().si(), 220.0, 1e-9);
    close(house(&asked.loads).heat.total.si(), house(&plain.loads).heat.total.si(), 0.0);
    let told = asked.findings.iter().find(|f| f.kind == "reheat-heavy-floor").unwrap();
    assert_eq!(told.severity, job::Severity::Warn);
}

/// 845 W over 20 m² is 42 W/m²: usual for no house before 1950, and for many after 1995.
#[test]
fn held_against_what_is_usual() {
    let of = |year: u32| {
        let text =
            with(ONE_ROOM, "air_changes = 0.5", &format!("air_changes = 0.5\nbuilt = {year}"));
        heat_loss(&job(&text), &State::default())
    };
    let old = of(1908);
    let [least, _]: &[_; 2] = old.loads.sanity.usual.as_ref().unwrap();
    let loss: HeatFlux = house(&old.loads).per_area.as_ref().unwrap().value;
    assert!(least.value > loss);
    let note = old.findings.iter().find(|finding| finding.kind == "unusual-loss").unwrap();
    assert!(note.message.contains("less than is usual"), "{note:?}");
    assert!(of(2005).findings.iter().all(|finding| finding.kind != "unusual-loss"));
}

/// A bill of 6000 kWh at 80 % over 3000 K·d tells 66.7 W/K (E η / DD), more than twice what the
/// room loses per degree; one of 2500 kWh tells 27.8 W/K, which is near enough.
#[test]
fn held_against_the_bill() {
    let of = |energy: u32| {
        let bill =
            format!("\n[fuel]\nenergy = {energy}\ndegree_days = 3000\nefficiency = \"80 %\"\n");
        heat_loss(&job(&format!("{ONE_ROOM}{bill}")), &State::default())
    };
    let much = of(6000);
    let billed = much.loads.sanity.billed.as_ref().unwrap().si();
    close(billed, 6000.0 * 1000.0 * 0.8 / (3000.0 * 24.0), 1e-9);
    let note = much.findings.iter().find(|finding| finding.kind == "bill-differs").unwrap();
    assert!(note.advice.contains("rough check"), "{note:?}");
    assert!(of(2500).findings.iter().all(|finding| finding.kind != "bill-differs"));
}
