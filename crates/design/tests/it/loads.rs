//! Heat loss of one plain room against a hand calculation.

use crate::{ONE_ROOM, close, design, job, with};
use design::{Memo, State, design_at};
use quantity::{Quantity, Temperature};

/// By hand, ΔT = 30 K: wall (18 × 2.5 − 2.5) m² × 0.3 = 12.75 W/K; window 2.5 × 1.2 = 3 W/K;
/// ceiling 20 × 0.2 = 4 W/K: 19.75 W/K × 30 K = 592.5 W.
#[test]
fn transmission_of_one_room() {
    let design = design(ONE_ROOM);
    let room = &design.loads.rooms[0];
    close(room.heat.outdoors.si(), 592.5, 1e-6);
    close(room.heat.neighbours.si(), 0.0, 0.0);
    // The whole floor carries tube, so none of it loses the room's heat.
    close(room.heat.ground.si(), 0.0, 1e-9);
}

/// By hand: 50 m³ × 0.5/h; air at 20 °C and sea level has ρ = 101325/(287.053 × 293.15)
/// = 1.2041 kg/m³ (ISO 2533); × 1006 J/kgK ÷ 3600 = 8.412 W/K; × 30 K = 252.4 W.
#[test]
fn air_of_one_room() {
    close(design(ONE_ROOM).loads.rooms[0].heat.air.si(), 252.4, 0.1);
}

/// Air at 1500 m stands at 0.8346 of the sea-level pressure (standard atmosphere, ISO 2533 table).
#[test]
fn altitude_thins_the_air() {
    let high = design(&with(ONE_ROOM, "altitude = 0", "altitude = 1500"));
    let share = high.loads.rooms[0].heat.air.si() / design(ONE_ROOM).loads.rooms[0].heat.air.si();
    close(share, 0.8346, 2e-4);
}

/// By hand: A = 20, P = 18, B' = 2.2222; Rf = 0.065/λ + 0.1/λ_EPS; U by ISO 13370 with
/// w = 0.15, λ = 2; ground loss 1.45 (20 − 8) A U = 17.4 A U (EN 12831, fg1 fg2 ΔT).
#[test]
fn unheated_floor_loses_to_the_ground() {
    let text = with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nheated = false");
    let design = design(&text);
    let floor = &design.envelope.enclosures[0].faces.iter().find(|face| face.key == "floor");
    let u = floor.unwrap().transmittance.as_ref().unwrap().si();
    let catalogue = job::Library::built_in().catalogue;
    let conductivity = |key: &str| catalogue.material(key).unwrap().conductivity.si();
    let layers = 0.065 / conductivity("cement-screed") + 0.1 / conductivity("eps");
    let thickness = 0.15 + 2.0 * (0.17 + layers + 0.04);
    let by_hand = 2.0 / (0.457 * 20.0 / 9.0 + thickness);
    assert!(thickness > 20.0 / 9.0, "the well-insulated branch");
    close(u, by_hand, 1e-9);
    close(design.loads.rooms[0].heat.ground.si(), 17.4 * 20.0 * by_hand, 1e-6);
}

#[test]
fn heat_between_rooms_cancels_in_the_house() {
    let design = design(crate::CABIN);
    let sum: f64 = design.loads.rooms.iter().map(|room| room.heat.neighbours.si()).sum();
    close(sum, 0.0, 1e-6);
    let total: f64 = design.loads.rooms.iter().map(|room| room.heat.total.si()).sum();
    close(design.loads.total.unwrap().si(), total, 1e-9);
}

/// Loss to outdoors is linear in the outdoor temperature, and none when it is as warm outside.
#[test]
fn any_outdoor_temperature_can_be_asked() {
    let job = job(ONE_ROOM);
    let at = |celsius: f64| {
        let outdoor = Some(Temperature::from_si(celsius + 273.15));
        design_at(&job, &State { outdoor }, &mut Memo::new()).loads.rooms[0].heat.outdoors.si()
    };
    close(at(5.0), 592.5 / 2.0, 1e-6);
    close(at(20.0), 0.0, 1e-9);
}

/// A room by its area and surfaces alone has a load, and takes no loops.
#[test]
fn early_survey_without_an_outline() {
    let text = with(
        ONE_ROOM,
        "outline = \"E 5, N 4, W 5, S 4\"",
        "area = 20\n[surface.walls]\nroom = \"only\"\nfaces = \"outdoors\"\narea = 42.5\nassembly = \
         \"wall\"\n[room.other]\narea = 10\n",
    );
    let text = with(&text, "room = \"only\"\nwall = \"south\"", "at = [99, 99]");
    let (job, _) = crate::read(&text);
    let design = design::design(&job, &mut Memo::new());
    let loss = design.loads.rooms.iter().find(|room| room.room == "only").unwrap();
    close(loss.heat.outdoors.si(), 42.5 * 0.3 * 30.0, 1e-6);
    assert!(design.loops.is_empty());
    // The other room states no surfaces: cannot tell, and says so.
    let told = design.findings.iter().find(|finding| finding.subject == "room.other").unwrap();
    assert!(told.message.contains("cannot tell"), "{told:?}");
}
