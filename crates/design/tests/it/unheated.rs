//! Spaces and rooms that nobody heats.

use crate::{ONE_ROOM, close, job, with};
use design::{State, heat_loss};
use job::{Job, UnheatedMethod};
use proptest::prelude::*;

/// The plain room under an attic of 20 m², 100 m³ with air changes, roof U 2.
fn under_attic(space: &str) -> String {
    let text = with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nabove = \"space.attic\"");
    format!("{text}\n[space.attic]\nkind = \"attic\"\n{space}\n[assembly.roof]\nu = 2\n")
}

const ROOF: &str = "\n[surface.rafters]\nspace = \"attic\"\nfaces = \"outdoors\"\narea = 30\n\
                    assembly = \"roof\"\n";

fn celsius(job: &Job, key: &str) -> f64 {
    let loss = heat_loss(job, &State::default());
    let temperature = loss.loads.temperature_of(key);
    temperature.unwrap_or_else(|| panic!("{:#?}", loss.findings)).si() - 273.15
}

/// By hand (EN ISO 13789): 20 m² × 0.2 = 4 W/K to the room at 20 °C; 30 m² × 2 = 60 W/K to −10 °C:
/// (4 × 20 − 60 × 10) / 64 = −8.125 °C; b = 60/64.
#[test]
fn attic_in_balance() {
    let mut job = job(&format!("{}{ROOF}", under_attic("")));
    job.rules.unheated_method.value = UnheatedMethod::Balance;
    close(celsius(&job, "attic"), -8.125, 1e-9);
    let loss = heat_loss(&job, &State::default());
    close(loss.loads.unheated[0].factor.si(), 60.0 / 64.0, 1e-9);
    close(loss.loads.rooms[0].heat.unheated.si(), 4.0 * 28.125, 1e-9);
    close(loss.loads.rooms[0].per_degree.unheated.si(), 4.0, 1e-9);
}

/// The tabled factor of an attic that is neither open nor insulated: 0.9 (EN 12831:2003).
#[test]
fn attic_by_factor() {
    let mut job = job(&format!("{}{ROOF}", under_attic("")));
    job.rules.unheated_method.value = UnheatedMethod::Factor;
    close(celsius(&job, "attic"), 20.0 - 0.9 * 30.0, 1e-9);
    let loss = heat_loss(&job, &State::default());
    close(loss.loads.rooms[0].heat.unheated.si(), 4.0 * 0.9 * 30.0, 1e-9);
}

#[test]
fn what_is_stated_wins() {
    close(celsius(&job(&under_attic("temperature = -3")), "attic"), -3.0, 1e-9);
    close(celsius(&job(&under_attic("factor = 0.5")), "attic"), 5.0, 1e-9);
    // 4 W/K against 12 W/K: a quarter of the way up from −10 °C.
    close(celsius(&job(&under_attic("loss = 12")), "attic"), -2.5, 1e-9);
}

/// A space of which nothing is known takes the factor, and a note says so.
#[test]
fn too_little_for_a_balance() {
    let mut job = job(&under_attic(""));
    job.rules.unheated_method.value = UnheatedMethod::Balance;
    close(celsius(&job, "attic"), -7.0, 1e-9);
    let loss = heat_loss(&job, &State::default());
    let note = loss.findings.iter().find(|f| f.kind == "unheated-by-factor").unwrap();
    assert_eq!((note.subject.as_str(), note.severity), ("space.attic", job::Severity::Note));
}

/// Two spaces in a row, by hand: room –4→ attic –6→ store –2→ outdoors. Heat in is heat out:
/// all 30 K over 1/4 + 1/6 + 1/2 = 11/12 K/W makes 32.73 W.
#[test]
fn coupled_spaces() {
    let more = "\n[space.store]\nkind = \"store\"\nloss = 2\n[assembly.thin]\nu = 3\n\
                [surface.between]\nspace = \"attic\"\nfaces = \"space.store\"\narea = 2\n\
                assembly = \"thin\"\n";
    let mut job = job(&format!("{}{more}", under_attic("")));
    job.rules.unheated_method.value = UnheatedMethod::Balance;
    let watts = 30.0 / (1.0 / 4.0 + 1.0 / 6.0 + 1.0 / 2.0);
    close(celsius(&job, "attic"), 20.0 - watts / 4.0, 1e-9);
    close(celsius(&job, "store"), -10.0 + watts / 2.0, 1e-9);
    let loss = heat_loss(&job, &State::default());
    close(loss.loads.rooms[0].heat.unheated.si(), watts, 1e-9);
}

/// A second room beside the first that nobody heats: what it gains it loses, to the last watt.
fn beside_store() -> Job {
    let rooms = "\n[room.store]\nstart = [5.1, 0]\noutline = \"E 3, N 4, W 3, S 4\"\n\
                 unheated = true\nheight = 2.5\n";
    job(&format!("{ONE_ROOM}{rooms}"))
}

#[test]
fn room_without_heat_balances_to_nothing() {
    let mut job = beside_store();
    job.rules.unheated_method.value = UnheatedMethod::Balance;
    let loss = heat_loss(&job, &State::default());
    let store = &loss.envelope.enclosures[1];
    assert!(store.unheated);
    let inside = celsius(&job, "store");
    assert!(inside > -10.0 && inside < 20.0, "{inside}");
    // Its faces by hand: gains through the partition, losses through all else, air at 0.5/h.
    let mut net = 0.0;
    for face in &store.faces {
        let far = match face.behind {
            design::envelope::Behind::Outdoors => -10.0,
            design::envelope::Behind::Ground => 8.0,
            _ => 20.0,
        };
        let swing = if far == 8.0 { 1.45 } else { 1.0 };
        let u = face.transmittance.as_ref().unwrap().si();
        net += swing * face.area.si() * u * (inside - far);
    }
    let density = 101_325.0 / (287.052_87 * store.indoor.si());
    let changes = job.house.air_changes.value;
    net += 30.0 * quantity::Quantity::si(changes) * density * 1006.0 * (inside + 10.0);
    close(net, 0.0, 1e-6);
    // The room that nobody heats has no load of its own.
    assert_eq!(loss.loads.rooms.len(), 1);
    assert!(loss.loads.rooms[0].heat.unheated.si() > 0.0);
    close(loss.loads.rooms[0].heat.neighbours.si(), 0.0, 0.0);
}

/// Three outside walls: 0.8 (EN 12831:2003 table D.4, from memory).
#[test]
fn room_without_heat_by_factor() {
    let mut job = beside_store();
    job.rules.unheated_method.value = UnheatedMethod::Factor;
    close(celsius(&job, "store"), 20.0 - 0.8 * 30.0, 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// Any three spaces, coupled in any way: what leaves the room arrives outdoors, and no space
    /// is colder than outdoors or warmer than the room.
    #[test]
    fn coupled_spaces_keep_no_heat(
        losses in prop::array::uniform3(1.0..40.0f64),
        areas in prop::array::uniform3(0.2..30.0f64),
    ) {
        let mut text = under_attic(&format!("loss = {}", losses[0]));
        text.push_str("\n[assembly.thin]\nu = 3\n");
        for (key, loss) in [("store", losses[1]), ("porch", losses[2])] {
            text.push_str(&format!("[space.{key}]\nkind = \"store\"\nloss = {loss}\n"));
        }
        let pairs = [("attic", "store"), ("store", "porch"), ("porch", "attic")];
        for ((one, other), area) in pairs.iter().zip(areas) {
            text.push_str(&format!(
                "[surface.{one}_{other}]\nspace = \"{one}\"\nfaces = \"space.{other}\"\n\
                 area = {area}\nassembly = \"thin\"\n"
            ));
        }
        let mut job = job(&text);
        job.rules.unheated_method.value = UnheatedMethod::Balance;
        let loss = heat_loss(&job, &State::default());
        let out: f64 = ["attic", "store", "porch"]
            .iter()
            .zip(losses)
            .map(|(key, loss_w_k)| {
                let inside = celsius(&job, key);
                assert!((-10.0..=20.0).contains(&inside), "{key} at {inside}");
                loss_w_k * (inside + 10.0)
            })
            .sum();
        close(loss.loads.rooms[0].heat.unheated.si(), out, 1e-7);
    }
}
