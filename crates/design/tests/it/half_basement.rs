//! A house of several kinds of ground, held against a calculation made without this program.
//!
//! Figures by hand from ASHRAE's below-grade averages (k 0.8 Btu/h·ft·°F), the perimeter factor 0.54
//! of an R-10 edge, 2 ft deep (WAC 51-11C-61061), n50/20, the shared balance of the garage, and
//! layers by ISO 6946; formulas from memory, geometry from the plan.

use crate::{close, job, with};
use design::{State, heat_loss};
use quantity::unit;

const HOUSE: &str = include_str!("half_basement.toml");

fn btu_h(watts: f64) -> f64 {
    unit::BTU_HOUR.from_si(watts)
}

#[test]
fn rooms_and_air_as_calculated_by_hand() {
    let loads = heat_loss(&job(HOUSE), &State::default()).loads;
    for (room, expected) in [("rec", 2166.3), ("living", 5680.7), ("bed", 2592.5), ("bath", 2484.3)]
    {
        let found = btu_h(loads.room(room).unwrap().heat.total.si());
        close(found / expected, 1.0, 0.002);
    }
    // 4/h at 50 Pa over 20, in all of the house's heated air.
    let air = btu_h(loads.house.unwrap().heat.air.si());
    close(air / 1794.8, 1.0, 0.002);
}

/// The basement's floor goes by its own shorter side, 15 ft, not by that of all slabs together;
/// the bath's slab has no edge towards outdoors along the garage.
#[test]
fn deep_floor_and_edge_are_the_rooms_own() {
    let envelope = heat_loss(&job(HOUSE), &State::default()).envelope;
    let room = |key: &str| envelope.enclosures.iter().find(|one| one.room == key).unwrap();
    let floor = room("rec").faces.iter().find(|face| face.key == "floor").unwrap();
    close(unit::U_US.from_si(floor.transmittance.as_ref().unwrap().si()), 0.0421, 0.0001);
    // Beside the slabs the wall stands from 1 ft to 8.5 ft below the ground.
    let wall =
        room("rec").faces.iter().find(|face| face.key == "wall east, in the ground").unwrap();
    close(unit::U_US.from_si(wall.transmittance.as_ref().unwrap().si()), 0.0505, 0.0001);
    let edge = room("bath").exposed_edge.as_ref().unwrap().si();
    close(unit::FOOT.from_si(edge), 11.0 + 7.0 / 12.0 + 7.0, 0.01);
}

fn kinds(text: &str) -> Vec<(&'static str, job::Severity)> {
    let job = crate::read(text).0;
    let findings = heat_loss(&job, &State::default()).findings;
    findings.iter().map(|finding| (finding.kind, finding.severity)).collect()
}

#[test]
fn a_vault_under_an_inherited_ceiling_is_told() {
    let flat = with(HOUSE, "height = \"16'\"\n", "");
    assert!(kinds(&flat).contains(&("slope-over-ceiling", job::Severity::Stop)));
    assert!(!kinds(HOUSE).iter().any(|(kind, _)| *kind == "slope-over-ceiling"));
}

#[test]
fn a_room_that_hangs_in_the_air_is_worth_a_look() {
    let hung =
        with(HOUSE, "below = \"ground\"\nstart = [\"20'5\", \"0\"]", "start = [\"20'5\", \"0\"]");
    assert!(kinds(&hung).contains(&("overhang", job::Severity::Warn)));
}

#[test]
fn a_design_day_as_warm_as_the_rooms_is_told() {
    let warm = with(HOUSE, "design = 0", "design = 66");
    assert!(kinds(&warm).iter().any(|(kind, _)| *kind == "design-not-cold"));
    assert!(!kinds(HOUSE).iter().any(|(kind, _)| *kind == "design-not-cold"));
}

/// Spaces that only see rooms and each other say nothing of how they get cold: not that they are
/// as warm as the rooms.
#[test]
fn two_spaces_that_face_only_each_other_take_the_factor() {
    let text = format!(
        "{HOUSE}\n[space.p]\nkind = \"attic\"\n[space.q]\nkind = \"attic\"\n\
         [surface.p]\nspace = \"p\"\nfaces = \"space.q\"\narea = \"100 ft²\"\nassembly = \"pt\"\n\
         [surface.q]\nspace = \"q\"\nfaces = \"space.p\"\narea = \"100 ft²\"\nassembly = \"pt\"\n"
    );
    let text = with(&text, "[room.bed]\n", "[room.bed]\nabove = \"space.p\"\n");
    let loads = heat_loss(&job(&text), &State::default()).loads;
    let found = loads.unheated.iter().find(|space| space.key == "p").unwrap();
    assert!(found.factor.si() > 0.5, "{}", found.factor.si());
}
